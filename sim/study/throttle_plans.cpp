#include "sim/study/throttle_plans.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <stdexcept>

#include "sim/study/compare.hpp"
#include "sim/study/executor.hpp"
#include "sim/study/lever_search.hpp"
#include "sim/study/run_scatter.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {
namespace {

constexpr double with_errors_share = 2.0, with_errors_extra_s = 1.0;  // time given to a launch with errors

Throttle plan(const Throttle& given, Plan kind, double Throttle::*field = nullptr, double value = 0.0) {
  Throttle throttle = given;
  throttle.plan = kind;
  if (field != nullptr) throttle.*field = value;
  return throttle;
}

/// Plans that need nothing but the setup; pinned first.
std::vector<PlanResult> plain_plans(const Throttle& given) {
  std::vector<PlanResult> plans;
  const auto add = [&](const std::string& name, const Throttle& throttle) {
    plans.push_back({name, throttle, {}, {}});
  };
  add("pinned", plan(given, Plan::pinned));
  if (given.plan == Plan::table) add("as written", given);
  for (const double time_s : {0.5, 1.0, 2.0})
    add(fmt::format("ramp {:g} s", time_s), plan(given, Plan::ramp, &Throttle::ramp_time_s, time_s));
  for (const double share : {0.8, 0.9})
    add(fmt::format("hold {:.0f} % of limiter", 100.0 * share),
        plan(given, Plan::hold, &Throttle::hold_share, share));
  add("rider", plan(given, Plan::rider));
  add("ideal", plan(given, Plan::ideal));
  return plans;
}

Throttle with_error(const Throttle& throttle, RiderError error) {
  Throttle out = throttle;
  switch (error) {
    case RiderError::early:
      out.timing_error_s -= rider_timing_error_s;
      break;
    case RiderError::late:
      out.timing_error_s += rider_timing_error_s;
      break;
    case RiderError::less:
      out.lever_error = (1.0 + out.lever_error) * (1.0 - rider_lever_error) - 1.0;
      break;
    case RiderError::more:
      out.lever_error = (1.0 + out.lever_error) * (1.0 + rider_lever_error) - 1.0;
      break;
  }
  return out;
}

/// One craft at one start, while the study works on it.
struct Work {
  Setup setup;
  Craft craft;
  std::vector<std::vector<LeverSegment>> levers;  ///< as run, by plan
  ThrottleCase* out;
};

Craft craft_with(const Work& work, const Throttle& throttle) {
  Craft craft = work.craft;
  set_throttle(craft, throttle);
  return craft;
}

Outcome failed_outcome(const std::string& why) {
  return {std::vector<std::optional<double>>(result_rows().size()), why};
}

void run_plan(Work& work, std::size_t index) {
  PlanResult& result = work.out->plans[index];
  const Craft craft = craft_with(work, result.throttle);
  const Launch run = launch(craft, work.setup.run, launch_options(work.setup, false));
  work.levers[index] = run.lever;
  result.outcome =
      run.end == LaunchEnd::failed ? failed_outcome(run.failure) : outcome_of(summarise(craft, run));
}

void run_error(const Work& work, std::size_t index, std::size_t error) {
  PlanResult& result = work.out->plans[index];
  const auto time_s = result.value("time_to_30_mph");
  if (!time_s) return;
  const Craft craft = craft_with(work, with_error(result.throttle, static_cast<RiderError>(error)));
  result.with_error_s[error] =
      time_to_30_mph(short_launch(craft, work.setup, with_errors_share * *time_s + with_errors_extra_s));
}

/// A level held and a time to open, as a rider would learn them from runs on which the revs were held: the
/// mean lever from when it was first eased until it was opened for good.
std::optional<Throttle> staged_after(const Throttle& given, const std::vector<LeverSegment>& held) {
  const auto eased = std::find_if(held.begin(), held.end(), [](const auto& s) { return s.rate_1_s < 0.0; });
  const auto opened = std::find_if(held.rbegin(), held.rend(), [&](const LeverSegment& s) {
                        return s.rate_1_s < 0.5 * given.hand_rate_1_s && s.level < 1.0;
                      }).base();
  if (eased == held.end() || opened == held.end() || opened <= eased) return std::nullopt;
  double sum = 0.0;
  for (auto piece = eased; piece != opened; ++piece) {
    const double until_s = std::next(piece)->start_s;
    sum += 0.5 * (piece->level + piece->lever(until_s)) * (until_s - piece->start_s);
  }
  Throttle staged = plan(given, Plan::staged, &Throttle::stage_time_s, opened->start_s);
  staged.stage_level = sum / (opened->start_s - eased->start_s);
  return staged;
}

/// Plans that learn from those already run: staged after the quicker of the held ones, and the optimised.
void add_learnt_plans(Work& work, std::size_t evaluations) {
  auto& plans = work.out->plans;
  std::vector<KnotLevers> starts;
  double full_s = work.setup.run.duration_s;
  for (const PlanResult& result : plans)
    full_s = std::min(full_s, result.value("time_to_30_mph").value_or(full_s));
  KnotLevers open{};
  open.fill(1.0);
  starts.push_back(open);
  std::optional<std::size_t> quicker_hold;
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const auto time_s = plans[i].value("time_to_30_mph");
    if (!time_s) continue;
    starts.push_back(levers_at_knots(work.levers[i], full_s));
    if (plans[i].throttle.plan != Plan::hold) continue;
    if (!quicker_hold || *time_s < *plans[*quicker_hold].value("time_to_30_mph")) quicker_hold = i;
  }
  if (quicker_hold)
    if (const auto staged = staged_after(work.setup.throttle, work.levers[*quicker_hold]))
      plans.push_back({fmt::format("staged {:.2f} to {:.2f} s", staged->stage_level, staged->stage_time_s),
                       *staged,
                       {},
                       {}});
  plans.push_back({"optimised", quickest_lever(work.craft, work.setup, full_s, starts, evaluations), {}, {}});
  work.levers.resize(plans.size());
}

