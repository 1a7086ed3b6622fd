// Sine and cosine of an angle that is nearly always small, as trims are: quicker than the library's.
#pragma once

#include <cmath>

namespace bowrise {

template <class Number>
struct SineCosineOf {
  Number sine, cosine;
};
using SineCosine = SineCosineOf<double>;

/// Both of any finite angle [rad], within 3e-16. Up to 20 deg by Taylor's series; the terms left out are
/// under 1e-17 there.
[[nodiscard]] inline SineCosine sine_cosine(double angle_rad) noexcept {
  constexpr double series_up_to = 0.35;
  if (!(std::abs(angle_rad) < series_up_to)) return {std::sin(angle_rad), std::cos(angle_rad)};
  const double x = angle_rad, q = x * x, q2 = q * q;
  const double sine_tail =
      (-1.0 / 6.0 + q * (1.0 / 120.0)) +
      q2 * ((-1.0 / 5040.0 + q * (1.0 / 362880.0)) + q2 * (-1.0 / 39916800.0 + q * (1.0 / 6227020800.0)));
  const double cosine_tail = (1.0 / 24.0 - q * (1.0 / 720.0)) +
                             q2 * ((1.0 / 40320.0 - q * (1.0 / 3628800.0)) + q2 * (1.0 / 479001600.0));
  return {x + x * q * sine_tail, (1.0 - 0.5 * q) + q2 * cosine_tail};
}

/// The same of Lanes.
template <class Number>
[[nodiscard]] inline SineCosineOf<Number> sine_cosine(const Number& angle_rad) noexcept {
  const SineCosine at = sine_cosine(angle_rad.point());
  return {angle_rad.expanded(at.sine, at.cosine, -at.sine),
          angle_rad.expanded(at.cosine, -at.sine, -at.cosine)};
}

}  // namespace bowrise
