#include "sim/study/match.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

Adjustable free_input(const char* key) { return {find_key(key), {}}; }

Remedy only(const Setup& setup, const char* result, double value, const Adjustable& input) {
  return match(setup, {result_index(result), value}, {&input, 1}, 2).remedies.front();
}

double result_with(const Setup& setup, const char* key, double value, const char* result) {
  Setup changed = setup;
  set_in_unit(changed, *find_key(key), value);
  return outcome_of(changed).values[result_index(result)].value();
}

}  // namespace

TEST_CASE("a match run again gives its target within 0.1 %") {
  const Setup cone = test::shipped("larger_cone");
  for (const char* key : {"nozzle.exit_diameter", "impeller.pitch_trailing", "engine.power_factor"}) {
    const Remedy remedy = only(cone, "top_rpm", 7680.0, free_input(key));
    INFO(key);
    REQUIRE(remedy.value.has_value());
    CHECK(remedy.exact);
    CHECK(result_with(cone, key, *remedy.value, "top_rpm") == Approx(7680.0).epsilon(target_tolerance));
  }
}

// common practice, no source: what a larger cone costs in rpm comes back with a larger nozzle, less pitch or
// more power
TEST_CASE("remedies for lost rpm go the way a tuner expects") {
  const Setup cone = test::shipped("larger_cone");
  CHECK(*only(cone, "top_rpm", 7680.0, free_input("nozzle.exit_diameter")).value > 86.5);
  CHECK(*only(cone, "top_rpm", 7680.0, free_input("impeller.pitch_trailing")).value < 25.2);
  CHECK(*only(cone, "top_rpm", 7680.0, free_input("engine.power_factor")).value > 1.01);
}

TEST_CASE("of several values the one nearest to the present is given, found by brute force too") {
  const Setup stock = test::shipped("supercharged_three_seat");
  const Remedy remedy = only(stock, "time_to_30_mph", 1.80, free_input("nozzle.exit_diameter"));
  REQUIRE(remedy.value.has_value());
  double nearest = 1e9;
  double before = result_with(stock, "nozzle.exit_diameter", 76.0, "time_to_30_mph") - 1.80;
  for (double size = 76.25; size <= 96.0; size += 0.25) {
    const double after = result_with(stock, "nozzle.exit_diameter", size, "time_to_30_mph") - 1.80;
    if (before * after <= 0.0 && std::abs(size - 86.0) < std::abs(nearest - 86.0)) nearest = size;
    before = after;
  }
  CHECK(std::abs(*remedy.value - nearest) <= 0.25);
}

TEST_CASE("where no usual value does, the nearest is told") {
  const Setup stock = test::shipped("supercharged_three_seat");
  const Remedy remedy = only(stock, "top_speed", 60.0, free_input("nozzle.exit_diameter"));
  CHECK_FALSE(remedy.value.has_value());
  CHECK_FALSE(remedy.exact);
  const double near = result_with(stock, "nozzle.exit_diameter", remedy.nearest, "top_speed");
  for (const double other : {76.0, 86.0, 96.0})
    CHECK(near >= result_with(stock, "nozzle.exit_diameter", other, "top_speed") - 1e-9);
}

TEST_CASE("sizes that can be bought are kept to, whole numbers stay whole") {
  const Setup cone = test::shipped("larger_cone");
  const Remedy nozzle = only(cone, "top_rpm", 7680.0, {find_key("nozzle.exit_diameter"), {84, 88, 89, 91}});
  REQUIRE(nozzle.value.has_value());
  CHECK(*nozzle.value == 89.0);
  CHECK_FALSE(nozzle.exact);
  const Remedy blades = only(cone, "top_rpm", 7680.0, free_input("impeller.blades"));
  REQUIRE(blades.value.has_value());
  CHECK(*blades.value == std::round(*blades.value));
}

TEST_CASE("a pitch told in inches gives way to the angle that is adjusted") {
  const Setup inches =
      test::shipped("supercharged_three_seat", {{"impeller.pitch_trailing_length", "9.4 in"}});
  const Setup degrees = test::shipped("supercharged_three_seat");
  const Remedy from_inches = only(inches, "top_rpm", 7600.0, free_input("impeller.pitch_trailing"));
  const Remedy from_degrees = only(degrees, "top_rpm", 7600.0, free_input("impeller.pitch_trailing"));
  REQUIRE(from_inches.value.has_value());
  CHECK(*from_inches.value == Approx(*from_degrees.value).epsilon(1e-3));
}

TEST_CASE("a match does not depend on threads") {
  const Setup cone = test::shipped("larger_cone");
  const std::array inputs{free_input("nozzle.exit_diameter"), free_input("impeller.pitch_trailing")};
  const Match one = match(cone, {result_index("top_rpm"), 7680.0}, inputs, 1);
  const Match four = match(cone, {result_index("top_rpm"), 7680.0}, inputs, 4);
  for (std::size_t i = 0; i < inputs.size(); ++i) CHECK(one.remedies[i].value == four.remedies[i].value);
}

}  // namespace bowrise
