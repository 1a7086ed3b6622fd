#include "sim/study/band.hpp"

#include <algorithm>
#include <cmath>

#include "sim/study/executor.hpp"
#include "sim/study/sample.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {

double quantile(std::span<const double> sorted, double share) {
  const auto count = static_cast<double>(sorted.size());
  const double place = std::clamp(share * (count + 1.0), 1.0, count) - 1.0;
  const auto below = static_cast<std::size_t>(place);
  if (below + 1 >= sorted.size()) return sorted.back();
  return sorted[below] + (place - std::floor(place)) * (sorted[below + 1] - sorted[below]);
}

std::optional<Band> band_of(std::span<const std::optional<double>> values) {
  std::vector<double> sorted;
  for (const auto& value : values)
    if (value) sorted.push_back(*value);
  if (sorted.empty()) return std::nullopt;
  std::sort(sorted.begin(), sorted.end());
  return Band{quantile(sorted, 0.05), quantile(sorted, 0.50), quantile(sorted, 0.95), sorted.size(),
              values.size()};
}

std::optional<double> drawn_value(const Outcome& outcome, std::size_t result) {
  static const std::size_t hook_up = result_index("hook_up_time"),
                           cavitating = result_index("cavitating_time");
  static const std::size_t top_speed = result_index("top_speed"), top_rpm = result_index("top_rpm");
  const bool stuck = !outcome.values[hook_up] && outcome.values[cavitating].value_or(0.0) > 0.0;
  if (stuck && (result == top_speed || result == top_rpm)) return std::nullopt;
  return outcome.values[result];
}

std::vector<Outcome> paired_outcomes(std::span<const Setup> setups, const BandOptions& options,
                                     std::span<const Posterior> posteriors) {
  const Draws draws(options.draws, options.seed);
  const Posterior nothing_fitted;
  std::vector<Outcome> outcomes(options.draws * setups.size());
  for_each_index(options.draws, options.threads, [&](std::size_t draw) {
    std::vector<Setup> drawn;
    for (std::size_t which = 0; which < setups.size(); ++which)
      drawn.push_back(
          draws.apply(setups[which], draw, posteriors.empty() ? nothing_fitted : posteriors[which]));
    const Tables tables = tables_for(drawn);  // what setups have in common they have in every draw
    for (std::size_t which = 0; which < setups.size(); ++which)
      outcomes[draw * setups.size() + which] = outcome_of(drawn[which], options.coast, tables);
  });
  return outcomes;
}

Bands bands_of(const Setup& setup, const BandOptions& options, const Posterior& posterior) {
  const std::vector<Outcome> outcomes = paired_outcomes({&setup, 1}, options, {&posterior, 1});
  Bands bands{options.draws, 0, options.seed, {}};
  for (const Outcome& outcome : outcomes) bands.failed += outcome.failed() ? 1 : 0;
  for (std::size_t result = 0; result < result_rows().size(); ++result) {
    std::vector<std::optional<double>> values;
    for (const Outcome& outcome : outcomes) values.push_back(drawn_value(outcome, result));
    bands.results.push_back(band_of(values));
  }
  return bands;
}

}  // namespace bowrise
