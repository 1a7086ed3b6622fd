#include "models/hull.hpp"

#include <algorithm>
#include <array>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>

#include "models/constants.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

constexpr double lowest_trim_deg = 0.5, highest_trim_deg = 15.0, trim_rounding_deg = 0.25;
constexpr double planing_from = 0.8, planing_full = 1.3;  // Fn_vol over which the laws hand over
constexpr double join_speed = 1.2;         // Fn_vol at which the low-speed trim meets the planing law
constexpr double least_load_share = 0.02;  // of the weight, left on the bottom whatever the jet does

double held_trim_deg(double trim_deg) noexcept {
  return rounded_max(rounded_min(trim_deg, highest_trim_deg, trim_rounding_deg), lowest_trim_deg,
                     trim_rounding_deg);
}

double low_speed_trim_rad(const PreparedHull& hull, double volume_froude) noexcept {
  const double share = std::max(volume_froude, 0.0) / join_speed;
  return hull.static_trim_rad + hull.low_speed_trim_growth_rad * share * share;
}

struct PlateForces {
  double lift_N, drag_N;
  bool limited;
};

// The flap formula overshoots at speed (over half the weight at 2 deg and 30 m/s), so its lift is held to 0.3
// of the weight by x/(1 + x^8)^(1/8): a smooth minimum that is odd and exact at rest. It takes 2 % at x =
// 0.8.
PlateForces plate_forces(const PreparedHull& hull, double forward_pressure, double trim_deg) noexcept {
  const double lift = hull.plate_lift_per_pressure_m2 * forward_pressure;
  const double share = lift / hull.plate_lift_limit_N, square = share * share, fourth = square * square;
  const double held = lift / std::sqrt(std::sqrt(std::sqrt(1.0 + fourth * fourth)));
  return {held, 0.0052 * held * (trim_deg + hull.plate_angle_deg), std::abs(share) > 0.8};
}

double spray_drag(const PreparedHull& hull, double speed, const TrimTerms& trim,
                  double wetted_beam) noexcept {
  const double added_length = smooth_positive(hull.spray_added_length(trim.deg) / trim.deg, 0.02);
  const double spray_length = hull.spray_length(trim.deg) / trim.deg * wetted_beam;
  const double reynolds = speed * spray_length / hull.bottom.kinematic_viscosity_m2_s;
  return hull.spray_factor * 0.5 * hull.bottom.density_kg_m3 * speed * speed * wetted_beam * wetted_beam *
         added_length * spray_friction(reynolds);
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
  const double normal_force = state.bottom_lift_N / trim.cosine;
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

// Pitch moment of the pure planing law without a jet, for the constants of the trim equation.
double planing_moment(const PreparedHull& hull, double speed, double trim_deg) noexcept {
  const TrimTerms trim = trim_terms(trim_deg);
  const PlateForces plate = plate_forces(hull, 0.5 * hull.bottom.density_kg_m3 * speed * speed, trim_deg);
  return planing_part(hull, speed, trim, held_load(hull, hull.weight_N - plate.lift_N), plate.lift_N,
                      hull.air_drag_per_speed2_kg_m * speed * speed,
                      hull.appendage_drag_per_speed2_kg_m * speed * speed)
      .bow_up_moment_Nm;
}

constexpr double scan_step_deg = 0.25;

// Lowest trim [deg] in the range where the moment falls through zero.
template <class Moment>
std::optional<double> stable_trim_deg(Moment&& moment, double low, double high) {
  double before = moment(low);
  for (double trim = low; trim < high;) {
    const double next = std::min(trim + scan_step_deg, high);
    const double after = moment(next);
    if (before > 0.0 && after <= 0.0) {
      std::uintmax_t evaluations = 60;
      const auto bracket = boost::math::tools::toms748_solve(
          moment, trim, next, before, after, boost::math::tools::eps_tolerance<double>(45), evaluations);
      return 0.5 * (bracket.first + bracket.second);
    }
    trim = next;
    before = after;
  }
  return std::nullopt;
}

// Trim of equilibrium of the planing law without a jet; if none, the end of the range to which its moment
// drives.
double planing_trim_deg(const PreparedHull& hull, double speed) {
  const auto moment = [&](double trim_deg) { return planing_moment(hull, speed, trim_deg); };
  const auto trim = stable_trim_deg(moment, lowest_trim_deg, highest_trim_deg);
  return trim ? *trim : moment(lowest_trim_deg) > 0.0 ? highest_trim_deg : lowest_trim_deg;
}

void prepare_trim_law(PreparedHull& hull, double length_m) {
  const double join = join_speed / hull.volume_froude_per_speed_s_m, planing = 2.5 * join;  // Fn_vol 3
  hull.low_speed_trim_growth_rad = planing_trim_deg(hull, join) * radians_per_degree - hull.static_trim_rad;
  const double trim = planing_trim_deg(hull, planing), step = 0.125;
  const double slope =
      (planing_moment(hull, planing, trim + step) - planing_moment(hull, planing, trim - step)) /
      (2.0 * step * radians_per_degree);
  // Where the planing law is not stable a plain value stands: about that of a floating block of this length.
  hull.pitch_stiffness_Nm_rad = std::max(-slope, 0.5 * hull.weight_N * length_m);
}

void prepare_spray(PreparedHull& hull, double deadrise_rad) {
  constexpr std::size_t points = 146;  // every 0.1 deg: within 1e-4 of the formula (tested)
  std::array<double, points> added{}, length{};
  for (std::size_t i = 0; i < points; ++i) {
    const double trim_deg = lowest_trim_deg + 0.1 * static_cast<double>(i);
    const WhiskerSpray spray = whisker_spray(trim_deg * radians_per_degree, deadrise_rad);
    added[i] = spray.added_length_beams * trim_deg;
    length[i] = spray.spray_length_beams * trim_deg;
  }
  hull.spray_added_length = UniformCurve(lowest_trim_deg, highest_trim_deg, added);
  hull.spray_length = UniformCurve(lowest_trim_deg, highest_trim_deg, length);
}

double waterline_length(const Hull& hull) noexcept {
  return std::isfinite(hull.waterline_length_m) ? hull.waterline_length_m : 0.91 * hull.length_m;
}

void raise_planing_flags(HullForces& forces, const PreparedHull& hull, const PlaningPart& part, double speed,
                         double trim_deg) noexcept {
  FlagSet& flags = forces.flags;
  flags.raise(Flag::trim_held, trim_deg < lowest_trim_deg || trim_deg > highest_trim_deg);
  flags.raise(Flag::speed_coefficient_below_range, speed * speed < gravity_m_s2 * hull.bottom.beam_m);
  if (forces.planing_weight <= 0.5) return;
  const PlaningState& state = part.state;
  flags.raise(Flag::trim_below_range, trim_deg < 2.0);
  flags.raise(Flag::trim_above_range, trim_deg > 15.0);
  flags.raise(Flag::chines_dry, state.chines_dry);
  flags.raise(Flag::keel_longer_than_hull, state.keel_demand_m > hull.bottom.keel_length_m);
  flags.raise(Flag::wetted_length_above_range, state.wetted_length_beams > 4.0);
  const double root_half_lift = std::sqrt(0.5 * state.lift_coefficient);
  flags.raise(Flag::porpoising, root_half_lift >= 0.13 && root_half_lift <= 0.30 &&
                                    trim_deg > porpoising_limit_deg(root_half_lift, hull.deadrise_deg));
}

}  // namespace

