// Wear: exposure, growth, what it does to the pump, limits, and the law against measured histories.
#include <catch2/catch.hpp>
#include <cmath>

#include "models/pump.hpp"
#include "models/wear.hpp"
#include "tests/support/units.hpp"
#include "tests/support/whole_pump.hpp"
#include "tests/support/whole_setup.hpp"

using namespace bowrise;
using Catch::Matchers::WithinRel;

namespace {

Wear preset_wear() {
  Wear wear{};
  test::set_presets(wear, wear_parameters);
  return wear;
}

/// What one launch is of the size of.
constexpr WearExposure a_launch{.erosion_index_s = 2.0, .grit_index_s = 20.0};
constexpr WearState new_pump{.clearance_m = 0.2e-3, .edge_loss_m = 0.0};

/// Depth over characteristic depth after a time over characteristic time. Choi, Jayaprakash and Chahine 2012,
/// Wear, abstract.
double pitted_depth(double time) { return 1.0 - std::exp(-time) + std::exp(-1.0) * std::pow(time, 1.2); }

}  // namespace

TEST_CASE("wear: no exposure wears nothing") {
  const WearState after = wear_after(preset_wear(), {}, {.clearance_m = 0.37e-3, .edge_loss_m = 0.11e-3});
  CHECK(after.clearance_m == 0.37e-3);
  CHECK(after.edge_loss_m == 0.11e-3);
}

// Closed forms by hand: (90/60)^6 x 0.4 = 4.55625, (90/60)^3 = 3.375.
TEST_CASE("wear: rate at a held head loss and tip speed") {
  const Wear wear = preset_wear();
  CHECK_THAT(exposure_rate(wear, 0.4, 90.0).erosion_index_s, WithinRel(4.55625, 1e-12));
  CHECK_THAT(exposure_rate(wear, 0.4, 90.0).grit_index_s, WithinRel(3.375, 1e-12));
  CHECK_THAT(exposure_rate(wear, 1.0, 60.0).erosion_index_s, WithinRel(1.0, 1e-12));
  CHECK(exposure_rate(wear, 0.0, 90.0).erosion_index_s == 0.0);
  CHECK(exposure_rate(wear, 1.0, 19.9).erosion_index_s == 0.0);
  CHECK(exposure_rate(wear, 1.0, 20.1).erosion_index_s > 0.0);
  CHECK(exposure_rate(wear, 1.0, 0.0).grit_index_s == 0.0);
}

// 250 s at full loss and 60 m/s, 4e-4 mm/s: 0.1 mm. Half an hour at 60 m/s in 1 g/kg, 0.1 mm per hour: 0.05
// mm.
TEST_CASE("wear: growth of the gap and of the edges' loss") {
  Wear wear = preset_wear();
  const WearExposure run{.erosion_index_s = 250.0, .grit_index_s = 1800.0};
  CHECK_THAT(clearance_growth_m(wear, run),
             WithinRel(0.1e-3, 1e-12));  // clear water: grit counts for nothing
  wear.grit_g_kg = 1.0;
  CHECK_THAT(clearance_growth_m(wear, run), WithinRel(0.15e-3, 1e-12));
  wear.edge_share = 0.5;
  const WearState after = wear_after(wear, run, {.clearance_m = 0.3e-3, .edge_loss_m = 0.2e-3});
  CHECK_THAT(after.clearance_m, WithinRel(0.45e-3, 1e-12));
  CHECK_THAT(after.edge_loss_m, WithinRel(0.275e-3, 1e-12));
}

TEST_CASE("wear: exposures of two launches add") {
  Wear wear = preset_wear();
  wear.grit_g_kg = 3.0;
  const WearState twice = wear_after(wear, a_launch, wear_after(wear, a_launch, new_pump));
  const WearState together =
      wear_after(wear, {2.0 * a_launch.erosion_index_s, 2.0 * a_launch.grit_index_s}, new_pump);
  CHECK_THAT(twice.clearance_m, WithinRel(together.clearance_m, 1e-14));
  CHECK_THAT(twice.edge_loss_m, WithinRel(together.edge_loss_m, 1e-14));
}

// Depth rate over velocity to the power 4.75, aluminium in a venturi (abstract of a study of pulse heights):
// the exponent must be open to that and to the 5 to 7 of pumps. Twice the speed then wears 2^n times as fast.
TEST_CASE("wear: velocity exponent covers what was measured") {
  bool seen = false;
  for (const auto& row : wear_parameters) {
    if (row.name != "velocity_exponent") continue;
    seen = true;
    CHECK(row.usual.low <= 4.5);
    CHECK(row.usual.high >= 7.0);
    for (const double exponent : {4.75, 6.0}) {
      Wear wear = preset_wear();
      wear.velocity_exponent = exponent;
      const double ratio =
          exposure_rate(wear, 0.3, 80.0).erosion_index_s / exposure_rate(wear, 0.3, 40.0).erosion_index_s;
      CHECK_THAT(ratio, WithinRel(std::exp2(exponent), 1e-12));
    }
  }
  CHECK(seen);
}

