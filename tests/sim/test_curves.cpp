// Curves through the tables a user sees: published values, identities between columns, points without an
// answer.
#include "sim/curves.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "models/constants.hpp"
#include "sim/craft.hpp"
#include "tests/support/curve_of.hpp"
#include "tests/support/units.hpp"

namespace bowrise {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using test::rpm;

const Setup& demo_setup() {
  static const Setup setup = shipped_scenario("supercharged_three_seat.yaml").setup;
  return setup;
}

CurveTable curve(CurveKind kind, const std::vector<AxisValues>& axes = {},
                 const Setup& setup = demo_setup()) {
  return curve_table(setup, kind, axes);
}

CurveTable water(double temperature_degC, double salinity_g_kg) {
  return curve(CurveKind::water,
               {{Axis::temperature, {zero_celsius_K + temperature_degC}}, {Axis::salinity, {salinity_g_kg}}});
}

Setup with(Needs needs, std::vector<std::pair<std::string, std::string>> set) {
  return shipped_scenario("supercharged_three_seat.yaml", needs, std::move(set)).setup;
}

}  // namespace

TEST_CASE("the rows of the tables of kinds and axes stand where their number says") {
  for (std::size_t i = 0; i < axis_rows().size(); ++i) {
    const AxisRow& row = axis_rows()[i];
    INFO(row.name);
    CHECK(static_cast<std::size_t>(row.axis) == i);
    REQUIRE(find_unit(row.unit) != nullptr);
    CHECK(find_unit(row.unit)->dimension == row.dimension);
  }
  CHECK(axis_rows().size() == static_cast<std::size_t>(Axis::count));
  for (std::size_t i = 0; i < curve_rows().size(); ++i) {
    const CurveRow& row = curve_rows()[i];
    INFO(row.name);
    CHECK(static_cast<std::size_t>(row.kind) == i);
    const auto is_axis = [&](Axis axis) {
      return std::find(row.axes.begin(), row.axes.end(), axis) != row.axes.end();
    };
    for (const Axis axis : row.required) CHECK(is_axis(axis));
    for (const auto& pair : row.exclusive) CHECK((is_axis(pair[0]) && is_axis(pair[1])));
    for (const Axis axis : row.axes) {
      CHECK(axis_range(row.kind, axis).low >= axis_rows()[static_cast<std::size_t>(axis)].possible.low);
      CHECK(axis_range(row.kind, axis).high <= axis_rows()[static_cast<std::size_t>(axis)].possible.high);
    }
  }
}

TEST_CASE("every row has a cell for every column") {
  const std::vector<std::pair<CurveKind, std::vector<AxisValues>>> cases{
      {CurveKind::water, {}},
      {CurveKind::air, {}},
      {CurveKind::engine, {{Axis::shaft_speed, {500.0}}}},
      {CurveKind::hull, {{Axis::speed, {20.0}}}},
      {CurveKind::hull, {{Axis::speed, {20.0}}, {Axis::thrust, {1500.0}}}},
      {CurveKind::pump, {{Axis::flow, {0.2}}, {Axis::shaft_speed, {600.0}}}},
      {CurveKind::intake, {{Axis::speed, {20.0}}}},
      {CurveKind::cavitation, {{Axis::speed, {20.0}}}},
      {CurveKind::thrust, {{Axis::speed, {20.0}}}},
      {CurveKind::cruise, {{Axis::speed, {20.0}}}}};
  for (const auto& [kind, axes] : cases) {
    const CurveTable table = curve(kind, axes);
    INFO(curve_rows()[static_cast<std::size_t>(kind)].name);
    REQUIRE(table.rows.size() == 1);
    CHECK(table.columns == curve_rows()[static_cast<std::size_t>(kind)].columns);
    CHECK(table.rows[0].size() == table.columns.size());
    for (const Cell& cell : table.rows[0])
      if (const auto* number = std::get_if<double>(&cell)) CHECK(std::isfinite(*number));
  }
}

