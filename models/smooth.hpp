// C1 replacements for the corners of the physics, so that an integrator never steps over a kink. Number: a
// double, or Lanes.
#pragma once

#include <cmath>

namespace bowrise {

/// Smooth max(x, 0): hyperbola with both asymptotes, `width` [unit of x] > 0; equals width/2 at x = 0.
template <class Number, class Width>
[[nodiscard]] inline Number smooth_positive(Number x, Width width) noexcept {
  using std::sqrt;
  return 0.5 * (x + sqrt(x * x + width * width));
}

/// Smooth |x|: sqrt(x^2 + width^2), width > 0.
template <class Number, class Width>
[[nodiscard]] inline Number smooth_magnitude(Number x, Width width) noexcept {
  using std::sqrt;
  return sqrt(x * x + width * width);
}

/// Smooth minimum of a and b; never above either; `width` in their unit.
template <class Number, class Limit, class Width>
[[nodiscard]] inline Number smooth_min(Number a, Limit b, Width width) noexcept {
  return b - smooth_positive<Number>(b - a, width);
}

/// Smooth maximum of a and b; never below either.
template <class Number, class Limit, class Width>
[[nodiscard]] inline Number smooth_max(Number a, Limit b, Width width) noexcept {
  return a + smooth_positive<Number>(b - a, width);
}

/// 0 below `from`, 1 above `to`, cubic between with zero slope at both ends; from < to.
template <class Number>
[[nodiscard]] inline Number smoothstep(double from, double to, Number x) noexcept {
  const Number t = (x - from) * (1.0 / (to - from));  // a constant where both ends are
  if (t <= 0.0) return 0.0;
  if (t >= 1.0) return 1.0;
  return t * t * (3.0 - 2.0 * t);
}

/// Minimum of value and limit, rounded by a parabola within half_width > 0 of the corner, exact outside; C1.
template <class Number, class Limit>
[[nodiscard]] inline Number rounded_min(Number value, Limit limit, Limit half_width) noexcept {
  const Number above = value - (limit - half_width);
  if (above <= 0.0) return value;
  if (above >= 2.0 * half_width) return limit;
  return value - above * above / (4.0 * half_width);
}

/// Maximum of value and limit, rounded in the same way.
template <class Number, class Limit>
[[nodiscard]] inline Number rounded_max(Number value, Limit limit, Limit half_width) noexcept {
  return -rounded_min<Number, Limit>(-value, -limit, half_width);
}

}  // namespace bowrise
