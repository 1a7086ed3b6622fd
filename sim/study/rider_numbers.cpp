#include "sim/study/rider_numbers.hpp"

#include <algorithm>
#include <cmath>

#include "sim/study/run_scatter.hpp"

namespace bowrise {
namespace {

constexpr double least_told_apart = 0.05;

bool judged_by_ear(std::string_view name) {
  return name.starts_with("hook_up_") || name == "cavitating_time" || name == "wear_index";
}

bool has_all(const Outcome& outcome, std::span<const std::size_t> results) {
  return std::all_of(results.begin(), results.end(),
                     [&](std::size_t result) { return outcome.values[result].has_value(); });
}

Baseline from_draws(const Outcome& nominal, std::span<const Outcome> drawn,
                    std::span<const std::size_t> needed) {
  Baseline base;
  for (std::size_t draw = 0; draw < drawn.size(); ++draw)
    if (has_all(drawn[draw], needed)) base.draws.push_back(draw);
  for (std::size_t result = 0; result < nominal.values.size(); ++result)
    if (nominal.values[result] && std::all_of(base.draws.begin(), base.draws.end(), [&](std::size_t draw) {
          return drawn[draw].values[result].has_value();
        }))
      base.results.push_back(result);
  const auto count = static_cast<Eigen::Index>(base.results.size());
  base.mean = Eigen::VectorXd::Zero(count);
  base.covariance = Eigen::MatrixXd::Zero(count, count);
  Eigen::MatrixXd spread(count, static_cast<Eigen::Index>(base.draws.size()));
  for (Eigen::Index i = 0; i < count; ++i) {
    const std::size_t result = base.results[static_cast<std::size_t>(i)];
    base.mean(i) = on_scale(*nominal.values[result]);
    for (Eigen::Index j = 0; j < spread.cols(); ++j)
      spread(i, j) = on_scale(*drawn[base.draws[static_cast<std::size_t>(j)]].values[result]);
  }
  if (spread.cols() < 2) return base;
  spread.colwise() -= Eigen::VectorXd(spread.rowwise().mean());
  base.covariance = spread * spread.transpose() / static_cast<double>(spread.cols() - 1);
  return base;
}

// Conditioning of a normal distribution on some of its members, each measured with its scatter.
void sharpen(Baseline& base, std::span<const Seen> measured) {
  const auto count = static_cast<Eigen::Index>(measured.size());
  Eigen::MatrixXd pick = Eigen::MatrixXd::Zero(count, base.mean.size());
  Eigen::VectorXd value(count), variance(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const Seen& one = measured[static_cast<std::size_t>(i)];
    pick(i, static_cast<Eigen::Index>(base.place(one.result).value())) = 1.0;
    value(i) = on_scale(*one.value);
    variance(i) = std::pow(rider_scatter(one.result, *one.value), 2);
  }
  const Eigen::MatrixXd across = base.covariance * pick.transpose();
  Eigen::MatrixXd of_measured = pick * across;
  of_measured.diagonal() += variance;
  const Eigen::MatrixXd gain = of_measured.ldlt().solve(across.transpose()).transpose();
  base.mean += gain * (value - pick * base.mean);
  base.covariance -= gain * across.transpose();
}

}  // namespace

double rider_scatter(std::size_t result, double value) {
  constexpr double logger_to_rider = 2.0, by_ear = 0.15;
  const ResultRow& row = result_rows()[result];
  const double size = std::max(std::abs(value), least_told_apart);
  return judged_by_ear(row.name) ? by_ear : logger_to_rider * run_scatter(row, size) / size;
}

double on_scale(double value) { return std::log(std::max(value, least_told_apart)); }

double off_scale(double scaled) { return std::exp(scaled); }

std::optional<std::size_t> Baseline::place(std::size_t result) const {
  const auto found = std::find(results.begin(), results.end(), result);
  if (found == results.end()) return std::nullopt;
  return static_cast<std::size_t>(found - results.begin());
}

Baseline baseline_of(const Outcome& nominal, std::span<const Outcome> drawn,
                     std::span<const std::size_t> needed, std::span<const Seen> measured) {
  Baseline base = from_draws(nominal, drawn, needed);
  if (!measured.empty() && !base.draws.empty()) sharpen(base, measured);
  return base;
}

}  // namespace bowrise
