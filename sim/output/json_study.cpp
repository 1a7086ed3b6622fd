#include "sim/output/json_study.hpp"

#include "sim/output/json.hpp"
#include "sim/output/json_value.hpp"

namespace bowrise {
namespace {

std::string_view verdict_word(Verdict verdict) {
  switch (verdict) {
    case Verdict::better:
      return "better";
    case Verdict::worse:
      return "worse";
    case Verdict::differs:
      return "differs";
    case Verdict::same:
      return "same";
    case Verdict::undecided:
      return "undecided";
    case Verdict::no_answer:
      break;
  }
  return "no_answer";
}

Json difference_json(const Difference& difference) {
  return {{"nominal", number(difference.nominal)},
          {"band", band_json(difference.band)},
          {"runs_each", difference.runs_each ? Json(*difference.runs_each) : Json(nullptr)},
          {"verdict", verdict_word(difference.verdict)}};
}

Json setup_entry(const Comparison& comparison, std::size_t setup) {
  Json results = Json::object(), differences = Json::object();
  for (std::size_t i = 0; i < result_rows().size(); ++i) {
    const std::string name(result_rows()[i].name);
    results[name] = {{"unit", result_rows()[i].unit},
                     {"nominal", number(comparison.nominal[setup].values[i])},
                     {"band", band_json(comparison.bands[setup][i])}};
    if (setup > 0) differences[name] = difference_json(comparison.differences[setup][i]);
  }
  Json entry{
      {"name", comparison.names[setup]},
      {"failure", comparison.nominal[setup].failure},
      {"failed_draws", comparison.failed[setup]},
      {"limited_by_s", limits_json(comparison.nominal[setup].limited_s)},
      {"limit_costs", limit_costs_json(comparison.costs[setup])},
      {"rough_time_to_100_m_s", number(comparison.purposes[setup][static_cast<std::size_t>(Purpose::rough)])},
      {"results", results}};
  if (setup > 0) entry["difference_to_first"] = differences;
  return entry;
}

Json over_json(const OverStudy& study) {
  Json points = Json::array(), break_evens = Json::array();
  for (const OverPoint& point : study.points) {
    Json results = Json::object();
    for (std::size_t i = 0; i < result_rows().size(); ++i)
      results[std::string(result_rows()[i].name)] = {
          {"first", number(point.first.values[i])},
          {"second", number(point.second.values[i])},
          {"difference_band", point.bands.empty() ? Json(nullptr) : band_json(point.bands[i])}};
    points.push_back({{"at", number(point.at)}, {"results", results}});
  }
  for (const BreakEven& break_even : study.break_evens)
    break_evens.push_back({{"result", result_rows()[break_even.result].name},
                           {"at", number(break_even.at)},
                           {"second_wins", break_even.second_wins_above ? "above" : "below"},
                           {"band", band_json(break_even.band)}});
  return {{"key", study.key->name},
          {"unit", study.key->unit->name},
          {"points", points},
          {"break_evens", break_evens}};
}

Json input_json(double value) { return std::isfinite(value) ? Json(value) : Json("derived"); }

Json remedy_json(const Remedy& remedy) {
  return {{"key", remedy.key->name},
          {"unit", remedy.key->unit->name},
          {"present", input_json(remedy.present)},
          {"value", number(remedy.value)},
          {"met", remedy.exact},
          {"nearest", number(remedy.nearest)},
          {"results", results_json(remedy.outcome)}};
}

Json plan_json(const PlanResult& plan) {
  const Throttle& throttle = plan.throttle;
  const auto error = [&](RiderError which) {
    return number(plan.with_error_s[static_cast<std::size_t>(which)]);
  };
  Json table = Json::array();
  if (throttle.plan == Plan::table)
    for (const auto& row : throttle.table) table.push_back({{"time_s", row[0]}, {"lever", row[1]}});
  return {{"name", plan.name},
          {"plan", plan_words[static_cast<std::size_t>(throttle.plan)]},
          {"table", table},
          {"failure", plan.outcome.failure},
          {"results", results_json(plan.outcome)},
          {"time_to_30_mph_with_error",
           {{"early", error(RiderError::early)},
            {"late", error(RiderError::late)},
            {"less", error(RiderError::less)},
            {"more", error(RiderError::more)},
            {"worst", number(plan.worst_s())}}}};
}

Json advice_json(const ThrottleCase& plans) {
  const auto advice = advice_on(plans);
  if (!advice) return nullptr;
  const auto name = [&](std::size_t index) { return plans.plans[index].name; };
  return {{"quickest", name(advice->quickest)},
          {"quickest_runs_each", advice->runs_each ? Json(*advice->runs_each) : Json(nullptr)},
          {"gentlest", name(advice->gentlest)},
          {"compromise", name(advice->compromise)},
          {"steadiest", name(advice->steadiest)}};
}

}  // namespace

std::string match_json(const Match& match) {
  Json remedies = Json::array();
  for (const Remedy& remedy : match.remedies) remedies.push_back(remedy_json(remedy));
  const ResultRow& row = result_rows()[match.target.result];
  return Json{{"program", "bowrise"},
              {"version", version()},
              {"target", {{"result", row.name}, {"unit", row.unit}, {"value", number(match.target.value)}}},
              {"as_it_is", results_json(match.as_it_is)},
              {"remedies", remedies},
              {"cautions", cautions_json()}}
             .dump(2) +
         "\n";
}

std::string throttle_json(const std::vector<ThrottleCase>& cases) {
  Json entries = Json::array();
  for (const ThrottleCase& plans : cases) {
    Json results = Json::array();
    for (const PlanResult& plan : plans.plans) results.push_back(plan_json(plan));
    entries.push_back({{"clearance_m", number(plans.clearance_m)},
                       {"rolling_speed_m_s", number(plans.rolling_speed_m_s)},
                       {"failure", plans.failure},
                       {"plans", results},
                       {"advice", advice_json(plans)}});
  }
  return Json{{"program", "bowrise"},
              {"version", version()},
              {"cases", entries},
              {"cautions", cautions_json()}}
             .dump(2) +
         "\n";
}

std::string comparison_json(const Comparison& comparison, const OverStudy* over) {
  Json setups = Json::array();
  for (std::size_t i = 0; i < comparison.names.size(); ++i) setups.push_back(setup_entry(comparison, i));
  return Json{{"program", "bowrise"},
              {"version", version()},
              {"draws", comparison.draws},
              {"setups", setups},
              {"over", over == nullptr ? Json(nullptr) : over_json(*over)},
              {"cautions", cautions_json()}}
             .dump(2) +
         "\n";
}

}  // namespace bowrise
