// Wear carried from launch to launch on whole craft.
#include <catch2/catch.hpp>
#include <cmath>

#include "models/constants.hpp"
#include "tests/support/scenarios.hpp"

using namespace bowrise;
using namespace bowrise::test;

namespace {

bool flagged(const Outcome& outcome, Flag wanted) {
  for (const FlagTime& raised : outcome.summary.flags)
    if (raised.flag == wanted) return true;
  return false;
}

}  // namespace

// The indices from the rows of a fine trace, by trapezium, against the tally that needs no rows. The tally's
// trapezia are as long as the integrator's steps: 1 % off at most with the preset tolerance, and less with
// finer steps.
TEST_CASE("exposure of a launch is the integral over its trace") {
  const auto error = [](const std::string& tolerance) {
    const Outcome run = outcome_of(demo, {{"output.step", "1 ms"}, {"run.tolerance", tolerance}}, true);
    WearExposure sum;
    const auto rate = [&](const TraceRow& row) {
      const double u = 0.5 * run.craft.bore_m * row.state.shaft_speed_rad_s / 60.0;
      return WearExposure{u > 1.0 / 3.0 ? (1.0 - row.now.head_factor) * std::pow(u, 6.0) : 0.0, u * u * u};
    };
    for (std::size_t i = 1; i < run.launch.rows.size(); ++i) {
      const TraceRow &a = run.launch.rows[i - 1], &b = run.launch.rows[i];
      sum.erosion_index_s +=
          0.5 * (rate(a).erosion_index_s + rate(b).erosion_index_s) * (b.time_s - a.time_s);
      sum.grit_index_s += 0.5 * (rate(a).grit_index_s + rate(b).grit_index_s) * (b.time_s - a.time_s);
    }
    CHECK(result(run, "wear_index") == run.summary.wear.erosion_index_s);
    CHECK(run.summary.clearance_growth_m == Approx(4e-7 * run.summary.wear.erosion_index_s).epsilon(1e-9));
    return std::max(std::abs(run.summary.wear.erosion_index_s / sum.erosion_index_s - 1.0),
                    std::abs(run.summary.wear.grit_index_s / sum.grit_index_s - 1.0));
  };
  CHECK(error("1e-4") < 0.01);
  CHECK(error("1e-9") < 0.003);
}

TEST_CASE("a launch hands its wear to the next, which wears faster") {
  Setup setup = shipped(demo, {{"wear.erosion_per_hour", "72 mm"}});  // so that few launches show it
  double growth_before = 0.0, time_before = 0.0;
  for (int launch_number = 0; launch_number < 4; ++launch_number) {
    const Outcome run = outcome_of(setup);
    const WearState after = wear_after(setup.wear, run.summary.wear, wear_state(setup));
    const double growth = after.clearance_m - setup.pump.clearance_m;
    CHECK(growth == Approx(run.summary.clearance_growth_m).epsilon(1e-12));
    CHECK(growth > 1.02 * growth_before);
    CHECK(result(run, "time_to_30_mph") > time_before);
    growth_before = growth;
    time_before = result(run, "time_to_30_mph");
    setup = worn_to(setup, after);
    CHECK(setup.pump.clearance_m == after.clearance_m);
    CHECK(setup.wear.edge_loss_m == after.edge_loss_m);
    CHECK(check(setup).empty());
  }
}

// About 0.1 mm in 100 pinned launches is what the coefficient was chosen for (engineering judgement, factor
// 3).
TEST_CASE("a hundred pinned launches of a sound craft open the ring by about a tenth of a millimetre") {
  const double per_hundred_m = 100.0 * outcome_of(demo).summary.clearance_growth_m;
  CHECK(per_hundred_m > 0.1e-3 / 3.0);
  CHECK(per_hundred_m < 0.1e-3 * 3.0);
}

TEST_CASE("worn edges in a scenario hook up later and cost top speed") {
  const Outcome sound = outcome_of(demo), worn = outcome_of(demo, {{"wear.edge_loss", "1 mm"}});
  CHECK(result(worn, "hook_up_time") > result(sound, "hook_up_time") + 0.1);
  CHECK(result(worn, "cavitating_time") > result(sound, "cavitating_time") + 0.1);
  CHECK(result(worn, "top_speed") < result(sound, "top_speed") - 0.1);
  CHECK_FALSE(flagged(worn, Flag::wear_held));
}

TEST_CASE("wear beyond belief is flagged in the summary and acts as the limit") {
  const Outcome limit = outcome_of(demo, {{"wear.edge_loss", "2 mm"}});
  const Outcome beyond = outcome_of(demo, {{"wear.edge_loss", "6 mm"}});
  CHECK(result(beyond, "time_to_30_mph") == result(limit, "time_to_30_mph"));
  CHECK(flagged(beyond, Flag::wear_held));
  CHECK_FALSE(flagged(limit, Flag::wear_held));
}

TEST_CASE("grit wears a pump that does not cavitate") {
  const Changes gentle{{"throttle.plan", "ramp"}, {"throttle.ramp_time", "8 s"}};
  Changes silty = gentle;
  silty.emplace_back("wear.grit", "1 g/kg");
  const Outcome clear_water = outcome_of(demo, gentle), silt = outcome_of(demo, silty);
  const double by_grit = silt.summary.clearance_growth_m - clear_water.summary.clearance_growth_m;
  CHECK(by_grit == Approx(1e-4 * silt.summary.wear.grit_index_s / 3600.0).epsilon(1e-9));
  CHECK(by_grit > 0.0);
}
