#include "models/planing.hpp"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>

#include "models/constants.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

constexpr double static_lift_factor = 0.0055, dynamic_lift_factor = 0.0120;  // (15)
constexpr double deadrise_loss_per_deg = 0.0065;                             // (16)
constexpr double dry_band = 0.02;  // half width, in beams, over which the chines change from wet to dry

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

// The start has both limits (m - m^5 and m^(1/5)) and is within 4 % between; three steps leave 3e-10.
double length_root(double m) noexcept {
  const double square = m * m;
  const double start = m * std::pow(1.0 + square * square * (5.0 + square) / (1.0 + square), -0.2);
  return refine_length_root(start, m, 3);
}

// Square of the scale of sqrt(lam) in eq. (15): where both of its terms are equal.
double length_scale_squared(double speed_coefficient_squared) noexcept {
  return std::sqrt(dynamic_lift_factor / static_lift_factor * speed_coefficient_squared);
}

// On a nearly dry bottom at high trim the mean pressure would exceed the stagnation pressure: held above nil.
double bottom_speed_ratio(double lam, double dynamic_lift, double cosine) noexcept {
  return std::sqrt(smooth_positive(1.0 - dynamic_lift / (lam * cosine), 0.01));
}

// Roots found in the first pass of a load, from which the next one starts; 0 where not needed yet.
struct Roots {
  double flat = 0.0, length = 0.0, dry_beam = 0.0, dry_flat = 0.0;
  double widest_flat = 0.0, most_dry_lift = 0.0;  // at `widest` beams: fifth root of flat lift, C_Lb
  double dynamic_power = 0.0;                     // dynamic flat lift to the 0.6
};

// First term of (15) through (16). A later pass follows y = flat^0.6, root of y^5 = flat^3, by a Newton step.
double dynamic_lift(double flat, double loss, Roots& roots) noexcept {
  double& y = roots.dynamic_power;
  y = y > 0.0 ? 0.8 * y + 0.2 * flat * flat * flat / (y * y * y * y) : std::pow(flat, 0.6);
  return flat - loss * y;
}

// The dry-chine closure at one speed and trim. At the lam of chines just dry, flat + rise x is eq. (15) for a
// wetted beam of x beams, whose second term grows with that beam.
struct DryClosure {
  double lam, flat, rise;
};
constexpr double widest = 1.0 + dry_band;

DryClosure dry_closure(const PlaningBottom& bottom, const TrimTerms& trim, double cv_squared) noexcept {
  const double lam = bottom.tan_deadrise / (2.0 * pi * trim.tangent), root = std::sqrt(lam) * trim.lift_power;
  return {lam, dynamic_lift_factor * root, static_lift_factor * lam * lam * root / cv_squared};
}

// Wetted beam over beam for dry chines: the root x of x^2 C_Lb(flat + rise x) = lift; `widest` where the
// chines are wet. The left side is convex and rises above its root, so Newton from above cannot fail; the
// square-root start lies below and its first step carries it above.
double dry_beam_ratio(const DryClosure& dry, double lift, double loss, Roots& roots) noexcept {
  const double widest_flat_lift = dry.flat + dry.rise * widest;
  if (lift >= widest * widest * widest_flat_lift) return widest;  // even without the loss by deadrise
  if (roots.widest_flat == 0.0) {
    const double root = std::pow(widest_flat_lift, 0.2);
    roots.widest_flat = root;
    roots.most_dry_lift = widest * widest * root * root * root * (root * root - loss);
  }
  if (lift >= roots.most_dry_lift) return widest;
  const bool first = roots.dry_beam == 0.0;
  double x = first ? widest * std::sqrt(lift / roots.most_dry_lift) : roots.dry_beam;
  double w = first ? roots.widest_flat : roots.dry_flat;
  const int steps = first ? 4 : 2;
  for (int step = 0; step < steps; ++step) {
    const double flat_lift = dry.flat + dry.rise * x;
    w = 0.8 * w + 0.2 * flat_lift / (w * w * w * w);  // follows the fifth root of flat_lift
    const double square = w * w;
    const double part = square * w * (square - loss), part_slope = 1.0 - 0.6 * loss / square;
    const double slope = x * (2.0 * std::max(part, 0.0) + x * dry.rise * std::max(part_slope, 0.4));
    x = std::min(x - (x * x * part - lift) / slope, widest);
  }
  roots.dry_beam = x;
  roots.dry_flat = w;
  return x;
}

struct WettedForm {
  double beam_ratio, lam, dynamic_lift;  // dynamic_lift: first term of (15) through (16)
  bool dry;
};

