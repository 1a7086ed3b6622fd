#include "models/planing_bottom.hpp"

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "models/lanes.hpp"
#include "models/sine_cosine.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

// Drag needs the added length nowhere negative.
ValueAndSlope held_added_length(const WhiskerSpray& spray) noexcept {
  constexpr double rounding_beams = 0.02;
  const double length = spray.added_length_beams, held = smooth_positive(length, rounding_beams);
  return {held, spray.added_length_per_rad * held / smooth_magnitude(length, rounding_beams)};
}

// Reaches beyond the range of trims so that slopes can be taken at its ends.
SlopeTable<4> trim_table(double deadrise_rad) {
  constexpr double beyond_deg = 0.25;
  const double tan_deadrise = std::tan(deadrise_rad);
  return {lowest_planing_trim_deg - beyond_deg, highest_planing_trim_deg + beyond_deg, 240,
          [deadrise_rad, tan_deadrise](double deg) -> SlopeTable<4>::Row {
            const double rad = deg * radians_per_degree, power = std::pow(deg, 1.1);
            const double dry_length = tan_deadrise / (2.0 * pi * std::tan(rad));
            const double root = std::pow(dynamic_lift_factor * std::sqrt(dry_length) * power, 0.2);
            const double growth = 1.1 / deg - radians_per_degree / std::sin(2.0 * rad);  // of ln(flat lift)
            const WhiskerSpray spray = whisker_spray(rad, deadrise_rad);
            const ValueAndSlope added_length = held_added_length(spray);
            return {ValueAndSlope{power, 1.1 * power / deg}, ValueAndSlope{root, 0.2 * growth * root},
                    ValueAndSlope{added_length.value, added_length.slope * radians_per_degree},
                    ValueAndSlope{spray.spray_length_beams, spray.spray_length_per_rad * radians_per_degree}};
          }};
}

SlopeTable<1> flat_lift_table(double deadrise_deg, double largest_lift_coefficient) {
  return {0.0, std::sqrt(largest_lift_coefficient), 256, [deadrise_deg](double s) -> SlopeTable<1>::Row {
            const double lift = std::max(s * s, 1e-12);
            const double flat = flat_lift_for(lift, deadrise_deg), root = std::sqrt(flat);
            // (16) differentiated, its power replaced by (16) itself; a flat plate has root = s
            const double slope = (deadrise_deg > 0.0 ? s : root) * root / (0.4 * flat + 0.6 * lift);
            return {ValueAndSlope{root, slope}};
          }};
}

SlopeTable<2> length_root_table() {
  static const SlopeTable<2> same_for_every_bottom(0.0, 0.99, 250, [](double x) -> SlopeTable<2>::Row {
    const double root_m = x / (1.0 - x), z = dimensionless_length_root(root_m * root_m);
    const double root_z = std::sqrt(z), fourth = z * z * z * z;
    const double share = std::pow(1.0 + fourth, -0.6);  // (z/m)^0.6
    const double slope = std::sqrt(1.0 + fourth) / ((1.0 + 5.0 * fourth) * (1.0 - x) * (1.0 - x));
    const double share_slope = -4.8 * z * z * z * root_z * share / (1.0 + fourth) * slope;
    return {ValueAndSlope{root_z, slope}, ValueAndSlope{share, share_slope}};
  });
  return same_for_every_bottom;
}

SlopeTable<1> friction_of(FrictionLine line) {
  return {0.0, 320.0, 320, [line](double fourth_root) -> SlopeTable<1>::Row {
            constexpr double step = 1e-3;
            const auto at = [line](double root) {
              return friction_coefficient(line, root * root * root * root);
            };
            const double below = at(fourth_root - step), above = at(fourth_root + step);
            return {ValueAndSlope{0.5 * (below + above), (above - below) / (2.0 * step)}};
          }};
}

}  // namespace

SlopeTable<1> friction_table(FrictionLine line) {
  static const SlopeTable<1> ittc57 = friction_of(FrictionLine::ittc57),
                             schoenherr = friction_of(FrictionLine::schoenherr);
  return line == FrictionLine::ittc57 ? ittc57 : schoenherr;
}

PlaningBottom prepare_planing_bottom(double beam_m, double keel_length_m, double deadrise_rad,
                                     double roughness_allowance, FrictionLine line, double density_kg_m3,
                                     double kinematic_viscosity_m2_s, double largest_lift_coefficient,
                                     WettedLengthForm wetted_lengths) {
  const double deadrise_deg = deadrise_rad / radians_per_degree, tangent = std::tan(deadrise_rad);
  const double unit_force = 0.5 * density_kg_m3 * gravity_m_s2 * beam_m * beam_m * beam_m;
  return {.beam_m = beam_m,
          .keel_length_m = keel_length_m,
          .deadrise_loss = deadrise_loss_per_deg * deadrise_deg,
          .tan_deadrise = tangent,
          .density_kg_m3 = density_kg_m3,
          .roughness_allowance = roughness_allowance,
          .wetted_area_per_plan_area = 1.0 / std::cos(deadrise_rad),
          .speed_coefficient_per_speed_s_m = 1.0 / std::sqrt(gravity_m_s2 * beam_m),
          .unit_pressure_force_N = unit_force,
          .coefficient_per_lift_1_N = 1.0 / unit_force,
          .reynolds_per_speed_s_m = beam_m / kinematic_viscosity_m2_s,
          .deadrise_rad = deadrise_rad,
          .wetted_lengths = wetted_lengths,
          .trim = trim_table(deadrise_rad),
          .flat_lift_root = flat_lift_table(deadrise_deg, largest_lift_coefficient),
          .length_root = length_root_table(),
          .friction = friction_table(line)};
}

template <class Number>
TrimTermsOf<Number> trim_terms(const PlaningBottom& bottom, Number trim_deg) noexcept {
  const auto [power, dry_root, spray_added_length, spray_length] = bottom.trim(trim_deg);
  const Number rad = trim_deg * radians_per_degree;
  const auto [sine, cosine] = sine_cosine(rad);
  const Number secant = 1.0 / cosine;
  return {.angle_rad = rad,
          .sine = sine,
          .cosine = cosine,
          .secant = secant,
          .tangent = sine * secant,
          .half_keel_excess_beams = bottom.tan_deadrise * cosine / (2.0 * pi * sine),
          .lift_power = power,
          .dry_flat_root = dry_root,
          .spray_added_length_beams = spray_added_length,
          .spray_length_beams = spray_length};
}

template TrimTerms trim_terms(const PlaningBottom&, double) noexcept;
template TrimTermsOf<PartLanes> trim_terms(const PlaningBottom&, PartLanes) noexcept;

}  // namespace bowrise
