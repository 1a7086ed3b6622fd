// Rates: what is worked out for them alone, with their slopes or for an event is what the whole evaluation
// has.
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "models/constants.hpp"
#include "sim/craft.hpp"
#include "sim/evaluate.hpp"
#include "sim/events.hpp"
#include "sim/launch.hpp"
#include "sim/trace.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

// What a row of a launch's trace knows, under a lever that moves.
struct RunPlace {
  const char* name;
  const Craft& craft;
  LeverSegment lever;
  double t;
  const State& state;
  Instant all;
};

template <class Check>
void for_each_place(std::initializer_list<const char*> names, const Check& check,
                    const test::Changes& changes = {}) {
  for (const char* name : names) {
    test::Changes all{{"engine.speed_cap", "59 mph"}};
    all.insert(all.end(), changes.begin(), changes.end());
    const Setup setup = test::shipped(name, all);
    const Craft craft = prepare(setup);
    LaunchOptions options = launch_options(setup, true);
    options.row_step_s = 0.37;
    for (const TraceRow& row : launch(craft, setup.run, options).rows) {
      const LeverSegment lever{0.0, row.now.lever, 0.3};
      check(
          RunPlace{name, craft, lever, row.time_s, row.state, evaluate(craft, lever, row.time_s, row.state)});
    }
  }
}

const std::initializer_list<const char*> several{"supercharged_three_seat", "two_stage", "air_leak",
                                                 "stuffing"};

TEST_CASE("rates: those alone, and those with slopes, are the rates of the whole evaluation, bit by bit") {
  for_each_place(several, [&](const RunPlace& at) {
    INFO(at.name << " at " << at.t << " s");
    CHECK(to_array(rates(at.craft, at.lever, at.t, at.state)) == to_array(at.all.rate));
    const Instant sloped = evaluate_with_slopes(at.craft, at.lever, at.t, at.state).now;
    CHECK(to_array(sloped.rate) == to_array(at.all.rate));
    CHECK(sloped.limited_by == at.all.limited_by);
    for (const FlagText& text : flag_texts) CHECK(sloped.flags.has(text.flag) == at.all.flags.has(text.flag));
    for (const TraceColumn& column : trace_columns()) {
      if (column.number == nullptr) continue;
      INFO(column.name);
      const double want = column.number(at.craft, {at.t, at.state, at.all, false});
      const double got = column.number(at.craft, {at.t, at.state, sloped, false});
      CHECK((got == want || (std::isnan(got) && std::isnan(want))));
    }
  });
}

void slopes_are_those_of_small_moves(const RunPlace& at) {
  const StateArray size = to_array(typical_state);
  const RateSlopes slopes = evaluate_with_slopes(at.craft, at.lever, at.t, at.state).slopes;
  for (std::size_t j = 0; j < state_size; ++j) {
    const double step = 1e-6 * std::max(std::abs(to_array(at.state)[j]), size[j]);
    const auto moved = [&](double by) {
      StateArray values = to_array(at.state);
      values[j] += by;
      return to_array(rates(at.craft, at.lever, at.t, to_state(values)));
    };
    const StateArray after = moved(step), before = moved(-step);
    for (std::size_t i = 0; i < state_size; ++i) {
      INFO(at.name << ", rate of " << state_names[i] << " over " << state_names[j] << " at " << at.t << " s");
      const double want = (after[i] - before[i]) / (2.0 * step);
      CHECK(slopes[i][j] == Approx(want).epsilon(1e-4).margin(1e-4 * size[i] / size[j]));
    }
  }
}

TEST_CASE("rates: their slopes are what a small move of each state does") {
  for_each_place(several, slopes_are_those_of_small_moves);
}

TEST_CASE("rates: their slopes hold with the laws that the shipped craft leave aside") {
  for_each_place({"supercharged_three_seat"}, slopes_are_those_of_small_moves,
                 {{"intake.wake_law", "boundary_layer"},
                  {"hull.wetted_lengths", "savitsky_brown_1976"},
                  {"nozzle.angle_schedule", "[[0 m/s, 4 deg], [10 m/s, 4 deg], [18 m/s, -3 deg]]"},
                  {"engine.charger", "turbo"}});
}

