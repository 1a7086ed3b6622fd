// Feedback plans: what they see and when, what the hand may do, and that the lever they leave behind is the
// one that was run.
#include "sim/lever_plan.hpp"

#include <algorithm>
#include <cmath>

#include "models/cavitation.hpp"
#include "sim/steady.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

using test::Changes;

test::Outcome with_plan(const char* plan, Changes changes = {}) {
  changes.emplace_back("throttle.plan", plan);
  return test::outcome_of("supercharged_three_seat", changes, true);
}

double mark(const test::Outcome& outcome) { return test::result(outcome, "time_to_30_mph"); }

/// Rows between the first with more head loss than the aim and the last before the lever is full for good.
std::vector<const TraceRow*> held_rows(const test::Outcome& outcome) {
  const auto& rows = outcome.launch.rows;
  std::size_t last = rows.size();
  while (last > 0 && rows[last - 1].now.lever >= 1.0) --last;
  std::vector<const TraceRow*> held;
  for (std::size_t i = 0; i < last; ++i)
    if (!held.empty() || 1.0 - rows[i].now.head_factor > 0.1) held.push_back(&rows[i]);
  return held;
}

}  // namespace

TEST_CASE("a feedback plan never outruns the hand, never shuts below idle, never jumps") {
  for (const char* plan : {"hold", "rider", "ideal"}) {
    for (const char* gap : {"0.2 mm", "1 mm"}) {
      INFO(plan << ", gap " << gap);
      const test::Outcome run = with_plan(plan, {{"pump.clearance", gap}});
      const auto& lever = run.launch.lever;
      REQUIRE(lever.size() > 50);
      for (std::size_t i = 0; i < lever.size(); ++i) {
        CHECK(std::abs(lever[i].rate_1_s) <= 10.0);
        CHECK(lever[i].level >= run.craft.idle_air_path - 1e-12);
        CHECK(lever[i].level <= 1.0 + 1e-12);
        if (i == 0) continue;
        const double decision_s = run.craft.idle_air_path / 10.0 + 0.02 * static_cast<double>(i - 1);
        CHECK(lever[i].start_s == Approx(decision_s).margin(1e-9));
        CHECK(lever[i].level == Approx(lever[i - 1].lever(lever[i].start_s)).margin(1e-12));
      }
    }
  }
}

TEST_CASE("the lever a feedback plan leaves behind gives the same launch when it is known beforehand") {
  for (const char* plan : {"hold", "rider", "ideal"}) {
    INFO(plan);
    const test::Outcome seen = with_plan(plan);
    Craft craft = seen.craft;
    craft.throttle.plan = Plan::table;
    craft.lever = seen.launch.lever;
    const Setup setup = test::shipped("supercharged_three_seat");
    const Launch again = launch(craft, setup.run, launch_options(setup, false));
    CHECK(summarise(craft, again).marks.front().time_s.value() == Approx(mark(seen)).epsilon(2e-4));
  }
}

TEST_CASE("ideal keeps the head loss near its aim while the lever has room") {
  for (const char* gap : {"0.2 mm", "1 mm"}) {
    const test::Outcome run = with_plan("ideal", {{"pump.clearance", gap}});
    const auto rows = held_rows(run);
    REQUIRE(rows.size() > 50);
    double sum = 0.0;
    for (const TraceRow* row : rows) {
      const double loss = 1.0 - row->now.head_factor;
      sum += loss;
      CHECK(loss > 0.05);
      CHECK(loss < 0.16);
    }
    CHECK(sum / static_cast<double>(rows.size()) == Approx(0.10).margin(0.015));
  }
}

