#include "models/pump_stage.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "models/cavitation.hpp"
#include "models/constants.hpp"
#include "models/pump.hpp"
#include "tests/support/units.hpp"
#include "tests/support/whole_pump.hpp"

using namespace bowrise;
using namespace bowrise::test;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

// K. Zurcher's research data, rows P001 to P027 with their tolerances: a measured curve comes back from the
// tables
TEST_CASE("a measured curve passes through the pump unchanged") {
  const WholePump unit = full_scale_pump();
  REQUIRE(unit.problems().empty());
  const double speed = 568 * rpm;
  const PreparedPump pump =
      prepare_pump({unit.pump, unit.impeller, unit.stage_2, unit.cavitation, speed, 1025.0, 1.2e-6});
  for (const auto& row : unit.pump.curve) {
    CAPTURE(row[0]);
    const double flow = row[0] * speed / pump.flow_coefficient_per_flow;
    const PumpPoint at = pump_point(pump, flow, speed);
    const double head_unit = pump.head_per_speed2 * speed * speed, energy = at.stage[0].energy_J_kg;
    CHECK_THAT(energy / head_unit, WithinRel(row[1], 0.02));
    CHECK_THAT(1025.0 * flow * energy / (at.stage[0].torque_Nm * speed), WithinAbs(row[2], 0.01));
    const double one_percent = at.stage[0].energy_breakdown_J_kg +
                               1.3133 * (at.stage[0].energy_onset_J_kg - at.stage[0].energy_breakdown_J_kg);
    CHECK_THAT(one_percent / energy, WithinAbs(row[3], 0.03));
    CHECK_THAT(
        head_factor_target(one_percent, at.stage[0].energy_onset_J_kg, at.stage[0].energy_breakdown_J_kg),
        WithinAbs(0.99, 1e-3));
  }
  // 47.55 m and suction specific speed 4.76 at 13.915 m3/s (rows P028, P029)
  const double energy = pump_point(pump, 13.915, speed).stage[0].energy_J_kg;
  CHECK_THAT(energy / gravity_m_s2, WithinRel(47.55, 0.02));
  CHECK_THAT(suction_specific_speed(speed, 13.915, 0.36 * energy), WithinRel(4.76, 0.03));
  CHECK_THAT(pump.best_efficiency, WithinAbs(0.894, 0.01));
}

// the same data: input head is linear in flow, r2 above 0.995, and asks for an effective outlet 1.11 of the
// inlet +-3 % (rows P030, P031; published for nine points, six are open)
TEST_CASE("input head of a measured curve is a straight line") {
  std::array<double, 6> phi{}, input_head{};
  const TableRows rows = full_scale_pump().pump.curve;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    phi[i] = rows[i][0];
    input_head[i] = rows[i][1] / rows[i][2];
  }
  const StraightLine line = straight_line(phi, input_head);
  CHECK(line.determination > 0.995);
  CHECK_THAT(std::sqrt(line.intercept) / pi, WithinRel(1.11, 0.03));
}

TEST_CASE("beyond a measured curve the head follows the input-head line") {
  const WholePump unit = full_scale_pump();
  const std::vector<StageCurve> curves =
      stage_curves(unit.pump, unit.impeller, unit.stage_2, unit.cavitation, 568 * rpm, viscosity);
  const double slope = (curves[0](2.1).head() - curves[0](1.9).head()) / 0.2;
  CHECK_THAT(slope, WithinRel(-9.3, 0.08));  // 12.0 - 9.3 phi by least squares over the whole test curve
  const PreparedPump pump = unit.prepared(568 * rpm);
  CHECK(pump_point(pump, 20.0, 568 * rpm).flags.has(Flag::pump_outside_table));
  CHECK_FALSE(pump_point(pump, 14.0, 568 * rpm).flags.has(Flag::pump_outside_table));
}