TEST_CASE("water against the published formulations") {
  const CurveTable fresh = water(25.0, 0.0);
  CHECK_THAT(value(fresh, "density_kg_m3"), WithinAbs(997.0476, 0.01));       // IAPWS R6-95; row W-RHOF-3
  CHECK_THAT(value(fresh, "viscosity_Pa_s"), WithinRel(890.022e-6, 1e-3));    // IAPWS R12-08; row W-MUF-3
  CHECK_THAT(value(fresh, "vapour_pressure_Pa"), WithinRel(3169.929, 3e-4));  // IAPWS-95; row W-PV-3
  CHECK_THAT(value(fresh, "temperature_degC"), WithinAbs(25.0, 1e-9));
  const CurveTable sea = water(15.0, 35.16504);
  CHECK_THAT(value(sea, "density_kg_m3"), WithinAbs(1025.976029, 0.02));  // TEOS-10; row W-RHOSEA-2
  CHECK_THAT(value(sea, "vapour_pressure_Pa") / value(water(15.0, 0.0), "vapour_pressure_Pa"),
             WithinAbs(0.98133, 5e-4));  // TEOS-10 with IAPWS-95; row W-PVSAL-1
}

TEST_CASE("water without axes is the scenario's own") {
  const CurveTable table = curve(CurveKind::water);
  CHECK(value(table, "temperature_degC") == Approx(demo_setup().water.temperature_K - zero_celsius_K));
  CHECK(value(table, "salinity_g_kg") == demo_setup().water.salinity_g_kg);
}

TEST_CASE("air against the standard atmosphere and the humid-air formula") {
  const CurveTable table = curve(CurveKind::air, {{Axis::altitude, {1000.0}}});
  CHECK_THAT(value(table, "pressure_Pa"), WithinAbs(89874.6, 0.1));     // ISO 2533:1975; row A-ISAP-2
  CHECK_THAT(value(table, "density_kg_m3"), WithinAbs(1.11164, 1e-5));  // ISO 2533:1975; row A-ISAR-2
  CHECK_THAT(value(table, "temperature_degC"), WithinAbs(8.5, 1e-9));   // ISO 2533:1975: 15 - 6.5 degC
  CHECK_THAT(value(table, "available_head_m"),
             WithinAbs(8.9422, 0.003));  // own evaluation over ISO 2533; row A-HEAD-2
  // CIPM-2007 (Picard et al., Metrologia 45, 2008): 20 degC, 101325 Pa, 50 %; tolerance of the two-gas
  // formula; row A-HUM-1
  const CurveTable humid =
      curve(CurveKind::air, {{Axis::temperature, {293.15}}}, with(Needs::air, {{"air.humidity", "50 %"}}));
  CHECK_THAT(value(humid, "density_kg_m3"), WithinRel(1.19931, 1e-3));
}

TEST_CASE("engine: power is torque times shaft speed, and peaks where the scenario says") {
  std::vector<double> speeds;
  for (int i = 20; i <= 90; ++i) speeds.push_back(i * 100.0 * rpm);
  const CurveTable table = curve(CurveKind::engine, {{Axis::shaft_speed, speeds}});
  REQUIRE(table.rows.size() == speeds.size());
  double best_power = 0.0, best_rpm = 0.0;
  for (std::size_t i = 0; i < speeds.size(); ++i) {
    CHECK_THAT(value(table, "power_W", i), WithinRel(value(table, "torque_Nm", i) * speeds[i], 1e-12));
    CHECK_THAT(value(table, "shaft_rpm", i), WithinRel(speeds[i] / rpm, 1e-12));
    if (value(table, "power_W", i) > best_power) {
      best_power = value(table, "power_W", i);
      best_rpm = value(table, "shaft_rpm", i);
    }
  }
  CHECK_THAT(best_rpm, WithinAbs(7700.0, 100.0));
  const double rated = demo_setup().engine.peak_power_W * value(table, "correction");
  CHECK_THAT(best_power, WithinRel(rated, 0.03));
  CHECK(value(table, "torque_Nm", speeds.size() - 1) <
        0.1 * value(table, "torque_Nm", 57));  // 9000 rpm: beyond the limiter
}

TEST_CASE("engine: less at part throttle, less on a mountain") {
  const auto torque = [](double throttle, double altitude_m) {
    return value(curve(CurveKind::engine, {{Axis::shaft_speed, {7000.0 * rpm}},
                                           {Axis::throttle, {throttle}},
                                           {Axis::altitude, {altitude_m}}}),
                 "torque_Nm");
  };
  CHECK(torque(0.5, 0.0) < 0.8 * torque(1.0, 0.0));
  CHECK(torque(1.0, 2000.0) < 0.9 * torque(1.0, 0.0));
}

