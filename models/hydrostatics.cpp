#include "models/hydrostatics.hpp"

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>

#include "models/constants.hpp"

namespace bowrise {
namespace {

struct Section {
  double area_m2, moment_m3;  // the moment about the keel
};

// Section whose keel lies `depth` under the water, along the section.
Section section(const PrismaticHull& hull, double depth) {
  if (depth <= 0.0) return {0.0, 0.0};
  const double slope = std::tan(hull.deadrise_rad), chine = 0.5 * hull.beam_m * slope;
  if (depth < chine) return {depth * depth / slope, 2.0 / 3.0 * depth * depth * depth / slope};
  return {hull.beam_m * (depth - 0.5 * chine),
          hull.beam_m * (0.5 * (depth * depth - chine * chine) + chine * chine / 3.0)};
}

template <class Function>
double root_between(Function&& function, double low, double high) {
  std::uintmax_t evaluations = 100;
  const auto bracket = boost::math::tools::toms748_solve(
      function, low, high, boost::math::tools::eps_tolerance<double>(48), evaluations);
  return 0.5 * (bracket.first + bracket.second);
}

}  // namespace

Immersion immersion(const PrismaticHull& hull, double draught_m, double trim_rad) {
  const double depth_at_transom = draught_m / std::cos(trim_rad), fall = std::tan(trim_rad);
  const auto depth = [&](double x) { return depth_at_transom - x * fall; };
  // Between the places where keel and chine pierce the water everything is a polynomial of third degree or
  // less.
  const auto place = [&](double at_depth) {
    return fall == 0.0 ? 0.0 : std::clamp((depth_at_transom - at_depth) / fall, 0.0, hull.length_m);
  };
  std::array<double, 4> ends{0.0, place(0.0), place(0.5 * hull.beam_m * std::tan(hull.deadrise_rad)),
                             hull.length_m};
  std::sort(ends.begin(), ends.end());
  double volume = 0.0, forward_moment = 0.0, upward_moment = 0.0;
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    if (!(ends[i + 1] > ends[i])) continue;
    const auto integral = [&](auto&& of) {
      return boost::math::quadrature::gauss<double, 7>::integrate(of, ends[i], ends[i + 1]);
    };
    volume += integral([&](double x) { return section(hull, depth(x)).area_m2; });
    forward_moment += integral([&](double x) { return x * section(hull, depth(x)).area_m2; });
    upward_moment += integral([&](double x) { return section(hull, depth(x)).moment_m3; });
  }
  if (!(volume > 0.0)) return {0.0, 0.0, 0.0};
  return {volume, forward_moment / volume, upward_moment / volume};
}

double floating_draught_m(const PrismaticHull& hull, double volume_m3, double trim_rad) {
  const double reach = hull.length_m * std::abs(std::sin(trim_rad));
  const double deepest =
      (volume_m3 / (hull.beam_m * hull.length_m) + hull.beam_m * std::tan(hull.deadrise_rad)) + 2.0 * reach;
  return root_between(
      [&](double draught) { return immersion(hull, draught, trim_rad).volume_m3 - volume_m3; }, -reach,
      deepest);
}

std::optional<Flotation> free_flotation(const PrismaticHull& hull, double volume_m3, double centre_m,
                                        double centre_height_m) {
  constexpr double most = 20.0 * radians_per_degree;
  const auto lead = [&](double trim) {  // horizontal, of buoyancy before gravity
    const Immersion now = immersion(hull, floating_draught_m(hull, volume_m3, trim), trim);
    return (now.centre_m - centre_m) * std::cos(trim) -
           (now.centre_height_m - centre_height_m) * std::sin(trim);
  };
  if (lead(-most) * lead(most) > 0.0) return std::nullopt;
  const double trim = root_between(lead, -most, most);
  return Flotation{floating_draught_m(hull, volume_m3, trim), trim};
}

double height_above_water_m(double draught_m, double trim_rad, double forward_m,
                            double above_keel_m) noexcept {
  return forward_m * std::sin(trim_rad) + above_keel_m * std::cos(trim_rad) - draught_m;
}

}  // namespace bowrise
