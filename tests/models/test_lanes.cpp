// Lanes: the point has the bits of a double, those beside it what they would have alone.
#include "models/lanes.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "models/curve.hpp"
#include "models/sine_cosine.hpp"
#include "models/slope_table.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

using Four = Lanes<4>;

// A point and three beside it, 1e-6, -1e-6 and 1e-5 of its size away.
Four around(double point) {
  const double size = std::max(std::abs(point), 1.0);
  return Four::beside(point, 1, 1e-6 * size) +
         (Four::beside(0.0, 2, -1e-6 * size) + Four::beside(0.0, 3, 1e-5 * size));
}

// Both of a function written for a Number, in every lane.
template <class Function>
void agrees(const Function& function, double point, double epsilon) {
  const Four x = around(point), got = function(x);
  CHECK(got.point() == function(point));
  for (int lane = 1; lane < 4; ++lane) {
    INFO("lane " << lane << " at " << point);
    CHECK(got[lane] == Approx(function(x[lane])).epsilon(epsilon).margin(epsilon));
  }
}

TEST_CASE("lanes: arithmetic, roots and moduli are those of a double") {
  for (const double point : {-3.7, -0.2, 0.4, 2.9, 41.0}) {
    const auto polynomial = [](auto x) {
      using std::abs, std::sqrt;
      decltype(x) y = 2.0 * x - 1.0;
      y += x * x / 7.0;
      y -= -x;
      y *= abs(x);
      y /= 3.0 + x * x;
      return y + sqrt(1.0 + x * x);
    };
    agrees(polynomial, point, 1e-15);
  }
}

TEST_CASE("lanes: elementary functions beside the point are those of the library") {
  for (const double point : {0.3, 0.8, 1.4, 6.0}) {
    agrees(
        [](auto x) {
          using std::exp;
          return exp(-x);
        },
        point, 1e-13);
    agrees(
        [](auto x) {
          using std::pow;
          return pow(x, 0.2);
        },
        point, 1e-13);
    agrees(
        [](auto x) {
          using std::sin;
          return sin(x);
        },
        point, 1e-13);
    agrees(
        [](auto x) {
          using std::cos;
          return cos(x);
        },
        point, 1e-13);
    agrees(
        [](auto x) {
          using std::tan;
          return tan(x);
        },
        point, 1e-11);
    agrees([](auto x) { return sine_cosine(x).sine + sine_cosine(x).cosine; }, point, 1e-13);
  }
}

TEST_CASE("lanes: the point takes the turns of all") {
  const Four below = Four::beside(-1e-9, 1, 2e-9);  // the lane lies beyond the corner, the point does not
  CHECK(below < 0.0);
  CHECK(below <= 0.0);
  CHECK_FALSE(below > 0.0);
  CHECK_FALSE(below >= 0.0);
  CHECK(std::max(below, Four(0.0))[1] == 0.0);
  CHECK(rounded_min(Four::beside(0.5, 1, 0.25), 1.0, 0.02)[1] == 0.75);
  CHECK(smoothstep(0.0, 1.0, below)[1] == 0.0);
}

TEST_CASE("lanes: tables are read in the cell of the point") {
  const SlopeTable<1> cube(0.0, 2.0, 20, [](double x) -> SlopeTable<1>::Row {
    return {ValueAndSlope{x * x * x, 3.0 * x * x}};
  });
  const std::array<double, 5> line{0.0, 1.0, 2.0, 3.0, 4.0};
  const UniformCurve straight(0.0, 2.0, line);
  for (const double point : {-0.5, 0.3, 0.99999999, 1.7, 2.5}) {
    agrees([&](auto x) { return cube(x)[0]; }, point, 1e-12);
    agrees([&](auto x) { return cube.value_and_slope(x).slope; }, point, 1e-10);
    agrees([&](auto x) { return straight(x); }, point, 1e-14);
  }
}

TEST_CASE("lanes: can be gathered into others") {
  const Lanes<2> pair = Lanes<2>::beside(5.0, 1, 0.5);
  const Four all = Four::gathered<0, 1, 0>(pair);
  CHECK(all.values() == std::array<double, 4>{5.0, 5.0, 5.5, 5.0});
  CHECK(all.expanded(1.0, 2.0, 8.0).values() ==
        std::array<double, 4>{1.0, 1.0, 3.0, 1.0});  // 1 + 2/2 + 8/2 0.25
}

}  // namespace
}  // namespace bowrise
