#include "sim/study/wear_life.hpp"

#include <catch2/catch.hpp>

#include "sim/craft.hpp"
#include "sim/launch.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

WearLife demo_life(const test::Changes& changes, double launches, double slower_s = 0.2) {
  WearOptions options;
  options.launches = launches;
  options.slower_s = slower_s;
  return wear_lives({{"demo", test::shipped("supercharged_three_seat", changes)}}, options).front();
}

/// Wear quick enough for a short study.
const test::Changes soft_ring{{"wear.erosion_per_hour", "40 mm"}};

}  // namespace

// brute force: every launch run, its wear handed to the next
TEST_CASE("following the growth agrees with running every launch") {
  Setup setup = test::shipped("supercharged_three_seat", soft_ring);
  const double start = setup.pump.clearance_m;
  for (int i = 0; i < 30; ++i) {
    const Craft craft = prepare(setup);
    const Launch run = launch(craft, setup.run, launch_options(setup, false));
    setup = worn_to(setup, wear_after(setup.wear, run.tally.wear, wear_state(setup)));
  }
  const WearLife followed = demo_life(soft_ring, 30.0);
  REQUIRE(followed.points.back().launches == 30.0);
  const double growth = followed.points.back().state.clearance_m - start;
  CHECK(growth > 0.3e-3);
  CHECK(growth == Approx(setup.pump.clearance_m - start).epsilon(0.01));
  CHECK(followed.points.back().state.edge_loss_m == Approx(setup.wear.edge_loss_m).epsilon(0.01));
}

// common practice, no source: a worn pump wears faster
TEST_CASE("growth feeds on itself on the demo craft, and its limits come in order") {
  const WearLife worn = demo_life(soft_ring, 60.0);
  CHECK(worn.feeds_back);
  REQUIRE(worn.limits.amber.has_value());
  REQUIRE(worn.limits.doubled.has_value());
  CHECK(*worn.limits.doubled < *worn.limits.amber);
  REQUIRE(worn.limits.slower.has_value());
  REQUIRE(worn.limits.red.has_value());
  CHECK(*worn.limits.amber < *worn.limits.red);
  const auto gap_at = [&](double launches) {
    return demo_life(soft_ring, launches).points.back().state.clearance_m;
  };
  CHECK(gap_at(*worn.limits.amber) == Approx(amber_gap_m).epsilon(0.01));
}

TEST_CASE("a pump that does not cavitate in clean water does not wear") {
  const WearLife gentle = demo_life({{"throttle.plan", "staged"},
                                     {"throttle.stage_level", "0.2"},
                                     {"throttle.stage_time", "60 s"},
                                     {"run.duration", "5 s"}},
                                    100.0);
  REQUIRE_FALSE(gentle.points.empty());
  CHECK(gentle.points.back().state.clearance_m == gentle.points.front().state.clearance_m);
  CHECK_FALSE(gentle.feeds_back);
  CHECK_FALSE(gentle.limits.doubled.has_value());
}

TEST_CASE("grit wears without cavitation, and evenly") {
  const WearLife grit = demo_life({{"wear.erosion_per_hour", "0 mm"}, {"wear.grit", "5 g/kg"}}, 200.0);
  const double first = grit.points.front().growth_per_launch_m;
  CHECK(first > 0.0);
  CHECK(grit.points.back().state.clearance_m - grit.points.front().state.clearance_m ==
        Approx(200.0 * first).epsilon(0.2));
}

TEST_CASE("draws give a band of launches to a limit, the same for any number of threads") {
  WearOptions one, two;
  one.launches = two.launches = 60.0;
  one.band.draws = two.band.draws = 4;
  two.band.threads = 2;
  const std::vector<Contender> craft{{"demo", test::shipped("supercharged_three_seat", soft_ring)}};
  const WearLife a = wear_lives(craft, one).front(), b = wear_lives(craft, two).front();
  REQUIRE(a.red_band.has_value());
  CHECK(a.red_band->low <= a.red_band->high);
  CHECK(a.red_band->median == b.red_band->median);
}

TEST_CASE("wear stops where the law is no longer believed") {
  const WearLife gone = demo_life({{"wear.erosion_per_hour", "1000 mm"}}, 1000.0);
  CHECK_FALSE(gone.failure.empty());
  CHECK(gone.points.back().launches < 1000.0);
}

}  // namespace bowrise