Problems check(const Hull& hull, const Plate& plate) {
  Problems problems;
  if (plate.span_m > hull.beam_m)
    problems.push_back({"plate.span", "wider than the hull's beam", "at most hull.beam"});
  if (plate.length_m > 0.5 * hull.length_m)
    problems.push_back({"plate.length", "longer than half of the hull", "at most half of hull.length"});
  if (hull.load_centre_m >= hull.length_m)
    problems.push_back({"hull.load_centre", "ahead of the keel's forward end", "less than hull.length"});
  const double shifted = hull.load_centre_m + hull.load_centre_shift_m;
  if (shifted <= 0.0 || (shifted >= hull.length_m && hull.load_centre_m < hull.length_m))
    problems.push_back({"hull.load_centre_shift", "moves the load centre off the hull",
                        "load_centre + load_centre_shift between 0 and hull.length"});
  if (hull.beam_m >= hull.length_m)
    problems.push_back({"hull.beam", "not less than the hull's length", "less than hull.length"});
  if (hull.waterline_length_m > 1.2 * hull.length_m)
    problems.push_back({"hull.waterline_length", "much longer than the keel", "at most 1.2 of hull.length"});
  return problems;
}

PreparedHull prepare_hull(const Hull& hull, const Plate& plate, const HullLoading& loading) {
  const WaterState& water = loading.water;
  const double weight = loading.mass_kg * gravity_m_s2, volume = loading.mass_kg / water.density_kg_m3;
  const DisplacementForm form{.waterline_length_m = waterline_length(hull),
                              .beam_m = hull.beam_m,
                              .volume_m3 = volume,
                              .entrance_half_angle_deg = hull.entrance_angle_rad / radians_per_degree,
                              .transom_ratio = hull.transom_ratio,
                              .beam_draught_ratio = hull.beam_draught_ratio};
  PreparedHull prepared{};
  prepared.bottom =
      prepare_planing_bottom(hull.beam_m, hull.length_m, hull.deadrise_rad, hull.roughness_allowance,
                             hull.friction_line, water.density_kg_m3, water.kinematic_viscosity_m2_s);
  prepared.displacement =
      prepare_displacement(form, weight, water.density_kg_m3, water.kinematic_viscosity_m2_s,
                           hull.roughness_allowance, hull.friction_line);
  prepared.mass_kg = loading.mass_kg;
  prepared.weight_N = weight;
  prepared.volume_froude_per_speed_s_m = prepared.displacement.volume_froude_per_speed_s_m;
  prepared.load_centre_m = loading.load_centre_m;
  prepared.centre_height_m = hull.centre_height_m;
  prepared.waterline_length_m = form.waterline_length_m;
  prepared.deadrise_deg = hull.deadrise_rad / radians_per_degree;
  prepared.hump_factor = hull.hump_factor;
  prepared.spray_factor = hull.spray_factor;
  prepared.air_drag_per_speed2_kg_m = 0.5 * loading.air_density_kg_m3 * hull.air_drag_area_m2;
  prepared.air_centre_height_m = hull.air_centre_height_m;
  prepared.appendage_drag_per_speed2_kg_m = 0.5 * water.density_kg_m3 * hull.appendage_drag_area_m2;

  prepared.plate_angle_deg = plate.angle_rad / radians_per_degree;
  const FlapForces flap =
      flap_forces(plate.length_m, plate.span_m, hull.beam_m, prepared.plate_angle_deg, 0.0, 1.0);
  prepared.plate_lift_per_pressure_m2 = flap.lift_N;
  prepared.plate_lift_centre_m = flap.lift_centre_m;
  prepared.plate_lift_limit_N = 0.3 * weight;

  prepared.trim_time_s = hull.trim_time_s;
  prepared.static_trim_rad = hull.static_trim_rad;
  prepared.added_mass_fraction = hull.added_mass_fraction;
  prepared.thrust_deduction = hull.thrust_deduction;
  prepared.thrust_line_angle_rad = hull.thrust_line_angle_rad;
  prepared.thrust_line_depth_m = hull.thrust_line_depth_m;
  prepare_spray(prepared, hull.deadrise_rad);
  prepare_trim_law(prepared, hull.length_m);
  return prepared;
}

