// C1 replacements for the corners of the physics, so that an integrator never steps over a kink.
#pragma once

#include <cmath>

namespace bowrise {

/// Smooth max(x, 0): hyperbola with both asymptotes, `width` [unit of x] > 0; equals width/2 at x = 0.
[[nodiscard]] inline double smooth_positive(double x, double width) noexcept {
  return 0.5 * (x + std::sqrt(x * x + width * width));
}

/// Smooth |x|: sqrt(x^2 + width^2), width > 0.
[[nodiscard]] inline double smooth_magnitude(double x, double width) noexcept {
  return std::sqrt(x * x + width * width);
}

/// Smooth minimum of a and b; never above either; `width` in their unit.
[[nodiscard]] inline double smooth_min(double a, double b, double width) noexcept {
  return b - smooth_positive(b - a, width);
}

/// Smooth maximum of a and b; never below either.
[[nodiscard]] inline double smooth_max(double a, double b, double width) noexcept {
  return a + smooth_positive(b - a, width);
}

/// 0 below `from`, 1 above `to`, cubic between with zero slope at both ends; from < to.
[[nodiscard]] inline double smoothstep(double from, double to, double x) noexcept {
  const double t = (x - from) * (1.0 / (to - from));  // a constant where both ends are
  if (t <= 0.0) return 0.0;
  if (t >= 1.0) return 1.0;
  return t * t * (3.0 - 2.0 * t);
}

/// Minimum of value and limit, rounded by a parabola within half_width > 0 of the corner, exact outside; C1.
[[nodiscard]] inline double rounded_min(double value, double limit, double half_width) noexcept {
  const double above = value - (limit - half_width);
  if (above <= 0.0) return value;
  if (above >= 2.0 * half_width) return limit;
  return value - above * above / (4.0 * half_width);
}

/// Maximum of value and limit, rounded in the same way.
[[nodiscard]] inline double rounded_max(double value, double limit, double half_width) noexcept {
  return -rounded_min(-value, -limit, half_width);
}

}  // namespace bowrise
