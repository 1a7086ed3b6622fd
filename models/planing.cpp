#include "models/planing.hpp"

#include <algorithm>
#include <array>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>

#include "models/constants.hpp"
#include "models/lanes.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

double log10_reynolds(double reynolds) noexcept {
  constexpr double lowest = 1e4, width = 1e3;
  return std::log(smooth_max(reynolds, lowest, width)) * (1.0 / 2.302585092994045684);
}

double fifth_power(double w) noexcept { return w * w * w * w * w; }

// Eq. (16) in w = C_L0^(1/5) is the polynomial w^5 - loss w^3 = C_Lb, convex above its root, so Newton's
// steps need no safeguard from a start near or above it.
double refine_flat_root(double w, double lift, double loss, int steps) noexcept {
  for (int step = 0; step < steps; ++step) {
    const double square = w * w, cube = square * w;
    w -= (cube * (square - loss) - lift) / (square * (5.0 * square - 3.0 * loss));
  }
  return w;
}

// The start has the limits for vanishing and for large lift and is within 4 % between; three steps leave
// 3e-9.
double flat_root(double lift_coefficient, double loss) noexcept {
  const double lift = std::max(lift_coefficient, 1e-12);
  const double p = std::pow(lift, 0.4);
  const double start =
      p + 0.4 * loss + 0.6 * loss * loss * loss / (loss * loss + (5.0 / 3.0) * loss * p + 0.8 * p * p);
  return refine_flat_root(std::sqrt(start), lift, loss, 3);
}

// Eq. (15) in z = sqrt(lam)/scale, scale^4 = 0.0120 Cv^2/0.0055, is z + z^5 = m; convex, so Newton again.
double refine_length_root(double z, double m, int steps) noexcept {
  for (int step = 0; step < steps; ++step) {
    const double fourth = z * z * z * z;
    z -= (z + z * fourth - m) / (1.0 + 5.0 * fourth);
  }
  return z;
}

}  // namespace

double ittc57_friction(double reynolds) noexcept {
  const double decades = log10_reynolds(reynolds) - 2.0;
  return 0.075 / (decades * decades);
}

double schoenherr_friction(double reynolds) noexcept {
  // In y = 1/sqrt(Cf): 0.242 y + 2 log10 y = log10 Re. The straight start is within 3 %.
  constexpr double log10_e = 0.43429448190325182765;
  const double decades = log10_reynolds(reynolds);
  double y = 3.46 * decades - 5.6;
  for (int step = 0; step < 3; ++step)
    y -= (0.242 * y + 2.0 * log10_e * std::log(y) - decades) / (0.242 + 2.0 * log10_e / y);
  return 1.0 / (y * y);
}

double friction_coefficient(FrictionLine line, double reynolds) noexcept {
  return line == FrictionLine::ittc57 ? ittc57_friction(reynolds) : schoenherr_friction(reynolds);
}

double flat_lift_coefficient(double trim_deg, double lam, double speed_coefficient) noexcept {
  const double root = std::sqrt(lam);
  return std::pow(trim_deg, 1.1) * (dynamic_lift_factor * root + static_lift_factor * lam * lam * root /
                                                                     (speed_coefficient * speed_coefficient));
}

double deadrise_lift_coefficient(double flat_lift, double deadrise_deg) noexcept {
  return flat_lift - deadrise_loss_per_deg * deadrise_deg * std::pow(flat_lift, 0.6);
}

double flat_lift_for(double lift_coefficient, double deadrise_deg) noexcept {
  return fifth_power(flat_root(lift_coefficient, deadrise_loss_per_deg * deadrise_deg));
}

double dimensionless_length_root(double m) noexcept {
  // The start has both limits (m - m^5 and m^(1/5)) and is within 4 % between; three steps leave 3e-10.
  const double square = m * m;
  const double start = m * std::pow(1.0 + square * square * (5.0 + square) / (1.0 + square), -0.2);
  return refine_length_root(start, m, 3);
}

double wetted_length_for(double flat_lift, double trim_deg, double speed_coefficient) noexcept {
  const double scale_squared = wetted_length_scale(speed_coefficient);
  const double root = dimensionless_length_root(
      flat_lift / (std::pow(trim_deg, 1.1) * dynamic_lift_factor * std::sqrt(scale_squared)));
  return root * root * scale_squared;
}

