// Textbook results of jet units that need the whole water path: thrust, ram, suction and the start of the
// flow.
#include <cmath>

#include "models/cavitation.hpp"
#include "models/constants.hpp"
#include "sim/evaluate.hpp"
#include "tests/support/published.hpp"
#include "tests/support/scenarios.hpp"
#include "tests/support/units.hpp"

namespace bowrise::test {
namespace {

using Catch::Matchers::WithinRel;

/// The demo craft without intake losses, all inertia of the water downstream and none of it felt by the
/// craft.
Setup lossless(const Changes& more = {}) {
  Changes changes{{"intake.duct_loss", "0"},
                  {"intake.mismatch_loss", "0"},
                  {"grate.loss", "0"},
                  {"intake.suction_inertance", "0 1/m"},
                  {"intake.suction_length", "0 m"},
                  {"pump.discharge_inertance", "95 1/m"},
                  {"pump.column_length", "0 m"}};
  changes.insert(changes.end(), more.begin(), more.end());
  return shipped("supercharged_three_seat", changes);
}

Instant at(const Craft& craft, double speed_m_s, double flow_m3_s, double shaft_speed_rad_s) {
  State state = craft.start;
  state.speed_m_s = speed_m_s;
  state.flow_m3_s = flow_m3_s;
  state.shaft_speed_rad_s = shaft_speed_rad_s;
  state.cavity_1 = state.cavity_2 = state.void_fraction = 0.0;
  return evaluate(craft, {0.0, state.air_path, 0.0}, 0.0, state);
}

}  // namespace

// Shiv Kumar, Fluid Mechanics and Fluid Machines, ch. 2 ex. 2.29, by a public transcription (rows P092,
// P093): jet 20 m/s over the ground from 0.18 m2, boat 30 km/h, still water taken in, 1000 kg/m3: 102.0 kN
// and an efficiency of 41.5 %.
TEST_CASE("a textbook jet boat", "[published]") {
  const Setup boat = shipped_scenario("reference/full_scale_mixed_flow_unit.yaml", Needs::pump,
                                      {{"nozzle.exit_diameter", "478.73 mm"},
                                       {"intake.wake_fraction", "0"},
                                       {"water.salinity", "0 g/kg"},
                                       {"water.temperature", "4 degC"}})
                         .setup;
  const double speed = 30.0 / 3.6, jet_in_boat = 20.0 + speed;
  const auto running = [&](double shaft_rpm) {
    return curve_table(boat, CurveKind::thrust,
                       {{Axis::speed, {speed}}, {Axis::shaft_speed, {shaft_rpm * rpm}}});
  };
  double low = 150.0, high = 700.0;
  for (int i = 0; i < 40; ++i) {
    const double middle = 0.5 * (low + high);
    (value(running(middle), "jet_speed_m_s") < jet_in_boat ? low : high) = middle;
  }
  const CurveTable table = running(low);
  CHECK_THAT(value(table, "jet_speed_m_s"), WithinRel(jet_in_boat, 1e-6));
  const char* const textbook = "Shiv Kumar, ch. 2 ex. 2.29";
  check_published({"jet unit: thrust of a textbook jet boat, kN", textbook, Known::read, headline}, 102.0,
                  value(table, "thrust_N") / 1e3, within_rel(5e-3));
  const double jet_power_W = 0.5 * 1000.0 * value(table, "flow_m3_s") * jet_in_boat * jet_in_boat;
  check_published({"jet unit: efficiency of a textbook jet boat", textbook, Known::read}, 0.415,
                  value(table, "thrust_N") * speed / jet_power_W, within_rel(5e-3));
}

// Closed form (row P126): fresh water at 17 C, 101 325 Pa, shaft 0.05 m under, no flow: 10.17 m. And 41.4 m
// of ram at 30 m/s with a wake of 0.05 and no loss (row P127).
TEST_CASE("suction head at rest, and what the ram adds") {
  const Craft craft = prepare(lossless({{"water.temperature", "17 degC"},
                                        {"air.station_pressure", "101.325 kPa"},
                                        {"pump.depth", "0.05 m"},
                                        {"intake.wake_fraction", "0.05"}}));
  const double at_rest = at(craft, 0.0, 0.0, rpm * 1500).npsh_available_J_kg / gravity_m_s2;
  CHECK_THAT(at_rest, WithinRel(10.17, 5e-3));
  CHECK_THAT(at(craft, 30.0, 0.2, rpm * 7600).npsh_available_J_kg / gravity_m_s2 - at_rest,
             WithinRel(41.4, 5e-3));
}

// Closed form (row P129): a step of pump work of 627 J/kg on water at rest, sum of length over area 95 1/m,
// nozzle area 0.00575 m2, nozzle loss 0.02: Q = Qs tanh(t sqrt(E k)/I) = 0.1869 m3/s after 50 ms. The craft
// is held (no column momentum); a pump curve of constant head gives the step. Fourth-order steps of 0.1 ms on
// the program's own rate.
TEST_CASE("the flow starts as the water column's inertia lets it", "[published]") {
  Setup setup = lossless({{"pump.shutoff_head_ratio", "1"},
                          {"pump.clearance", "0.2 mm"},
                          {"nozzle.exit_diameter", "85.563 mm"},
                          {"nozzle.contraction", "1"},
                          {"nozzle.loss", "0.02"},
                          {"cone.base_diameter", "1 mm"},
                          {"cone.tip_diameter", "0 mm"},
                          {"cone.length", "5 mm"}});
  const double speed = 7600 * rpm, turn_diameter = 7600.0 / 60.0 * setup.pump.bore_m;
  const double head = 627.0 / (turn_diameter * turn_diameter);
  setup.pump.curve = {
      {0.02, head, 0.05, 0.3}, {0.2, head, 0.5, 0.3}, {0.4, head, 0.8, 0.3}, {0.6, head, 0.9, 0.3}};
  const Craft craft = prepare(setup);
  const auto rate = [&](double flow) { return at(craft, 0.0, flow, speed).rate.flow_m3_s; };
  double flow = 0.0;
  constexpr double step = 1e-4;
  for (int i = 0; i < 500; ++i) {
    const double k1 = rate(flow), k2 = rate(flow + 0.5 * step * k1), k3 = rate(flow + 0.5 * step * k2),
                 k4 = rate(flow + step * k3);
    flow += step / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
  }
  check_published(
      {"jet unit: flow 50 ms after a step of work, m3/s", "closed form, Q tanh(t/T)", Known::worked_out},
      0.1869, flow, within_rel(5e-3));
}

// A hydraulics textbook ch. 13 p. 553 (row P103): critical Thoma number of conventional pumps 0.103 at a US
// specific speed of 1000, for a suction specific speed of 5500. NPSH over head is the ratio of the two to the
// power 4/3.
TEST_CASE("Thoma number from two specific speeds", "[published]") {
  const auto energy_J_kg = [](double us_speed) {
    double low = 1e-3, high = 1e9;
    for (int i = 0; i < 200; ++i) {
      const double middle = std::sqrt(low * high);
      const double reached = us_suction_specific_speed_per_unit * suction_specific_speed(150.0, 0.05, middle);
      (reached > us_speed ? low : high) = middle;
    }
    return low;
  };
  check_published(
      {"cavitation: Thoma number at US specific speed 1000", "hydraulics textbook, p. 553", Known::read},
      0.103, energy_J_kg(5500) / energy_J_kg(1000), within_rel(0.01));
}

}  // namespace bowrise::test