TEST_CASE("shape from backward flow to turbining") {
  const WholePump craft = craft_pump();
  const std::vector<StageCurve> curves =
      stage_curves(craft.pump, craft.impeller, craft.stage_2, craft.cavitation, 7600 * rpm, viscosity);
  const StageCurve& curve = curves.at(0);
  const double low = curve.computed().low, zero = curve.computed().high, best = curve.best_flow_coefficient();
  CHECK_THAT(low, WithinRel(0.6 * best, 1e-9));
  CHECK_THAT(curve(zero).head(), WithinAbs(0.0, 1e-6));
  CHECK_THAT(curve(0.0).head(), WithinRel(1.1 * curve(low).head(), 1e-9));
  CHECK_THAT(curve(0.0).power, WithinRel(0.6 * curve(best).power, 1e-9));
  CHECK_THAT(curve(1e-4).power, WithinRel(curve(0.0).power, 1e-5));
  CHECK(curve(-0.2).head() == curve(0.0).head());
  CHECK_THAT(curve(3.0).power, WithinRel(-0.2 * curve(best).power, 1e-9));
  for (const double join : {low, zero}) {
    const double h = 1e-5;
    const auto slope = [&](double from, double to, auto value) {
      return (value(curve(to)) - value(curve(from))) / (to - from);
    };
    const auto head = [](const StageCoefficients& at) { return at.head(); };
    const auto power = [](const StageCoefficients& at) { return at.power; };
    CHECK_THAT(slope(join, join + h, head), WithinRel(slope(join - h, join, head), 5e-3));
    CHECK_THAT(slope(join, join + h, power), WithinAbs(slope(join - h, join, power), 5e-3));
  }
  const PreparedPump pump = craft.prepared();
  CHECK(pump_point(pump, -0.05, 7600 * rpm).flags.has(Flag::flow_reversed));
  CHECK(pump_point(pump, 0.45, 7600 * rpm).flags.has(Flag::pump_turbining));
  CHECK(pump_point(pump, 0.05, 7600 * rpm).flags.has(Flag::pump_outside_table));
  CHECK(pump_point(pump, 0.25, 7600 * rpm).flags.none());
}

TEST_CASE("two stages") {
  const WholePump with = two_stage_pump(YesNo::yes), without = two_stage_pump(YesNo::no);
  REQUIRE(with.problems().empty());
  SECTION("with a stator between, the first stage is the pump that it would be alone") {
    WholePump alone = with;
    alone.pump.stages = 1;
    const PumpPoint pair = pump_point(with.prepared(), 0.2, 7600 * rpm),
                    single = pump_point(alone.prepared(), 0.2, 7600 * rpm);
    CHECK(pair.stage[0].energy_J_kg == single.stage[0].energy_J_kg);
    CHECK(pair.stage[0].torque_Nm == single.stage[0].torque_Nm);
  }
  SECTION("without one, the first keeps its swirl energy and the second works less for its blades") {
    WholePump same_blades = without;
    same_blades.pump.interstage_stator = YesNo::yes;
    const PumpPoint swirling = pump_point(without.prepared(), 0.16, 7600 * rpm);
    const PumpPoint straight = pump_point(same_blades.prepared(), 0.16, 7600 * rpm);
    CHECK(swirling.stage[0].energy_J_kg > straight.stage[0].energy_J_kg);
    CHECK(swirling.stage[1].energy_J_kg < 0.8 * straight.stage[1].energy_J_kg);
  }
  SECTION("both stages share the power") {
    CHECK(with.prepared().first_stage_share > 0.25);
    CHECK(with.prepared().first_stage_share < 0.60);
  }
  // NASA SP-8052 table I: breakdown falls with the blade angle, the reason for a flat first stage
  SECTION("a flatter first stage breaks down later") {
    WholePump steep = with;
    steep.impeller.pitch_leading_rad = degrees(15.4);
    CHECK(with.row(0.14).npsh_breakdown_m < 0.97 * steep.row(0.14).npsh_breakdown_m);
  }
}

TEST_CASE("blades that give no head are refused in words") {
  WholePump braking = two_stage_pump(YesNo::no);
  braking.impeller = rotor(14.0, 30.0);
  braking.stage_2 = rotor(8.0, 8.0);
  braking.stage_2.hub_out_m = 0.030;
  CHECK_THROWS_WITH(braking.prepared(), Catch::Contains("stage_2") && Catch::Contains("no head"));
  CHECK_THROWS_AS(braking.prepared(), std::runtime_error);
}

// engineering judgement: the angle of residual swirl grows as the vanes get fewer, 3 deg at 7
TEST_CASE("fewer stator vanes leave more swirl") {
  WholePump few = craft_pump();
  few.pump.stator_vanes = 5;
  const double flow = 0.22, annulus_m2 = 0.97 * 0.96 * pi / 4 * (0.16 * 0.16 - 0.0832 * 0.0832);
  const auto swirl_head = [&](double angle_deg) {
    return 0.5 * std::pow(flow / annulus_m2 * std::tan(degrees(angle_deg)), 2) / gravity_m_s2;
  };
  CHECK_THAT(craft_pump().row(flow).head_m - few.row(flow).head_m,
             WithinRel(swirl_head(3.0 * 7 / 5) - swirl_head(3.0), 1e-6));
}
