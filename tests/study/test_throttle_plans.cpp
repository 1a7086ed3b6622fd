#include "sim/study/throttle_plans.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "sim/study/lever_search.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

ThrottleStudyOptions throttle_options(std::vector<double> clearances_m, unsigned threads = 2) {
  ThrottleStudyOptions out;
  out.clearances_m = std::move(clearances_m);
  out.rolling_speeds_m_s = {0.0};
  out.threads = threads;
  return out;
}

ThrottleCase sound_case(const Setup& setup) {
  return throttle_study(setup, throttle_options({setup.pump.clearance_m})).front();
}
ThrottleCase worn_case(const Setup& setup) { return throttle_study(setup, throttle_options({1e-3})).front(); }

const PlanResult& named(const ThrottleCase& plans, std::string_view start) {
  for (const PlanResult& plan : plans.plans)
    if (plan.name.starts_with(start)) return plan;
  FAIL("no such plan");
  return plans.plans.front();
}

double time_of(const ThrottleCase& plans, std::string_view start) {
  return named(plans, start).value("time_to_30_mph").value();
}
double wear_of(const ThrottleCase& plans, std::string_view start) {
  return named(plans, start).value("wear_index").value();
}

}  // namespace

TEST_CASE("knots all at full are pinned, in closed form") {
  KnotLevers open{};
  open.fill(1.0);
  Throttle table = test::shipped("supercharged_three_seat").throttle, pinned = table;
  table.plan = Plan::table;
  table.table = lever_table(open, 1.8, table.hand_rate_1_s);
  const auto by_knots = lever_segments(table, 0.1), by_hand = lever_segments(pinned, 0.1);
  REQUIRE(by_knots.size() == by_hand.size());
  for (std::size_t i = 0; i < by_hand.size(); ++i) {
    CHECK(by_knots[i].start_s == Approx(by_hand[i].start_s));
    CHECK(by_knots[i].level == Approx(by_hand[i].level));
    CHECK(by_knots[i].rate_1_s == Approx(by_hand[i].rate_1_s));
  }
}

TEST_CASE("any knots make a plan that the hand can follow and that reads back") {
  std::mt19937 dice(7);  // raw numbers: the same on every machine
  const auto draw = [&dice] { return static_cast<double>(dice()) / 4294967296.0; };
  Throttle table = test::shipped("supercharged_three_seat").throttle;
  table.plan = Plan::table;
  for (int trial = 0; trial < 200; ++trial) {
    KnotLevers levers{};
    for (double& lever : levers) lever = 0.2 + 0.8 * draw();
    const double full_s = 0.3 + 3.0 * draw();
    table.table = lever_table(levers, full_s, table.hand_rate_1_s);
    CHECK(check(table).empty());
    CHECK(table.table.back()[1] == 1.0);
    if (full_s < 1.5) continue;  // then the hand has time for any lever
    const KnotLevers back = levers_at_knots(lever_segments(table, 0.0), full_s);
    for (std::size_t knot = 1; knot < lever_knots; ++knot) CHECK(back[knot] == Approx(levers[knot]));
  }
}

TEST_CASE("the optimised plan is never slower than pinned", "[long]") {
  for (const char* name : {"supercharged_three_seat", "supercharged_300", "light_two_seat",
                           "naturally_aspirated_three_seat", "two_stage"}) {
    const Setup setup = test::shipped(name);
    auto both = throttle_options({setup.pump.clearance_m, 1e-3});
    both.rolling_speeds_m_s = {0.0, 3.5};
    both.evaluations = 60;
    for (const ThrottleCase& plans : throttle_study(setup, both)) {
      INFO(name << ", gap " << plans.clearance_m << ", rolling " << plans.rolling_speed_m_s);
      CHECK(time_of(plans, "optimised") <= time_of(plans, "pinned") + 1e-4);
    }
  }
}

TEST_CASE("no random lever is quicker than the optimised one") {
  const Setup setup = test::shipped("supercharged_300");
  const ThrottleCase plans = sound_case(setup);
  const double best = time_of(plans, "optimised");
  Craft craft = prepare(setup);
  std::mt19937 dice(11);
  Throttle table = setup.throttle;
  table.plan = Plan::table;
  for (int trial = 0; trial < 300; ++trial) {
    KnotLevers levers{1.0, 1.0};
    for (std::size_t knot = 2; knot < lever_knots; ++knot)
      levers[knot] = 0.5 + 0.5 * static_cast<double>(dice()) / 4294967296.0;
    table.table = lever_table(levers, best, table.hand_rate_1_s);
    set_throttle(craft, table);
    const auto time_s = time_to_30_mph(short_launch(craft, setup, 4.0));
    REQUIRE(time_s.has_value());
    CHECK(*time_s > best - 1e-3);
  }
}

