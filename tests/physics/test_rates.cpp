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

// What a row of a launch's trace knows, under a lever that moves.
struct Place {
  const char* name;
  const Craft& craft;
  LeverSegment lever;
  double t;
  const State& state;
  Instant all;
};

template <class Check>
void for_each_place(std::initializer_list<const char*> names, const Check& check) {
  for (const char* name : names) {
    const Setup setup = test::shipped(name, {{"engine.speed_cap", "60 mph"}});
    const Craft craft = prepare(setup);
    LaunchOptions options = launch_options(setup, true);
    options.row_step_s = 0.37;
    for (const TraceRow& row : launch(craft, setup.run, options).rows) {
      const LeverSegment lever{0.0, row.now.lever, 0.3};
      check(Place{name, craft, lever, row.time_s, row.state, evaluate(craft, lever, row.time_s, row.state)});
    }
  }
}

template <class Check>
void for_each_move(double share, const Check& check) {
  for_each_place({"supercharged_three_seat", "two_stage", "air_leak", "stuffing"}, [&](const Place& at) {
    CHECK(to_array(rates(at.craft, at.lever, at.t, at.state)) == to_array(at.all.rate));
    const RatesBeside beside(at.craft, at.lever, at.t, at.state, at.all);
    for (std::size_t i = 0; i < state_size; ++i) {
      StateArray values = to_array(at.state);
      values[i] += share * std::max(std::abs(values[i]), to_array(typical_state)[i]);
      const State moved = to_state(values);
      INFO(at.name << ", " << state_names[i] << " at " << at.t << " s");
      const auto component = static_cast<StateIndex>(i);
      check(component, to_array(at.all.rate), to_array(beside(moved, component)),
            to_array(whole(at.craft, at.lever, at.t, moved)));
    }
  });
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
  const std::vector<EventRow> events = launch_events(test::shipped("supercharged_three_seat").run);
  for_each_place({"supercharged_three_seat", "two_stage", "air_leak"}, [&](const Place& at) {
    const Instant train = drive_train(at.craft, at.lever, at.t, at.state), none{};
    for (const EventRow& event : events) {
      INFO(at.name << ", " << event.name << " at " << at.t << " s");
      if (event.reads == EventReads::drive_train)
        CHECK(event.value(at.state, train) == event.value(at.state, at.all));
      if (event.reads == EventReads::state)
        CHECK(event.value(at.state, none) == event.value(at.state, at.all));
    }
  });
}

}  // namespace
}  // namespace bowrise
