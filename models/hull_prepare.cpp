// What is worked out once for a hull, and its trims of equilibrium.
#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>

#include "models/constants.hpp"
#include "models/hull.hpp"
#include "models/hydrostatics.hpp"
#include "models/same_inputs.hpp"

namespace bowrise {
namespace {

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
  const auto moment = [&](double trim_deg) { return planing_moment_Nm(hull, speed, trim_deg); };
  const auto trim = stable_trim_deg(moment, lowest_planing_trim_deg, highest_planing_trim_deg);
  return trim                                    ? *trim
         : moment(lowest_planing_trim_deg) > 0.0 ? highest_planing_trim_deg
                                                 : lowest_planing_trim_deg;
}

void prepare_trim_law(PreparedHull& hull, double length_m) {
  const double join = join_speed / hull.volume_froude_per_speed_s_m, planing = 2.5 * join;  // Fn_vol 3
  hull.low_speed_trim_growth_rad = planing_trim_deg(hull, join) * radians_per_degree - hull.static_trim_rad;
  const double trim = planing_trim_deg(hull, planing), step = 0.125;
  const double slope =
      (planing_moment_Nm(hull, planing, trim + step) - planing_moment_Nm(hull, planing, trim - step)) /
      (2.0 * step * radians_per_degree);
  // Where the planing law is not stable a plain value stands: about that of a floating block of this length.
  hull.pitch_stiffness_Nm_rad = std::max(-slope, 0.5 * hull.weight_N * length_m);
  hull.trim_rate_per_moment_1_Nms = hull.inverse_trim_time_1_s / hull.pitch_stiffness_Nm_rad;
}

SlopeTable<1> turbulent_spray_table() {
  static const SlopeTable<1> same_for_every_hull(
      std::sqrt(std::sqrt(all_turbulent_spray)), 320.0, 280, [](double fourth_root) -> SlopeTable<1>::Row {
        const double reynolds = fourth_root * fourth_root * fourth_root * fourth_root;
        const double power = 0.074 / std::pow(reynolds, 0.2);
        return {ValueAndSlope{power - 4800.0 / reynolds, (19200.0 / reynolds - 0.8 * power) / fourth_root}};
      });
  return same_for_every_hull;
}

// On the full beam, with four times the weight at the lowest speed of the planing law.
double largest_lift_coefficient(double beam_m, double volume_m3) noexcept {
  const double length = std::cbrt(volume_m3);
  return 8.0 * length * length / (beam_m * beam_m * planing_from * planing_from);
}

// The flap formula overshoots at speed (over half the weight at 2 deg and 30 m/s), so its lift is held to 0.3
// of the weight by x/(1 + x^8)^(1/8): a smooth minimum that is odd and exact at rest. It takes 2 % at x =
// 0.8.
SlopeTable<1> held_plate_table() {
  static const SlopeTable<1> same_for_every_hull(0.0, 8.0, 200, [](double share) -> SlopeTable<1>::Row {
    const double root = std::pow(1.0 + std::pow(share, 8.0), 0.125);
    return {ValueAndSlope{share / root, std::pow(root, -9.0)}};
  });
  return same_for_every_hull;
}

double waterline_length(const Hull& hull) noexcept {
  return std::isfinite(hull.waterline_length_m) ? hull.waterline_length_m : 0.91 * hull.length_m;
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

bool same(const HullBasis& a, const HullBasis& b) {
  const auto& [hull, plate, loading] = a;  // a member more does not compile
  return same_inputs(hull, b.hull, hull_parameters, hull_choices) &&
         same_inputs(plate, b.plate, plate_parameters) && same_bits(loading, b.loading);
}

PreparedHull prepare_hull(const HullBasis& basis) {
  const auto& [hull, plate, loading] = basis;
  const WaterState& water = loading.water;
  const double weight = loading.mass_kg * gravity_m_s2, volume = loading.mass_kg / water.density_kg_m3;
  const DisplacementForm form{.waterline_length_m = waterline_length(hull),
                              .beam_m = hull.beam_m,
                              .volume_m3 = volume,
                              .entrance_half_angle_deg = hull.entrance_angle_rad / radians_per_degree,
                              .transom_ratio = hull.transom_ratio,
                              .beam_draught_ratio = hull.beam_draught_ratio};
  PreparedHull prepared{};
  prepared.basis = basis;
  prepared.bottom =
      prepare_planing_bottom(hull.beam_m, hull.length_m, hull.deadrise_rad, hull.roughness_allowance,
                             hull.friction_line, water.density_kg_m3, water.kinematic_viscosity_m2_s,
                             largest_lift_coefficient(hull.beam_m, volume), hull.wetted_lengths);
  prepared.displacement =
      prepare_displacement(form, weight, water.density_kg_m3, water.kinematic_viscosity_m2_s,
                           hull.roughness_allowance, prepared.bottom.friction);
  prepared.mass_kg = loading.mass_kg;
  prepared.weight_N = weight;
  prepared.volume_froude_per_speed_s_m = prepared.displacement.volume_froude_per_speed_s_m;
  prepared.load_centre_m = loading.load_centre_m;
  prepared.centre_height_m = hull.centre_height_m;
  prepared.waterline_length_m = form.waterline_length_m;
  prepared.porpoising_limit = porpoising_limit(hull.deadrise_rad / radians_per_degree);
  prepared.hump_factor = hull.hump_factor;
  prepared.drag_factor = hull.drag_factor;
  prepared.inverse_viscosity_s_m2 = 1.0 / water.kinematic_viscosity_m2_s;
  prepared.spray_drag_factor_kg_m3 = 0.5 * hull.spray_factor * water.density_kg_m3;
  prepared.air_drag_per_speed2_kg_m = 0.5 * loading.air_density_kg_m3 * hull.air_drag_area_m2;
  prepared.air_centre_height_m = hull.air_centre_height_m;
  prepared.appendage_drag_per_speed2_kg_m = 0.5 * water.density_kg_m3 * hull.appendage_drag_area_m2;

  prepared.plate_angle_deg = plate.angle_rad / radians_per_degree;
  const FlapForces flap =
      flap_forces(plate.length_m, plate.span_m, hull.beam_m, prepared.plate_angle_deg, 0.0, 1.0);
  prepared.plate_lift_per_pressure_m2 = flap.lift_N;
  prepared.plate_lift_centre_m = flap.lift_centre_m;
  prepared.plate_lift_limit_N = 0.3 * weight;

  prepared.plate_share_per_pressure_1_Pa = flap.lift_N / prepared.plate_lift_limit_N;
  prepared.plate_flags.raise(
      Flag::plate_outside_range,
      flap.lift_N != 0.0 && (prepared.plate_angle_deg < 0.0 || prepared.plate_angle_deg > 15.0));
  prepared.held_plate_share = held_plate_table();

  prepared.inverse_trim_time_1_s = 1.0 / hull.trim_time_s;
  prepared.static_trim_rad = hull.static_trim_rad;
  prepared.added_mass_fraction = hull.added_mass_fraction;
  prepared.thrust_deduction = hull.thrust_deduction;
  prepared.thrust_line_angle_rad = hull.thrust_line_angle_rad;
  prepared.thrust_line_depth_m = hull.thrust_line_depth_m;
  prepared.turbulent_spray_friction = turbulent_spray_table();
  prepare_trim_law(prepared, hull.length_m);
  return prepared;
}

double resting_centre_height_m(const Hull& hull, const PreparedHull& prepared) {
  const PrismaticHull prism{hull.beam_m, hull.length_m, hull.deadrise_rad};
  const double volume = prepared.weight_N / (gravity_m_s2 * prepared.bottom.density_kg_m3);
  const double forward = prepared.load_centre_m, above_keel = prepared.centre_height_m;
  if (hull.thrust_line == ThrustLine::single)
    if (const auto free = free_flotation(prism, volume, forward, above_keel))
      return height_above_water_m(free->draught_m, free->trim_rad, forward, above_keel);
  const double trim = hull.static_trim_rad;
  return height_above_water_m(floating_draught_m(prism, volume, trim), trim, forward, above_keel);
}

double centre_rise_m(const PreparedHull& hull, double resting_height_m, double trim_rad,
                     const HullForces& forces) noexcept {
  const double weight = forces.planing_weight;
  if (weight == 0.0) return 0.0;
  // of the planing law alone
  const double keel = (forces.wetted_keel_m - (1.0 - weight) * hull.waterline_length_m) / weight;
  const double running =
      height_above_water_m(keel * std::sin(trim_rad), trim_rad, hull.load_centre_m, hull.centre_height_m);
  return weight * (running - resting_height_m);
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
  const double low = std::min(lowest_planing_trim_deg, hull.static_trim_rad / radians_per_degree);
  const auto trim = stable_trim_deg(at_deg, low, highest_planing_trim_deg);
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
