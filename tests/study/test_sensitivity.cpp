#include "sim/study/sensitivity.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

using Values = std::vector<std::optional<double>>;

/// Ishigami & Homma 1990 with a 7, b 0.1, each input even over -pi to pi.
double ishigami(std::span<const double> shares) {
  const auto x = [&](std::size_t i) { return std::numbers::pi * (2.0 * shares[i] - 1.0); };
  return std::sin(x(0)) + 7.0 * std::pow(std::sin(x(1)), 2) + 0.1 * std::pow(x(2), 4) * std::sin(x(0));
}

}  // namespace

// Analytic: V = a^2/8 + b pi^4/5 + b^2 pi^8/18 + 1/2, V1 = (1 + b pi^4/5)^2/2, V2 = a^2/8, V13 = 8 b^2
// pi^8/225; S 0.3139, 0.4424, 0 and total 0.5576, 0.4424, 0.2437. Tolerance: three times the error seen at
// this size over seeds (integration by 16384 Sobol points), below what a plain random sample could reach
// (0.02).
TEST_CASE("indices of the Ishigami function") {
  const UnitFunction function = [](std::span<const double> shares) { return Values{ishigami(shares)}; };
  for (const std::uint64_t seed : {1, 2, 3}) {
    const auto indices = sobol_indices(function, 3, 1, 16384, seed, 2);
    REQUIRE(indices.front().has_value());
    CHECK(indices.front()->used == 16384);
    const double first[] = {0.3139, 0.4424, 0.0}, total[] = {0.5576, 0.4424, 0.2437};
    for (std::size_t i = 0; i < 3; ++i) {
      INFO("seed " << seed << ", input " << i);
      CHECK(indices.front()->first[i] == Approx(first[i]).margin(0.003));
      CHECK(indices.front()->total[i] == Approx(total[i]).margin(0.003));
    }
  }
}

// closed form: for a sum of c_i x_i the shares are c_i^2 / sum c^2, first and total alike
TEST_CASE("indices of a sum are the shares of its terms, several outputs at once") {
  const UnitFunction function = [](std::span<const double> u) {
    return Values{1000.0 + u[0] + 2.0 * u[1] + 3.0 * u[2], 5.0, std::nullopt};
  };
  const auto indices = sobol_indices(function, 3, 3, 4096, 1, 1);
  REQUIRE(indices[0].has_value());
  for (std::size_t i = 0; i < 3; ++i) {
    const double share = static_cast<double>((i + 1) * (i + 1)) / 14.0;
    CHECK(indices[0]->first[i] == Approx(share).margin(0.003));
    CHECK(indices[0]->total[i] == Approx(share).margin(0.003));
  }
  CHECK_FALSE(indices[1].has_value());  // does not vary
  CHECK_FALSE(indices[2].has_value());  // has no answer
}

TEST_CASE("base points without an answer are left out, and threads do not matter") {
  const UnitFunction function = [](std::span<const double> u) {
    return Values{u[0] < 0.9 ? std::optional(u[0] + u[1]) : std::nullopt};
  };
  const auto one = sobol_indices(function, 2, 1, 512, 4, 1).front();
  const auto four = sobol_indices(function, 2, 1, 512, 4, 4).front();
  REQUIRE(one.has_value());
  CHECK(one->used < 512);
  CHECK(one->used > 300);
  CHECK(one->first == four->first);
  CHECK(one->total == four->total);
}

TEST_CASE("each input alone goes to the ends of its axis; what does nothing has no share") {
  const Setup setup = test::shipped("supercharged_three_seat", {{"run.duration", "4 s"}});
  SweepAxis nozzle, step;
  nozzle.key = find_key("nozzle.exit_diameter");
  nozzle.low = 82.0;
  nozzle.high = 90.0;
  nozzle.is_range = true;
  step.key = find_key("output.step");  // shown rows only: no result can depend on it
  step.values = {20.0, 5.0};
  const SweepPlan plan(setup, {nozzle, step}, 16, 1);
  const Sensitivity found = sensitivity_of(plan, 16, 1, false, 2);
  const auto holeshot = [&](double diameter) {
    Setup changed = setup;
    set_in_unit(changed, *nozzle.key, diameter);
    return outcome_of(changed).values[result_index("time_to_30_mph")];
  };
  REQUIRE(found.ends.size() == 2);
  CHECK(found.as_it_is[0] == holeshot(86.0));
  CHECK(found.ends[0].at_low[0] == holeshot(82.0));
  CHECK(found.ends[0].at_high[0] == holeshot(90.0));
  CHECK(found.ends[1].low == 5.0);
  CHECK(found.ends[1].at_low == found.as_it_is);
  REQUIRE(found.indices[0].has_value());
  CHECK(found.indices[0]->first[1] == 0.0);
  CHECK(found.indices[0]->total[1] == 0.0);
  CHECK(found.indices[0]->total[0] > 0.5);
  CHECK_FALSE(found.indices[static_cast<std::size_t>(Purpose::rough)].has_value());
}

}  // namespace bowrise