TEST_CASE("hull: the components sum to the drag, drag times speed is effective power") {
  const std::vector<double> speeds{0.0, 2.0, 5.0, 8.0, 12.0, 20.0, 30.0};
  for (const std::vector<AxisValues>& axes :
       {std::vector<AxisValues>{{Axis::speed, speeds}},
        std::vector<AxisValues>{{Axis::speed, speeds}, {Axis::thrust, {800.0}}},
        std::vector<AxisValues>{{Axis::speed, speeds}, {Axis::trim, {0.06}}}}) {
    const CurveTable table = curve(CurveKind::hull, axes);
    CHECK(table.rows.size() > 4);
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
      const double speed = value(table, "speed_m_s", i), drag = value(table, "drag_N", i);
      INFO("speed " << speed);
      double sum = 0.0;
      for (const char* part : {"pressure_drag_N", "friction_drag_N", "spray_drag_N", "plate_drag_N",
                               "appendage_drag_N", "air_drag_N", "spill_drag_N"})
        sum += value(table, part, i);
      CHECK_THAT(sum, WithinAbs(drag, 1e-9 * (1.0 + std::abs(drag))));
      CHECK_THAT(value(table, "effective_power_W", i),
                 WithinAbs(drag * speed, 1e-9 * (1.0 + std::abs(drag * speed))));
    }
  }
}

TEST_CASE("hull: the thrust that holds a test hull's speed pulls along its drag") {
  const Setup hull = shipped_scenario("reference/planing_hull_1964.yaml", Needs::hull).setup;
  const CurveTable table = curve(CurveKind::hull, {{Axis::speed, {15.0, 20.0, 25.0}}}, hull);
  REQUIRE(table.rows.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    const double angle = value(table, "trim_deg", i) * radians_per_degree + hull.hull.thrust_line_angle_rad;
    CHECK_THAT(value(table, "thrust_N", i) * std::cos(angle), WithinRel(value(table, "drag_N", i), 1e-6));
  }
}

TEST_CASE("hull: an imposed thrust settles the trim at which the moments vanish") {
  const Setup hull = shipped_scenario("reference/planing_hull_1964.yaml", Needs::hull).setup;
  const CurveTable held = curve(CurveKind::hull, {{Axis::speed, {20.0}}}, hull);
  const CurveTable imposed =
      curve(CurveKind::hull, {{Axis::speed, {20.0}}, {Axis::thrust, {value(held, "thrust_N")}}}, hull);
  CHECK_THAT(value(imposed, "trim_deg"), WithinAbs(value(held, "trim_deg"), 1e-4));
  CHECK_THAT(value(imposed, "drag_N"), WithinRel(value(held, "drag_N"), 1e-4));
}

TEST_CASE("pump: head, power and efficiency belong together") {
  const CurveTable table = curve(
      CurveKind::pump, {{Axis::flow, {0.12, 0.15, 0.18}}, {Axis::shaft_speed, {5000.0 * rpm, 7000.0 * rpm}}});
  REQUIRE(table.rows.size() == 6);
  const double density = value(curve(CurveKind::water), "density_kg_m3"), bore = demo_setup().pump.bore_m;
  for (std::size_t i = 0; i < 6; ++i) {
    const double turns = value(table, "shaft_rpm", i) / 60.0, flow = value(table, "flow_m3_s", i);
    CHECK_THAT(value(table, "flow_coefficient", i), WithinRel(flow / (turns * std::pow(bore, 3)), 1e-9));
    CHECK_THAT(value(table, "head_coefficient", i),
               WithinRel(gravity_m_s2 * value(table, "head_m", i) / std::pow(turns * bore, 2), 1e-9));
    CHECK_THAT(value(table, "efficiency", i) * value(table, "shaft_power_W", i),
               WithinRel(density * gravity_m_s2 * flow * value(table, "head_m", i), 1e-9));
    CHECK(value(table, "npsh_breakdown_m", i) < value(table, "npsh_3_m", i));
  }
}

TEST_CASE("the last axis runs fastest, and values come in the order given") {
  const CurveTable table =
      curve(CurveKind::pump, {{Axis::shaft_speed, {700.0, 500.0}}, {Axis::flow, {0.25, 0.15}}});
  REQUIRE(table.rows.size() == 4);
  CHECK(value(table, "flow_m3_s", 0) == 0.25);
  CHECK(value(table, "flow_m3_s", 1) == 0.15);
  CHECK(value(table, "shaft_rpm", 1) == Approx(700.0 / rpm));
  CHECK(value(table, "shaft_rpm", 2) == Approx(500.0 / rpm));
}

