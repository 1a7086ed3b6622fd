#include "models/hull.hpp"

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

constexpr double trim_rounding_deg = 0.25;  // over which a trim is held to the range of the planing law
constexpr double hump_fade = 4.0, hump_end = 6.0;  // Fn_vol over which the hump factor fades
constexpr double least_load_share = 0.02;          // of the weight, left on the bottom whatever the jet does

double held_trim_deg(double trim_deg) noexcept {
  return rounded_max(rounded_min(trim_deg, highest_planing_trim_deg, trim_rounding_deg),
                     lowest_planing_trim_deg, trim_rounding_deg);
}

struct PlateForces {
  double lift_N, drag_N;
  bool limited;
};

// Lift over its limit, held by x/(1 + x^8)^(1/8): its series, within 3e-9, where the flap formula asks for
// little, else from the table.
double held_share(const PreparedHull& hull, double share) noexcept {
  const double magnitude = std::abs(share);
  if (magnitude > 0.5) return std::copysign(hull.held_plate_share(magnitude)[0], share);
  const double square = share * share, fourth = square * square, eighth = fourth * fourth;
  return share * (1.0 - eighth * (0.125 - 0.0703125 * eighth));
}

// The flap formula's lift, held.
PlateForces plate_forces(const PreparedHull& hull, double forward_pressure, double trim_deg) noexcept {
  if (hull.plate_lift_per_pressure_m2 == 0.0) return {0.0, 0.0, false};
  const double share = hull.plate_share_per_pressure_1_Pa * forward_pressure;
  const double held = hull.plate_lift_limit_N * held_share(hull, share);
  return {held, 0.0052 * held * (trim_deg + hull.plate_angle_deg), std::abs(share) > 0.8};
}

double spray_drag(const PreparedHull& hull, double speed, const TrimTerms& trim,
                  double wetted_beam) noexcept {
  const double speed_beam = speed * wetted_beam;
  const double reynolds = speed_beam * trim.spray_length_beams * hull.inverse_viscosity_s_m2;
  const double friction = reynolds < all_turbulent_spray
                              ? spray_friction(reynolds)
                              : hull.turbulent_spray_friction(std::sqrt(std::sqrt(reynolds)))[0];
  return hull.spray_drag_factor_kg_m3 * speed_beam * speed_beam * trim.spray_added_length_beams * friction;
}

struct PlaningPart {
  PlaningState state;
  double spray_N, bow_up_moment_Nm;  // spray along the bottom
};

// Pitch balance about the centre of gravity with the pressure force normal to the keel at the centre of
// pressure, friction and spray at a quarter of the wetted beam's rise, plate lift, air drag above and
// appendages at the keel below.
PlaningPart planing_part(const PreparedHull& hull, double speed, const TrimTerms& trim, double load,
                         double plate_lift, double air_drag, double appendage_drag) noexcept {
  PlaningPart part{planing_state(hull.bottom, speed, trim, load), 0.0, 0.0};
  const PlaningState& state = part.state;
  part.spray_N = spray_drag(hull, speed, trim, state.wetted_beam_m);
  const double normal_force = state.bottom_lift_N * trim.secant;
  const double pressure_lever = hull.load_centre_m - state.centre_of_pressure_m;
  const double friction_lever = hull.centre_height_m - 0.25 * state.wetted_beam_m * hull.bottom.tan_deadrise;
  part.bow_up_moment_Nm = air_drag * hull.air_centre_height_m - appendage_drag * hull.centre_height_m -
                          normal_force * pressure_lever - (state.friction_N + part.spray_N) * friction_lever -
                          plate_lift * (hull.load_centre_m - hull.plate_lift_centre_m);
  return part;
}

double held_load(const PreparedHull& hull, double load) noexcept {
  return rounded_max(load, least_load_share * hull.weight_N, 0.5 * least_load_share * hull.weight_N);
}