double centre_of_pressure_ratio(double lam, double speed_coefficient) noexcept {
  const double square = lam * lam;  // written so that a vanishing lam is harmless
  return 0.75 - square / (5.21 * speed_coefficient * speed_coefficient + 2.39 * square);
}

double mean_bottom_speed_ratio(double lam, double trim_deg, double deadrise_deg) noexcept {
  const double dynamic_flat = dynamic_lift_factor * std::sqrt(lam) * std::pow(trim_deg, 1.1);
  const double lift = deadrise_lift_coefficient(dynamic_flat, deadrise_deg);
  return std::sqrt(bottom_speed_ratio_squared(lift / (lam * std::cos(trim_deg * radians_per_degree))));
}

template <class Number>
WettedLengthsOf<Number> wetted_lengths_1964(Number lam, Number trim_rad, double deadrise_rad) noexcept {
  using std::tan;
  const Number half_difference = std::tan(deadrise_rad) / (2.0 * pi * tan(trim_rad));
  return {lam + half_difference, lam - half_difference};
}

template <class Number>
WettedLengthsOf<Number> wetted_lengths_1976(Number lam, Number trim_rad, double deadrise_rad) noexcept {
  using std::tan;
  const WettedLengthsOf<Number> former = wetted_lengths_1964(lam, trim_rad, deadrise_rad);
  const double deadrise_deg = deadrise_rad / radians_per_degree;
  const Number difference = (0.57 + deadrise_deg / 1000.0) *
                            (std::tan(deadrise_rad) / (2.0 * tan(trim_rad)) - deadrise_deg / 167.0);
  const Number mean = lam - 0.03, weight = smoothstep(0.5, 1.0, lam);
  return {former.keel_beams + weight * (mean + 0.5 * difference - former.keel_beams),
          former.chine_beams + weight * (mean - 0.5 * difference - former.chine_beams)};
}

WhiskerSpray whisker_spray(double trim_rad, double deadrise_rad) noexcept {
  // alpha: stagnation line to keel in plan, tan alpha = rise/run; sin(2 alpha) = 2 rise run/(rise^2 + run^2).
  const double tan_trim = std::tan(trim_rad), cos_deadrise = std::cos(deadrise_rad);
  const double rise = pi * tan_trim, run = 2.0 * std::tan(std::max(deadrise_rad, 1e-3));
  const double direction = 2.0 * std::atan(rise / run) / cos_deadrise;
  const double squares = rise * rise + run * run, length = squares / (8.0 * rise * run * cos_deadrise);
  const double along = std::cos(direction);
  const double rise_slope = pi * (1.0 + tan_trim * tan_trim);
  const double direction_slope = 2.0 * run * rise_slope / (squares * cos_deadrise);
  const double length_slope =
      (rise * rise - run * run) * rise_slope / (8.0 * rise * rise * run * cos_deadrise);
  return {.added_length_beams = along * length,
          .spray_length_beams = length,
          .added_length_per_rad = along * length_slope - std::sin(direction) * direction_slope * length,
          .spray_length_per_rad = length_slope};
}

template <class Number>
Number turbulent_spray_friction(Number reynolds) noexcept {
  using std::pow, std::sqrt;
  const Number weight = smoothstep(laminar_spray_limit, 1.6e6, reynolds);
  const Number laminar = 1.328 / sqrt(reynolds);
  return laminar + weight * (0.074 / pow(reynolds, 0.2) - 4800.0 / reynolds - laminar);
}

FlapForces flap_forces(double chord_m, double span_m, double beam_m, double angle_deg, double trim_deg,
                       double dynamic_pressure_Pa) noexcept {
  const double lift = 0.046 * chord_m * angle_deg * span_m * dynamic_pressure_Pa;
  return {lift, 0.0052 * lift * (trim_deg + angle_deg), 0.6 * beam_m + chord_m * (1.0 - span_m / beam_m)};
}

template WettedLengths wetted_lengths_1964(double, double, double) noexcept;
template WettedLengthsOf<PartLanes> wetted_lengths_1964(PartLanes, PartLanes, double) noexcept;
template WettedLengths wetted_lengths_1976(double, double, double) noexcept;
template WettedLengthsOf<PartLanes> wetted_lengths_1976(PartLanes, PartLanes, double) noexcept;
template double turbulent_spray_friction(double) noexcept;
template PartLanes turbulent_spray_friction(PartLanes) noexcept;