TEST_CASE("hold keeps the revs at its share of the limiter until the pump bites, then opens for good") {
  const test::Outcome run = with_plan("hold", {{"throttle.hold_share", "0.8"}, {"pump.clearance", "1 mm"}});
  const double aim = 0.8 * run.craft.limiter_rad_s;
  constexpr double swing_s = 0.4;  // the revs shoot over first: torque is lost faster than the air path shuts
  double reached_s = 99.0, bitten_s = 99.0;
  for (const TraceRow& row : run.launch.rows) {
    if (row.state.shaft_speed_rad_s > 0.97 * aim) reached_s = std::min(reached_s, row.time_s);
    if (row.time_s > reached_s && 1.0 - row.now.head_factor < 0.03) bitten_s = std::min(bitten_s, row.time_s);
    if (row.time_s > reached_s + swing_s && row.time_s < bitten_s)
      CHECK(row.state.shaft_speed_rad_s == Approx(aim).epsilon(0.03));
  }
  CHECK(bitten_s > reached_s + 2.0 * swing_s);
  CHECK(run.launch.lever.back().level == 1.0);
}

TEST_CASE("rider does not act before the reaction time, and with no gain does as pinned") {
  const test::Outcome pinned = with_plan("pinned"), rider = with_plan("rider");
  double first_eased_s = 99.0, normal_passed_s = 99.0;
  for (const TraceRow& row : rider.launch.rows) {
    if (row.time_s > 0.2 && row.now.lever < 1.0) first_eased_s = std::min(first_eased_s, row.time_s);
    if (row.state.shaft_speed_rad_s > rider.craft.normal_shaft_speed_rad_s(row.state.speed_m_s))
      normal_passed_s = std::min(normal_passed_s, row.time_s);
  }
  CHECK(first_eased_s >= normal_passed_s + 0.25 - 0.021);
  CHECK(first_eased_s <= normal_passed_s + 0.25 + 0.05);
  CHECK(test::result(rider, "launch_peak_rpm") < 1.001 * test::result(pinned, "launch_peak_rpm"));
  CHECK(mark(with_plan("rider", {{"throttle.ease_gain", "0"}})) == Approx(mark(pinned)).epsilon(2e-4));
}

TEST_CASE("normal revs at top speed are those of top speed") {
  const Craft craft = prepare(test::shipped("supercharged_three_seat", {{"throttle.plan", "rider"}}));
  const auto top = top_speed(craft, 1.0, planing_guess(craft, 25.0));
  REQUIRE(top.has_value());
  REQUIRE(1.0 - top->now.head_factor < 1e-3);
  CHECK(craft.normal_shaft_speed_rad_s(top->state.speed_m_s) ==
        Approx(top->state.shaft_speed_rad_s).epsilon(2e-3));
}

TEST_CASE("the lever towards the present revs of a steady run is the one that holds it") {
  const Craft craft = prepare(test::shipped("supercharged_three_seat"));
  const auto steady_run = cruise(craft, 18.0);
  REQUIRE(steady_run.has_value());
  const State& state = steady_run->state;
  CHECK(lever_towards(craft, state, steady_run->now, state.shaft_speed_rad_s) ==
        Approx(state.air_path).epsilon(1e-6));
  CHECK(lever_towards(craft, state, steady_run->now, 1.1 * state.shaft_speed_rad_s) > state.air_path);
}

TEST_CASE("the ratio for a head loss gives that loss by the law of cavitation") {
  const test::Outcome run = with_plan("pinned");
  for (const TraceRow& row : run.launch.rows) {
    if (row.time_s < 0.4 || row.time_s > 2.0) continue;
    const double ratio = speed_ratio_for_head_loss(row.now, 0.1), square = ratio * ratio;
    const double available = row.now.npsh_available_J_kg + row.now.inflow.loss_J_kg * (1.0 - square);
    const StagePoint& first = row.now.pump.stage[0];
    CHECK(1.0 - head_factor_target(available, first.energy_onset_J_kg * square,
                                   first.energy_breakdown_J_kg * square) ==
          Approx(0.1).margin(1e-4));
  }
}

TEST_CASE("a coast-down after a feedback plan shuts the lever") {
  const test::Outcome run = with_plan("ideal");
  const Setup setup = test::shipped("supercharged_three_seat");
  const Launch down = coast_down(run.craft, setup.run, launch_options(setup, false), run.launch.end_state);
  CHECK(down.end == LaunchEnd::at_rest);
  CHECK(down.lever.back().level == 0.0);
}

}  // namespace bowrise
