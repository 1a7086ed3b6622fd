// A planing bottom and its water prepared for a run: every power, logarithm and inverse of planing.hpp that
// can be read from a table. The tables err by far less than the formulae are worth; their tests hold them to
// the functions of planing.hpp.
#pragma once

#include "models/planing.hpp"
#include "models/slope_table.hpp"

namespace bowrise {

inline constexpr double lowest_planing_trim_deg = 0.5, highest_planing_trim_deg = 15.0;

struct PlaningBottom {
  double beam_m, keel_length_m;  ///< keel_length_m: the most that can be wetted
  double deadrise_loss;          ///< 0.0065 * deadrise_deg of eq. (16)
  double tan_deadrise;
  double density_kg_m3, roughness_allowance;
  double wetted_area_per_plan_area;        ///< 1/cos(deadrise)
  double speed_coefficient_per_speed_s_m;  ///< 1/sqrt(g b)
  double unit_pressure_force_N,
      coefficient_per_lift_1_N;   ///< 0.5 rho V^2 b^2 at speed coefficient 1, and 1 over it
  double reynolds_per_speed_s_m;  ///< b/kinematic viscosity
  double deadrise_rad;
  WettedLengthForm wetted_lengths;
  SlopeTable<4> trim;            ///< trim in deg -> the last four of TrimTerms
  SlopeTable<1> flat_lift_root;  ///< inverse of (16): sqrt(lift coefficient) -> sqrt(flat lift)
  SlopeTable<2> length_root;  ///< inverse of (15), z + z^5 = m: sqrt(m)/(1 + sqrt(m)) -> sqrt(z), (z/m)^0.6
  SlopeTable<1> friction;     ///< friction_table
};

/// @param largest_lift_coefficient  where the lift table ends; a straight line beyond
[[nodiscard]] PlaningBottom prepare_planing_bottom(
    double beam_m, double keel_length_m, double deadrise_rad, double roughness_allowance, FrictionLine line,
    double density_kg_m3, double kinematic_viscosity_m2_s, double largest_lift_coefficient,
    WettedLengthForm wetted_lengths = WettedLengthForm::savitsky_1964);

/// Fourth root of Re, up to Re 1e10 -> friction_coefficient. The root is quicker than a logarithm.
[[nodiscard]] SlopeTable<1> friction_table(FrictionLine line);

/// What the formulae need of a trim angle, worked out once for all of them.
template <class Number>
struct TrimTermsOf {
  Number angle_rad, sine, cosine, secant, tangent;
  Number half_keel_excess_beams;  ///< half of wetted keel less chine: tan(deadrise)/(2 pi tan(trim))
  Number lift_power;              ///< deg^1.1
  Number dry_flat_root;           ///< fifth root of the dynamic flat lift at chines just dry
  Number spray_added_length_beams, spray_length_beams;  ///< whisker_spray, the added length held above nil
};
using TrimTerms = TrimTermsOf<double>;
/// @param trim_deg  0.5-15
template <class Number>
[[nodiscard]] TrimTermsOf<Number> trim_terms(const PlaningBottom& bottom, Number trim_deg) noexcept;

}  // namespace bowrise
