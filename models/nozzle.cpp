#include "models/nozzle.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "models/blade_row.hpp"
#include "models/constants.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

constexpr std::size_t section_count = 10;
constexpr double widest_plug = 0.9;     // of the exit diameter: beyond, no jet is left to speak of
constexpr double least_fade_m = 0.001;  // a pointed cone has no tip diameter to fade over

double circle_m2(double diameter_m) noexcept { return 0.25 * pi * diameter_m * diameter_m; }

double half_angle_rad(double wide_m, double narrow_m, double length_m) noexcept {
  return std::atan2(0.5 * std::abs(wide_m - narrow_m), length_m);
}

/// Casing and cone with every length known.
struct Passage {
  Cone cone;
  Nozzle nozzle;
  double bore_m, hub_m;  ///< hub: where the blades end

  [[nodiscard]] double tip_position_m() const noexcept { return cone.position_m + cone.length_m; }

  [[nodiscard]] double casing_diameter_m(double x_m) const noexcept {
    const double share = std::clamp(x_m / nozzle.length_m, 0.0, 1.0);
    return bore_m + (nozzle.exit_diameter_m - bore_m) * share;
  }

  /// Behind the tip its wake still keeps the flow to the outside: the tip's diameter goes on.
  [[nodiscard]] double core_diameter_m(double x_m) const noexcept {
    if (x_m >= tip_position_m()) return cone.tip_diameter_m;
    const double share = std::clamp((x_m - cone.position_m) / std::max(cone.length_m, 1e-9), 0.0, 1.0);
    return cone.base_diameter_m + (cone.tip_diameter_m - cone.base_diameter_m) * share;
  }

  [[nodiscard]] double open_area_m2(double x_m) const noexcept {
    return circle_m2(casing_diameter_m(x_m)) - circle_m2(core_diameter_m(x_m));
  }

  [[nodiscard]] double section_m(std::size_t index) const noexcept {
    return nozzle.length_m * static_cast<double>(index) / static_cast<double>(section_count - 1);
  }
};

Passage passage(const Cone& cone, const Nozzle& nozzle, const Pump& pump, const Rotor& last_rotor) {
  Passage whole{resolved(cone, pump, last_rotor), resolved(nozzle, pump), pump.bore_m, 0.0};
  // a measured pump ends behind its own stator: there the passage begins with the cone
  whole.hub_m = pump.curve.empty() ? resolved(last_rotor, pump.bore_m).hub_out_m : whole.cone.base_diameter_m;
  return whole;
}

double area_rise(const Passage& passage) noexcept {
  double narrowest = circle_m2(passage.bore_m) - circle_m2(passage.hub_m), rise = 0.0;
  for (std::size_t i = 0; i < section_count; ++i) {
    const double area = passage.open_area_m2(passage.section_m(i));
    rise = std::max(rise, area / narrowest - 1.0);
    narrowest = std::min(narrowest, area);
  }
  return rise;
}

/// Loss of the cone inside the passage at unit flow [J/kg per (m3/s)^2].
double cone_loss_per_flow2(const Passage& passage) noexcept {
  const Cone& cone = passage.cone;
  const double around_tip = circle_m2(passage.casing_diameter_m(passage.tip_position_m()));
  const double tip = circle_m2(cone.tip_diameter_m), base = circle_m2(cone.base_diameter_m);
  const double tip_loss = base_loss_J_kg(1.0, around_tip - tip, tip);
  const double hub_loss = base_loss_J_kg(1.0, circle_m2(passage.bore_m) - base, base);
  const double recovery =
      cone_recovery(half_angle_rad(cone.base_diameter_m, cone.tip_diameter_m, cone.length_m));
  return tip_loss + (1.0 - recovery) * std::max(hub_loss - tip_loss, 0.0);
}

}  // namespace

Cone resolved(const Cone& cone, const Pump& pump, const Rotor& last_rotor) {
  Cone whole = cone;
  if (std::isnan(whole.base_diameter_m)) whole.base_diameter_m = resolved(last_rotor, pump.bore_m).hub_out_m;
  if (std::isnan(whole.tip_diameter_m)) whole.tip_diameter_m = 0.40 * whole.base_diameter_m;
  if (std::isnan(whole.length_m)) whole.length_m = 1.3 * whole.base_diameter_m;
  return whole;
}

