// Published formulae of planing as plain functions: friction lines, Savitsky's 1964 lift, pressure centre and
// wetted lengths, whisker spray, flap and porpoising limit. planing_state.hpp puts them together for a run.
//
// Angles named _deg are degrees because the fitted formulae want degrees. "Transom" in all of them is the
// point where the flow leaves the bottom; lam ("wetted length in beams") is the mean of wetted keel and chine
// over the beam. Number: a double, or PartLanes.
#pragma once

#include <array>
#include <cmath>
#include <optional>

#include "models/hull_inputs.hpp"
#include "models/smooth.hpp"

namespace bowrise {

// ---- friction lines
// ------------------------------------------------------------------------------------------------

/// Friction coefficient on wetted area, ITTC-57: 0.075/(log10 Re - 2)^2 (ITTC 7.5-02-02-01). Falls steadily.
/// Below Re 1e4 the line says nothing and its value there is held (joined smoothly).
[[nodiscard]] double ittc57_friction(double reynolds) noexcept;

/// Schoenherr line (ATTC 1947): the root of 0.242/sqrt(Cf) = log10(Re Cf). Held below Re 1e4 like the ITTC
/// line.
[[nodiscard]] double schoenherr_friction(double reynolds) noexcept;

[[nodiscard]] double friction_coefficient(FrictionLine line, double reynolds) noexcept;

// ---- Savitsky 1964 (Marine Technology 1(1), 71-95)
// ----------------------------------------------------------------- Range of the tests behind (15)-(17):
// speed coefficient Cv = V/sqrt(g b) 0.60-13, trim 2-15 deg, lam up to 4.

inline constexpr double static_lift_factor = 0.0055, dynamic_lift_factor = 0.0120;  ///< of (15)
inline constexpr double deadrise_loss_per_deg = 0.0065;                             ///< of (16)

/// Lift coefficient of a flat plate, eq. (15), on 0.5 rho V^2 b^2.
[[nodiscard]] double flat_lift_coefficient(double trim_deg, double wetted_length_beams,
                                           double speed_coefficient) noexcept;

/// Lift coefficient of a bottom with deadrise, eq. (16). Not monotonic below flat lift (0.0039 deadrise)^2.5.
[[nodiscard]] double deadrise_lift_coefficient(double flat_lift, double deadrise_deg) noexcept;

/// Inverse of (16) on its rising branch, lift_coefficient >= 0 (held above 1e-12).
[[nodiscard]] double flat_lift_for(double lift_coefficient, double deadrise_deg) noexcept;

/// Inverse of (15): mean wetted length in beams that gives the flat lift (> 0) at this trim (> 0) and Cv (>
/// 0).
[[nodiscard]] double wetted_length_for(double flat_lift, double trim_deg, double speed_coefficient) noexcept;

/// The lam at which both terms of (15) are equal. In z = sqrt(lam/scale), (15) is
/// flat = 0.0120 trim^1.1 sqrt(scale) (z + z^5).
template <class Number>
[[nodiscard]] Number wetted_length_scale(Number speed_coefficient) noexcept {
  return 1.4770978917519928 * speed_coefficient;  // sqrt(0.0120/0.0055)
}

/// The z of z + z^5 = m, m > 0.
[[nodiscard]] double dimensionless_length_root(double m) noexcept;

/// Eq. (17): centre of pressure forward of the transom over the mean wetted length.
[[nodiscard]] double centre_of_pressure_ratio(double wetted_length_beams, double speed_coefficient) noexcept;

/// Mean bottom speed over craft speed: Bernoulli on the mean dynamic bottom pressure.
[[nodiscard]] double mean_bottom_speed_ratio(double wetted_length_beams, double trim_deg,
                                             double deadrise_deg) noexcept;

/// Square of bottom speed over craft speed. On a nearly dry bottom at high trim the mean pressure would
/// exceed the stagnation pressure: held above nil.
/// @param pressure_share  mean dynamic pressure on the bottom over the stagnation pressure
template <class Number>
[[nodiscard]] Number bottom_speed_ratio_squared(Number pressure_share) noexcept {
  return rounded_max<Number>(1.0 - pressure_share, 0.005, 0.005);
}

template <class Number>
struct WettedLengthsOf {
  Number keel_beams, chine_beams;
};
using WettedLengths = WettedLengthsOf<double>;
/// Difference of wetted keel and chine b tan(deadrise)/(pi tan(trim)), their mean lam b.
template <class Number>
[[nodiscard]] WettedLengthsOf<Number> wetted_lengths_1964(Number wetted_length_beams, Number trim_rad,
                                                          double deadrise_rad) noexcept;
/// The form of Savitsky & Brown 1976 (Marine Technology 13(4)), for lam >= 1; only to match sources of that
/// style. From lam 1 down to 0.5, where it says nothing, it passes over into that of 1964 (engineering
/// judgement).
template <class Number>
[[nodiscard]] WettedLengthsOf<Number> wetted_lengths_1976(Number wetted_length_beams, Number trim_rad,
                                                          double deadrise_rad) noexcept;

// ---- whisker spray, flap, porpoising
// ---------------------------------------------------------------------------------

/// Spray ahead of the stagnation line, both sides together (Savitsky, DeLorme & Datla 2007, Marine Technology
/// 44(1)).
struct WhiskerSpray {
  double
      added_length_beams;  ///< horizontal part of the spray area over b^2; negative where spray runs forward
  double spray_length_beams;                          ///< length for the spray's Reynolds number over b
  double added_length_per_rad, spray_length_per_rad;  ///< their slopes over the trim
};
/// The formula assumes wet chines and unbroken spray. trim > 0; deadrise is held above 0.06 deg (no spray
/// root at 0).
[[nodiscard]] WhiskerSpray whisker_spray(double trim_rad, double deadrise_rad) noexcept;

/// Friction coefficient of the spray sheet, reynolds > 0: laminar below 1.5e6, transitional above (the 2 %
/// step at 1.5e6 is spread over 1.4e6-1.6e6). Source: as WhiskerSpray.
template <class Number>
[[nodiscard]] Number turbulent_spray_friction(Number reynolds) noexcept;  // from laminar_spray_limit up
inline constexpr double laminar_spray_limit = 1.4e6;
template <class Number>
[[nodiscard]] Number spray_friction(Number reynolds) noexcept {
  using std::sqrt;
  return reynolds <= laminar_spray_limit ? 1.328 / sqrt(reynolds) : turbulent_spray_friction(reynolds);
}

struct FlapForces {
  double lift_N, drag_N, lift_centre_m;  ///< lift upward; centre forward of the trailing edge
};
/// Transom flap of the bottom's trailing edge (Brown 1971; Savitsky & Brown 1976). dynamic_pressure = 0.5 rho
/// V^2. Range: angle 0-15 deg, chord up to 0.1 of the length, trim 0-10 deg, Cv 2-7 (from memory).
[[nodiscard]] FlapForces flap_forces(double chord_m, double span_m, double beam_m, double angle_deg,
                                     double trim_deg, double dynamic_pressure_Pa) noexcept;

/// Trim above which a bottom porpoises (Savitsky 1964 Fig. 18; cubic fits of a public transcription,
/// quadratic in deadrise).
struct PorpoisingLimit {
  std::array<double, 4> cubic;  ///< of ascending power
  /// Limit in degrees; root_half_lift = sqrt(C_Lb/2), read at 0.13-0.30.
  [[nodiscard]] double deg(double root_half_lift) const noexcept {
    const double x = root_half_lift;
    return (cubic[0] + cubic[1] * x) + x * x * (cubic[2] + cubic[3] * x);
  }
};
/// Deadrise over 20 deg is read at 20.
[[nodiscard]] PorpoisingLimit porpoising_limit(double deadrise_deg) noexcept;

// ---- the procedure as printed in 1964, for published cases
// ---------------------------------------------------------------

/// One craft at one speed in the terms of Savitsky's Table 1: load on the bottom = weight, wet chines,
/// nothing held.
struct SavitskyCase {
  double weight_N, beam_m, deadrise_rad, load_centre_m, centre_height_m, speed_m_s;
  double thrust_line_angle_rad, thrust_line_depth_m;  ///< to the keel, bow up; below the centre of gravity
  double density_kg_m3, kinematic_viscosity_m2_s, roughness_allowance;
  FrictionLine friction_line;
};
struct SavitskyRow {
  double trim_rad, speed_coefficient, lift_coefficient, flat_lift, wetted_length_beams, mean_bottom_speed_m_s,
      reynolds;
  double friction_coefficient;  ///< without the allowance, as the table prints it
  double friction_N, drag_N, centre_of_pressure_ratio, load_lever_m,
      moment_Nm;  ///< moment of eq. (35), bow down
  double wetted_keel_m, wetted_chine_m, transom_draught_m, effective_power_W;
};
[[nodiscard]] SavitskyRow savitsky_row(const SavitskyCase& craft, double trim_rad) noexcept;

/// The row at the trim between 1 and 15 deg where the moment vanishes; empty where it does not.
[[nodiscard]] std::optional<SavitskyRow> savitsky_equilibrium(const SavitskyCase& craft);

}  // namespace bowrise
