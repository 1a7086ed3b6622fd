// Hull: drag, bottom load and pitch moment at (speed, trim, lift carried by others), from rest to top speed.
//
// Below volume Froude number 0.8 the resistance is the low-speed law and the displacement-regime regression
// (displacement.hpp); above 1.3 it is Savitsky planing with the full force balance (planing.hpp); a
// smoothstep joins them. Trim is imposed: nothing here searches for an equilibrium, so a run cannot fail on
// one.
#pragma once

#include <optional>

#include "models/displacement.hpp"
#include "models/flag.hpp"
#include "models/hull_inputs.hpp"
#include "models/planing_state.hpp"
#include "models/problem.hpp"
#include "models/smooth.hpp"
#include "models/water.hpp"

namespace bowrise {

/// What the hull carries and floats in; all finite, mass and densities > 0.
struct HullLoading {
  double mass_kg;  ///< everything the water carries at rest
  double
      load_centre_m;  ///< combined centre of gravity forward of the trailing edge, calibration shift included
  double air_density_kg_m3;
  WaterState water;
};

/// All that a hull is worked out from: prepare_hull sees nothing else.
struct HullBasis {
  Hull hull;
  Plate plate;
  HullLoading loading;
};
/// Whether the hulls worked out from both are the same, bit by bit.
[[nodiscard]] bool same(const HullBasis& a, const HullBasis& b);

/// Constants of one hull, worked out once by prepare_hull.
struct PreparedHull {
  PlaningBottom bottom;
  PreparedDisplacement displacement;
  SlopeTable<1> turbulent_spray_friction;  ///< fourth root of Re, from Re 1.6e6 up -> spray_friction
  SlopeTable<1> held_plate_share;          ///< plate lift over its limit: by the flap formula -> held

  double mass_kg, weight_N, volume_froude_per_speed_s_m;
  double load_centre_m, centre_height_m, waterline_length_m;
  double hump_factor, drag_factor, spray_drag_factor_kg_m3, inverse_viscosity_s_m2;
  double air_drag_per_speed2_kg_m, air_centre_height_m, appendage_drag_per_speed2_kg_m;
  double plate_angle_deg, plate_lift_per_pressure_m2, plate_lift_centre_m, plate_lift_limit_N,
      plate_share_per_pressure_1_Pa;

  PorpoisingLimit porpoising_limit;
  FlagSet plate_flags;  ///< plate outside the range of the flap formula

  double inverse_trim_time_1_s, static_trim_rad;
  /// Growth of the low-speed trim: trim_low = static_trim + low_speed_trim_growth (Fn_vol/1.2)^2, so large
  /// that it meets the planing law's trim of equilibrium without thrust at Fn_vol 1.2 (engineering
  /// judgement).
  double low_speed_trim_growth_rad;
  /// -dM/dtrim of the planing law at Fn_vol 3, no jet, at its trim of equilibrium; at least 0.5 weight *
  /// length.
  double pitch_stiffness_Nm_rad;
  double trim_rate_per_moment_1_Nms;  ///< 1 over stiffness and trim time

  double added_mass_fraction, thrust_deduction;
  double thrust_line_angle_rad, thrust_line_depth_m;