TEST_CASE("hull: forces with slopes are the forces, bit by bit, and their slopes those of small moves") {
  const Craft craft = prepare(test::shipped("supercharged_three_seat"));
  const PreparedHull& hull = *craft.hull;
  for (double speed = 0.31; speed < 36.0; speed += 0.83)
    for (const double trim : {0.7, 2.3, 4.1, 7.9, 12.7})
      for (const double lift : {-400.0, 150.0, 2600.0}) {
        const double rad = trim * radians_per_degree;
        const SlopedHullForces sloped = sloped_hull_forces(hull, speed, rad, lift);
        INFO("speed " << speed << ", trim " << trim << ", lift " << lift);
        const HullForces alone = hull_forces(hull, speed, rad, lift);
        CHECK(sloped.forces.drag_N == alone.drag_N);
        CHECK(sloped.forces.bow_up_moment_Nm == alone.bow_up_moment_Nm);
        CHECK(sloped.forces.wetted_keel_m == alone.wetted_keel_m);
        const auto compare = [](const HullAnswer<double>& slope, const HullForces& before,
                                const HullForces& after, double step) {
          const auto close = [step](double got, double low, double high, double unit) {
            CHECK(got == Approx((high - low) / (2.0 * step)).epsilon(1e-4).margin(1e-4 * unit));
          };
          close(slope.drag_N, before.drag_N, after.drag_N, 1.0);
          close(slope.bow_up_moment_Nm, before.bow_up_moment_Nm, after.bow_up_moment_Nm, 1.0);
          close(slope.planing_weight, before.planing_weight, after.planing_weight, 1.0);
          close(slope.trim_deg, before.trim_deg, after.trim_deg, 1.0);
        };
        compare(sloped.per_speed, hull_forces(hull, speed - 1e-6, rad, lift),
                hull_forces(hull, speed + 1e-6, rad, lift), 1e-6);
        compare(sloped.per_trim, hull_forces(hull, speed, rad - 1e-8, lift),
                hull_forces(hull, speed, rad + 1e-8, lift), 1e-8);
        compare(sloped.per_lift, hull_forces(hull, speed, rad, lift - 1e-3),
                hull_forces(hull, speed, rad, lift + 1e-3), 1e-3);
      }
}

TEST_CASE("hull: slopes are finite for absurd trims, speeds and lifts") {
  const Craft craft = prepare(test::shipped("supercharged_three_seat"));
  for (double speed = -1.0; speed <= 60.0; speed += 0.37)
    for (const double trim_rad : {-1e6, -1.5, 0.0, 0.009, 0.05, 0.26, 1.0, 1e9})
      for (const double lift : {-20000.0, 0.0, 4000.0, 1e5}) {
        const SlopedHullForces sloped = sloped_hull_forces(*craft.hull, speed, trim_rad, lift);
        for (const HullAnswer<double>& slope : {sloped.per_speed, sloped.per_trim, sloped.per_lift})
          if (!std::isfinite(slope.drag_N + slope.bow_up_moment_Nm + slope.planing_weight + slope.trim_deg))
            FAIL_CHECK("speed " << speed << " trim " << trim_rad << " lift " << lift);
      }
}

TEST_CASE("rates: an event reads the same of what is worked out for it alone") {
  const std::vector<EventRow> events = launch_events(test::shipped("supercharged_three_seat").run);
  for_each_place({"supercharged_three_seat", "two_stage", "air_leak"}, [&](const RunPlace& at) {
    const WatchedValues all = watched_values(at.state, at.all), none = watched_values(at.state, {}),
                        train = watched_values(at.state, drive_train(at.craft, at.lever, at.t, at.state));
    for (const EventRow& event : events) {
      INFO(at.name << ", " << event.name << " at " << at.t << " s");
      const EventReads reads = reads_of(event.watched);
      if (reads == EventReads::drive_train) CHECK(event.over_threshold(train) == event.over_threshold(all));
      if (reads == EventReads::state) CHECK(event.over_threshold(none) == event.over_threshold(all));
    }
  });
}

}  // namespace
}  // namespace bowrise