WettedForm wetted_form(const PlaningBottom& bottom, const TrimTerms& trim, const DryClosure& dry,
                       double cv_squared, double lift, Roots& roots) noexcept {
  const double loss = bottom.deadrise_loss;
  const double x = bottom.tan_deadrise > 0.0 ? dry_beam_ratio(dry, lift, loss, roots) : widest;
  if (x <= 1.0 - dry_band) return {x, dry.lam, dynamic_lift(dry.flat, loss, roots), true};
  const double ratio = rounded_min(x, 1.0, dry_band);
  const double lift_on_beam = lift / (ratio * ratio);
  roots.flat =
      roots.flat > 0.0 ? refine_flat_root(roots.flat, lift_on_beam, loss, 2) : flat_root(lift_on_beam, loss);
  const double scale_squared = length_scale_squared(cv_squared / ratio);
  const double scale = dynamic_lift_factor * std::sqrt(scale_squared) * trim.lift_power;
  const double m = fifth_power(roots.flat) / scale;
  roots.length = roots.length > 0.0 ? refine_length_root(roots.length, m, 2) : length_root(m);
  return {ratio, roots.length * roots.length * scale_squared, dynamic_lift(scale * roots.length, loss, roots),
          x < 1.0};
}

// Everything that follows from the wetted form; the load of `state` is set by the caller.
void fill_state(PlaningState& state, const PlaningBottom& bottom, const WettedForm& form, double speed,
                const TrimTerms& trim, double cv_squared) noexcept {
  const double beam = bottom.beam_m * form.beam_ratio;
  state.chines_dry = form.dry;
  state.wetted_beam_m = beam;

  // lam b = (keel + chine)/2 and keel - chine = b tan(deadrise)/(pi tan(trim))
  const double half_difference = beam * bottom.tan_deadrise / (2.0 * pi * trim.tangent);
  state.keel_demand_m = form.lam * beam + half_difference;
  state.wetted_keel_m = rounded_min(state.keel_demand_m, bottom.keel_length_m, 0.02 * bottom.keel_length_m);
  const double kept = state.wetted_keel_m / state.keel_demand_m;
  state.wetted_chine_m = std::max(form.lam * beam - half_difference, 0.0) * kept;
  const double lam = form.lam * kept;
  state.wetted_length_beams = lam;

  const double ratio = bottom_speed_ratio(form.lam, form.dynamic_lift, trim.cosine);
  state.mean_bottom_speed_m_s = speed * ratio;
  const double reynolds = state.mean_bottom_speed_m_s * lam * beam / bottom.kinematic_viscosity_m2_s;
  const double dynamic_pressure = 0.5 * bottom.density_kg_m3 * speed * speed;
  state.friction_N = dynamic_pressure * ratio * ratio * lam * beam * beam / bottom.cos_deadrise *
                     (friction_coefficient(bottom.friction_line, reynolds) + bottom.roughness_allowance);
  const double effective_cv = std::sqrt(cv_squared / form.beam_ratio);
  state.centre_of_pressure_m = centre_of_pressure_ratio(form.lam, effective_cv) * form.lam * beam;
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

double wetted_length_for(double flat_lift, double trim_deg, double speed_coefficient) noexcept {
  const double scale_squared = length_scale_squared(speed_coefficient * speed_coefficient);
  const double root =
      length_root(flat_lift / (std::pow(trim_deg, 1.1) * dynamic_lift_factor * std::sqrt(scale_squared)));
  return root * root * scale_squared;
}

double centre_of_pressure_ratio(double lam, double speed_coefficient) noexcept {
  const double square = lam * lam;  // written so that a vanishing lam is harmless
  return 0.75 - square / (5.21 * speed_coefficient * speed_coefficient + 2.39 * square);
}

double mean_bottom_speed_ratio(double lam, double trim_deg, double deadrise_deg) noexcept {
  const double dynamic_flat = dynamic_lift_factor * std::sqrt(lam) * std::pow(trim_deg, 1.1);
  return bottom_speed_ratio(lam, deadrise_lift_coefficient(dynamic_flat, deadrise_deg),
                            std::cos(trim_deg * radians_per_degree));
}

WettedLengths wetted_lengths_1964(double lam, double trim_rad, double deadrise_rad) noexcept {
  const double half_difference = std::tan(deadrise_rad) / (2.0 * pi * std::tan(trim_rad));
  return {lam + half_difference, lam - half_difference};
}

WettedLengths wetted_lengths_1976(double lam, double trim_rad, double deadrise_rad) noexcept {
  const double deadrise_deg = deadrise_rad / radians_per_degree;
  const double difference = (0.57 + deadrise_deg / 1000.0) *
                            (std::tan(deadrise_rad) / (2.0 * std::tan(trim_rad)) - deadrise_deg / 167.0);
  const double mean = lam - 0.03;
  return {mean + 0.5 * difference, mean - 0.5 * difference};
}

WhiskerSpray whisker_spray(double trim_rad, double deadrise_rad) noexcept {
  // alpha: stagnation line to keel in plan, tan alpha = rise/run; sin(2 alpha) = 2 rise run/(rise^2 + run^2).
  const double rise = pi * std::tan(trim_rad), run = 2.0 * std::tan(std::max(deadrise_rad, 1e-3));
  const double cos_deadrise = std::cos(deadrise_rad);
  const double spray_direction = 2.0 * std::atan(rise / run) / cos_deadrise;
  const double spray_length = (rise * rise + run * run) / (8.0 * rise * run * cos_deadrise);
  return {std::cos(spray_direction) * spray_length, spray_length};
}

double spray_friction(double reynolds) noexcept {
  const double turbulent_weight = smoothstep(1.4e6, 1.6e6, reynolds);
  const double laminar = turbulent_weight < 1.0 ? 1.328 / std::sqrt(reynolds) : 0.0;
  const double turbulent = turbulent_weight > 0.0 ? 0.074 / std::pow(reynolds, 0.2) - 4800.0 / reynolds : 0.0;
  return laminar + turbulent_weight * (turbulent - laminar);
}

FlapForces flap_forces(double chord_m, double span_m, double beam_m, double angle_deg, double trim_deg,
                       double dynamic_pressure_Pa) noexcept {
  const double lift = 0.046 * chord_m * angle_deg * span_m * dynamic_pressure_Pa;
  return {lift, 0.0052 * lift * (trim_deg + angle_deg), 0.6 * beam_m + chord_m * (1.0 - span_m / beam_m)};
}

double porpoising_limit_deg(double x, double deadrise_deg) noexcept {
  const double flat = ((-376.37 * x + 329.74) * x - 38.485) * x + 1.3415;
  const double ten = ((-356.05 * x + 314.36) * x - 41.674) * x + 3.5786;
  const double twenty = ((-254.51 * x + 239.65) * x - 23.936) * x + 3.0195;
  const double t = std::clamp(deadrise_deg, 0.0, 20.0) / 10.0;
  return 0.5 * (t - 1.0) * (t - 2.0) * flat + t * (2.0 - t) * ten + 0.5 * t * (t - 1.0) * twenty;
}

PlaningBottom prepare_planing_bottom(double beam_m, double keel_length_m, double deadrise_rad,
                                     double roughness_allowance, FrictionLine line, double density_kg_m3,
                                     double kinematic_viscosity_m2_s) noexcept {
  const double loss = deadrise_loss_per_deg * deadrise_rad / radians_per_degree;
  return {beam_m,
          keel_length_m,
          loss,
          std::tan(deadrise_rad),
          std::cos(deadrise_rad),
          density_kg_m3,
          kinematic_viscosity_m2_s,
          roughness_allowance,
          line};
}

TrimTerms trim_terms(double trim_deg) noexcept {
  const double rad = trim_deg * radians_per_degree, sine = std::sin(rad), cosine = std::cos(rad);
  return {rad, trim_deg, sine, cosine, sine / cosine, std::pow(trim_deg, 1.1)};
}

PlaningState planing_state(const PlaningBottom& bottom, double speed_m_s, const TrimTerms& trim,
                           double load_N) noexcept {
  const double cv_squared = speed_m_s * speed_m_s / (gravity_m_s2 * bottom.beam_m);
  const double per_lift =
      2.0 / (bottom.density_kg_m3 * speed_m_s * speed_m_s * bottom.beam_m * bottom.beam_m);
  const DryClosure dry = dry_closure(bottom, trim, cv_squared);
  Roots roots;
  PlaningState state{};
  state.bottom_lift_N = load_N;
  // Friction pulls the craft down by about 1 % of its weight, so the form of the second pass is right to
  // about 0.01 %; the lift returned balances the load and the friction returned exactly.
  for (int pass = 0; pass < 2; ++pass) {
    const WettedForm form = wetted_form(bottom, trim, dry, cv_squared, state.bottom_lift_N * per_lift, roots);
    fill_state(state, bottom, form, speed_m_s, trim, cv_squared);
    state.bottom_lift_N = load_N + state.friction_N * trim.sine;
  }
  state.lift_coefficient = state.bottom_lift_N * per_lift;
  return state;
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