HullForces hull_forces(const PreparedHull& hull, double speed_m_s, double trim_rad,
                       double other_lift_N) noexcept {
  HullForces forces{};
  const double froude = volume_froude(hull, speed_m_s), signed_square = speed_m_s * std::abs(speed_m_s);
  const double trim_deg = trim_rad / radians_per_degree;
  const double weight = smoothstep(planing_from, planing_full, froude), rest = 1.0 - weight;
  forces.trim_deg = held_trim_deg(trim_deg);
  forces.planing_weight = weight;

  // The plate lifts only in forward motion; drags follow the direction of motion.
  const PlateForces plate =
      plate_forces(hull, 0.5 * hull.bottom.density_kg_m3 * std::max(signed_square, 0.0), forces.trim_deg);
  forces.plate_lift_N = plate.lift_N;
  forces.plate_drag_N = plate.drag_N;
  forces.appendage_drag_N = hull.appendage_drag_per_speed2_kg_m * signed_square;
  forces.air_drag_N = hull.air_drag_per_speed2_kg_m * signed_square;
  forces.flags.raise(Flag::plate_lift_limited, plate.limited);
  forces.flags.raise(
      Flag::plate_outside_range,
      hull.plate_lift_per_pressure_m2 != 0.0 && (hull.plate_angle_deg < 0.0 || hull.plate_angle_deg > 15.0));

  const double wanted_load = hull.weight_N - plate.lift_N - other_lift_N, load = held_load(hull, wanted_load);
  forces.flags.raise(Flag::no_bottom_load, wanted_load < least_load_share * hull.weight_N);
  forces.bottom_lift_N = rest * load;

  if (rest > 0.0) {
    const DisplacementDrag drag = displacement_drag(hull.displacement, speed_m_s);
    forces.pressure_drag_N = rest * drag.residuary_N;
    forces.friction_drag_N = rest * drag.friction_N;
    forces.wetted_keel_m = forces.wetted_chine_m = rest * hull.waterline_length_m;
    forces.wetted_length_beams = rest * hull.waterline_length_m / hull.bottom.beam_m;
    forces.mean_bottom_speed_m_s = rest * speed_m_s;
    forces.bow_up_moment_Nm =
        rest * hull.pitch_stiffness_Nm_rad * (low_speed_trim_rad(hull, froude) - trim_rad);
  }
  if (weight > 0.0) {
    const TrimTerms trim = trim_terms(forces.trim_deg);
    const PlaningPart part =
        planing_part(hull, speed_m_s, trim, load, plate.lift_N, forces.air_drag_N, forces.appendage_drag_N);
    const PlaningState& state = part.state;
    forces.bottom_lift_N += weight * state.bottom_lift_N;
    forces.pressure_drag_N += weight * state.bottom_lift_N * trim.tangent;
    forces.friction_drag_N += weight * state.friction_N * trim.cosine;
    forces.spray_drag_N = weight * part.spray_N * trim.cosine;
    forces.wetted_keel_m += weight * state.wetted_keel_m;
    forces.wetted_chine_m += weight * state.wetted_chine_m;
    forces.wetted_length_beams += weight * state.wetted_length_beams;
    forces.mean_bottom_speed_m_s += weight * state.mean_bottom_speed_m_s;
    forces.bow_up_moment_Nm += weight * part.bow_up_moment_Nm;
    raise_planing_flags(forces, hull, part, speed_m_s, trim_deg);
  }

  const double hump = 1.0 + (hull.hump_factor - 1.0) * weight * (1.0 - smoothstep(4.0, 6.0, froude));
  forces.pressure_drag_N *= hump;
  forces.friction_drag_N *= hump;
  forces.drag_N = forces.pressure_drag_N + forces.friction_drag_N + forces.spray_drag_N +
                  forces.plate_drag_N + forces.appendage_drag_N + forces.air_drag_N;
  return forces;
}

