#include "models/displacement.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "models/constants.hpp"
#include "models/lanes.hpp"
#include "models/planing.hpp"

namespace bowrise {
namespace {

using Row = std::array<double, regression_speed_count>;

// Coefficients against Fn_vol 1.0 to 2.0. Public transcriptions differ in A1(1.4) .03013/.03031, A2(1.0)
// -.48680/-.48630, the signs of A5(1.0), A24(1.0) and A6(2.0), and A8(1.6) .52049/.52349: here stands the
// majority, and for A6(2.0), a draw, the sign that is smooth in Fn_vol. To be confirmed in the report.
constexpr Row a1{.06473, .10776, .09483, .03475, .03013, .03163, .03194, .04343, .05036, .05612, .05967};
constexpr Row a2{-.48680, -.88787, -.63720, 0, 0, 0, 0, 0, 0, 0, 0};
constexpr Row a4{-.01030, -.01634, -.01540, -.00978, -.00664, 0, 0, 0, 0, 0, 0};
constexpr Row a5{-.06490, -.13444, -.13580, -.05097, -.05540, -.10543,
                 -.08599, -.13289, -.15597, -.18661, -.19758};
constexpr Row a6{0, 0, -.16046, -.21880, -.19359, -.20540, -.19442, -.18062, -.17813, -.18288, -.20152};
constexpr Row a7{.10628, .18186, .16803, .10434, .09612, .06007, .06191, .05487, .05099, .04744, .04645};
constexpr Row a8{.97310, 1.83080, 1.55972, .43510, .51820, .58230, .52049, .78195, .92859, 1.18569, 1.30026};
constexpr Row a9{-.00272, -.00389, -.00309, -.00198, -.00215, -.00372,
                 -.00360, -.00332, -.00308, -.00244, -.00212};
constexpr Row a10{.01089, .01467, .03481, .04113, .03901, .04794, .04436, .04187, .04111, .04124, .04343};
constexpr Row a15{0, 0, 0, 0, 0, .08317, .07366, .12147, .14928, .18090, .19769};
constexpr Row a18{-1.40962, -2.46696, -2.15556, -.92663,  -.95276, -.70895,
                  -.72057,  -.95929,  -1.12178, -1.38644, -1.55127};
constexpr Row a19{.29136,  .47305,  1.02992, 1.06392, .97757, 1.19737,
                  1.18119, 1.01562, .93144,  .78414,  .78282};
constexpr Row a24{.02971, .05877, .05198, .02209, .02413, 0, 0, 0, 0, 0, 0};
constexpr Row a27{-.00150, -.00356, -.00303, -.00105, -.00140, 0, 0, 0, 0, 0, 0};

double slenderness(const DisplacementForm& form) noexcept {
  return form.waterline_length_m / std::cbrt(form.volume_m3);
}

// The craft to which the regression refers, in the units of the report: lbf, lbf/ft3, ft2/s, ft/s2.
double reference_reynolds(const DisplacementForm& form, double volume_froude) noexcept {
  constexpr double weight = 100000.0, specific_weight = 64.0, kinematic_viscosity = 1.2817e-5,
                   gravity = 32.17;
  return volume_froude * slenderness(form) * std::sqrt(gravity * weight / specific_weight) /
         kinematic_viscosity;
}

// Friction over weight for one friction coefficient.
double friction_over_weight(const DisplacementForm& form, double volume_froude, double coefficient) noexcept {
  return 0.5 * wetted_surface_ratio(form) * volume_froude * volume_froude * coefficient;
}

}  // namespace

double regression_resistance(const DisplacementForm& form, std::size_t i) noexcept {
  const double x = 1.0 / slenderness(form);
  const double z = form.volume_m3 / (form.beam_m * form.beam_m * form.beam_m);
  const double u = std::sqrt(2.0 * form.entrance_half_angle_deg);
  const double w = form.transom_ratio;
  return a1[i] + a2[i] * x + a4[i] * u + a5[i] * w + a6[i] * x * z + a7[i] * x * u + a8[i] * x * w +
         a9[i] * z * u + a10[i] * z * w + a15[i] * w * w + a18[i] * x * w * w + a19[i] * z * x * x +
         a24[i] * u * w * w + a27[i] * w * u * u;
}

double wetted_surface_ratio(const DisplacementForm& form) noexcept {
  const double r = form.beam_draught_ratio;
  return 2.262 * std::sqrt(slenderness(form)) * (1.0 + 0.046 * r + 0.00287 * r * r);
}

double residuary_resistance(const DisplacementForm& form, std::size_t index,
                            FrictionLine reference_line) noexcept {
  const double volume_froude = regression_speed(index);
  const double coefficient = friction_coefficient(reference_line, reference_reynolds(form, volume_froude));
  return regression_resistance(form, index) - friction_over_weight(form, volume_froude, coefficient);
}

double own_size_resistance(const DisplacementForm& form, std::size_t index, double kinematic_viscosity_m2_s,
                           double roughness_allowance, FrictionLine line,
                           FrictionLine reference_line) noexcept {
  const double volume_froude = regression_speed(index);
  const double speed = volume_froude * std::sqrt(gravity_m_s2 * std::cbrt(form.volume_m3));
  const double reynolds = speed * form.waterline_length_m / kinematic_viscosity_m2_s;
  return residuary_resistance(form, index, reference_line) +
         friction_over_weight(form, volume_froude,
                              friction_coefficient(line, reynolds) + roughness_allowance);
}

double blount_fox_hump_factor(double load_centre_beams, double volume_froude) noexcept {
  const double beyond = volume_froude - 0.85;
  return 0.98 + 2.0 * std::pow(load_centre_beams, 1.45) * std::exp(-2.0 * beyond) -
         3.0 * load_centre_beams * std::exp(-3.0 * beyond);
}

PreparedDisplacement prepare_displacement(const DisplacementForm& form, double weight_N, double density_kg_m3,
                                          double kinematic_viscosity_m2_s, double roughness_allowance,
                                          const SlopeTable<1>& friction) {
  constexpr std::size_t below = 10;  // points at Fn_vol 0, 0.1, ... 0.9
  std::array<double, below + regression_speed_count> residuary{};
  for (std::size_t i = 0; i < regression_speed_count; ++i)
    residuary[below + i] = std::max(residuary_resistance(form, i), 0.0);
  for (std::size_t i = 0; i < below; ++i) {
    const double volume_froude = 0.1 * static_cast<double>(i);
    residuary[i] = residuary[below] * volume_froude * volume_froude * volume_froude * volume_froude;
  }
  const double length = std::cbrt(form.volume_m3);
  return {.residuary = UniformCurve(0.0, 2.0, residuary),
          .friction = friction,
          .weight_N = weight_N,
          .wetted_surface_m2 = wetted_surface_ratio(form) * length * length,
          .density_kg_m3 = density_kg_m3,
          .reynolds_per_speed_s_m = form.waterline_length_m / kinematic_viscosity_m2_s,
          .roughness_allowance = roughness_allowance,
          .volume_froude_per_speed_s_m = 1.0 / std::sqrt(gravity_m_s2 * length)};
}

template <class Number>
DisplacementDrag<Number> displacement_drag(const PreparedDisplacement& prepared, Number speed_m_s) noexcept {
  using std::abs, std::sqrt;
  const Number magnitude = abs(speed_m_s);
  const double direction = speed_m_s < 0.0 ? -1.0 : 1.0;
  const Number reynolds = magnitude * prepared.reynolds_per_speed_s_m;
  const Number coefficient = prepared.friction(sqrt(sqrt(reynolds)))[0] + prepared.roughness_allowance;
  const Number residuary = prepared.residuary(magnitude * prepared.volume_froude_per_speed_s_m);
  return {0.5 * prepared.density_kg_m3 * speed_m_s * magnitude * prepared.wetted_surface_m2 * coefficient,
          direction * prepared.weight_N * residuary};
}

template DisplacementDrag<double> displacement_drag(const PreparedDisplacement&, double) noexcept;
template DisplacementDrag<PartLanes> displacement_drag(const PreparedDisplacement&, PartLanes) noexcept;

}  // namespace bowrise
