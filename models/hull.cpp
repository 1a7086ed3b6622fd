#include "models/hull.hpp"

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "models/lanes.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

constexpr double trim_rounding_deg = 0.25;  // over which a trim is held to the range of the planing law
constexpr double hump_fade = 4.0, hump_end = 6.0;  // Fn_vol over which the hump factor fades
constexpr double least_load_share = 0.02;          // of the weight, left on the bottom whatever the jet does

using std::abs, std::sqrt;  // beside those of Lanes

template <class Number>
inline Number held_trim_deg(Number trim_deg) noexcept {
  return rounded_max(rounded_min(trim_deg, highest_planing_trim_deg, trim_rounding_deg),
                     lowest_planing_trim_deg, trim_rounding_deg);
}

template <class Number>
struct PlateForces {
  Number lift_N, drag_N;
  bool limited;
};

// Lift over its limit, held by x/(1 + x^8)^(1/8): its series, within 3e-9, where the flap formula asks for
// little, else from the table.
template <class Number>
inline Number held_share(const PreparedHull& hull, Number share) noexcept {
  const Number magnitude = abs(share);
  if (magnitude > 0.5) return (share < 0.0 ? -1.0 : 1.0) * hull.held_plate_share(magnitude)[0];
  const Number square = share * share, fourth = square * square, eighth = fourth * fourth;
  return share * (1.0 - eighth * (0.125 - 0.0703125 * eighth));
}

// The flap formula's lift, held.
template <class Number>
inline PlateForces<Number> plate_forces(const PreparedHull& hull, Number forward_pressure,
                                        Number trim_deg) noexcept {
  if (hull.plate_lift_per_pressure_m2 == 0.0) return {0.0, 0.0, false};
  const Number share = hull.plate_share_per_pressure_1_Pa * forward_pressure;
  const Number held = hull.plate_lift_limit_N * held_share(hull, share);
  return {held, 0.0052 * held * (trim_deg + hull.plate_angle_deg), abs(share) > 0.8};
}

template <class Number>
inline Number spray_drag(const PreparedHull& hull, Number speed, const TrimTermsOf<Number>& trim,
                         Number wetted_beam) noexcept {
  const Number speed_beam = speed * wetted_beam;
  const Number reynolds = speed_beam * trim.spray_length_beams * hull.inverse_viscosity_s_m2;
  const Number friction = reynolds < all_turbulent_spray
                              ? spray_friction(reynolds)
                              : hull.turbulent_spray_friction(sqrt(sqrt(reynolds)))[0];
  return hull.spray_drag_factor_kg_m3 * speed_beam * speed_beam * trim.spray_added_length_beams * friction;
}

template <class Number>
struct PlaningPart {
  PlaningStateOf<Number> state;
  Number spray_N, bow_up_moment_Nm;  // spray along the bottom
};

// Pitch balance about the centre of gravity with the pressure force normal to the keel at the centre of
// pressure, friction and spray at a quarter of the wetted beam's rise, plate lift, air drag above and
// appendages at the keel below.
template <class Number>
inline PlaningPart<Number> planing_part(const PreparedHull& hull, Number speed,
                                        const TrimTermsOf<Number>& trim, Number load, Number plate_lift,
                                        Number air_drag, Number appendage_drag) noexcept {
  PlaningPart<Number> part{planing_state(hull.bottom, speed, trim, load), 0.0, 0.0};
  const PlaningStateOf<Number>& state = part.state;
  part.spray_N = spray_drag(hull, speed, trim, state.wetted_beam_m);
  const Number normal_force = state.bottom_lift_N * trim.secant;
  const Number pressure_lever = hull.load_centre_m - state.centre_of_pressure_m;
  const Number friction_lever = hull.centre_height_m - 0.25 * state.wetted_beam_m * hull.bottom.tan_deadrise;
  part.bow_up_moment_Nm = air_drag * hull.air_centre_height_m - appendage_drag * hull.centre_height_m -
                          normal_force * pressure_lever - (state.friction_N + part.spray_N) * friction_lever -
                          plate_lift * (hull.load_centre_m - hull.plate_lift_centre_m);
  return part;
}

template <class Number>
inline Number held_load(const PreparedHull& hull, Number load) noexcept {
  return rounded_max(load, least_load_share * hull.weight_N, 0.5 * least_load_share * hull.weight_N);
}