double trim_rate(const PreparedHull& hull, double /*speed_m_s*/, double trim_rad, const HullForces& forces,
                 double total_bow_up_moment_Nm) noexcept {
  constexpr double restoring_gain =
      5.0;  // five times as quick as the trim itself, so a run stays near the range
  // The hull's own moment holds the low-speed law already; the jet's counts as far as the craft planes.
  const double other_moment = total_bow_up_moment_Nm - forces.bow_up_moment_Nm;
  const double moment = forces.bow_up_moment_Nm + forces.planing_weight * other_moment;
  const double excess_rad = trim_rad - forces.trim_deg * radians_per_degree;
  return (moment / hull.pitch_stiffness_Nm_rad - restoring_gain * forces.planing_weight * excess_rad) /
         hull.trim_time_s;
}

double holding_thrust_N(const PreparedHull& hull, double speed_m_s, double trim_rad) noexcept {
  const double angle = trim_rad + hull.thrust_line_angle_rad;
  double thrust = 0.0;
  for (int pass = 0; pass < 12; ++pass)  // each pass leaves a few per cent of the last error
    thrust = hull_forces(hull, speed_m_s, trim_rad, thrust * std::sin(angle)).drag_N / std::cos(angle);
  return thrust;
}

namespace {

// Moment at a trim with a force along the single thrust line; the line's moment counts as in trim_rate.
double moment_with_thrust(const PreparedHull& hull, double speed, double trim_rad, double thrust) noexcept {
  const HullForces forces =
      hull_forces(hull, speed, trim_rad, thrust * std::sin(trim_rad + hull.thrust_line_angle_rad));
  return forces.bow_up_moment_Nm + forces.planing_weight * thrust * hull.thrust_line_depth_m;
}

template <class Moment>
std::optional<double> steady_trim_rad(const PreparedHull& hull, double speed, Moment&& moment) {
  const double froude = volume_froude(hull, speed);
  if (froude <= planing_from) return low_speed_trim_rad(hull, froude);
  const auto at_deg = [&](double trim_deg) { return moment(trim_deg * radians_per_degree); };
  const double low = std::min(lowest_trim_deg, hull.static_trim_rad / radians_per_degree);
  const auto trim = stable_trim_deg(at_deg, low, highest_trim_deg);
  return trim ? std::optional(*trim * radians_per_degree) : std::nullopt;
}

}  // namespace

std::optional<double> equilibrium_trim(const PreparedHull& hull, double speed_m_s, double thrust_N) {
  return steady_trim_rad(hull, speed_m_s, [&](double trim_rad) {
    return moment_with_thrust(hull, speed_m_s, trim_rad, thrust_N);
  });
}

std::optional<SteadyHull> steady_hull(const PreparedHull& hull, double speed_m_s) {
  const auto trim = steady_trim_rad(hull, speed_m_s, [&](double trim_rad) {
    return moment_with_thrust(hull, speed_m_s, trim_rad, holding_thrust_N(hull, speed_m_s, trim_rad));
  });
  if (!trim) return std::nullopt;
  const double thrust = holding_thrust_N(hull, speed_m_s, *trim);
  return SteadyHull{
      *trim, thrust,
      hull_forces(hull, speed_m_s, *trim, thrust * std::sin(*trim + hull.thrust_line_angle_rad))};
}

}  // namespace bowrise
