#include "models/pump.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include "models/blade_row.hpp"
#include "models/constants.hpp"
#include "models/pump_stage.hpp"

namespace bowrise {
namespace {

constexpr double usual_cells = 94.0, most_cells = 500.0;
constexpr double least_computed_cells = 32.0;  // so that a narrow computed range is resolved as well

bool two_stages(const Pump& pump) noexcept { return pump.stages > 1.5; }

/// For messages, to a tenth.
std::string millimetres(double length_m) {
  const auto tenths = static_cast<long>(std::lround(length_m * 1e4));
  return std::to_string(tenths / 10) + "." + std::to_string(std::abs(tenths % 10)) + " mm";
}

void check_outline(const std::string& name, const Pump& pump, const Rotor& rotor, Problems& problems) {
  const std::string below_bore = "below the bore, " + millimetres(pump.bore_m);
  if (!(rotor.hub_in_m < pump.bore_m))
    problems.push_back(
        {name + ".hub_in", "no room for blades between hub and ring at the leading edge", below_bore});
  if (!(rotor.hub_out_m < pump.bore_m))
    problems.push_back(
        {name + ".hub_out", "no room for blades between hub and ring at the trailing edge", below_bore});
}

void check_gap(const std::string& name, const Pump& pump, const Rotor& rotor, Problems& problems) {
  const double height_m = 0.5 * (pump.bore_m - std::max(rotor.hub_in_m, rotor.hub_out_m));
  if (!(height_m > 0.0)) return;  // already reported
  const std::string below_height = "below the blade height of " + name + ", " + millimetres(height_m);
  if (!(pump.clearance_m < height_m))
    problems.push_back({"pump.clearance", "larger than the blades are high", below_height});
  if (!(pump.clearance_new_m < height_m))
    problems.push_back({"pump.clearance_new", "larger than the blades are high", below_height});
}

void check_blades(const std::string& name, const Pump& pump, const Rotor& rotor, Problems& problems) {
  if (!(rotor.pitch_radius_m <= 0.5 * pump.bore_m))
    problems.push_back({name + ".pitch_radius", "outside the blade",
                        "from the hub to the blade tip, " + millimetres(0.5 * pump.bore_m)});
  if (std::isnan(rotor.pitch_leading_rad))
    problems.push_back({name + ".pitch_leading", "missing", "the blade angle"});
  if (std::isnan(rotor.pitch_trailing_rad))
    problems.push_back({name + ".pitch_trailing", "missing", "the blade angle"});
  // Constant pitch still works at a flow below the one it screws through; falling pitch brakes the water.
  if (rotor.pitch_trailing_rad < rotor.pitch_leading_rad)
    problems.push_back({name + ".pitch_trailing", "below the leading pitch: the blades would brake the water",
                        "at or above " + name + ".pitch_leading"});
}

void check_curve(const Pump& pump, Problems& problems) {
  const auto complain = [&](const char* what, const char* allowed) {
    problems.push_back({"pump.curve", what, allowed});
  };
  if (two_stages(pump))
    problems.push_back(
        {"pump.stages", "a measured curve stands for the whole pump", "1 together with pump.curve"});
  if (pump.curve.size() < 4) return complain("too few rows", "at least 4");
  std::vector<double> phi, input_head;
  for (const std::vector<double>& row : pump.curve) {
    if (!(row[1] > 0.0)) return complain("head coefficient not positive", "rows of a working pump");
    if (!(row[2] > 0.0)) return complain("efficiency not positive", "rows of a working pump");
    if (!phi.empty() && !(row[0] > phi.back()))
      return complain("flow coefficient does not rise", "rising rows");
    phi.push_back(row[0]);
    input_head.push_back(row[1] / row[2]);
  }
  // Rows below 0.2 of the best flow are not used; this leaves two at least, wherever the best lies.
  if (!(phi[phi.size() - 2] > 0.2 * phi.back()))
    complain("rows too far apart", "two rows or more around the best flow");
  if (!(straight_line(phi, input_head).slope < 0.0))
    complain("head over efficiency does not fall with flow",
             "an input head that falls, as Euler's work does");
}

PreparedStage tabulated(const StageCurve& curve, double step, std::size_t count) {
  std::vector<double> head_inviscid(count), head_viscous(count), power(count), onset(count), breakdown(count);
  const double low = -2.0 * step;  // three level values let the table start level
  for (std::size_t i = 0; i < count; ++i) {
    const StageCoefficients at = curve((static_cast<double>(i) - 2.0) * step);
    head_inviscid[i] = at.head_inviscid;
    head_viscous[i] = at.head_viscous;
    power[i] = at.power;
    onset[i] = at.onset;
    breakdown[i] = at.breakdown;
  }
  const double high = low + static_cast<double>(count - 1) * step;
  return {.head_inviscid = UniformCurve(low, high, head_inviscid),
          .head_viscous = UniformCurve(low, high, head_viscous),
          .power = UniformCurve(low, high, power),
          .onset = UniformCurve(low, high, onset),
          .breakdown = UniformCurve(low, high, breakdown),
          .computed_low = curve.computed().low,
          .computed_high = curve.computed().high};
}

/// Two nodes below no flow, then equal steps to where every law is straight.
PreparedStage tabulated(const StageCurve& curve) {
  const double high = 1.02 * curve.straight_from();
  const double computed_share = (curve.computed().high - curve.computed().low) / high;
  const double cells = std::clamp(std::ceil(least_computed_cells / computed_share), usual_cells, most_cells);
  return tabulated(curve, high / cells, static_cast<std::size_t>(cells) + 3);
}

struct Totals {
  double head, power, first_power;
};

Totals totals(const PreparedPump& pump, double phi) noexcept {
  Totals sum{0.0, 0.0, pump.stage[0].power(phi)};
  for (std::size_t i = 0; i < pump.stages; ++i) {
    sum.head += pump.stage[i].head_inviscid(phi) - pump.stage[i].head_viscous(phi);
    sum.power += pump.stage[i].power(phi);
  }
  return sum;
}

void find_best_point(PreparedPump& pump) noexcept {
  constexpr int steps = 400;
  for (int i = 1; i <= steps; ++i) {
    const double phi = pump.stage[0].computed_high * i / steps;
    const Totals at = totals(pump, phi);
    const double efficiency = at.power > 0.0 ? phi * at.head / at.power : 0.0;
    if (efficiency <= pump.best_efficiency) continue;
    pump.best_efficiency = efficiency;
    pump.best_flow_coefficient = phi;
    pump.first_stage_share = at.first_power / at.power;
  }
}

StagePoint stage_point(const PreparedStage& stage, double phi, double viscous_growth, double head_unit,
                       double torque_unit) noexcept {
  return {.energy_J_kg = head_unit * (stage.head_inviscid(phi) - viscous_growth * stage.head_viscous(phi)),
          .torque_Nm = torque_unit * stage.power(phi),
          .energy_onset_J_kg = head_unit * stage.onset(phi),
          .energy_breakdown_J_kg = head_unit * stage.breakdown(phi)};
}

}  // namespace

Problems check(const Pump& pump, const Rotor& impeller, const Rotor& stage_2, const Cavitation& cavitation) {
  Problems problems;
  const bool measured = !pump.curve.empty();
  const auto check_rotor = [&](const std::string& name, const Rotor& given) {
    const Rotor rotor = resolved(given, pump.bore_m);
    check_outline(name, pump, rotor, problems);
    check_gap(name, pump, rotor, problems);
    if (!measured) check_blades(name, pump, rotor, problems);
  };
  check_rotor("impeller", impeller);
  if (two_stages(pump) && !measured) check_rotor("stage_2", stage_2);
  if (measured) check_curve(pump, problems);
  if (cavitation.breakdown_inlet_factor > cavitation.inlet_factor)
    problems.push_back({"cavitation.breakdown_inlet_factor",
                        "breakdown would need more suction head than its onset",
                        "at or below cavitation.inlet_factor"});
  return problems;
}

bool blades_beat_with_vanes(const Pump& pump, const Rotor& rotor) noexcept {
  return std::gcd(std::lround(pump.stator_vanes), std::lround(rotor.blades)) > 1;
}

PreparedPump prepare_pump(const Pump& pump, const Rotor& impeller, const Rotor& stage_2,
                          const Cavitation& cavitation, double reference_speed_rad_s, double density_kg_m3,
                          double kinematic_viscosity_m2_s) {
  const double reference = std::max(reference_speed_rad_s, least_shaft_speed_rad_s);
  const std::vector<StageCurve> curves =
      stage_curves(pump, impeller, stage_2, cavitation, reference, kinematic_viscosity_m2_s);
  const double turn = 2.0 * pi, bore = pump.bore_m;
  PreparedPump prepared{};
  prepared.stages = curves.size();
  prepared.reference_speed_rad_s = reference;
  prepared.flow_coefficient_per_flow = turn / (bore * bore * bore);
  prepared.head_per_speed2 = bore * bore / (turn * turn);
  prepared.torque_per_speed2 = density_kg_m3 * std::pow(bore, 5) / (turn * turn * turn);
  prepared.computed_low = curves.front().computed().low;
  prepared.computed_high = curves.front().computed().high;
  for (std::size_t i = 0; i < curves.size(); ++i) {
    prepared.stage[i] = tabulated(curves[i]);
    prepared.computed_low = std::max(prepared.computed_low, curves[i].computed().low);
    prepared.computed_high = std::min(prepared.computed_high, curves[i].computed().high);
  }
  find_best_point(prepared);
  return prepared;
}

PumpPoint pump_point(const PreparedPump& pump, double flow_m3_s, double speed_rad_s) noexcept {
  const double speed = std::max(speed_rad_s, least_shaft_speed_rad_s);
  const double phi = pump.flow_coefficient_per_flow * flow_m3_s / speed;
  const double viscous_growth = std::pow(pump.reference_speed_rad_s / speed, 0.2);
  const double head_unit = pump.head_per_speed2 * speed * speed,
               torque_unit = pump.torque_per_speed2 * speed * speed;
  PumpPoint point{};
  point.flow_coefficient = phi;
  double energy_J_kg = 0.0;
  for (std::size_t i = 0; i < pump.stages; ++i) {
    point.stage[i] = stage_point(pump.stage[i], phi, viscous_growth, head_unit, torque_unit);
    energy_J_kg += point.stage[i].energy_J_kg;
  }
  point.flags.raise(Flag::flow_reversed, flow_m3_s < 0.0);
  point.flags.raise(Flag::pump_outside_table, phi < pump.computed_low || phi > pump.computed_high);
  point.flags.raise(Flag::pump_turbining, energy_J_kg < 0.0);
  return point;
}

PumpCurveRow pump_curve_row(const Pump& pump, const Rotor& impeller, const Rotor& stage_2,
                            const Cavitation& cavitation, double density_kg_m3,
                            double kinematic_viscosity_m2_s, double flow_m3_s, double speed_rad_s) {
  const double speed = std::max(speed_rad_s, least_shaft_speed_rad_s);
  const std::vector<StageCurve> curves =
      stage_curves(pump, impeller, stage_2, cavitation, speed, kinematic_viscosity_m2_s);
  const double revolutions_1_s = speed / (2.0 * pi), bore = pump.bore_m;
  const double head_unit_J_kg = revolutions_1_s * revolutions_1_s * bore * bore;
  PumpCurveRow row{};
  row.flow_m3_s = flow_m3_s;
  row.shaft_speed_rad_s = speed;
  row.flow_coefficient = flow_m3_s / (revolutions_1_s * bore * bore * bore);
  double power = 0.0;
  for (const StageCurve& curve : curves) {
    const StageCoefficients at = curve(row.flow_coefficient);
    row.head_coefficient += at.head();
    power += at.power;
  }
  const StageCoefficients first = curves.front()(row.flow_coefficient);
  row.efficiency = power > 0.0 ? row.flow_coefficient * row.head_coefficient / power : 0.0;
  row.head_m = row.head_coefficient * head_unit_J_kg / gravity_m_s2;
  row.shaft_power_W = power * density_kg_m3 * head_unit_J_kg * revolutions_1_s * bore * bore * bore;
  row.npsh_3_m = first.onset * head_unit_J_kg / gravity_m_s2;
  row.npsh_breakdown_m = first.breakdown * head_unit_J_kg / gravity_m_s2;
  return row;
}

}  // namespace bowrise