TEST_CASE("thrust: what is imposed is met") {
  for (const double speed : {0.0, 5.0, 15.0, 30.0}) {
    INFO("speed " << speed);
    const CurveTable power =
        curve(CurveKind::thrust, {{Axis::speed, {speed}}, {Axis::shaft_power, {60e3, 120e3}}});
    REQUIRE(power.rows.size() == 2);
    CHECK_THAT(value(power, "shaft_power_W", 0), WithinRel(60e3, 1e-6));
    CHECK_THAT(value(power, "shaft_power_W", 1), WithinRel(120e3, 1e-6));
    // at rest 120 kW only fit a pump that spins in its own cavities
    if (speed > 10.0) CHECK(value(power, "thrust_N", 1) > value(power, "thrust_N", 0));
    CHECK_THAT(value(power, "speed_m_s"), WithinAbs(speed, 1e-12));
    const CurveTable shaft =
        curve(CurveKind::thrust, {{Axis::speed, {speed}}, {Axis::shaft_speed, {5000.0 * rpm}}});
    CHECK_THAT(value(shaft, "shaft_rpm"), WithinRel(5000.0, 1e-12));
  }
}

// Momentum: the unit pulls level with rho Q (vj - vi), vi = (1 - w) V, no thrust deduction; the nozzle points
// along the keel.
TEST_CASE("thrust: the momentum of the water gained") {
  REQUIRE(demo_setup().nozzle.angle_rad == 0.0);
  const double density = value(curve(CurveKind::water), "density_kg_m3");
  for (const double speed : {5.0, 15.0, 30.0}) {
    INFO("speed " << speed);
    const CurveTable table = curve(CurveKind::thrust, {{Axis::speed, {speed}}, {Axis::shaft_power, {100e3}}});
    const double gained = value(table, "jet_speed_m_s") - (1.0 - demo_setup().intake.wake_fraction) * speed;
    CHECK_THAT(value(table, "thrust_N"),
               WithinRel(density * value(table, "flow_m3_s") * gained, 1e-4));  // some air in the water
  }
}

// Definitions of the waterjet trade: vj/V, Q/(A_throat V) and vj/vi.
TEST_CASE("thrust: ratios of jet, craft and inflow speed; none at rest") {
  const CurveTable table = curve(CurveKind::thrust, {{Axis::speed, {0.0, 5.0, 30.0}}});
  REQUIRE(table.rows.size() == 3);
  CHECK(value(table, "jet_velocity_ratio", 0) == 0.0);
  CHECK(value(table, "nozzle_velocity_ratio", 0) == 0.0);
  for (const std::size_t i : {std::size_t{1}, std::size_t{2}}) {
    const double speed = value(table, "speed_m_s", i), jet = value(table, "jet_speed_m_s", i);
    CHECK_THAT(value(table, "jet_velocity_ratio", i), WithinRel(jet / speed, 1e-12));
    CHECK_THAT(value(table, "nozzle_velocity_ratio", i),
               WithinRel(jet / ((1.0 - demo_setup().intake.wake_fraction) * speed), 1e-12));
  }
}

TEST_CASE("thrust: a wake worked out from the boundary layer differs from the constant one, and settles") {
  Setup layered = demo_setup();
  layered.intake.wake_law = WakeLaw::boundary_layer;
  layered.intake.wetted_length_m = 1.7;
  const std::vector<AxisValues> axes{{Axis::speed, {0.0, 2.0, 30.0}}};
  const CurveTable table = curve(CurveKind::intake, axes, layered);
  REQUIRE(table.rows.size() == 3);
  const double wake = 1.0 - value(table, "inflow_speed_m_s", 2) / 30.0;
  CHECK(wake > 0.035);
  CHECK(wake < 0.050);
}

TEST_CASE("cavitation: suction specific speed from the row's own numbers, none with backward flow") {
  const CurveTable table = curve(CurveKind::cavitation, {{Axis::speed, {10.0, 30.0}}});
  for (const std::size_t i : {std::size_t{0}, std::size_t{1}}) {
    const double omega = value(table, "shaft_rpm", i) * rpm;
    const double suction = std::pow(gravity_m_s2 * value(table, "npsh_available_m", i), 0.75);
    CHECK_THAT(value(table, "suction_specific_speed", i),
               WithinRel(omega * std::sqrt(value(table, "flow_m3_s", i)) / suction, 1e-9));
  }
  const CurveTable backward = curve(CurveKind::cavitation, {{Axis::speed, {10.0}}, {Axis::flow, {-0.01}}});
  for (std::size_t i = 0; i < backward.rows.size(); ++i)
    CHECK(value(backward, "suction_specific_speed", i) == 0.0);
}