  HullBasis basis;  ///< what all this was worked out from
};

/// Forces of water and air on the hull at one instant. Drags are horizontal, positive aft [N], so that they
/// always sum to drag_N. Where the planing weight w is under 1, wetted lengths, load and moment pass over
/// from the values at rest.
template <class Number>
struct HullForcesOf {
  Number trim_deg;        ///< trim used by the formulae (held to 0.5-15 deg, flagged)
  Number planing_weight;  ///< w: 0 low-speed law, 1 planing law
  Number bottom_lift_N;   ///< vertical load on the planing bottom
  Number wetted_keel_m, wetted_chine_m;
  Number wetted_length_beams;  ///< mean wetted length over the wetted beam
  Number mean_bottom_speed_m_s;
  Number pressure_drag_N, friction_drag_N, spray_drag_N, plate_drag_N, appendage_drag_N, air_drag_N;
  Number drag_N;  ///< sum of the six above
  Number plate_lift_N;
  /// Of everything above, about the centre of gravity: w * planing law + (1 - w) * stiffness * (low-speed
  /// trim - trim).
  Number bow_up_moment_Nm;
  FlagSet flags;
};
using HullForces = HullForcesOf<double>;

/// Fn_vol over which the low-speed law hands over to the planing law, and where their trims meet.
inline constexpr double planing_from = 0.8, planing_full = 1.3, join_speed = 1.2;
inline constexpr double all_turbulent_spray = 1.6e6;  ///< from this Reynolds number on, in spray_friction

/// Problems of hull and plate that no single range can see.
[[nodiscard]] Problems check(const Hull& hull, const Plate& plate);

/// Works out the constants of a hull that has passed its checks. The load centre of `loading` wins over that
/// of `hull`.
[[nodiscard]] PreparedHull prepare_hull(const HullBasis& basis);

/// Drag, load and pitch moment, at any speed (drag is odd in speed; all is nil at rest) and any finite trim.
/// @param trim_rad      keel to still water, bow up
/// @param other_lift_N  vertical force of jet and spill on the craft, upward
/// C1 in all three; allocates nothing, cannot fail: outside validity the result is finite and flagged.
///
/// Bottom load = weight - plate lift - other lift (held above 2 % of the weight) + vertical part of the
/// friction. The hump factor multiplies pressure and friction drag: fully over Fn_vol 1.3-4, fading to 1 by
/// Fn_vol 6. The drag factor multiplies every drag and leaves lift and moment alone.
[[nodiscard]] HullForces hull_forces(const PreparedHull& hull, double speed_m_s, double trim_rad,
                                     double other_lift_N) noexcept;

/// What a run reads of HullForces.
template <class Number>
struct HullAnswer {
  Number drag_N, bow_up_moment_Nm, planing_weight, trim_deg;
};
[[nodiscard]] inline HullAnswer<double> answer_of(const HullForces& forces) noexcept {
  return {forces.drag_N, forces.bow_up_moment_Nm, forces.planing_weight, forces.trim_deg};
}

/// Forces on a hull and how they answer to a change of each argument.
struct SlopedHullForces {
  HullForces forces;
  HullAnswer<double> per_speed, per_trim, per_lift;  ///< derivatives over m/s, rad and N

