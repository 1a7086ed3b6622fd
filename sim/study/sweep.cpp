#include "sim/study/sweep.hpp"

#include <algorithm>

#include "sim/study/executor.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {
namespace {

// A tenth of a second of work: little is lost by a kill, and threads wait little for one another at its end.
constexpr std::size_t chunk = 128;

SweepRow row_of(const SweepPlan& plan, std::size_t index, const double* values, Trial trial) {
  trial.purposes[static_cast<std::size_t>(Purpose::price)] = price_of(plan.setup(), plan.axes(), values);
  return {{index, std::vector<double>(values, values + plan.axes().size()), trial.purposes},
          std::move(trial.outcome)};
}

}  // namespace

void run_sweep(const SweepPlan& plan, std::size_t begin, std::size_t end, const SweepOptions& options,
               const SweepSink& sink) {
  Tables tables;
  for (std::size_t first = begin; first < end; first += chunk) {
    const std::size_t count = std::min(chunk, end - first);
    const std::vector<double> values = plan.values(first, count);
    const auto values_of = [&](std::size_t i) { return values.data() + i * plan.axes().size(); };
    std::vector<Setup> setups;
    for (std::size_t i = 0; i < count; ++i)
      setups.push_back(with_values(plan.setup(), plan.axes(), values_of(i)));
    tables = tables_for(setups, tables, options.threads);
    std::vector<SweepRow> rows(count);
    for_each_index(count, options.threads, [&](std::size_t i) {
      rows[i] = row_of(plan, first + i, values_of(i), trial_of(setups[i], options.rough, tables));
    });
    sink(rows);
  }
}

KeptSweep keep_sweep(const SweepPlan& plan, const SweepOptions& options, const Progress& progress) {
  KeptSweep kept;
  const std::size_t count = plan.count().value();
  run_sweep(plan, 0, count, options, [&](std::span<const SweepRow> rows) {
    for (const SweepRow& row : rows) {
      if (kept.first_failure.empty() && row.outcome.failed())
        kept.first_failure = "point " + std::to_string(row.point.index) + ": " + row.outcome.failure;
      kept.points.push_back(row.point);
    }
    progress(kept.points.size(), count);
  });
  return kept;
}

}  // namespace bowrise