TEST_CASE("thrust: a shut lever idles and full throttle is the preset") {
  const CurveTable table = curve(CurveKind::thrust, {{Axis::speed, {0.0}}, {Axis::throttle, {0.0, 1.0}}});
  REQUIRE(table.missing.empty());
  CHECK_THAT(value(table, "shaft_rpm", 0),
             WithinRel(1500.0, 0.05));  // start.shaft_speed, in balance with the lever shut
  const CurveTable full = curve(CurveKind::thrust, {{Axis::speed, {0.0}}});
  CHECK_THAT(value(full, "thrust_N"), WithinRel(value(table, "thrust_N", 1), 1e-9));
}

TEST_CASE("intake and cavitation tell the same state as thrust") {
  const std::vector<AxisValues> axes{{Axis::speed, {20.0}}, {Axis::shaft_power, {100e3}}};
  const CurveTable thrust = curve(CurveKind::thrust, axes), intake = curve(CurveKind::intake, axes),
                   cavitation = curve(CurveKind::cavitation, axes);
  for (const char* column : {"flow_m3_s", "npsh_available_m"}) {
    CHECK(value(intake, column) == Approx(value(thrust, column)).epsilon(1e-12));
    CHECK(value(cavitation, column) == Approx(value(thrust, column)).epsilon(1e-12));
  }
  CHECK_THAT(value(cavitation, "npsh_margin"),
             WithinRel(value(cavitation, "npsh_available_m") / value(cavitation, "npsh_3_m"), 1e-9));
  CHECK_THAT(value(intake, "duct_speed_m_s"),
             WithinRel(value(intake, "flow_m3_s") /
                           (0.25 * pi * demo_setup().pump.bore_m * demo_setup().pump.bore_m),
                       1e-12));
  CHECK_THAT(value(intake, "inflow_speed_m_s"),
             WithinRel((1.0 - demo_setup().intake.wake_fraction) * 20.0, 1e-12));
}

TEST_CASE("cruise: thrust equals the drag of the hull at that speed and trim") {
  const CurveTable table = curve(CurveKind::cruise, {{Axis::speed, {10.0, 20.0, 30.0}}});
  REQUIRE(table.rows.size() == 3);
  double last_throttle = 0.0;
  for (std::size_t i = 0; i < 3; ++i) {
    INFO("row " << i);
    const CurveTable hull = curve(CurveKind::hull, {{Axis::speed, {value(table, "speed_m_s", i)}},
                                                    {Axis::throttle, {value(table, "throttle", i)}}});
    CHECK_THAT(value(table, "thrust_N", i), WithinRel(value(hull, "drag_N"), 1e-6));
    CHECK_THAT(value(table, "trim_deg", i), WithinAbs(value(hull, "trim_deg"), 1e-5));
    CHECK(value(table, "throttle", i) > last_throttle);
    last_throttle = value(table, "throttle", i);
  }
}

TEST_CASE("points without a steady answer are told in words, in units people use; the others are kept") {
  const CurveTable table = curve(CurveKind::cruise, {{Axis::speed, {20.0, 60.0, 30.0, 70.0}}});
  CHECK(table.rows.size() == 2);
  CHECK(table.missing == std::vector<std::string>{"speed = 60 m/s", "speed = 70 m/s"});
  const Setup unit = shipped_scenario("reference/full_scale_mixed_flow_unit.yaml", Needs::pump).setup;
  const CurveTable idle = curve(CurveKind::thrust, {{Axis::speed, {10.0}}, {Axis::shaft_power, {1.0}}}, unit);
  CHECK(idle.rows.empty());
  CHECK(idle.missing == std::vector<std::string>{"speed = 10 m/s, shaft_power = 0.001 kW"});
}

TEST_CASE("a jet unit without a nozzle is refused in words") {
  Setup unit = shipped_scenario("reference/full_scale_mixed_flow_unit.yaml", Needs::pump).setup;
  unit.nozzle.exit_diameter_m = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_WITH(curve(CurveKind::thrust, {{Axis::speed, {5.0}}, {Axis::shaft_power, {7e5}}}, unit),
                    Catch::Contains("nozzle.exit_diameter"));
}

}  // namespace bowrise
