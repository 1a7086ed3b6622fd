// Displacement and semi-planing resistance: the regression of Mercier & Savitsky 1973, the law below it, hump
// factor.
#pragma once

#include <cstddef>

#include "models/curve.hpp"
#include "models/hull_inputs.hpp"
#include "models/slope_table.hpp"

namespace bowrise {

/// Form of a transom-stern hull at rest, as the regression of Mercier & Savitsky 1973 wants it.
/// Range of its tests (from memory): length/volume^(1/3) 3.07-12.4, entrance half angle 3.7-28.6 deg,
/// length/beam 2.5-18, beam/draught 1.7-9.8. The place of the load is not a variable, its main flaw for a
/// short craft.
struct DisplacementForm {
  double waterline_length_m, beam_m, volume_m3, entrance_half_angle_deg;
  double transom_ratio;  ///< immersed transom area over largest section area
  double beam_draught_ratio;
};

/// The regression stands at Fn_vol = 1.0, 1.1, ... 2.0 (index 0 to 10); Fn_vol = V/sqrt(g volume^(1/3)).
inline constexpr std::size_t regression_speed_count = 11;
[[nodiscard]] constexpr double regression_speed(std::size_t index) noexcept {
  return 1.0 + 0.1 * static_cast<double>(index);
}

/// Resistance over weight of this form at 100 000 lbf displacement in sea water of 59 F, smooth (Schoenherr
/// line, no allowance). Source: Mercier & Savitsky 1973, Davidson Laboratory R-1667 (DTIC AD-764958), eq.
/// (6); coefficients from memory, compared with three public transcriptions, which disagree among themselves
/// in seven cells (see the table).
/// @param index  0 to 10
[[nodiscard]] double regression_resistance(const DisplacementForm& form, std::size_t index) noexcept;

/// Static wetted surface over volume^(2/3), as used by the regression's change of size.
[[nodiscard]] double wetted_surface_ratio(const DisplacementForm& form) noexcept;

/// Part of regression_resistance that is not skin friction: less the friction of the 100 000 lbf craft.
/// @param reference_line  line taken off; the report's own is Schoenherr
[[nodiscard]] double residuary_resistance(const DisplacementForm& form, std::size_t index,
                                          FrictionLine reference_line = FrictionLine::schoenherr) noexcept;

/// Resistance over weight at the form's own size: residuary part + friction of its own Reynolds number.
[[nodiscard]] double own_size_resistance(const DisplacementForm& form, std::size_t index,
                                         double kinematic_viscosity_m2_s, double roughness_allowance,
                                         FrictionLine line,
                                         FrictionLine reference_line = FrictionLine::schoenherr) noexcept;

/// Factor on Savitsky's resistance near the hump, Blount & Fox 1976 (Marine Technology 13(1)), for Fn_vol
/// >= 1.
/// @param load_centre_beams  centre of gravity forward of the transom over the beam
[[nodiscard]] double blount_fox_hump_factor(double load_centre_beams, double volume_froude) noexcept;

/// Low-speed drag of one craft, worked out once.
struct PreparedDisplacement {
  UniformCurve residuary;  ///< over weight, against Fn_vol 0-2
  SlopeTable<1> friction;  ///< friction_table of the line
  double weight_N, wetted_surface_m2;
  double density_kg_m3, reynolds_per_speed_s_m, roughness_allowance;
  double volume_froude_per_speed_s_m;
};

/// Joins the regression (monotone cubic in Fn_vol) to the law below Fn_vol 1: residuary part of Fn_vol 1
/// times Fn_vol^4 (engineering judgement). A regression that turns negative, outside its range, is held at 0.
[[nodiscard]] PreparedDisplacement prepare_displacement(const DisplacementForm& form, double weight_N,
                                                        double density_kg_m3, double kinematic_viscosity_m2_s,
                                                        double roughness_allowance,
                                                        const SlopeTable<1>& friction);

template <class Number>
struct DisplacementDrag {
  Number friction_N, residuary_N;  ///< positive aft; odd in speed
};
/// Drag from rest to Fn_vol 2 at any speed; C1, nil at rest. Above Fn_vol 2 the last slope goes on. Number: a
/// double, or PartLanes.
template <class Number>
[[nodiscard]] DisplacementDrag<Number> displacement_drag(const PreparedDisplacement& prepared,
                                                         Number speed_m_s) noexcept;

}  // namespace bowrise
