// evaluate: the only place where the components meet. Rates, trace columns, guards, limits and curves all
// read the same Instant, so they cannot disagree.
//
// Order, without an algebraic loop: pump and passage from (flow, shaft speed); forces on the hull; craft
// acceleration and dQ/dt together (2x2, both masses share the water column); NPSH from those; cavity targets;
// the slow rest.
//
// The column of water: with I = integral ds/A and L its length, kinetic energy of the water in a craft moving
// at V is
//   T = rho (I Q^2/2 - L V Q) + m_w V^2/2,
// so Lagrange's equations couple thrust and flow by the same L with the same sign:
//   (m + m_w) dV/dt - rho L dQ/dt = force,   I dQ/dt - L dV/dt = specific energy.
// (An accelerating craft presses the column aft, as fuel in a tank: it raises the pressure at the impeller.)
#pragma once

#include "models/flag.hpp"
#include "models/rider.hpp"
#include "sim/craft.hpp"
#include "sim/state.hpp"

namespace bowrise {

/// What holds the craft back at an instant, the first that applies.
enum class Limit : int { limiter, air, cavitation, throttle, hull, engine };
inline constexpr std::array<std::string_view, 6> limit_words{"limiter",  "air",  "cavitation",
                                                             "throttle", "hull", "engine"};

/// Everything known at one instant. SI.
template <class Number>
struct InstantOf {
  StateOf<Number> rate;  ///< time derivative of each state

  double lever;    ///< rider's lever
  Number command;  ///< air path asked for
  EnginePointOf<Number> engine;
  Number pump_torque_Nm;
  PumpPointOf<Number> pump;   ///< uncavitated, without air
  Number head_factor;         ///< share of head left by cavitation, both stages together
  Number air_factor;          ///< share of head and torque left by air
  Number pump_energy_J_kg;    ///< head energy delivered
  Number needed_energy_J_kg;  ///< by jet, passage, inlet, less ram
  InflowOf<Number> inflow;
  Number passage_loss_J_kg;
  Number jet_speed_m_s, jet_force_N, intake_force_N;
  Number jet_along_N, jet_normal_N;  ///< parts of the jet force along and normal to the keel
  Number jet_surge_N, jet_lift_N;    ///< its horizontal and vertical parts
  Number trim_cosine, trim_sine;
  Number npsh_available_J_kg, npsh_required_J_kg;  ///< required: at 3 % head drop, the worse stage
  Number inlet_velocity_ratio;

  HullForces hull;
  SpillOf<Number> spill;
  Number grate_drag_N, tow_N;
  Number thrust_N;  ///< surge part of both propulsion forces after thrust deduction, column included
  Number drag_N;
  Number effective_mass_kg;
  Number bow_up_moment_Nm;

  Limit limited_by;
  FlagSet flags;
};
using Instant = InstantOf<double>;

/// How much more suction head there is than 3 % head drop needs; below 0 where the suction side is drawn
/// empty.
[[nodiscard]] double npsh_margin(const Instant& now) noexcept;

/// Suction specific speed of the first stage [1] at the suction head available, which counts as 0.1 m where
/// there is less; 0 without forward flow.
[[nodiscard]] double suction_specific_speed(const State& state, const Instant& now) noexcept;

/// Jet speed over craft speed, and over inflow speed; 0 below 1 m/s, where they mean nothing.
[[nodiscard]] double jet_velocity_ratio(const State& state, const Instant& now) noexcept;
[[nodiscard]] double nozzle_velocity_ratio(const State& state, const Instant& now) noexcept;

/// Pure, allocates nothing, cannot fail: outside validity it raises flags.
/// @param segment  the piece of the throttle plan that holds at time_s: told, never looked up
[[nodiscard]] Instant evaluate(const Craft& craft, const LeverSegment& segment, double time_s,
                               const State& state) noexcept;

/// Engine, pump and what cavities and air leave of it, with the rate of the shaft; the same numbers as
/// evaluate, all else nil.
[[nodiscard]] Instant drive_train(const Craft& craft, const LeverSegment& segment, double time_s,
                                  const State& state) noexcept;

/// The rates alone: evaluate(...).rate.
[[nodiscard]] State rates(const Craft& craft, const LeverSegment& segment, double time_s,
                          const State& state) noexcept;

/// Slopes of the rates: element [i][j] is that of rate i over state j, nil over the distance.
using RateSlopes = std::array<StateArray, state_size>;
struct SlopedInstant {
  Instant now;
  RateSlopes slopes;
};
/// evaluate, bit for bit, and the Jacobian of the rates: differences over 1.5e-8 of a size that matters, all
/// columns side by side in about the time of three evaluations.
[[nodiscard]] SlopedInstant evaluate_with_slopes(const Craft& craft, const LeverSegment& segment,
                                                 double time_s, const State& state) noexcept;

}  // namespace bowrise
