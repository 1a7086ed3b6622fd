#include "sim/study/report_throttle.hpp"

#include <algorithm>
#include <set>

#include "sim/craft.hpp"
#include "sim/study/executor.hpp"
#include "sim/study/report.hpp"

namespace bowrise {
namespace {

constexpr double beyond_share = 1.4, beyond_s = 0.6;  // of the slowest to 30 mph, so that its end is seen

double shown_time_s(const Setup& setup, const ThrottleCase& plans, const std::vector<std::size_t>& shown) {
  double slowest = 0.0;
  for (const std::size_t i : shown)
    slowest = std::max(slowest, plans.plans[i].value("time_to_30_mph").value_or(0.0));
  const double all = setup.run.duration_s;
  return slowest > 0.0 ? std::min(all, beyond_share * slowest + beyond_s) : all;
}

std::vector<PlanTrace> traces_of(const Setup& given, const ThrottleCase& plans) {
  const Setup setup = at_case(given, plans);
  const std::vector<std::size_t> shown = plans_to_show(plans);
  if (shown.empty()) return {};
  Craft craft = prepare(setup);
  LaunchOptions options = launch_options(setup, true);
  options.row_step_s = chart_step_s;
  options.duration_s = shown_time_s(setup, plans, shown);
  std::vector<PlanTrace> traces;
  for (const std::size_t i : shown) {
    set_throttle(craft, plans.plans[i].throttle);
    Launch run = launch(craft, setup.run, options);
    if (run.end != LaunchEnd::failed) traces.push_back({i, std::move(run)});
  }
  return traces;
}

}  // namespace

std::vector<std::size_t> plans_to_show(const ThrottleCase& plans) {
  if (plans.plans.empty()) return {};
  std::set<std::size_t> shown{0, plans.plans.size() - 1};
  if (const auto advice = advice_on(plans))
    shown.insert({advice->quickest, advice->gentlest, advice->compromise, advice->steadiest});
  std::vector<std::size_t> indices;
  for (const std::size_t i : shown)
    if (!plans.plans[i].outcome.failed()) indices.push_back(i);
  return indices;
}

std::vector<std::vector<PlanTrace>> plan_traces(const Setup& setup, const std::vector<ThrottleCase>& cases,
                                                unsigned threads) {
  std::vector<std::vector<PlanTrace>> traces(cases.size());
  for_each_index(cases.size(), threads, [&](std::size_t i) { traces[i] = traces_of(setup, cases[i]); });
  return traces;
}

}  // namespace bowrise