FlagSet planing_flags(const PreparedHull& hull, const PlaningState& state, double speed, double trim_deg,
                      double planing_weight) noexcept {
  FlagSet flags;
  flags.raise(Flag::trim_held, trim_deg < lowest_planing_trim_deg || trim_deg > highest_planing_trim_deg);
  flags.raise(Flag::speed_coefficient_below_range, speed * speed < gravity_m_s2 * hull.bottom.beam_m);
  if (planing_weight <= 0.5) return flags;
  flags.raise(Flag::trim_below_range, trim_deg < 2.0);
  flags.raise(Flag::trim_above_range, trim_deg > 15.0);
  flags.raise(Flag::chines_dry, state.chines_dry);
  flags.raise(Flag::keel_longer_than_hull, state.keel_demand_m > hull.bottom.keel_length_m);
  flags.raise(Flag::wetted_length_above_range, state.wetted_length_beams > 4.0);
  const double half_lift = 0.5 * state.lift_coefficient;
  if (half_lift >= 0.13 * 0.13 && half_lift <= 0.30 * 0.30)
    flags.raise(Flag::porpoising, trim_deg > hull.porpoising_limit.deg(std::sqrt(half_lift)));
  return flags;
}

// What the water does to the bottom by one of the two laws.
struct WaterForces {
  double bottom_lift_N, wetted_keel_m, wetted_chine_m, wetted_length_beams, mean_bottom_speed_m_s;
  double pressure_drag_N, friction_drag_N, spray_drag_N, bow_up_moment_Nm;
};

WaterForces low_speed_forces(const PreparedHull& hull, double speed, double trim_rad, double load) noexcept {
  const DisplacementDrag drag = displacement_drag(hull.displacement, speed);
  const double trim_excess = trim_rad - low_speed_trim_rad(hull, volume_froude(hull, speed));
  return {.bottom_lift_N = load,
          .wetted_keel_m = hull.waterline_length_m,
          .wetted_chine_m = hull.waterline_length_m,
          .wetted_length_beams = hull.waterline_length_m / hull.bottom.beam_m,
          .mean_bottom_speed_m_s = speed,
          .pressure_drag_N = drag.residuary_N,
          .friction_drag_N = drag.friction_N,
          .spray_drag_N = 0.0,
          .bow_up_moment_Nm = -hull.pitch_stiffness_Nm_rad * trim_excess};
}

WaterForces planing_forces(const PlaningPart& part, const TrimTerms& trim) noexcept {
  const PlaningState& state = part.state;
  return {.bottom_lift_N = state.bottom_lift_N,
          .wetted_keel_m = state.wetted_keel_m,
          .wetted_chine_m = state.wetted_chine_m,
          .wetted_length_beams = state.wetted_length_beams,
          .mean_bottom_speed_m_s = state.mean_bottom_speed_m_s,
          .pressure_drag_N = state.bottom_lift_N * trim.tangent,
          .friction_drag_N = state.friction_N * trim.cosine,
          .spray_drag_N = part.spray_N * trim.cosine,
          .bow_up_moment_Nm = part.bow_up_moment_Nm};
}

WaterForces blend(const WaterForces& low, const WaterForces& planing, double planing_weight) noexcept {
  const auto mean = [&](double WaterForces::*field) {
    return low.*field + planing_weight * (planing.*field - low.*field);
  };
  return {mean(&WaterForces::bottom_lift_N),         mean(&WaterForces::wetted_keel_m),
          mean(&WaterForces::wetted_chine_m),        mean(&WaterForces::wetted_length_beams),
          mean(&WaterForces::mean_bottom_speed_m_s), mean(&WaterForces::pressure_drag_N),
          mean(&WaterForces::friction_drag_N),       mean(&WaterForces::spray_drag_N),
          mean(&WaterForces::bow_up_moment_Nm)};
}

}  // namespace

double planing_moment_Nm(const PreparedHull& hull, double speed, double trim_deg) noexcept {
  const TrimTerms trim = trim_terms(hull.bottom, trim_deg);
  const PlateForces plate = plate_forces(hull, 0.5 * hull.bottom.density_kg_m3 * speed * speed, trim_deg);
  return planing_part(hull, speed, trim, held_load(hull, hull.weight_N - plate.lift_N), plate.lift_N,
                      hull.air_drag_per_speed2_kg_m * speed * speed,
                      hull.appendage_drag_per_speed2_kg_m * speed * speed)
      .bow_up_moment_Nm;
}

