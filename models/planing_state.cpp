#include "models/planing_state.hpp"

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "models/lanes.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

constexpr double dry_band = 0.02;  // half width, in beams, over which the chines change from wet to dry
constexpr double widest = 1.0 + dry_band;

using std::pow, std::sqrt;  // beside those of Lanes

// Natural logarithm: within 3e-5 from 0.7 to 1.4, 1e-2 at 0.3.
template <class Number>
inline Number log_near_one(Number x) noexcept {
  return 3.0 * (x * x - 1.0) / (x * (x + 4.0) + 1.0);
}

// x^(1/8) by its Pade approximant: within 4e-7 from 0.8 to 1.2, 1e-4 at 0.5.
template <class Number>
inline Number eighth_root_near_one(Number x) noexcept {
  const Number d = x - 1.0;
  return (256.0 + d * (272.0 + 51.0 * d)) / (256.0 + d * (240.0 + 35.0 * d));
}

// What does not depend on the load.
template <class Number>
struct Instant {
  Number speed_coefficient_squared, inverse_speed_coefficient, length_scale;
  Number pressure_force, coefficient_per_lift;  // 0.5 rho V^2 b^2 and 1 over it
  Number dry_flat, dry_rise;  // at the lam of chines just dry, (15) for x beams is dry_flat + dry_rise x
  Number dry_rise_share;      // dry_rise/dry_flat
};

template <class Number>
inline Instant<Number> instant(const PlaningBottom& bottom, Number speed,
                               const TrimTermsOf<Number>& trim) noexcept {
  const Number cv = speed * bottom.speed_coefficient_per_speed_s_m, cv_squared = cv * cv;
  const Number inverse = 1.0 / cv, inverse_square = inverse * inverse;
  const Number lam = trim.half_keel_excess_beams, w = trim.dry_flat_root, dry_flat = w * w * w * (w * w);
  const Number rise_share = static_lift_factor / dynamic_lift_factor * lam * lam * inverse_square;
  return {.speed_coefficient_squared = cv_squared,
          .inverse_speed_coefficient = inverse,
          .length_scale = wetted_length_scale(cv),
          .pressure_force = bottom.unit_pressure_force_N * cv_squared,
          .coefficient_per_lift = inverse_square * bottom.coefficient_per_lift_1_N,
          .dry_flat = dry_flat,
          .dry_rise = dry_flat * rise_share,
          .dry_rise_share = rise_share};
}

// ---- dry chines

// Wetted beam over beam, and d ln(ratio)/d ln(lift).
template <class Number>
struct DryBeam {
  Number ratio, growth;
};
template <class Number>
DryBeam<Number> wet_chines() noexcept {
  return {widest, 0.0};
}

// One of Newton's steps for the ratio x in x^2 C_Lb(dry_flat + dry_rise x) = lift. The left side is convex
// and rises above its root, so they cannot fail.
// @param w  fifth root of the flat lift at x
template <class Number>
DryBeam<Number> refine_dry_beam(const Instant<Number>& at, Number x, Number w, Number lift,
                                double loss) noexcept {
  const Number square = w * w, coefficient = square * w * (square - loss);
  const Number slope_share = std::max(square - 0.6 * loss, 0.4 * square);  // d C_Lb/d C_L0, times square
  const Number slope =
      x * (2.0 * std::max(coefficient, Number(0.0)) * square + x * at.dry_rise * slope_share) / square;
  const Number refined = std::min(x - (x * x * coefficient - lift) / slope, Number(widest));
  return {refined, lift / (refined * slope)};
}