template <class Number>
inline FlagSet planing_flags(const PreparedHull& hull, const PlaningStateOf<Number>& state, Number speed,
                             Number trim_deg, Number planing_weight) noexcept {
  FlagSet flags;
  flags.raise(Flag::trim_held, trim_deg < lowest_planing_trim_deg || trim_deg > highest_planing_trim_deg);
  flags.raise(Flag::speed_coefficient_below_range, speed * speed < gravity_m_s2 * hull.bottom.beam_m);
  if (planing_weight <= 0.5) return flags;
  flags.raise(Flag::trim_below_range, trim_deg < 2.0);
  flags.raise(Flag::trim_above_range, trim_deg > 15.0);
  flags.raise(Flag::chines_dry, state.chines_dry);
  flags.raise(Flag::keel_longer_than_hull, state.keel_demand_m > hull.bottom.keel_length_m);
  flags.raise(Flag::wetted_length_above_range, state.wetted_length_beams > 4.0);
  const double half_lift = point_of(0.5 * state.lift_coefficient);
  if (half_lift >= 0.13 * 0.13 && half_lift <= 0.30 * 0.30)
    flags.raise(Flag::porpoising, trim_deg > hull.porpoising_limit.deg(std::sqrt(half_lift)));
  return flags;
}

// What the water does to the bottom by one of the two laws.
template <class Number>
struct WaterForces {
  Number bottom_lift_N, wetted_keel_m, wetted_chine_m, wetted_length_beams, mean_bottom_speed_m_s;
  Number pressure_drag_N, friction_drag_N, spray_drag_N, bow_up_moment_Nm;
};

