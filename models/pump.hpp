// Pump: one or two stages on a shaft, from blade geometry by mean-line analysis or from a measured curve,
// behind one prepared map of dimensionless coefficients.
//
// With n shaft speed [rev/s] and D bore [m]: phi = Q/(n D^3), psi = E/(n D)^2 with E the head energy g H in
// J/kg, C_P = P/(rho n^3 D^5). The map keeps, per stage, psi before viscous losses, the viscous losses at a
// reference speed, C_P, and two suction energies in units of (n D)^2 (3 % head drop, breakdown), all C1 in
// phi and finite from backward flow to a flow that drives the pump. Viscous losses grow as (reference speed /
// speed)^0.2. How each curve comes about: pump_stage.hpp and pump_curve.hpp.
//
// To be expected of blade geometry alone: head +-8 %, efficiency +-3 points, power +-10 % (comparison with
// one published axial rotor and one mixed-flow unit); `pump.efficiency_factor` and the pitch calibrate it.
// The sign of a change is safe.
#pragma once

#include <array>
#include <cstddef>

#include "models/curve.hpp"
#include "models/flag.hpp"
#include "models/problem.hpp"
#include "models/pump_curve.hpp"
#include "models/pump_inputs.hpp"

namespace bowrise {

/// Complaints about the pump's parts against each other: hub and bore, gap and blade height, pitches,
/// measured curve. NaN in a field stands for its derived preset, except in the pitches of a second stage,
/// which it needs.
[[nodiscard]] Problems check(const Pump& pump, const Rotor& impeller, const Rotor& stage_2,
                             const Cavitation& cavitation);

/// Whether blades and vanes share a factor: every blade of a group then meets a vane at once. A matter of
/// noise and vibration, not of thrust, so it is advice and not a Problem.
[[nodiscard]] bool blades_beat_with_vanes(const Pump& pump, const Rotor& rotor) noexcept;

/// The shaft speed below which coefficients are evaluated as if it were reached: a pump hardly turning. Far
/// below the idle of a craft and below what metre-sized pumps cruise at.
inline constexpr double least_shaft_speed_rad_s = 1.0;

/// Curves of one stage over the flow coefficient. Inside the computed range the tables are within 0.1 % of
/// the largest head and power of the direct solution, and within 1 % of its suction energies (99 of 100
/// random pumps within the usual ranges; the rest are no pumps to build: best efficiency under 0.5 or a
/// second stage that hardly works, and then within 2 %).
struct PreparedStage {
  UniformCurves<5> coefficients;       ///< in the order of StageCoefficients
  double computed_low, computed_high;  ///< flow coefficients between which mean line or test hold

  template <class Number>
  [[nodiscard]] StageCoefficientsOf<Number> operator()(Number flow_coefficient) const noexcept {
    const auto [head_inviscid, head_viscous, power, onset, breakdown] = coefficients(flow_coefficient);
    return {head_inviscid, head_viscous, power, onset, breakdown};
  }
};

/// All that a pump is worked out from: prepare_pump sees nothing else.
struct PumpBasis {
  Pump pump;
  Rotor impeller, stage_2;
  Cavitation cavitation;
  double
      reference_speed_rad_s;  ///< at which viscous losses are evaluated, best near the usual full speed, >= 1
  double density_kg_m3, kinematic_viscosity_m2_s;
};
/// Whether the pumps worked out from both are the same, bit by bit.
[[nodiscard]] bool same(const PumpBasis& a, const PumpBasis& b);

/// A pump ready to be asked. Immutable.
struct PreparedPump {
  std::array<PreparedStage, 2> stage;  ///< the second is empty with one stage
  std::size_t stages;
  double reference_speed_rad_s;
  double flow_coefficient_per_flow;  ///< phi = this Q/omega
  double head_per_speed2;            ///< (n D)^2 / omega^2
  double torque_per_speed2;          ///< rho n^2 D^5 / (2 pi omega^2)
  double computed_low,
      computed_high;             ///< flow coefficients between which every stage is inside its computed range
  double best_flow_coefficient;  ///< of the whole pump, at the reference speed
  double best_efficiency;        ///< there, mechanical loss in
  double first_stage_share;      ///< of the shaft power there; 1 with one stage
  PumpBasis basis;               ///< what all this was worked out from
};

/// Works out the map of a checked pump.
/// @throws std::runtime_error if the blades give no head at any flow; the message names the stage
[[nodiscard]] PreparedPump prepare_pump(const PumpBasis& basis);

/// One stage without cavitation. All zeros where there is no stage.
template <class Number>
struct StagePointOf {
  Number energy_J_kg;            ///< head energy g H given to the water, after losses
  Number torque_Nm;              ///< shaft torque, losses in
  Number energy_onset_J_kg;      ///< suction energy needed for 3 % head drop
  Number energy_breakdown_J_kg;  ///< suction energy at full breakdown
};
using StagePoint = StagePointOf<double>;

template <class Number>
struct PumpPointOf {
  std::array<StagePointOf<Number>, 2> stage;
  Number flow_coefficient;
  FlagSet flags;  ///< flow_reversed, pump_outside_table, pump_turbining
};
using PumpPoint = PumpPointOf<double>;

/// The pump at a flow and a shaft speed. Never allocates or fails; C1 in flow, and in speed from 1 rad/s up.
/// @param flow_m3_s  any; backward flow meets the head of no flow    @param speed_rad_s  any; below 1 taken
/// as 1. Number: a double, or PartLanes.
template <class Number>
[[nodiscard]] PumpPointOf<Number> pump_point(const PreparedPump& pump, Number flow_m3_s,
                                             Number speed_rad_s) noexcept;

/// One row of a pump curve as a test stand would report it, from the direct solution instead of the tables.
struct PumpCurveRow {
  double flow_m3_s, shaft_speed_rad_s;
  double flow_coefficient, head_coefficient, efficiency;  ///< efficiency 0 where the shaft takes no power
  double head_m, shaft_power_W;
  double npsh_3_m, npsh_breakdown_m;  ///< of the first stage
  double first_stage_share;           ///< of the shaft power; 1 with one stage, 0 where the shaft takes none
};

/// @param speed_rad_s >= 1    @throws std::runtime_error as prepare_pump
[[nodiscard]] PumpCurveRow pump_curve_row(const Pump& pump, const Rotor& impeller, const Rotor& stage_2,
                                          const Cavitation& cavitation, double density_kg_m3,
                                          double kinematic_viscosity_m2_s, double flow_m3_s,
                                          double speed_rad_s);

}  // namespace bowrise
