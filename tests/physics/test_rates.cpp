// Rates: those for a Jacobian, which skip what a component does not reach, are those of the whole evaluation.
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "sim/craft.hpp"
#include "sim/evaluate.hpp"
#include "sim/events.hpp"
#include "sim/launch.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

// What `RatesBeside` must equal: everything worked out anew.
State whole(const Craft& craft, const LeverSegment& lever, double t, const State& state) {
  return evaluate(craft, lever, t, state).rate;
}

bool acts_by_lift(StateIndex component) {
  return component == StateIndex::flow || component == StateIndex::void_fraction;
}

template <class Check>
void for_each_move(double share, const Check& check) {
  for (const char* name : {"supercharged_three_seat", "two_stage", "air_leak", "stuffing"}) {
    const Setup setup = test::shipped(name, {{"engine.speed_cap", "60 mph"}});
    const Craft craft = prepare(setup);
    LaunchOptions options = launch_options(setup, true);
    options.row_step_s = 0.37;
    for (const TraceRow& row : launch(craft, setup.run, options).rows) {
      const LeverSegment lever{0.0, row.now.lever, 0.3};
      const double t = row.time_s;
      const Instant base = evaluate(craft, lever, t, row.state);
      CHECK(to_array(rates(craft, lever, t, row.state)) == to_array(base.rate));
      const RatesBeside beside(craft, lever, t, row.state, base);
      for (std::size_t i = 0; i < state_size; ++i) {
        StateArray values = to_array(row.state);
        values[i] += share * std::max(std::abs(values[i]), to_array(typical_state)[i]);
        const State moved = to_state(values);
        INFO(name << ", " << state_names[i] << " at " << t << " s");
        const auto component = static_cast<StateIndex>(i);
        check(component, to_array(base.rate), to_array(beside(moved, component)),
              to_array(whole(craft, lever, t, moved)));
      }
    }
  }
}

TEST_CASE("rates: a component moved by itself gives the rates of the whole evaluation, bit by bit") {
  for_each_move(1e-3,
                [](StateIndex moved, const StateArray&, const StateArray& beside, const StateArray& all) {
                  if (!acts_by_lift(moved)) CHECK(beside == all);
                });
}

TEST_CASE("rates: a small change of flow or air gives the change of the whole evaluation") {
  const StateArray size = to_array(typical_state);
  for_each_move(
      1e-6, [&](StateIndex moved, const StateArray& base, const StateArray& beside, const StateArray& all) {
        if (!acts_by_lift(moved)) return;
        for (std::size_t i = 0; i < state_size; ++i)
          CHECK(std::abs(beside[i] - all[i]) <= 1e-4 * std::abs(all[i] - base[i]) + 1e-10 * size[i]);
      });
}

TEST_CASE("rates: an event reads the same of what is worked out for it alone") {
  for (const char* name : {"supercharged_three_seat", "two_stage", "air_leak"}) {
    const Setup setup = test::shipped(name, {{"engine.speed_cap", "60 mph"}});
    const Craft craft = prepare(setup);
    LaunchOptions options = launch_options(setup, true);
    options.row_step_s = 0.37;
    const std::vector<EventRow> events = launch_events(setup.run);
    for (const TraceRow& row : launch(craft, setup.run, options).rows) {
      const LeverSegment lever{0.0, row.now.lever, 0.3};
      const Instant all = evaluate(craft, lever, row.time_s, row.state);
      const Instant train = drive_train(craft, lever, row.time_s, row.state), none{};
      for (const EventRow& event : events) {
        INFO(name << ", " << event.name << " at " << row.time_s << " s");
        if (event.reads == EventReads::drive_train)
          CHECK(event.value(row.state, train) == event.value(row.state, all));
        if (event.reads == EventReads::state)
          CHECK(event.value(row.state, none) == event.value(row.state, all));
      }
    }
  }
}

}  // namespace
}  // namespace bowrise