struct Task {
  std::size_t work, plan, error;
};

/// Tasks over plans of all cases, for `for_each_index`.
std::vector<Task> tasks_from(const std::vector<Work>& works, const std::vector<std::size_t>& first_plan,
                             std::size_t errors) {
  std::vector<Task> tasks;
  for (std::size_t w = 0; w < works.size(); ++w)
    for (std::size_t p = first_plan[w]; p < works[w].out->plans.size(); ++p)
      for (std::size_t e = 0; e < errors; ++e) tasks.push_back({w, p, e});
  return tasks;
}

std::vector<ThrottleCase> cases_of(const ThrottleStudyOptions& options) {
  std::vector<ThrottleCase> cases;
  for (const double clearance_m : options.clearances_m)
    for (const double rolling_speed_m_s : options.rolling_speeds_m_s)
      cases.push_back({clearance_m, rolling_speed_m_s, {}, {}});
  return cases;
}

std::vector<Work> prepare_works(const Setup& setup, std::vector<ThrottleCase>& cases, unsigned threads) {
  std::vector<Setup> setups;
  for (const ThrottleCase& one : cases) setups.push_back(at_case(setup, one));
  const Tables tables = tables_for(setups, {}, threads);
  std::vector<std::optional<Work>> slots(cases.size());
  for_each_index(cases.size(), threads, [&](std::size_t i) {
    Setup& changed = setups[i];
    changed.throttle.plan = Plan::rider;  // its table of normal revs then serves all copies
    try {
      Craft craft = prepare(changed, tables);
      changed.throttle.plan = setup.throttle.plan;
      cases[i].plans = plain_plans(setup.throttle);
      slots[i] = Work{std::move(changed), std::move(craft), {}, &cases[i]};
      slots[i]->levers.resize(cases[i].plans.size());
    } catch (const std::runtime_error& error) {
      cases[i].failure = error.what();
    }
  });
  std::vector<Work> works;
  for (auto& slot : slots)
    if (slot) works.push_back(std::move(*slot));
  return works;
}

