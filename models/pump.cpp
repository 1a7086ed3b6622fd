#include "models/pump.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>
#include <vector>

#include "models/constants.hpp"
#include "models/lanes.hpp"
#include "models/pump_stage.hpp"
#include "models/same_inputs.hpp"
#include "models/slope_table.hpp"

namespace bowrise {
namespace {

constexpr double usual_cells = 94.0, most_cells = 500.0;
constexpr double least_computed_cells = 32.0;  // so that a narrow computed range is resolved as well

PreparedStage tabulated(const StageCurve& curve, double step, std::size_t count) {
  std::array<std::vector<double>, 5> columns;
  std::array<std::span<const double>, 5> values;
  for (std::size_t column = 0; column < columns.size(); ++column) {
    columns[column].resize(count);
    values[column] = columns[column];
  }
  const double low = -2.0 * step;  // three level values let the table start level
  for (std::size_t i = 0; i < count; ++i) {
    const auto at = std::bit_cast<std::array<double, 5>>(curve((static_cast<double>(i) - 2.0) * step));
    for (std::size_t column = 0; column < columns.size(); ++column) columns[column][i] = at[column];
  }
  const double high = low + static_cast<double>(count - 1) * step;
  return {.coefficients = UniformCurves<5>(low, high, values),
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
  Totals sum{0.0, 0.0, pump.stage[0](phi).power};
  for (std::size_t i = 0; i < pump.stages; ++i) {
    const StageCoefficients at = pump.stage[i](phi);
    sum.head += at.head();
    sum.power += at.power;
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

// Viscous losses over those at the reference speed, a power of the Reynolds number: from a table within 1e-7
// where pumps run.
template <class Number>
Number viscous_loss_growth(Number speed_over_reference) noexcept {
  using std::pow;
  constexpr double power = -0.2, low = 0.1, high = 1.5;
  static const SlopeTable<1> growth(low, high, 256, [](double x) -> SlopeTable<1>::Row {
    return {{{std::pow(x, power), power * std::pow(x, power - 1.0)}}};
  });
  const bool tabulated = speed_over_reference >= low && speed_over_reference <= high;
  return tabulated ? growth(speed_over_reference)[0] : pow(speed_over_reference, power);
}

template <class Number>
StagePointOf<Number> stage_point(const PreparedStage& stage, Number phi, Number viscous_growth,
                                 Number head_unit, Number torque_unit) noexcept {
  const StageCoefficientsOf<Number> at = stage(phi);
  return {.energy_J_kg = head_unit * (at.head_inviscid - viscous_growth * at.head_viscous),
          .torque_Nm = torque_unit * at.power,
          .energy_onset_J_kg = head_unit * at.onset,
          .energy_breakdown_J_kg = head_unit * at.breakdown};
}

}  // namespace

bool blades_beat_with_vanes(const Pump& pump, const Rotor& rotor) noexcept {
  return std::gcd(std::lround(pump.stator_vanes), std::lround(rotor.blades)) > 1;
}

bool same(const PumpBasis& a, const PumpBasis& b) {
  const auto& [pump, impeller, stage_2, cavitation, speed, density, viscosity] =
      a;  // a member more does not compile
  return same_inputs(pump, b.pump, pump_parameters, pump_choices, pump_tables) &&
         same_inputs(impeller, b.impeller, rotor_parameters, no_choices<Rotor>, rotor_tables) &&
         same_inputs(stage_2, b.stage_2, rotor_parameters, no_choices<Rotor>, rotor_tables) &&
         same_inputs(cavitation, b.cavitation, cavitation_parameters) &&
         same_bits(speed, b.reference_speed_rad_s) && same_bits(density, b.density_kg_m3) &&
         same_bits(viscosity, b.kinematic_viscosity_m2_s);
}

PreparedPump prepare_pump(const PumpBasis& basis) {
  const double reference = std::max(basis.reference_speed_rad_s, least_shaft_speed_rad_s);
  const std::vector<StageCurve> curves = stage_curves(
      basis.pump, basis.impeller, basis.stage_2, basis.cavitation, reference, basis.kinematic_viscosity_m2_s);
  const double turn = 2.0 * pi, bore = basis.pump.bore_m;
  PreparedPump prepared{};
  prepared.basis = basis;
  prepared.stages = curves.size();
  prepared.reference_speed_rad_s = reference;
  prepared.flow_coefficient_per_flow = turn / (bore * bore * bore);
  prepared.head_per_speed2 = bore * bore / (turn * turn);
  prepared.torque_per_speed2 = basis.density_kg_m3 * std::pow(bore, 5) / (turn * turn * turn);
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

template <class Number>
PumpPointOf<Number> pump_point(const PreparedPump& pump, Number flow_m3_s, Number speed_rad_s) noexcept {
  const Number speed = std::max<Number>(speed_rad_s, least_shaft_speed_rad_s);
  const Number phi = pump.flow_coefficient_per_flow * flow_m3_s / speed;
  const Number viscous_growth = viscous_loss_growth<Number>(speed / pump.reference_speed_rad_s);
  const Number head_unit = pump.head_per_speed2 * speed * speed,
               torque_unit = pump.torque_per_speed2 * speed * speed;
  PumpPointOf<Number> point{};
  point.flow_coefficient = phi;
  Number energy_J_kg = 0.0;
  for (std::size_t i = 0; i < pump.stages; ++i) {
    point.stage[i] = stage_point(pump.stage[i], phi, viscous_growth, head_unit, torque_unit);
    energy_J_kg += point.stage[i].energy_J_kg;
  }
  point.flags.raise(Flag::flow_reversed, flow_m3_s < 0.0);
  point.flags.raise(Flag::pump_outside_table, phi < pump.computed_low || phi > pump.computed_high);
  point.flags.raise(Flag::pump_turbining, energy_J_kg < 0.0);
  return point;
}

template PumpPoint pump_point(const PreparedPump&, double, double) noexcept;
template PumpPointOf<PartLanes> pump_point(const PreparedPump&, PartLanes, PartLanes) noexcept;

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
  row.first_stage_share = power > 0.0 ? first.power / power : 0.0;
  row.npsh_3_m = first.onset * head_unit_J_kg / gravity_m_s2;
  row.npsh_breakdown_m = first.breakdown * head_unit_J_kg / gravity_m_s2;
  return row;
}

}  // namespace bowrise
