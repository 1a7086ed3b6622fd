#include "sim/study/run_scatter.hpp"

#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "sim/study/doubles_alone.hpp"

namespace bowrise {
namespace {

// Chance that n runs on each side give a significant difference of the right sign. With equal scatter and
// equal numbers Welch's degrees of freedom are 2 n - 2.
double power(double effect, std::size_t runs) {
  const double n = static_cast<double>(runs), freedom = 2.0 * n - 2.0;
  const double critical =
      quantile(boost::math::students_t_distribution<double, DoublesAlone>(freedom), 0.975);
  const boost::math::non_central_t_distribution<double, DoublesAlone> distribution(
      freedom, effect * std::sqrt(n / 2.0));
  return cdf(complement(distribution, critical));
}

}  // namespace

double run_scatter(const ResultRow& row, double value) {
  const double size = std::abs(value);
  if (row.unit == "s" && row.name.starts_with("time_")) return std::hypot(0.03, 0.02 * size);
  if (row.unit == "m/s") return 0.008 * size;
  if (row.unit == "rpm") return 0.005 * size;
  return 0.05 * size;
}

std::optional<std::size_t> runs_to_show(double difference, double scatter) {
  constexpr std::size_t most_runs = 1000;
  constexpr double wanted_power = 0.80, plain = 10.0;
  const double effect = std::abs(difference) / scatter;
  if (effect > plain) return 2;  // nobody needs statistics to see ten times the scatter
  if (power(effect, most_runs) < wanted_power) return std::nullopt;
  std::size_t too_few = 1, enough = most_runs;
  while (enough - too_few > 1) {
    const std::size_t middle = (too_few + enough) / 2;
    (power(effect, middle) < wanted_power ? too_few : enough) = middle;
  }
  return enough;
}

}  // namespace bowrise
