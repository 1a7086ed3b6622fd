// Suction head: each term of what is available, what required head and air depend on, one part changed at a
// time on a whole craft. Terms are closed forms unless said; sizes of the rest are engineering judgement.
#include <catch2/catch.hpp>
#include <cmath>

#include "models/constants.hpp"
#include "tests/support/scenarios.hpp"

using namespace bowrise;
using namespace bowrise::test;

namespace {

Craft craft_with(const Changes& changes) { return prepare(shipped(demo, changes)); }

/// The demo craft part-way through a launch, or with another speed.
State launching(double speed_m_s) {
  State state{};
  state.speed_m_s = speed_m_s;
  state.trim_rad = 0.06;
  state.shaft_speed_rad_s = 800.0;
  state.flow_m3_s = 0.2;
  state.cavity_1 = 0.3;
  state.air_path = state.boost = 1.0;
  return state;
}

Instant instant(const Craft& craft, const State& state) {
  return evaluate(craft, craft.lever.back(), 1.0, state);
}

/// At the same flow and speed, without the inertia of the column.
double available_m(const Changes& changes, double speed_m_s = 10.0) {
  const Craft craft = craft_with(changes);
  const Instant now = instant(craft, launching(speed_m_s));
  return (now.npsh_available_J_kg + craft.suction_inertance_1_m * now.rate.flow_m3_s -
          craft.suction_length_m * now.rate.speed_m_s) /
         gravity_m_s2;
}

double required_m(const Changes& changes) {
  return instant(craft_with(changes), launching(10.0)).npsh_required_J_kg / gravity_m_s2;
}

}  // namespace

// Definition: E = (p_atm - p_v)/rho + g depth + vi^2/2 - e_in - I_suc dQ/dt + L_suc dV/dt, with every term
// here from the inputs and the rates of the instant.
TEST_CASE("suction head available is the sum of its terms") {
  const Setup setup = shipped(demo, {{"grate.blockage", "20 %"}, {"water.gas_pressure", "2 kPa"}});
  const Craft craft = prepare(setup);
  for (const double speed : {0.0, 4.0, 12.0, 30.0}) {
    const State state = launching(speed);
    const Instant now = instant(craft, state);
    const double inflow = (1.0 - setup.intake.wake_fraction) * speed;
    const double duct = state.flow_m3_s / (0.25 * pi * setup.pump.bore_m * setup.pump.bore_m);
    const double debris = 0.2 / 0.8;
    const double zeta = setup.intake.duct_loss + setup.grate.loss + debris * debris;
    const double loss =
        0.5 * zeta * duct * duct + 0.5 * setup.intake.mismatch_loss * (inflow - duct) * (inflow - duct);
    const double still = (101325.0 - saturation_pressure_Pa(setup.water.temperature_K) - 2000.0) /
                             fresh_water_density_kg_m3(setup.water.temperature_K) +
                         gravity_m_s2 * setup.pump.depth_m;
    const double column = -setup.intake.suction_inertance_1_m * now.rate.flow_m3_s +
                          setup.intake.suction_length_m * now.rate.speed_m_s;
    CHECK(now.npsh_available_J_kg == Approx(still + 0.5 * inflow * inflow - loss + column).epsilon(1e-9));
    CHECK(std::abs(column) > 0.1);  // the column's inertia is part of it
  }
}

// 2 kPa is 0.204 m of fresh water; standard atmosphere at 1500 m is 845.6 hPa (ISO 2533:1975), 1.71 m less;
// vapour pressure is 2.339 kPa at 20 degC and 4.247 kPa at 30 degC (IAPWS tables), 0.20 m less with the
// lighter water.
TEST_CASE("gas, altitude and warm water take suction head by as much as they press") {
  CHECK(available_m({}) - available_m({{"water.gas_pressure", "2 kPa"}}) == Approx(0.2043).epsilon(0.01));
  const auto still_m = [](const Changes& changes) {
    return craft_with(changes).static_suction_J_kg / gravity_m_s2;
  };
  CHECK(still_m({{"water.temperature", "20 degC"}}) -
            still_m({{"water.temperature", "20 degC"}, {"site.altitude", "1500 m"}}) ==
        Approx((101325.0 - 84556.0) / (998.2 * gravity_m_s2)).epsilon(0.01));
  CHECK(still_m({{"water.temperature", "20 degC"}}) - still_m({{"water.temperature", "30 degC"}}) ==
        Approx((101325.0 - 2339.0) / (998.2 * gravity_m_s2) - (101325.0 - 4247.0) / (995.65 * gravity_m_s2))
            .epsilon(0.02));
  // the heavier sea water stands for less height: 35 g/kg is 2.65 % at 20 degC (EOS-80)
  const double fresh = still_m({{"water.temperature", "20 degC"}});
  const double sea = still_m({{"water.temperature", "20 degC"}, {"water.salinity", "35.165 g/kg"}});
  CHECK(fresh - sea == Approx(0.0265 * fresh).epsilon(0.05));
}

