// What a report gathers, against the same questions asked one by one.
#include "sim/study/report.hpp"

#include <catch2/catch.hpp>

#include "tests/support/scenarios.hpp"

namespace bowrise {

TEST_CASE("a report of one setup holds what run, limits and bands say") {
  const Setup setup = test::shipped("supercharged_three_seat");
  BandOptions options;
  options.draws = 4;
  const Report one = report({{"demo", setup}}, options);
  REQUIRE(one.setups.size() == 1);
  CHECK_FALSE(one.comparison);
  CHECK(outcome_of(one.setups[0].summary).values == outcome_of(setup).values);
  REQUIRE(one.bands);
  const Bands alone = bands_of(setup, options);
  const std::size_t top = result_index("top_speed");
  CHECK(one.bands->results[top]->median == alone.results[top]->median);
  const auto costs = limit_costs(setup, outcome_of(setup), 1);
  REQUIRE(one.setups[0].costs.size() == costs.size());
  for (std::size_t i = 0; i < costs.size(); ++i)
    CHECK(one.setups[0].costs[i].time_to_30_mph_s == costs[i].time_to_30_mph_s);
}

TEST_CASE("a report's rows are its own: neither coarse nor fine output.step alters it") {
  const Report plain = report({{"A", test::shipped("worn_ring")}}, {});
  for (const char* step : {"10 s", "1 ms"}) {
    const Report other = report({{"A", test::shipped("worn_ring", {{"output.step", step}})}}, {});
    CHECK(other.setups[0].launch.rows.size() == plain.setups[0].launch.rows.size());
  }
}

TEST_CASE("a report of several lays all curves over the same axes, wide enough for the fastest") {
  const Report two =
      report({{"A", test::shipped("supercharged_three_seat")}, {"B", test::shipped("modified_400")}}, {});
  REQUIRE(two.comparison);
  for (const SetupReport& setup : two.setups) {
    CHECK(two.speeds_m_s.back() > *setup.summary.top_speed_m_s);
    CHECK(two.shaft_speeds_rad_s.back() > setup.craft.limiter_rad_s);
    CHECK(setup.hull.rows.size() + setup.hull.missing.size() == two.speeds_m_s.size());
    CHECK(setup.engine.rows.size() == two.shaft_speeds_rad_s.size());
    CHECK(setup.pump.size() == 2);
  }
}

TEST_CASE("a report that coasts ends at walking pace") {
  BandOptions options;
  options.coast = true;
  const Report one = report({{"A", test::shipped("supercharged_three_seat")}}, options);
  CHECK(one.setups[0].summary.coast_down.has_value());
  CHECK(one.setups[0].launch.rows.back().state.speed_m_s == Approx(at_rest_m_s).epsilon(1e-3));
}

}  // namespace bowrise