// For a flat lift at chines just dry that is mostly dynamic. In x = x0 y, x0 the ratio without the static
// lift, (15) and (16) are y^2 (1 + u + loss_share ((1 + u) - (1 + u)^0.6 - 0.4 u)) = 1 with u = rise y: a
// polynomial start within 4e-4 and one of Newton's steps leave 1e-7 (computed; polynomials fitted at
// Chebyshev's points).
// @param rise        static over dynamic flat lift at x0, below 0.5
// @param rise_slope  rise times the mean slope of that bracket
// @param loss_share  loss by deadrise over the dynamic lift that is left
template <class Number>
DryBeam<Number> mostly_dynamic_beam(Number x0, Number rise, Number rise_slope, Number loss_share) noexcept {
  const Number a = rise_slope, square = a * a;
  const Number y =
      (1.0 - 0.4996142121 * a) + square * ((0.5995626264 - 0.7037758286 * a) + 0.4363913851 * square);
  const Number u = rise * y, u2 = u * u;
  const Number power_less_one =
      u * ((0.5999999064 - 0.1199865533 * u) + u2 * ((0.0556841170 - 0.0309154957 * u) + 0.0128285769 * u2));
  const Number bracket = 1.0 + u + loss_share * (u - power_less_one);
  const Number slope = 2.0 * bracket + u * (1.0 + loss_share * (0.4 + u * (0.24 - 0.168 * u)));
  const Number inverse = 1.0 / (y * slope);
  return {std::min(x0 * (y - (y * y * bracket - 1.0) * inverse), Number(widest)), bracket * y * inverse};
}

template <class Number>
DryBeam<Number> dry_beam(const PlaningBottom& bottom, const Instant<Number>& at,
                         const TrimTermsOf<Number>& trim, Number lift_root) noexcept {
  constexpr double area = widest * widest;
  const Number lift = lift_root * lift_root;
  const Number rise = at.dry_rise * widest, flat = at.dry_flat + rise;
  if (lift >= area * flat) return wet_chines<Number>();  // even without the loss by deadrise
  const double loss = bottom.deadrise_loss;
  const Number root = trim.dry_flat_root, cube = root * root * root, left = root * root - loss;
  if (left > 0.2 * root * root) {
    const Number u = at.dry_rise_share * widest;
    // A bound of the lift at `widest`, so near that what is wet hardly passes it.
    if (lift >= area * cube * (left * (1.0 + u) + loss * u * (0.4 + 0.12 * u))) return wet_chines<Number>();
    const Number loss_share = loss / left, x0 = lift_root / sqrt(cube * left);
    const Number share = at.dry_rise_share * x0;
    const Number rise_slope = share * (1.0 + loss_share * (0.4 + 0.1 * share));
    if (rise_slope < 0.5) return mostly_dynamic_beam(x0, share, rise_slope, loss_share);
  }
  Number w = pow(flat, 0.2);
  const Number square = w * w;
  const Number coefficient = square * w * (square - loss), inverse = 1.0 / coefficient;
  if (lift >= area * coefficient) return wet_chines<Number>();
  // The start follows the power law x^(2 + e) that holds at `widest`, t^(2/(2 + e)) being t (1 - e/(2 + e) ln
  // t).
  const Number e = rise * (1.0 - 0.6 * loss / square) * inverse,
               t = lift_root * sqrt(inverse) * (1.0 / widest);
  DryBeam<Number> beam{widest * t * (1.0 - e / (2.0 + e) * log_near_one(t)), 0.0};
  for (int step = 0; step < 6; ++step) {
    w = 0.8 * w + 0.2 * (at.dry_flat + at.dry_rise * beam.ratio) / (w * w * w * w);  // follows the fifth root
    beam = refine_dry_beam(at, beam.ratio, w, lift, loss);
  }
  return beam;
}

// The ratio after the lift has grown by this fraction: the power law of `growth`.
template <class Number>
inline Number grown_ratio(const DryBeam<Number>& before, Number fraction) noexcept {
  const Number n = before.growth;
  return std::min(before.ratio * (1.0 + 0.5 * (1.0 + n) * fraction) / (1.0 + 0.5 * (1.0 - n) * fraction),
                  Number(widest));
}

// ---- shape of the wetted bottom

template <class Number>
struct WettedShape {
  Number beam_ratio, lam;
  Number pressure_share;  // mean dynamic pressure on the bottom over the stagnation pressure
};