std::size_t least(const ThrottleCase& plans, const std::vector<std::size_t>& among,
                  const std::function<std::optional<double>(const PlanResult&)>& value) {
  std::size_t best = among.front();
  for (const std::size_t i : among) {
    const auto candidate = value(plans.plans[i]), so_far = value(plans.plans[best]);
    if (candidate && (!so_far || *candidate < *so_far)) best = i;
  }
  return best;
}

}  // namespace

Setup at_case(Setup setup, const ThrottleCase& one) {
  setup.pump.clearance_m = one.clearance_m;
  setup.start.rolling_speed_m_s = one.rolling_speed_m_s;
  return setup;
}

std::optional<double> PlanResult::worst_s() const {
  auto worst = value("time_to_30_mph");
  for (const auto& time_s : with_error_s) {
    if (!worst || !time_s) return std::nullopt;
    worst = std::max(*worst, *time_s);
  }
  return worst;
}

std::optional<double> PlanResult::value(std::string_view result) const {
  return outcome.values[result_index(result)];
}

std::vector<ThrottleCase> throttle_study(const Setup& setup, const ThrottleStudyOptions& options) {
  std::vector<ThrottleCase> cases = cases_of(options);
  std::vector<Work> works = prepare_works(setup, cases, options.threads);
  const auto run_from = [&](const std::vector<std::size_t>& first_plan) {
    const auto tasks = tasks_from(works, first_plan, 1);
    for_each_index(tasks.size(), options.threads,
                   [&](std::size_t i) { run_plan(works[tasks[i].work], tasks[i].plan); });
  };
  std::vector<std::size_t> first(works.size(), 0);
  run_from(first);
  for (std::size_t w = 0; w < works.size(); ++w) first[w] = works[w].out->plans.size();
  for_each_index(works.size(), options.threads,
                 [&](std::size_t w) { add_learnt_plans(works[w], options.evaluations); });
  run_from(first);
  first.assign(works.size(), 0);
  const auto tasks = tasks_from(works, first, rider_error_count);
  for_each_index(tasks.size(), options.threads,
                 [&](std::size_t i) { run_error(works[tasks[i].work], tasks[i].plan, tasks[i].error); });
  return cases;
}

std::optional<ThrottleAdvice> advice_on(const ThrottleCase& plans) {
  std::vector<std::size_t> got_there, as_quick;
  for (std::size_t i = 0; i < plans.plans.size(); ++i)
    if (plans.plans[i].value("time_to_30_mph")) got_there.push_back(i);
  if (got_there.empty()) return std::nullopt;
  const auto time = [](const PlanResult& p) { return p.value("time_to_30_mph"); };
  const auto wear = [](const PlanResult& p) { return p.value("wear_index"); };
  ThrottleAdvice advice{};
  advice.quickest = least(plans, got_there, time);
  advice.gentlest = least(plans, got_there, wear);
  advice.steadiest = least(plans, got_there, [](const PlanResult& p) { return p.worst_s(); });
  const std::size_t reference = plans.plans.front().value("time_to_30_mph") ? 0 : advice.quickest;
  const double reference_s = *time(plans.plans[reference]);
  const double scatter = run_scatter(result_rows()[result_index("time_to_30_mph")], reference_s);
  const auto runs = [&](double time_s) { return runs_to_show(time_s - reference_s, scatter); };
  for (const std::size_t i : got_there) {
    const double time_s = *time(plans.plans[i]);
    if (time_s <= reference_s || runs(time_s).value_or(sensible_runs + 1) > sensible_runs)
      as_quick.push_back(i);
  }
  advice.compromise = least(plans, as_quick, wear);
  if (advice.quickest != reference) advice.runs_each = runs(*time(plans.plans[advice.quickest]));
  return advice;
}

}  // namespace bowrise
