#include "sim/study/purpose.hpp"

#include <catch2/catch.hpp>

#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

std::optional<double> value(const Trial& trial, Purpose purpose) {
  return trial.purposes[static_cast<std::size_t>(purpose)];
}

}  // namespace

TEST_CASE("each purpose is the result it is named for, rough that of a launch in chop") {
  const Setup setup = test::shipped("supercharged_three_seat");
  const Trial trial = trial_of(setup, true);
  const auto calm = test::outcome_of(setup);
  const auto rough = test::outcome_of("supercharged_three_seat", {{"water.chop_height", "0.3 m"}});
  CHECK(value(trial, Purpose::holeshot) == test::result(calm, "time_to_30_mph"));
  CHECK(value(trial, Purpose::top) == test::result(calm, "top_speed"));
  CHECK(value(trial, Purpose::life) == test::result(calm, "wear_index"));
  CHECK(value(trial, Purpose::rough) == test::result(rough, "time_to_100_m"));
  CHECK(*value(trial, Purpose::rough) > test::result(calm, "time_to_100_m"));
  CHECK_FALSE(value(trial, Purpose::price).has_value());
}

TEST_CASE("the launch in chop is made only when asked for") {
  CHECK_FALSE(value(trial_of(test::shipped("supercharged_three_seat"), false), Purpose::rough).has_value());
}

TEST_CASE("a setup that fails a check has no results and says why") {
  Setup setup = test::shipped("supercharged_three_seat");
  setup.nozzle.exit_diameter_m = 1.1 * setup.pump.bore_m;
  const Trial trial = trial_of(setup, true);
  CHECK(trial.outcome.failed());
  CHECK(trial.outcome.failure.find("nozzle.exit_diameter: ") == 0);
  CHECK(trial.outcome.values.size() == result_rows().size());
  for (const auto& result : trial.outcome.values) CHECK_FALSE(result.has_value());
  for (const auto& purpose : trial.purposes) CHECK_FALSE(purpose.has_value());
}

TEST_CASE("purposes are found by name") {
  CHECK(find_purpose("rough") == Purpose::rough);
  CHECK_FALSE(find_purpose("speed").has_value());
  for (std::size_t i = 0; i < purpose_count; ++i)
    CHECK(find_purpose(purpose_rows()[i].name) == static_cast<Purpose>(i));
}

}  // namespace bowrise