// Eq. (15) for one beam: flat lift = unit_lift (z + z^5), lam = length_scale z^2.
template <class Number>
struct LiftScales {
  Number length_scale, unit_lift;
  Number lift_on_beam, per_beam;  // per_beam: 1/beam_ratio
};

// A narrower beam has a larger speed coefficient.
template <class Number>
inline LiftScales<Number> lift_scales(const Instant<Number>& at, const TrimTermsOf<Number>& trim,
                                      Number beam_ratio, Number lift) noexcept {
  Number length_scale = at.length_scale, lift_on_beam = lift, per_beam = 1.0;
  if (beam_ratio < 1.0) {
    const Number e = 1.0 - beam_ratio, square = e * e;
    if (e < 2.0 * dry_band) {  // powers -1/2 and -1 by their series, quicker than root and division
      length_scale *=
          (1.0 + 0.5 * e) + square * ((0.375 + 0.3125 * e) + square * (0.2734375 + 0.24609375 * e));
      per_beam = (1.0 + e) * (1.0 + square) * (1.0 + square * square);
    } else {
      length_scale /= sqrt(beam_ratio);
      per_beam = 1.0 / beam_ratio;
    }
    lift_on_beam *= per_beam * per_beam;
  }
  return {length_scale, dynamic_lift_factor * sqrt(length_scale) * trim.lift_power, lift_on_beam, per_beam};
}

// Shape under one lift, and what its change with the lift follows from.
template <class Number>
struct WettedForm {
  WettedShape<Number> shape;
  LiftScales<Number> scales;
  Number length_root;               // fourth root of lam/length_scale; nil in the dry form
  Number z, flat_lift, flat_share;  // flat_share: pressure_share without the loss by deadrise
};

template <class Number>
WettedForm<Number> wet_form(const PlaningBottom& bottom, const Instant<Number>& at,
                            const TrimTermsOf<Number>& trim, Number beam_ratio, Number lift_root) noexcept {
  const LiftScales<Number> scales = lift_scales(at, trim, beam_ratio, lift_root * lift_root);
  const Number flat_root = bottom.flat_lift_root(lift_root * scales.per_beam)[0];
  const auto [length_root, share] = bottom.length_root(flat_root / (flat_root + sqrt(scales.unit_lift)));
  const Number flat_lift = flat_root * flat_root, z = length_root * length_root;
  const Number lam = z * z * scales.length_scale, per_lam = trim.secant / lam;
  // First term of (15) through (16): 0.0065 deadrise flat^0.6 is flat - lift, here of the whole lift.
  const Number flat_share = scales.unit_lift * z * per_lam;
  const Number pressure_share = flat_share - (flat_lift - scales.lift_on_beam) * share * per_lam;
  return {{beam_ratio, lam, pressure_share}, scales, length_root, z, flat_lift, flat_share};
}

template <class Number>
WettedForm<Number> dry_form(const PlaningBottom& bottom, const Instant<Number>& at,
                            const TrimTermsOf<Number>& trim, Number beam_ratio, Number lift) noexcept {
  const LiftScales<Number> scales = lift_scales(at, trim, beam_ratio, lift);
  const Number w = trim.dry_flat_root, lam = trim.half_keel_excess_beams, per_lam = trim.secant / lam;
  const Number flat_share = at.dry_flat * per_lam;
  const Number pressure_share = flat_share - bottom.deadrise_loss * w * w * w * per_lam;
  return {{beam_ratio, lam, pressure_share},      scales,    0.0, sqrt(lam / scales.length_scale),
          at.dry_flat + at.dry_rise * beam_ratio, flat_share};
}