  /// The answer at arguments close by, to first order.
  template <class Number>
  [[nodiscard]] HullAnswer<Number> beside(Number speed_by_m_s, Number trim_by_rad,
                                          Number lift_by_N) const noexcept {
    const auto moved = [&](double HullAnswer<double>::*field) -> Number {
      return answer_of(forces).*field + per_speed.*field * speed_by_m_s + per_trim.*field * trim_by_rad +
             per_lift.*field * lift_by_N;
    };
    return {moved(&HullAnswer<double>::drag_N), moved(&HullAnswer<double>::bow_up_moment_Nm),
            moved(&HullAnswer<double>::planing_weight), moved(&HullAnswer<double>::trim_deg)};
  }
};
/// hull_forces, bit for bit, and its slopes: differences over 1.5e-8 of a size that matters, taken side by
/// side in little more time than the forces alone. Where the hull bends (it is C1) they are one-sided.
[[nodiscard]] SlopedHullForces sloped_hull_forces(const PreparedHull& hull, double speed_m_s, double trim_rad,
                                                  double other_lift_N) noexcept;

/// Height of the centre of gravity above the water at rest, for a prism of the hull's beam, length and
/// deadrise (hydrostatics.hpp; the keel length that can be wetted stands for the prism's length). A test hull
/// on a single thrust line floats at the trim its centre of gravity gives it; a craft with a jet at its
/// static trim, which a spirit level shows and the prism, having no bow and no sides of its own, could only
/// guess.
[[nodiscard]] double resting_centre_height_m(const Hull& hull, const PreparedHull& prepared);

/// Rise of the centre of gravity above that height. Under way the keel at the transom lies the wetted keel
/// times the sine of trim below the still water: Savitsky's wetted keel ends where the keel itself meets the
/// still water (water piles up beside a keel, not at it). Faded in with the planing weight: the low-speed law
/// knows no sinkage.
[[nodiscard]] double centre_rise_m(const PreparedHull& hull, double resting_height_m, double trim_rad,
                                   const HullForces& forces) noexcept;

/// Bow-up moment of the planing law alone, without a jet; trim 0.5-15 deg.
[[nodiscard]] double planing_moment_Nm(const PreparedHull& hull, double speed_m_s, double trim_deg) noexcept;

/// d(trim)/dt [rad/s]. Planing: moment/(trim_time * stiffness); low speed: (low-speed trim - trim)/trim_time;
/// blended by the planing weight. Outside 0.5-15 deg a restoring rate is added, so that trim cannot run away.
/// @param hull_answer             that of hull_forces at the same speed and trim
/// @param total_bow_up_moment_Nm  its moment + moment of jet, intake and all else
template <class Number>
[[nodiscard]] Number trim_rate(const PreparedHull& hull, Number trim_rad,
                               const HullAnswer<Number>& hull_answer, Number total_bow_up_moment_Nm) noexcept;

/// Speed over sqrt(g volume^(1/3)).
template <class Number>
[[nodiscard]] Number volume_froude(const PreparedHull& hull, Number speed_m_s) noexcept {
  return speed_m_s * hull.volume_froude_per_speed_s_m;
}

/// Trim of the low-speed law.
template <class Number>
[[nodiscard]] Number low_speed_trim_rad(const PreparedHull& hull, Number volume_froude) noexcept {
  const Number share = volume_froude > 0.0 ? volume_froude * (1.0 / join_speed) : Number(0.0);
  return hull.static_trim_rad + hull.low_speed_trim_growth_rad * share * share;
}

/// Water that accelerates with the craft: the given fraction of the mass at rest, 0.02 (or less) from
/// Fn_vol 2.5 on.
template <class Number>
[[nodiscard]] Number surge_added_mass_kg(const PreparedHull& hull, Number speed_m_s) noexcept {
  constexpr double planing_fraction = 0.02;
  const double rest = hull.added_mass_fraction, planing = rest < planing_fraction ? rest : planing_fraction;
  return hull.mass_kg * (rest - (rest - planing) * smoothstep(0.0, 2.5, volume_froude(hull, speed_m_s)));
}

/// Thrust deduction fraction: as given up to Fn_vol 1.2, nil from 2.0 on.
template <class Number>
[[nodiscard]] Number thrust_deduction(const PreparedHull& hull, Number speed_m_s) noexcept {
  return hull.thrust_deduction * (1.0 - smoothstep(1.2, 2.0, volume_froude(hull, speed_m_s)));
}

/// Trim [rad] at which the pitch moment vanishes and a small change of trim dies out, under a force on the
/// hull's single thrust line (angle and depth of the inputs); the lowest such trim up to 15 deg. Empty where
/// there is none.
[[nodiscard]] std::optional<double> equilibrium_trim(const PreparedHull& hull, double speed_m_s,
                                                     double thrust_N);

/// Thrust along the single line whose horizontal part equals the drag at this speed and trim.
[[nodiscard]] double holding_thrust_N(const PreparedHull& hull, double speed_m_s, double trim_rad) noexcept;

struct SteadyHull {
  double trim_rad, thrust_N;
  HullForces forces;
};
/// The same with the thrust that holds the speed: its horizontal part equals the drag. Empty where there is
/// none.
[[nodiscard]] std::optional<SteadyHull> steady_hull(const PreparedHull& hull, double speed_m_s);

}  // namespace bowrise
