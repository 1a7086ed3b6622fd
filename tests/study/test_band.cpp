#include "sim/study/band.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "sim/study/sample.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

BandOptions band_options(std::size_t draws, std::uint64_t seed = 1) {
  BandOptions out;
  out.draws = draws;
  out.seed = seed;
  out.threads = 2;
  return out;
}

}  // namespace

// Hyndman & Fan 1996 definition 6: for 1..10 the quantile p is 11 p, from the least number to the greatest
TEST_CASE("quantiles of ten numbers") {
  const std::vector<double> values{1, 2, 3, 4, 5, 6, 7, 8, 9, 10};
  CHECK(quantile(values, 0.0) == 1.0);
  CHECK(quantile(values, 0.05) == 1.0);
  CHECK(quantile(values, 0.25) == Approx(2.75));
  CHECK(quantile(values, 0.5) == Approx(5.5));
  CHECK(quantile(values, 0.75) == Approx(8.25));
  CHECK(quantile(values, 1.0) == 10.0);
  CHECK(quantile(std::vector<double>{3.0}, 0.3) == 3.0);
}

// The k-th of n sorted draws has k/(n+1) of all further draws below it, whatever their distribution (David &
// Nagaraja 2003, section 2.5, from memory). 20 000 trials: four binomial deviations are 0.0085.
TEST_CASE("a 5-95 % band of few draws holds nine in ten of what comes next") {
  constexpr std::size_t trials = 20000;
  std::mt19937_64 numbers(7);
  const auto draw = [&] { return -std::log((static_cast<double>(numbers() >> 11) + 0.5) * 0x1p-53); };
  for (const std::size_t count : {32U, 64U}) {
    std::size_t held = 0;
    for (std::size_t trial = 0; trial < trials; ++trial) {
      std::vector<std::optional<double>> values(count);
      for (auto& value : values) value = draw();
      const Band band = *band_of(values);
      const double next = draw();
      held += next >= band.low && next <= band.high ? 1 : 0;
    }
    CHECK(static_cast<double>(held) / trials == Approx(0.90).margin(0.0085));
  }
}

TEST_CASE("a band counts the draws that had no answer") {
  const std::vector<std::optional<double>> values{3.0, std::nullopt, 1.0, 2.0};
  const auto band = band_of(values);
  REQUIRE(band.has_value());
  CHECK(band->median == 2.0);
  CHECK(band->answered == 3);
  CHECK(band->drawn == 4);
  CHECK_FALSE(band_of(std::vector<std::optional<double>>(5)).has_value());
}

// a band of 5-95 % is to hold 90 % of truths that are drawn as it was; of 64 truths 51 to 63 are within the
// binomial 99 %
TEST_CASE("the band covers synthetic truths") {
  const Setup setup = test::shipped("supercharged_three_seat");
  const Bands bands = bands_of(setup, band_options(128, 1));
  const std::vector<Outcome> truths = paired_outcomes({&setup, 1}, band_options(64, 99));
  for (const std::string_view name : {"time_to_30_mph", "top_speed", "top_rpm"}) {
    const std::size_t result = result_index(name);
    const Band& band = *bands.results[result];
    std::size_t inside = 0;
    for (const Outcome& truth : truths) {
      const double value = truth.values[result].value();
      inside += value >= band.low && value <= band.high ? 1 : 0;
    }
    INFO(name);
    CHECK(inside >= 51);
    CHECK(inside <= 63);
  }
}

TEST_CASE("bands do not depend on threads") {
  const Setup setup = test::shipped("light_two_seat");
  BandOptions one = band_options(8), four = band_options(8);
  one.threads = 1;
  four.threads = 4;
  const Bands a = bands_of(setup, one), b = bands_of(setup, four);
  for (std::size_t i = 0; i < a.results.size(); ++i) {
    REQUIRE(a.results[i].has_value() == b.results[i].has_value());
    if (a.results[i]) CHECK(a.results[i]->median == b.results[i]->median);
  }
}

// common practice, no source: absolute numbers from geometry alone are uncertain; a band that is a hair's
// breadth would be a lie
TEST_CASE("the demo craft's band is honest: over 5 % of the time to 30 mph, over 3 % of top speed") {
  const Bands bands = bands_of(test::shipped("supercharged_three_seat"), band_options(64));
  CHECK(bands.failed == 0);
  const auto width = [&](std::string_view name) {
    const Band& band = *bands.results[result_index(name)];
    return (band.high - band.low) / band.median;
  };
  CHECK(width("time_to_30_mph") > 0.05);
  CHECK(width("top_speed") > 0.03);
}

TEST_CASE("a craft that never hooks up has no top speed in a band") {
  Outcome outcome{std::vector<std::optional<double>>(result_rows().size()), {}};
  const std::size_t top = result_index("top_speed");
  outcome.values[top] = 2.0;
  outcome.values[result_index("cavitating_time")] = 14.0;
  CHECK_FALSE(drawn_value(outcome, top));
  CHECK(drawn_value(outcome, result_index("cavitating_time")) == 14.0);
  outcome.values[result_index("hook_up_time")] = 2.0;
  CHECK(drawn_value(outcome, top) == 2.0);
  // one that never cavitates has nothing to hook up from
  outcome.values[result_index("hook_up_time")].reset();
  outcome.values[result_index("cavitating_time")] = 0.0;
  CHECK(drawn_value(outcome, top) == 2.0);
  // some draws of the worn ring are stuck at 4 mph, 1.8 m/s, and would stretch the band down there
  BandOptions options;
  options.draws = 64;
  const Bands bands = bands_of(test::shipped("worn_ring"), options);
  CHECK(bands.results[top]->answered < bands.results[top]->drawn);
  CHECK(bands.results[top]->low > 13.0);
}

}  // namespace bowrise