// Shape under a lift a few per cent above that of `before`: (15) by its derivatives to second order, (16) to
// first.
template <class Number>
WettedShape<Number> grown_shape(const WettedForm<Number>& before, const Instant<Number>& at,
                                const TrimTermsOf<Number>& trim, Number dry_ratio, Number lift) noexcept {
  const WettedShape<Number>& shape = before.shape;
  if (dry_ratio <= 1.0 - dry_band) return {dry_ratio, shape.lam, shape.pressure_share};
  const Number z = before.z, cube = z * z * z, m_slope = 1.0 + 5.0 * cube * z, unit = before.scales.unit_lift;
  const Number lift_slope =
      0.4 * before.flat_lift + 0.6 * before.scales.lift_on_beam;  // of (16), times flat lift
  const Number inverse = 1.0 / (m_slope * lift_slope * unit),
               bend = 10.0 * cube * lift_slope * unit * inverse;
  Number ratio = 1.0, length_scale = at.length_scale;
  Number first =
      (lift - before.scales.lift_on_beam) * before.flat_lift * inverse;  // change of z to first order
  if (dry_ratio < widest || shape.beam_ratio < 1.0) {
    ratio = rounded_min(dry_ratio, 1.0, dry_band);
    const LiftScales<Number> scales = lift_scales(at, trim, ratio, lift);
    length_scale = scales.length_scale;
    const Number now = lift_slope + scales.lift_on_beam - before.scales.lift_on_beam;
    first = (now * unit / scales.unit_lift - lift_slope) * before.flat_lift * inverse;
  }
  const Number grown = z + first / (1.0 + bend * first), lam = grown * grown * length_scale;
  const Number per_lam = 0.7 * shape.pressure_share - 0.2 * before.flat_share;  // fall of the share
  return {ratio, lam, shape.pressure_share - (1.0 - shape.lam / lam) * per_lam};
}

// ---- friction

// In beams that are wetted. The closure of dry chines stays that of 1964.
template <class Number>
inline WettedLengthsOf<Number> wetted_lengths(const PlaningBottom& bottom, const TrimTermsOf<Number>& trim,
                                              Number lam) noexcept {
  const Number half = trim.half_keel_excess_beams;
  if (bottom.wetted_lengths == WettedLengthForm::savitsky_1964) return {lam + half, lam - half};
  return wetted_lengths_1976(lam, trim.angle_rad, bottom.deadrise_rad);
}

// Lengths that the keel allows, and what of the friction follows without the friction line.
template <class Number>
struct WettedBottom {
  Number keel_demand_m, chine_beams, kept;  // kept: wetted keel over that demand
  Number length_beams;                      // lam * beam_ratio, kept
  Number speed_squared;                     // bottom speed over craft speed, squared
};

template <class Number>
inline WettedBottom<Number> wetted_bottom(const PlaningBottom& bottom, const TrimTermsOf<Number>& trim,
                                          const WettedShape<Number>& shape) noexcept {
  const double limit = bottom.keel_length_m, rounding = 0.02 * limit;
  const WettedLengthsOf<Number> lengths = wetted_lengths(bottom, trim, shape.lam);
  const Number demand = lengths.keel_beams * shape.beam_ratio * bottom.beam_m;
  const Number kept = demand > limit - rounding ? rounded_min(demand, limit, rounding) / demand : 1.0;
  return {demand, lengths.chine_beams, kept, shape.lam * shape.beam_ratio * kept,
          bottom_speed_ratio_squared(shape.pressure_share)};
}

// Fourth root of the Reynolds number of wetted length and bottom speed.
template <class Number>
inline Number reynolds_root(const PlaningBottom& bottom, const Instant<Number>& at,
                            const WettedForm<Number>& form, const WettedBottom<Number>& wetted,
                            Number speed) noexcept {
  const Number per_length = speed * bottom.reynolds_per_speed_s_m;
  if (form.length_root > 0.0 && wetted.kept == 1.0) {  // the root of the length is known already
    const Number root = sqrt(sqrt(per_length * at.length_scale)) * form.length_root;
    return root * eighth_root_near_one(wetted.speed_squared * form.shape.beam_ratio);
  }
  const Number root = sqrt(sqrt(per_length * wetted.length_beams));
  return root * eighth_root_near_one(wetted.speed_squared);
}

}  // namespace