PorpoisingLimit porpoising_limit(double deadrise_deg) noexcept {
  constexpr std::array<std::array<double, 3>, 4> fits{{{1.3415, 3.5786, 3.0195},  // at 0, 10 and 20 deg
                                                       {-38.485, -41.674, -23.936},
                                                       {329.74, 314.36, 239.65},
                                                       {-376.37, -356.05, -254.51}}};
  const double t = std::clamp(deadrise_deg, 0.0, 20.0) / 10.0;
  PorpoisingLimit limit{};
  for (std::size_t power = 0; power < fits.size(); ++power)
    limit.cubic[power] = 0.5 * (t - 1.0) * (t - 2.0) * fits[power][0] + t * (2.0 - t) * fits[power][1] +
                         0.5 * t * (t - 1.0) * fits[power][2];
  return limit;
}

SavitskyRow savitsky_row(const SavitskyCase& craft, double trim_rad) noexcept {
  SavitskyRow row{};
  const double trim_deg = trim_rad / radians_per_degree,
               deadrise_deg = craft.deadrise_rad / radians_per_degree;
  const double beam = craft.beam_m, speed = craft.speed_m_s;
  const double dynamic_force = 0.5 * craft.density_kg_m3 * speed * speed * beam * beam;
  row.trim_rad = trim_rad;
  row.speed_coefficient = speed / std::sqrt(gravity_m_s2 * beam);
  row.lift_coefficient = craft.weight_N / dynamic_force;
  row.flat_lift = flat_lift_for(row.lift_coefficient, deadrise_deg);
  const double lam = wetted_length_for(row.flat_lift, trim_deg, row.speed_coefficient);
  row.wetted_length_beams = lam;

  const double speed_ratio = mean_bottom_speed_ratio(lam, trim_deg, deadrise_deg);
  row.mean_bottom_speed_m_s = speed * speed_ratio;
  row.reynolds = row.mean_bottom_speed_m_s * lam * beam / craft.kinematic_viscosity_m2_s;
  row.friction_coefficient = friction_coefficient(craft.friction_line, row.reynolds);
  row.friction_N = dynamic_force * speed_ratio * speed_ratio * lam / std::cos(craft.deadrise_rad) *
                   (row.friction_coefficient + craft.roughness_allowance);
  row.drag_N = craft.weight_N * std::tan(trim_rad) + row.friction_N / std::cos(trim_rad);
  row.effective_power_W = row.drag_N * speed;

  row.centre_of_pressure_ratio = centre_of_pressure_ratio(lam, row.speed_coefficient);
  row.load_lever_m = craft.load_centre_m - row.centre_of_pressure_ratio * lam * beam;
  const double friction_lever = craft.centre_height_m - 0.25 * beam * std::tan(craft.deadrise_rad);
  const double sine = std::sin(trim_rad), cosine = std::cos(trim_rad), depth = craft.thrust_line_depth_m;
  row.moment_Nm = craft.weight_N * ((1.0 - sine * std::sin(trim_rad + craft.thrust_line_angle_rad)) *
                                        row.load_lever_m / cosine -
                                    depth * sine) +
                  row.friction_N * (friction_lever - depth);

  const WettedLengths lengths = wetted_lengths_1964(lam, trim_rad, craft.deadrise_rad);
  row.wetted_keel_m = lengths.keel_beams * beam;
  row.wetted_chine_m = lengths.chine_beams * beam;
  row.transom_draught_m = row.wetted_keel_m * sine;
  return row;
}

std::optional<SavitskyRow> savitsky_equilibrium(const SavitskyCase& craft) {
  const auto moment = [&craft](double trim) { return savitsky_row(craft, trim).moment_Nm; };
  const double low = 1.0 * radians_per_degree, high = 15.0 * radians_per_degree;
  const double at_low = moment(low), at_high = moment(high);
  if (!(at_low * at_high <= 0.0)) return std::nullopt;
  std::uintmax_t evaluations = 60;
  const auto bracket = boost::math::tools::toms748_solve(
      moment, low, high, at_low, at_high, boost::math::tools::eps_tolerance<double>(45), evaluations);
  return savitsky_row(craft, 0.5 * (bracket.first + bracket.second));
}

}  // namespace bowrise
