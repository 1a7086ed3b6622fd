#pragma once
/// What a time stepper has to ask of floating-point numbers: are they finite, do they still move.
#include <Eigen/Core>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

namespace bowrise::detail {

/// Index of the first value that is not finite, or the size if all are.
template <class Values>
[[nodiscard]] std::size_t first_not_finite(const Values& values) noexcept {
  std::size_t i = 0;
  for (const double value : values) {
    if (!std::isfinite(value)) return i;
    ++i;
  }
  return i;
}

/// True if no value is infinite or not a number: zero times such a value is not zero. Branch-free.
template <std::size_t N>
[[nodiscard]] bool all_finite(const std::array<double, N>& values) noexcept {
  const Eigen::Map<const Eigen::Matrix<double, static_cast<int>(N), 1>> vector(values.data());
  return (vector * 0.0).sum() == 0;
}

/// A time step not above this does not move the time reliably: a few units in the last place of t.
[[nodiscard]] inline double few_ulps(double t) noexcept {
  return 8 * std::numeric_limits<double>::epsilon() * std::abs(t);
}

}  // namespace bowrise::detail