// The straight law against the history of measured pits, both met at the characteristic time, where the
// published law gives 1 (its own statement, to 0.5 %).
TEST_CASE("wear: a straight law stays within 30 % of the history of measured pits") {
  CHECK_THAT(pitted_depth(1.0), WithinRel(1.0, 5e-3));
  const Wear wear = preset_wear();
  const double at_characteristic_time = clearance_growth_m(wear, a_launch);
  for (const double time : {0.2, 0.5, 1.0, 2.0, 5.0}) {
    const WearExposure so_far{time * a_launch.erosion_index_s, time * a_launch.grit_index_s};
    const double straight = clearance_growth_m(wear, so_far) / at_characteristic_time;
    CHECK_THAT(pitted_depth(time) / straight, WithinRel(1.0, 0.30));
  }
}

TEST_CASE("wear: growth stops at the limit, and says so") {
  const Wear wear = preset_wear();  // limits 3 mm of gap, 2 mm of edge
  const WearExposure years{.erosion_index_s = 1e5, .grit_index_s = 0.0};
  const WearState after = wear_after(wear, years, new_pump);
  CHECK(after.clearance_m == 3e-3);
  CHECK(after.edge_loss_m > 2e-3);
  CHECK(wear_held(wear, after));
  CHECK_FALSE(wear_held(wear, new_pump));
  CHECK_FALSE(wear_held(wear, {.clearance_m = 2.9e-3, .edge_loss_m = 2e-3}));
  CHECK(wear_held(wear, {.clearance_m = 0.2e-3, .edge_loss_m = 2.1e-3}));
  // a gap that was given beyond the limit is neither closed nor opened
  CHECK(wear_after(wear, years, {.clearance_m = 5e-3, .edge_loss_m = 0.0}).clearance_m == 5e-3);
}

// 0.3 of roughness factor, 0.02 of blade factor and half of the incidence slope a millimetre (engineering
// judgement).
TEST_CASE("wear: edge loss roughens blades and asks for suction, up to the limit") {
  const test::WholePump craft = test::craft_pump();
  Wear wear = preset_wear();
  const auto worn = [&](double loss_m) {
    wear.edge_loss_m = loss_m;
    return worn_pump(wear, craft.pump, craft.cavitation);
  };
  CHECK(worn(0.0).pump.roughness_factor == craft.pump.roughness_factor);
  CHECK(worn(0.0).cavitation.blade_factor == craft.cavitation.blade_factor);
  CHECK_THAT(worn(1e-3).pump.roughness_factor, WithinRel(craft.pump.roughness_factor + 0.3, 1e-12));
  CHECK_THAT(worn(1e-3).cavitation.blade_factor, WithinRel(craft.cavitation.blade_factor + 0.02, 1e-12));
  CHECK_THAT(worn(1e-3).cavitation.incidence_slope_per_deg,
             WithinRel(1.5 * craft.cavitation.incidence_slope_per_deg, 1e-12));
  CHECK(worn(1e-3).pump.clearance_m == craft.pump.clearance_m);  // the gap is stated once, by pump.clearance
  CHECK(worn(7e-3).pump.roughness_factor == worn(2e-3).pump.roughness_factor);
  CHECK(worn(7e-3).cavitation.blade_factor == worn(2e-3).cavitation.blade_factor);
}

// 0.02 w^2/2 is 0.02 of some 64^2/2 J/kg: 41 J/kg, 4.2 m, at 7600 rpm and 160 mm; half of the incidence slope
// comes on top.
TEST_CASE("wear: a pump with worn edges loses efficiency and needs more suction head, breakdown unmoved") {
  const test::WholePump sound = test::craft_pump();
  Wear wear = preset_wear();
  wear.edge_loss_m = 1e-3;
  const auto worn_row = [&](double edge_incidence_1_m) {
    Cavitation cavitation = sound.cavitation;
    cavitation.edge_incidence_1_m = edge_incidence_1_m;
    const WornPump worn = worn_pump(wear, sound.pump, cavitation);
    test::WholePump used = sound;
    used.pump = worn.pump;
    used.cavitation = worn.cavitation;
    return used.row(0.25);
  };
  const PumpCurveRow before = sound.row(0.25), after = worn_row(0.0);
  CHECK(after.efficiency < before.efficiency - 0.005);
  CHECK(after.head_m < before.head_m);
  const double tip_speed = 7600 * test::rpm * 0.08, gained_m = 0.02 * tip_speed * tip_speed / 2.0 / 9.80665;
  CHECK(after.npsh_3_m > before.npsh_3_m + gained_m);
  CHECK(after.npsh_3_m <
        before.npsh_3_m + 1.15 * gained_m);  // the relative speed is a little above the tip's
  CHECK(worn_row(500.0).npsh_3_m > after.npsh_3_m + 0.05);
  CHECK_THAT(after.npsh_breakdown_m, WithinRel(before.npsh_breakdown_m, 1e-12));
}
