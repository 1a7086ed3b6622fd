#include "sim/study/compare.hpp"

#include <utility>

#include "sim/study/executor.hpp"
#include "sim/study/run_scatter.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {
namespace {

std::optional<double> less(const std::optional<double>& value, const std::optional<double>& base) {
  if (!value || !base) return std::nullopt;
  return *value - *base;
}

/// Runs with each setup that would show a difference between results of about this size.
std::optional<std::size_t> runs_for(const ResultRow& row, double difference, double size) {
  if (difference == 0.0 || size == 0.0) return std::nullopt;
  return runs_to_show(difference, run_scatter(row, size));
}

bool measurable(const ResultRow& row, double difference, double size) {
  const auto runs = runs_for(row, difference, size);
  return runs && *runs <= sensible_runs;
}

/// Whether the truth may well be a difference that could be measured.
bool may_be_measurable(const ResultRow& row, const Difference& difference, double size) {
  return difference.band &&
         (measurable(row, difference.band->low, size) || measurable(row, difference.band->high, size));
}

Verdict verdict_on(const ResultRow& row, const Difference& difference, double size) {
  if (!measurable(row, *difference.nominal, size))
    return may_be_measurable(row, difference, size) ? Verdict::undecided : Verdict::same;
  if (difference.band && difference.band->low <= 0.0 && difference.band->high >= 0.0)
    return Verdict::undecided;
  if (row.better == Better::neither) return Verdict::differs;
  return (*difference.nominal < 0.0) == (row.better == Better::low) ? Verdict::better : Verdict::worse;
}

Difference difference_of(std::size_t result, const std::optional<double>& value,
                         const std::optional<double>& base, const std::optional<Band>& band) {
  const ResultRow& row = result_rows()[result];
  Difference difference{less(value, base), band, std::nullopt, Verdict::no_answer};
  if (!difference.nominal) return difference;
  difference.runs_each = runs_for(row, *difference.nominal, *base);
  difference.verdict = verdict_on(row, difference, *base);
  return difference;
}

/// Values of one result over the draws, of one setup or less those of the first.
std::vector<std::optional<double>> over_draws(const std::vector<Outcome>& paired, std::size_t setups,
                                              std::size_t setup, std::size_t result, bool against_first) {
  std::vector<std::optional<double>> values;
  for (std::size_t first = 0; first < paired.size(); first += setups) {
    const auto value = drawn_value(paired[first + setup], result);
    values.push_back(against_first ? less(value, drawn_value(paired[first], result)) : value);
  }
  return values;
}

void add_nominal(const std::vector<Setup>& setups, const BandOptions& options, Comparison& comparison) {
  const std::size_t count = setups.size();
  const Tables tables = tables_for(setups, {}, options.threads);
  comparison.nominal.resize(count);
  comparison.purposes.resize(count);
  for_each_index(count, options.threads, [&](std::size_t i) {
    Trial trial = trial_of(setups[i], true, tables);
    comparison.purposes[i] = trial.purposes;
    comparison.nominal[i] = options.coast ? outcome_of(setups[i], true, tables) : std::move(trial.outcome);
  });
  for (std::size_t i = 0; i < count; ++i)
    comparison.costs.push_back(limit_costs(setups[i], comparison.nominal[i], options.threads));
}

}  // namespace

Comparison compare(const std::vector<Contender>& contenders, const BandOptions& options) {
  Comparison comparison;
  comparison.draws = options.draws;
  std::vector<Setup> setups;
  std::vector<Posterior> posteriors;
  for (const Contender& contender : contenders) {
    comparison.names.push_back(contender.name);
    setups.push_back(contender.setup);
    posteriors.push_back(contender.posterior);
  }
  add_nominal(setups, options, comparison);
  const std::vector<Outcome> paired = paired_outcomes(setups, options, posteriors);
  comparison.failed.resize(setups.size());
  for (std::size_t i = 0; i < paired.size(); ++i)
    comparison.failed[i % setups.size()] += paired[i].failed() ? 1 : 0;

  for (std::size_t setup = 0; setup < setups.size(); ++setup) {
    auto& bands = comparison.bands.emplace_back();
    auto& differences = comparison.differences.emplace_back();
    for (std::size_t result = 0; result < result_rows().size(); ++result) {
      bands.push_back(band_of(over_draws(paired, setups.size(), setup, result, false)));
      differences.push_back(difference_of(result, comparison.nominal[setup].values[result],
                                          comparison.nominal.front().values[result],
                                          band_of(over_draws(paired, setups.size(), setup, result, true))));
    }
  }
  return comparison;
}

}  // namespace bowrise
