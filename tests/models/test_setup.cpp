// Checks of a whole craft: each complaint by its key, and that those of the parts come through.
#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "tests/support/whole_setup.hpp"

using namespace bowrise;
using test::complains_about;
using test::three_seater;

namespace {

/// The craft changed in one thing.
template <class Change>
Problems problems_after(Change&& change) {
  Setup setup = three_seater();
  change(setup);
  return check(setup);
}

}  // namespace

TEST_CASE("setup: a sound craft has no problems") {
  const Problems problems = check(three_seater());
  for (const Problem& problem : problems) UNSCOPED_INFO(problem.key << ": " << problem.what);
  CHECK(problems.empty());
}

TEST_CASE("setup: the water column must be possible") {
  CHECK(complains_about(problems_after([](Setup& craft) {
                          craft.intake.suction_inertance_1_m = craft.pump.discharge_inertance_1_m = 0.0;
                          craft.intake.suction_length_m = 0.0;
                        }),
                        "pump.discharge_inertance"));
  // density x length^2 / inertance = 1000 x 1.2^2 / 95 = 15.16 kg
  CHECK(complains_about(problems_after([](Setup& craft) { craft.intake.water_mass_kg = 15.1; }),
                        "intake.water_mass"));
  CHECK(problems_after([](Setup& craft) { craft.intake.water_mass_kg = 15.2; }).empty());
  CHECK(complains_about(problems_after([](Setup& craft) { craft.intake.suction_length_m = 1.3; }),
                        "intake.suction_length"));
}

TEST_CASE("setup: idle lies below the rev limiter, given or derived") {
  CHECK(complains_about(
      problems_after([](Setup& craft) { craft.start.shaft_speed_rad_s = craft.engine.limiter_rad_s; }),
      "start.shaft_speed"));
  const auto with_derived_limiter = [](double start_over_peak) {
    return problems_after([&](Setup& craft) {
      craft.engine.limiter_rad_s = test::derived_number;
      craft.start.shaft_speed_rad_s = start_over_peak * craft.engine.peak_speed_rad_s;
    });
  };
  CHECK(with_derived_limiter(1.04).empty());
  CHECK(complains_about(with_derived_limiter(1.06), "start.shaft_speed"));
  const auto with_table = [](double start_rpm) {
    return problems_after([&](Setup& craft) {
      craft.engine.limiter_rad_s = craft.engine.peak_power_W = craft.engine.peak_speed_rad_s =
          test::derived_number;
      for (const double speed_rpm : {2000.0, 4000.0, 6000.0, 7000.0})
        craft.engine.torque_table.push_back({test::si_from(speed_rpm, "rpm"), 200.0});
      craft.start.shaft_speed_rad_s = test::si_from(start_rpm, "rpm");
    });
  };
  CHECK(with_table(1500).empty());
  CHECK(complains_about(with_table(7500), "start.shaft_speed"));
}

TEST_CASE("setup: rider and lip are on the hull") {
  CHECK(
      complains_about(problems_after([](Setup& craft) { craft.rider.position_m = 3.31; }), "rider.position"));
  CHECK(complains_about(problems_after([](Setup& craft) { craft.intake.lip_position_m = 3.31; }),
                        "intake.lip_position"));
  CHECK(problems_after([](Setup& craft) {
          craft.rider.position_m = -0.2;
        }).empty());  // off the stern is allowed
}

TEST_CASE("setup: rows are not further apart than the run is long") {
  CHECK(complains_about(problems_after([](Setup& craft) {
                          craft.run.duration_s = 1.0;
                          craft.output.step_s = 1.5;
                        }),
                        "output.step"));
}

TEST_CASE("setup: complaints of every part come through") {
  CHECK(complains_about(problems_after([](Setup& craft) { craft.hull.load_centre_m = 3.4; }),
                        "hull.load_centre"));
  CHECK(complains_about(problems_after([](Setup& craft) { craft.plate.span_m = 1.1; }), "plate.span"));
  CHECK(complains_about(problems_after([](Setup& craft) { craft.grate.drag_area_m2 = 0.0; }),
                        "grate.drag_area"));
  CHECK(complains_about(problems_after([](Setup& craft) { craft.cavitation.breakdown_inlet_factor = 1.9; }),
                        "cavitation.breakdown_inlet_factor"));
  CHECK(complains_about(problems_after([](Setup& craft) { craft.nozzle.exit_diameter_m = 0.161; }),
                        "nozzle.exit_diameter"));
  CHECK(complains_about(problems_after([](Setup& craft) { craft.engine.limiter_band_rad_s = 900.0; }),
                        "engine.limiter_band"));
  CHECK(complains_about(problems_after([](Setup& craft) { craft.throttle.plan = Plan::table; }),
                        "throttle.table"));
}

TEST_CASE("setup: all problems at once, each with a key that exists and what would be accepted") {
  const Problems problems = problems_after([](Setup& craft) {
    craft.hull.load_centre_m = craft.rider.position_m = craft.intake.lip_position_m = 5.0;
    craft.nozzle.exit_diameter_m = 0.2;
    craft.grate.drag_area_m2 = 0.0;
    craft.throttle.plan = Plan::table;
    craft.start.shaft_speed_rad_s = 1e3;
  });
  std::set<std::string> keys;
  for_each_part(
      [&](std::string_view section, auto, const auto& numbers, const auto& choices, const auto& tables) {
        const auto add = [&](const auto& row) {
          keys.insert(std::string(section) + "." + std::string(row.name));
        };
        for (const auto& row : numbers) add(row);
        for (const auto& row : choices) add(row);
        for (const auto& row : tables) add(row);
      });
  CHECK(problems.size() >= 7);
  for (const Problem& problem : problems) {
    INFO(problem.key << ": " << problem.what);
    CHECK(keys.count(problem.key) == 1);
    CHECK_FALSE(problem.what.empty());
    CHECK_FALSE(problem.allowed.empty());
  }
}

TEST_CASE("setup: the last rotor is the second one of two") {
  Setup setup = three_seater();
  CHECK(&last_rotor(setup) == &setup.impeller);
  setup.pump.stages = 2.0;
  CHECK(&last_rotor(setup) == &setup.stage_2);
}