template <class Number>
PlaningStateOf<Number> planing_state(const PlaningBottom& bottom, Number speed_m_s,
                                     const TrimTermsOf<Number>& trim, Number load_N) noexcept {
  const Instant<Number> at = instant(bottom, speed_m_s, trim);
  const Number force_per_area = at.pressure_force * bottom.wetted_area_per_plan_area;

  const Number lift_root = sqrt(load_N * bottom.coefficient_per_lift_1_N) * at.inverse_speed_coefficient;
  const Number lift = lift_root * lift_root, per_load = 1.0 / load_N;
  const DryBeam<Number> first_beam =
      bottom.tan_deadrise > 0.0 ? dry_beam(bottom, at, trim, lift_root) : wet_chines<Number>();
  const WettedForm<Number> first =
      first_beam.ratio <= 1.0 - dry_band
          ? dry_form(bottom, at, trim, first_beam.ratio, lift)
          : wet_form(bottom, at, trim, rounded_min(first_beam.ratio, 1.0, dry_band), lift_root);
  const WettedBottom<Number> before = wetted_bottom(bottom, trim, first.shape);
  const Number fourth_root = reynolds_root(bottom, at, first, before, speed_m_s);
  const ValueAndSlopeOf<Number> line = bottom.friction.value_and_slope(fourth_root);

  // Friction pulls the craft down by about 1 % of its weight, so the shape under the load and that friction
  // is right to about 0.01 %; the lift returned balances the load and the friction returned exactly.
  const Number pull = force_per_area * first.shape.beam_ratio * before.length_beams * before.speed_squared *
                      (line.value + bottom.roughness_allowance) * trim.sine;
  const Number grown_lift = lift + pull * at.coefficient_per_lift;
  const Number dry_ratio = first_beam.ratio < widest ? grown_ratio(first_beam, pull * per_load) : widest;
  const WettedShape<Number> shape = grown_shape(first, at, trim, dry_ratio, grown_lift);
  const WettedBottom<Number> wetted = wetted_bottom(bottom, trim, shape);
  const Number reynolds_growth =  // logarithmic
      2.0 * (wetted.length_beams - before.length_beams) / (wetted.length_beams + before.length_beams) +
      (wetted.speed_squared - before.speed_squared) * (0.5 / before.speed_squared);

  PlaningStateOf<Number> state;
  state.friction_N =
      force_per_area * shape.beam_ratio * wetted.length_beams * wetted.speed_squared *
      (line.value + bottom.roughness_allowance + 0.25 * fourth_root * line.slope * reynolds_growth);
  state.bottom_lift_N = load_N + state.friction_N * trim.sine;
  state.lift_coefficient = state.bottom_lift_N * at.coefficient_per_lift;
  state.wetted_beam_m = bottom.beam_m * shape.beam_ratio;
  state.wetted_length_beams = shape.lam * wetted.kept;
  state.wetted_keel_m = wetted.keel_demand_m * wetted.kept;
  state.wetted_chine_m = std::max(wetted.chine_beams, Number(0.0)) * state.wetted_beam_m * wetted.kept;
  state.keel_demand_m = wetted.keel_demand_m;
  state.mean_bottom_speed_m_s = speed_m_s * sqrt(wetted.speed_squared);
  const Number square =
      shape.lam * shape.lam * shape.beam_ratio;  // (17) with the speed coefficient of the wetted beam
  state.centre_of_pressure_m = (0.75 - square / (5.21 * at.speed_coefficient_squared + 2.39 * square)) *
                               shape.lam * state.wetted_beam_m;
  state.chines_dry = dry_ratio < 1.0;
  return state;
}

template PlaningState planing_state(const PlaningBottom&, double, const TrimTerms&, double) noexcept;
template PlaningStateOf<PartLanes> planing_state(const PlaningBottom&, PartLanes,
                                                 const TrimTermsOf<PartLanes>&, PartLanes) noexcept;

}  // namespace bowrise