TEST_CASE("a plan of the study is a throttle that any scenario can have") {
  const Setup setup = test::shipped("supercharged_three_seat");
  const ThrottleCase plans = sound_case(setup);
  for (const PlanResult& plan : plans.plans) {
    INFO(plan.name);
    Setup alone = setup;
    alone.throttle = plan.throttle;
    CHECK(check(alone).empty());
    const Outcome outcome = outcome_of(alone);
    for (const char* result : {"time_to_30_mph", "wear_index", "top_speed"})
      CHECK(*outcome.values[result_index(result)] == Approx(plan.value(result).value()).epsilon(1e-12));
  }
}

// common practice and a separate calculation, no source: holding the revs until the pump bites pays where
// cavitation is deep, costs little where it is shallow, and spares the pump
TEST_CASE("holding the revs pays where breakdown is deep and spares the pump", "[long]") {
  const ThrottleCase strong = sound_case(test::shipped("supercharged_300"));
  const ThrottleCase worn = worn_case(test::shipped("supercharged_three_seat"));
  const ThrottleCase shallow = sound_case(test::shipped("naturally_aspirated_three_seat"));
  for (const char* hold : {"hold 80", "hold 90"}) {
    INFO(hold);
    CHECK(time_of(strong, hold) < time_of(strong, "pinned") - 0.05);
    CHECK(time_of(worn, hold) < time_of(worn, "pinned") - 0.05);
    CHECK(time_of(shallow, hold) < time_of(shallow, "pinned") + 0.1);
    for (const ThrottleCase* plans : {&strong, &worn, &shallow})
      CHECK(wear_of(*plans, hold) < 0.5 * wear_of(*plans, "pinned"));
  }
}

// the same: a plain ramp on a sound pump loses time, the more the slower it is
TEST_CASE("a plain ramp on a sound pump loses time") {
  const ThrottleCase plans = sound_case(test::shipped("supercharged_three_seat"));
  const double pinned = time_of(plans, "pinned");
  CHECK(time_of(plans, "ramp 0.5") > pinned + 0.1);
  CHECK(time_of(plans, "ramp 1") > time_of(plans, "ramp 0.5"));
  CHECK(time_of(plans, "ramp 1") < pinned + 0.7);
  CHECK(time_of(plans, "ramp 2") > time_of(plans, "ramp 1"));
}

TEST_CASE("errors are what they are: none for pinned, a tenth of a second at most for a ramp") {
  const ThrottleCase plans = sound_case(test::shipped("supercharged_three_seat"));
  for (const auto& with_error : named(plans, "pinned").with_error_s)
    CHECK(with_error.value() == Approx(time_of(plans, "pinned")).epsilon(1e-9));
  const auto& ramp = named(plans, "ramp 1");
  CHECK(ramp.with_error_s[static_cast<std::size_t>(RiderError::early)].value() < time_of(plans, "ramp 1"));
  CHECK(ramp.worst_s().value() > time_of(plans, "ramp 1"));
  CHECK(ramp.worst_s().value() < time_of(plans, "ramp 1") + rider_timing_error_s);
  for (const PlanResult& plan : plans.plans) CHECK(plan.worst_s().value() >= *plan.value("time_to_30_mph"));
}

TEST_CASE("advice names the least of each") {
  const ThrottleCase plans = worn_case(test::shipped("supercharged_three_seat"));
  const auto advice = advice_on(plans);
  REQUIRE(advice.has_value());
  for (const PlanResult& plan : plans.plans) {
    CHECK(plans.plans[advice->quickest].value("time_to_30_mph") <= plan.value("time_to_30_mph"));
    CHECK(plans.plans[advice->gentlest].value("wear_index") <= plan.value("wear_index"));
    CHECK(plans.plans[advice->steadiest].worst_s() <= plan.worst_s());
  }
  CHECK(advice->runs_each.value() == 2);  // 0.8 s on a scatter of 0.07 s
  CHECK_FALSE(advice_on({}).has_value());
}

TEST_CASE("a table in the scenario takes part, a start that cannot be is told, threads change nothing") {
  const Setup table = test::shipped(
      "light_two_seat", {{"throttle.plan", "table"}, {"throttle.table", "[[0 s, 0.6], [1.5 s, 1]]"}});
  auto asked = throttle_options({table.pump.clearance_m}, 1);
  asked.rolling_speeds_m_s = {0.0, 50.0};
  asked.evaluations = 30;
  const auto one = throttle_study(table, asked);
  asked.threads = 3;
  const auto three = throttle_study(table, asked);
  CHECK(named(one[0], "as written").value("time_to_30_mph").value() > time_of(one[0], "pinned"));
  CHECK_FALSE(one[1].failure.empty());
  CHECK(one[1].plans.empty());
  REQUIRE(one[0].plans.size() == three[0].plans.size());
  for (std::size_t i = 0; i < one[0].plans.size(); ++i) {
    CHECK(one[0].plans[i].outcome.values == three[0].plans[i].outcome.values);
    CHECK(one[0].plans[i].with_error_s == three[0].plans[i].with_error_s);
  }
}

}  // namespace bowrise