HullForces hull_forces(const PreparedHull& hull, double speed_m_s, double trim_rad,
                       double other_lift_N) noexcept {
  const double froude = volume_froude(hull, speed_m_s), signed_square = speed_m_s * std::abs(speed_m_s);
  const double trim_deg = trim_rad * (1.0 / radians_per_degree), held_deg = held_trim_deg(trim_deg);
  const double weight = froude >= planing_full ? 1.0 : smoothstep(planing_from, planing_full, froude);

  // The plate lifts only in forward motion; drags follow the direction of motion.
  const PlateForces plate =
      plate_forces(hull, 0.5 * hull.bottom.density_kg_m3 * std::max(signed_square, 0.0), held_deg);
  const double appendage_drag = hull.appendage_drag_per_speed2_kg_m * signed_square;
  const double air_drag = hull.air_drag_per_speed2_kg_m * signed_square;
  const double wanted_load = hull.weight_N - plate.lift_N - other_lift_N, load = held_load(hull, wanted_load);

  FlagSet flags = hull.plate_flags;
  flags.raise(Flag::plate_lift_limited, plate.limited);
  flags.raise(Flag::no_bottom_load, wanted_load < least_load_share * hull.weight_N);
  WaterForces water;
  if (weight < 1.0) water = low_speed_forces(hull, speed_m_s, trim_rad, load);
  if (weight > 0.0) {
    const TrimTerms trim = trim_terms(hull.bottom, held_deg);
    const PlaningPart part =
        planing_part(hull, speed_m_s, trim, load, plate.lift_N, air_drag, appendage_drag);
    const WaterForces planing = planing_forces(part, trim);
    water = weight < 1.0 ? blend(water, planing, weight) : planing;
    flags |= planing_flags(hull, part.state, speed_m_s, trim_deg, weight);
  }

  double hump_weight = weight;
  if (froude > hump_fade) hump_weight *= 1.0 - smoothstep(hump_fade, hump_end, froude);
  const double hump = 1.0 + (hull.hump_factor - 1.0) * hump_weight;
  const double factor = hull.drag_factor, bottom_factor = factor * hump;
  const double pressure_drag = water.pressure_drag_N * bottom_factor;
  const double friction_drag = water.friction_drag_N * bottom_factor;
  const double other_drag = factor * (water.spray_drag_N + plate.drag_N + appendage_drag + air_drag);
  return {.trim_deg = held_deg,
          .planing_weight = weight,
          .bottom_lift_N = water.bottom_lift_N,
          .wetted_keel_m = water.wetted_keel_m,
          .wetted_chine_m = water.wetted_chine_m,
          .wetted_length_beams = water.wetted_length_beams,
          .mean_bottom_speed_m_s = water.mean_bottom_speed_m_s,
          .pressure_drag_N = pressure_drag,
          .friction_drag_N = friction_drag,
          .spray_drag_N = factor * water.spray_drag_N,
          .plate_drag_N = factor * plate.drag_N,
          .appendage_drag_N = factor * appendage_drag,
          .air_drag_N = factor * air_drag,
          .drag_N = pressure_drag + friction_drag + other_drag,
          .plate_lift_N = plate.lift_N,
          .bow_up_moment_Nm = water.bow_up_moment_Nm,
          .flags = flags};
}

LiftSlopes lift_slopes(const PreparedHull& hull, double speed_m_s, double trim_rad, double other_lift_N,
                       const HullForces& there) noexcept {
  const double beside_N = other_lift_N + 1e-8 * hull.weight_N,
               step_N = beside_N - other_lift_N;  // as rounded
  const HullForces beside = hull_forces(hull, speed_m_s, trim_rad, beside_N);
  return {(beside.drag_N - there.drag_N) / step_N,
          (beside.bow_up_moment_Nm - there.bow_up_moment_Nm) / step_N};
}

double trim_rate(const PreparedHull& hull, double /*speed_m_s*/, double trim_rad, const HullForces& forces,
                 double total_bow_up_moment_Nm) noexcept {
  constexpr double restoring_gain =
      5.0;  // five times as quick as the trim itself, so a run stays near the range
  // The hull's own moment holds the low-speed law already; the jet's counts as far as the craft planes.
  const double other_moment = total_bow_up_moment_Nm - forces.bow_up_moment_Nm;
  const double moment = forces.bow_up_moment_Nm + forces.planing_weight * other_moment;
  const double excess_rad = trim_rad - forces.trim_deg * radians_per_degree;
  return moment * hull.trim_rate_per_moment_1_Nms -
         restoring_gain * forces.planing_weight * excess_rad * hull.inverse_trim_time_1_s;
}

}  // namespace bowrise