template <class Number>
inline WaterForces<Number> low_speed_forces(const PreparedHull& hull, Number speed, Number trim_rad,
                                            Number load) noexcept {
  const DisplacementDrag<Number> drag = displacement_drag(hull.displacement, speed);
  const Number trim_excess = trim_rad - low_speed_trim_rad(hull, volume_froude(hull, speed));
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

template <class Number>
inline WaterForces<Number> planing_forces(const PlaningPart<Number>& part,
                                          const TrimTermsOf<Number>& trim) noexcept {
  const PlaningStateOf<Number>& state = part.state;
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

template <class Number>
inline WaterForces<Number> blend(const WaterForces<Number>& low, const WaterForces<Number>& planing,
                                 Number planing_weight) noexcept {
  const auto mean = [&](Number WaterForces<Number>::*field) {
    return low.*field + planing_weight * (planing.*field - low.*field);
  };
  return {mean(&WaterForces<Number>::bottom_lift_N),         mean(&WaterForces<Number>::wetted_keel_m),
          mean(&WaterForces<Number>::wetted_chine_m),        mean(&WaterForces<Number>::wetted_length_beams),
          mean(&WaterForces<Number>::mean_bottom_speed_m_s), mean(&WaterForces<Number>::pressure_drag_N),
          mean(&WaterForces<Number>::friction_drag_N),       mean(&WaterForces<Number>::spray_drag_N),
          mean(&WaterForces<Number>::bow_up_moment_Nm)};
}

template <class Number>
inline HullForcesOf<Number> forces_at(const PreparedHull& hull, Number speed_m_s, Number trim_rad,
                                      Number other_lift_N) noexcept {
  const Number froude = volume_froude(hull, speed_m_s), signed_square = speed_m_s * abs(speed_m_s);
  const Number trim_deg = trim_rad * (1.0 / radians_per_degree), held_deg = held_trim_deg(trim_deg);
  const Number weight = froude >= planing_full ? Number(1.0) : smoothstep(planing_from, planing_full, froude);

  // The plate lifts only in forward motion; drags follow the direction of motion.
  const PlateForces<Number> plate =
      plate_forces(hull, 0.5 * hull.bottom.density_kg_m3 * std::max(signed_square, Number(0.0)), held_deg);
  const Number appendage_drag = hull.appendage_drag_per_speed2_kg_m * signed_square;
  const Number air_drag = hull.air_drag_per_speed2_kg_m * signed_square;
  const Number wanted_load = hull.weight_N - plate.lift_N - other_lift_N, load = held_load(hull, wanted_load);

  FlagSet flags = hull.plate_flags;
  flags.raise(Flag::plate_lift_limited, plate.limited);
  flags.raise(Flag::no_bottom_load, wanted_load < least_load_share * hull.weight_N);
  const auto water_forces = [&]() -> WaterForces<Number> {
    if (weight <= 0.0) return low_speed_forces(hull, speed_m_s, trim_rad, load);
    const TrimTermsOf<Number> trim = trim_terms(hull.bottom, held_deg);
    const PlaningPart<Number> part =
        planing_part(hull, speed_m_s, trim, load, plate.lift_N, air_drag, appendage_drag);
    flags |= planing_flags(hull, part.state, speed_m_s, trim_deg, weight);
    const WaterForces<Number> planing = planing_forces(part, trim);
    if (weight >= 1.0) return planing;
    return blend(low_speed_forces(hull, speed_m_s, trim_rad, load), planing, weight);
  };
  const WaterForces<Number> water = water_forces();

  Number hump_weight = weight;
  if (froude > hump_fade) hump_weight *= 1.0 - smoothstep(hump_fade, hump_end, froude);
  const Number hump = 1.0 + (hull.hump_factor - 1.0) * hump_weight;
  const double factor = hull.drag_factor;
  const Number bottom_factor = factor * hump;
  const Number pressure_drag = water.pressure_drag_N * bottom_factor;
  const Number friction_drag = water.friction_drag_N * bottom_factor;
  const Number other_drag = factor * (water.spray_drag_N + plate.drag_N + appendage_drag + air_drag);
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

HullForces at_point(const HullForcesOf<PartLanes>& lanes) noexcept {
  return {.trim_deg = lanes.trim_deg.point(),
          .planing_weight = lanes.planing_weight.point(),
          .bottom_lift_N = lanes.bottom_lift_N.point(),
          .wetted_keel_m = lanes.wetted_keel_m.point(),
          .wetted_chine_m = lanes.wetted_chine_m.point(),
          .wetted_length_beams = lanes.wetted_length_beams.point(),
          .mean_bottom_speed_m_s = lanes.mean_bottom_speed_m_s.point(),
          .pressure_drag_N = lanes.pressure_drag_N.point(),
          .friction_drag_N = lanes.friction_drag_N.point(),
          .spray_drag_N = lanes.spray_drag_N.point(),
          .plate_drag_N = lanes.plate_drag_N.point(),
          .appendage_drag_N = lanes.appendage_drag_N.point(),
          .air_drag_N = lanes.air_drag_N.point(),
          .drag_N = lanes.drag_N.point(),
          .plate_lift_N = lanes.plate_lift_N.point(),
          .bow_up_moment_Nm = lanes.bow_up_moment_Nm.point(),
          .flags = lanes.flags};
}

}  // namespace

double planing_moment_Nm(const PreparedHull& hull, double speed, double trim_deg) noexcept {
  const TrimTerms trim = trim_terms(hull.bottom, trim_deg);
  const PlateForces<double> plate =
      plate_forces(hull, 0.5 * hull.bottom.density_kg_m3 * speed * speed, trim_deg);
  return planing_part(hull, speed, trim, held_load(hull, hull.weight_N - plate.lift_N), plate.lift_N,
                      hull.air_drag_per_speed2_kg_m * speed * speed,
                      hull.appendage_drag_per_speed2_kg_m * speed * speed)
      .bow_up_moment_Nm;
}

HullForces hull_forces(const PreparedHull& hull, double speed_m_s, double trim_rad,
                       double other_lift_N) noexcept {
  return forces_at(hull, speed_m_s, trim_rad, other_lift_N);
}

BOWRISE_FLATTENED SlopedHullForces sloped_hull_forces(const PreparedHull& hull, double speed_m_s,
                                                      double trim_rad, double other_lift_N) noexcept {
  enum Lane : int { speed_lane = 1, trim_lane, lift_lane };
  const PartLanes speed =
      PartLanes::beside(speed_m_s, speed_lane, relative_lane_step * std::max(abs(speed_m_s), 1.0));
  const PartLanes trim =
      PartLanes::beside(trim_rad, trim_lane, relative_lane_step * std::max(abs(trim_rad), 0.02));
  const PartLanes lift = PartLanes::beside(other_lift_N, lift_lane, relative_lane_step * hull.weight_N);
  const HullForcesOf<PartLanes> beside = forces_at(hull, speed, trim, lift);
  const auto slope = [&beside](Lane lane, const PartLanes& moved) -> HullAnswer<double> {
    return {slope_in(lane, beside.drag_N, moved), slope_in(lane, beside.bow_up_moment_Nm, moved),
            slope_in(lane, beside.planing_weight, moved), slope_in(lane, beside.trim_deg, moved)};
  };
  return {at_point(beside), slope(speed_lane, speed), slope(trim_lane, trim), slope(lift_lane, lift)};
}

template <class Number>
Number trim_rate(const PreparedHull& hull, Number trim_rad, const HullAnswer<Number>& hull_answer,
                 Number total_bow_up_moment_Nm) noexcept {
  constexpr double restoring_gain =
      5.0;  // five times as quick as the trim itself, so a run stays near the range
  // The hull's own moment holds the low-speed law already; the jet's counts as far as the craft planes.
  const Number other_moment = total_bow_up_moment_Nm - hull_answer.bow_up_moment_Nm;
  const Number moment = hull_answer.bow_up_moment_Nm + hull_answer.planing_weight * other_moment;
  const Number excess_rad = trim_rad - hull_answer.trim_deg * radians_per_degree;
  return moment * hull.trim_rate_per_moment_1_Nms -
         restoring_gain * hull_answer.planing_weight * excess_rad * hull.inverse_trim_time_1_s;
}

template double trim_rate(const PreparedHull&, double, const HullAnswer<double>&, double) noexcept;
template StateLanes trim_rate(const PreparedHull&, StateLanes, const HullAnswer<StateLanes>&,
                              StateLanes) noexcept;

}  // namespace bowrise