Nozzle resolved(const Nozzle& nozzle, const Pump& pump) noexcept {
  Nozzle whole = nozzle;
  if (std::isnan(whole.length_m)) whole.length_m = 1.1 * pump.bore_m;
  return whole;
}

double base_loss_J_kg(double flow_m3_s, double annulus_m2, double base_m2) noexcept {
  const double fall_m_s = flow_m3_s / annulus_m2 - flow_m3_s / (annulus_m2 + base_m2);
  return 0.5 * fall_m_s * fall_m_s;
}

double cone_recovery(double half_angle_rad) noexcept {
  return 0.70 * (1.0 - smoothstep(20.0 * radians_per_degree, 40.0 * radians_per_degree, half_angle_rad));
}

PreparedPassage prepare_passage(const Cone& cone, const Nozzle& nozzle, const Pump& pump,
                                const Rotor& last_rotor) {
  const Passage whole = passage(cone, nozzle, pump, last_rotor);
  const double exit_plane = whole.nozzle.length_m, tip = whole.tip_position_m();
  const double fade = std::max(whole.cone.tip_diameter_m, least_fade_m);
  const double plugging = smoothstep(exit_plane - fade, exit_plane, tip);
  const double plug_m2 = plugging * circle_m2(whole.core_diameter_m(exit_plane));
  const double jet_area_m2 = whole.nozzle.contraction * (circle_m2(whole.nozzle.exit_diameter_m) - plug_m2);
  // e = K vj^2/2 with vj = Q / jet area
  const double base_loss_coefficient =
      (1.0 - plugging) * cone_loss_per_flow2(whole) * 2.0 * jet_area_m2 * jet_area_m2;
  return {.jet_area_m2 = jet_area_m2,
          .inverse_jet_area_1_m2 = 1.0 / jet_area_m2,
          .loss_coefficient = whole.nozzle.loss + base_loss_coefficient,
          .base_loss_coefficient = base_loss_coefficient,
          .plug_diameter_m = std::sqrt(4.0 / pi * plug_m2),
          .tip_in_exit_plane = tip >= exit_plane,
          .area_rise = area_rise(whole),
          .cone_half_angle_rad =
              half_angle_rad(whole.cone.base_diameter_m, whole.cone.tip_diameter_m, whole.cone.length_m),
          .casing_half_angle_rad =
              half_angle_rad(whole.bore_m, whole.nozzle.exit_diameter_m, whole.nozzle.length_m)};
}

Problems check(const Cone& cone, const Nozzle& nozzle, const Pump& pump, const Rotor& last_rotor) {
  const Passage whole = passage(cone, nozzle, pump, last_rotor);
  Problems problems;
  if (!(whole.nozzle.exit_diameter_m < whole.bore_m))
    problems.push_back({"nozzle.exit_diameter", "not below the bore: the nozzle would slow the water down",
                        "below pump.bore"});
  if (!(whole.cone.base_diameter_m < whole.bore_m))
    problems.push_back({"cone.base_diameter", "not below the bore", "below pump.bore"});
  if (!(whole.cone.tip_diameter_m <= whole.cone.base_diameter_m))
    problems.push_back(
        {"cone.tip_diameter", "larger than the base of the cone", "at most cone.base_diameter"});
  if (!(whole.core_diameter_m(whole.nozzle.length_m) < widest_plug * whole.nozzle.exit_diameter_m))
    problems.push_back({"cone.tip_diameter", "the cone would close the nozzle exit",
                        "at the exit plane below 0.9 of nozzle.exit_diameter"});
  if (!problems.empty()) return problems;
  // Both tapers are straight, so the gap between them is narrowest at an end of one of them.
  const std::array<double, 3> corners{0.0, std::clamp(whole.cone.position_m, 0.0, whole.nozzle.length_m),
                                      std::clamp(whole.tip_position_m(), 0.0, whole.nozzle.length_m)};
  for (const double x : corners) {
    if (whole.core_diameter_m(x) < whole.casing_diameter_m(x)) continue;
    problems.push_back(
        {"cone.position", "the cone would touch the casing", "a smaller value or a slimmer cone"});
    break;
  }
  return problems;
}

}  // namespace bowrise