TEST_CASE("ram lifts and a blocked or dense grate lowers the suction head") {
  CHECK(available_m({}, 30.0) > available_m({}, 5.0) + 30.0);
  CHECK(available_m({{"grate.blockage", "40 %"}}) < available_m({}) - 1.0);
  CHECK(available_m({{"grate.loss", "0.12"}}) < available_m({}) - 0.2);
  CHECK(available_m({{"pump.depth", "0.15 m"}}) == Approx(available_m({}) + 0.10).margin(1e-6));
}

TEST_CASE("required head rises with the gap, a blunt or eroded edge and the angle of the inlet") {
  const double sound = required_m({});
  CHECK(required_m({{"pump.clearance", "1 mm"}}) > 1.05 * sound);
  CHECK(required_m({{"impeller.edge_thickness", "3 mm"}}) > 1.03 * sound);
  CHECK(required_m({{"wear.edge_loss", "1 mm"}}) > 1.1 * sound);
  CHECK(required_m({{"grate.blockage", "40 %"}}) > sound + 0.3);
  CHECK(required_m({{"cavitation.incidence_slope", "0.004"}}) > sound + 0.1);
  const auto breakdown_m = [](const Changes& changes) {
    return instant(craft_with(changes), launching(10.0)).pump.stage[0].energy_breakdown_J_kg / gravity_m_s2;
  };
  // flatter leading edges break down later: 0.00072 angle^1.42 (own fit to NASA SP-8052 table I)
  CHECK(breakdown_m({{"impeller.pitch_leading", "11 deg"}}) < breakdown_m({}) - 0.5);
}

TEST_CASE("each stage breaks down by its own inlet angle") {
  const auto breakdown = [](const Changes& changes, std::size_t stage) {
    const Craft craft = prepare(shipped("two_stage", changes));
    return instant(craft, launching(10.0)).pump.stage[stage].energy_breakdown_J_kg;
  };
  const Changes steeper_second{{"stage_2.pitch_leading", "16 deg"}};
  CHECK(breakdown(steeper_second, 0) == Approx(breakdown({}, 0)).epsilon(1e-6));
  CHECK(std::abs(breakdown(steeper_second, 1) - breakdown({}, 1)) > 1.0);
}

TEST_CASE("air comes from chop, a starved lip and leaks, and a grate that feeds keeps it out") {
  const auto settled_void = [](const Changes& changes, double speed_m_s) {
    const Craft craft = craft_with(changes);
    Pinned held;
    held.speed_m_s = speed_m_s;
    const auto found = steady(craft, held, planing_guess(craft, speed_m_s));
    REQUIRE(found);
    return found->state.void_fraction;
  };
  const double calm = settled_void({}, 20.0);
  CHECK(calm < 1e-3);
  const double chop = settled_void({{"water.chop_height", "0.3 m"}}, 20.0);
  CHECK(chop == Approx(0.08 * (1.0 - 0.25)).epsilon(0.05));  // chop factor and feed of the demo's grate
  CHECK(settled_void({{"water.chop_height", "0.3 m"}, {"grate.feed", "60 %"}}, 20.0) ==
        Approx(0.08 * (1.0 - 0.60)).epsilon(0.05));
  CHECK(settled_void({{"intake.throat_area", "320 cm2"}}, 30.0) > calm + 0.01);
  // a leak counts at rest, where the suction side is below the atmosphere, and not at speed
  const Craft leaking = craft_with({{"intake.leak_area", "60 mm2"}});
  CHECK(instant(leaking, launching(2.0)).rate.void_fraction > 0.1);
  CHECK(instant(leaking, launching(30.0)).rate.void_fraction < 0.01);
}
