// Replacements for corners: their limits, their sides, and that no kink is left.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "models/smooth.hpp"

using namespace bowrise;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double width = 0.3;

// Largest jump of the slope between neighbouring cells: it shrinks with the step if the function is C1, while
// a kink of any strength keeps it.
template <class Function>
double largest_slope_change(Function&& function, double from, double to, double step) {
  double largest = 0.0;
  for (double x = from; x < to; x += step) {
    const double before = (function(x) - function(x - step)) / step,
                 after = (function(x + step) - function(x)) / step;
    largest = std::max(largest, std::abs(after - before));
  }
  return largest;
}

template <class Function>
void check_smooth(Function&& function) {
  const double coarse = largest_slope_change(function, -2.0, 2.0, 1e-3);
  const double fine = largest_slope_change(function, -2.0, 2.0, 1e-4);
  CHECK(coarse < 0.05);
  CHECK(fine < 0.2 * coarse);
}

}  // namespace

TEST_CASE("smooth: positive part") {
  CHECK_THAT(smooth_positive(0.0, width), WithinRel(width / 2, 1e-15));
  for (const double x : {-2.0, -0.3, -0.01, 0.0, 0.2, 3.0}) {
    CHECK(smooth_positive(x, width) > std::max(x, 0.0));
    // both hyperbola branches: distance to the asymptote times the other distance is (width/2)^2
    CHECK_THAT(smooth_positive(x, width) * (smooth_positive(x, width) - x),
               WithinRel(width * width / 4, 1e-12));
  }
  CHECK_THAT(smooth_positive(1e3, 1e-3), WithinRel(1e3, 1e-12));
  CHECK_THAT(smooth_positive(-1e3, width), WithinAbs(0.0, width * width / (4 * 1e3) * 1.001));
}

TEST_CASE("smooth: magnitude") {
  CHECK(smooth_magnitude(0.0, width) == width);
  CHECK_THAT(smooth_magnitude(0.4, 0.3), WithinRel(0.5, 1e-15));  // 3-4-5
  CHECK(smooth_magnitude(-0.7, width) == smooth_magnitude(0.7, width));
  CHECK_THAT(smooth_magnitude(-50.0, 0.1), WithinRel(50.0, 1e-5));
}

TEST_CASE("smooth: minimum stays below both, maximum above both") {
  for (const double a : {-3.0, -0.1, 0.0, 0.2, 5.0}) {
    for (const double b : {-1.0, 0.0, 0.25, 4.0}) {
      CHECK(smooth_min(a, b, width) < std::min(a, b));
      CHECK(smooth_max(a, b, width) > std::max(a, b));
      CHECK_THAT(smooth_min(a, b, width), WithinAbs(smooth_min(b, a, width), 1e-14));
      CHECK_THAT(smooth_min(a, b, width) + smooth_max(a, b, width), WithinAbs(a + b, 1e-14));
      CHECK_THAT(smooth_min(a, b, 1e-6), WithinAbs(std::min(a, b), 0.5e-6 * 1.001));
    }
  }
}

TEST_CASE("smooth: smoothstep") {
  CHECK(smoothstep(2.0, 4.0, 1.9) == 0.0);
  CHECK(smoothstep(2.0, 4.0, 2.0) == 0.0);
  CHECK(smoothstep(2.0, 4.0, 3.0) == 0.5);
  CHECK(smoothstep(2.0, 4.0, 4.0) == 1.0);
  CHECK(smoothstep(2.0, 4.0, 1e9) == 1.0);
  CHECK_THAT(smoothstep(2.0, 4.0, 2.5), WithinRel(0.25 * 0.25 * 2.5, 1e-15));
  for (double x = 1.0; x < 5.0; x += 0.01) CHECK(smoothstep(2.0, 4.0, x + 0.01) >= smoothstep(2.0, 4.0, x));
}

TEST_CASE("smooth: rounded minimum and maximum are exact away from their corner") {
  CHECK(rounded_min(0.9, 1.0, 0.1) == 0.9);
  CHECK(rounded_min(1.1, 1.0, 0.1) == 1.0);
  CHECK_THAT(rounded_min(1.0, 1.0, 0.1), WithinRel(0.975, 1e-12));  // a quarter of the half width below
  CHECK(rounded_min(-7.0, 1.0, 0.1) == -7.0);
  CHECK(rounded_max(0.5, 1.0, 0.1) == 1.0);
  CHECK(rounded_max(1.2, 1.0, 0.1) == 1.2);
  CHECK_THAT(rounded_max(1.0, 1.0, 0.1), WithinRel(1.025, 1e-12));
  for (double x = 0.8; x < 1.2; x += 0.01) {
    CHECK(rounded_min(x, 1.0, 0.1) <= std::min(x, 1.0) + 1e-15);
    CHECK(rounded_max(x, 1.0, 0.1) >= std::max(x, 1.0) - 1e-15);
  }
}

TEST_CASE("smooth: no kink in any of them") {
  check_smooth([](double x) { return smooth_positive(x, width); });
  check_smooth([](double x) { return smooth_magnitude(x, width); });
  check_smooth([](double x) { return smooth_min(x, 0.5, width); });
  check_smooth([](double x) { return smooth_max(x, 0.5, width); });
  check_smooth([](double x) { return smoothstep(-0.5, 0.7, x); });
  check_smooth([](double x) { return rounded_min(x, 0.5, width); });
  check_smooth([](double x) { return rounded_max(x, 0.5, width); });
  // and the measure finds one where there is one
  const auto corner = [](double x) { return std::max(x, 0.5); };
  CHECK(largest_slope_change(corner, -2.0, 2.0, 1e-4) > 0.4);
}
