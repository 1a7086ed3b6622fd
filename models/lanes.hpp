// Several points worked out side by side, so that the processor need not wait for each in turn: a point, and
// others so near to it that they take every turn it takes. What slopes are made of.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <experimental/simd>

#include "models/point_of.hpp"

// Before a function that works in lanes: all that it calls becomes part of it, so that lanes pass from one to
// the next in registers. Not under the sanitizers of GCC, whose checks make such a function take an hour to
// compile.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define BOWRISE_FLATTENED
#else
#define BOWRISE_FLATTENED [[gnu::flatten]]
#endif

namespace bowrise {

/// `count` numbers that pass through one computation together, wherever a double would. Lane 0 is the point
/// and has bit for bit what a double would have; the others lie close beside it (within 1e-5 of its size or
/// so) and share its turns: every comparison is decided by the point alone. Where a function is C1 the others
/// then stay right to second order in their distance. Arithmetic, roots and moduli are those of a double in
/// every lane; the elementary functions are expanded about the point, to third order.
template <int count>
class Lanes {
 public:
  static constexpr std::size_t size = count;
  using Values = std::experimental::fixed_size_simd<double, count>;

  Lanes() = default;
  Lanes(double all) noexcept : values_(all) {}  // NOLINT: as a double goes into a Lanes
  explicit Lanes(const Values& values) noexcept : values_(values) {}
  explicit Lanes(const std::array<double, count>& values) noexcept
      : values_(values.data(), std::experimental::element_aligned) {}
  /// The point in all lanes but one, which lies `step` beside it.
  [[nodiscard]] static Lanes beside(double point, int lane, double step) noexcept {
    Lanes lanes(point);
    lanes.values_[static_cast<std::size_t>(lane)] = point + step;
    return lanes;
  }

  /// The lanes `from` of another, after its point.
  template <int... from, int other>
  [[nodiscard]] static Lanes gathered(const Lanes<other>& lanes) noexcept {
    constexpr std::array<int, count> source{0, from...};
    return Lanes(Values([&](auto lane) { return lanes[source[lane]]; }));
  }

  /// All lanes in a row.
  [[nodiscard]] std::array<double, count> values() const noexcept {
    std::array<double, count> values;
    values_.copy_to(values.data(), std::experimental::element_aligned);
    return values;
  }
  [[nodiscard]] double point() const noexcept { return values_[0]; }
  [[nodiscard]] double operator[](int lane) const noexcept { return values_[static_cast<std::size_t>(lane)]; }

  friend Lanes operator+(const Lanes& a, const Lanes& b) noexcept { return Lanes(a.values_ + b.values_); }
  friend Lanes operator-(const Lanes& a, const Lanes& b) noexcept { return Lanes(a.values_ - b.values_); }
  friend Lanes operator*(const Lanes& a, const Lanes& b) noexcept { return Lanes(a.values_ * b.values_); }
  friend Lanes operator/(const Lanes& a, const Lanes& b) noexcept { return Lanes(a.values_ / b.values_); }
  friend Lanes operator-(const Lanes& a) noexcept { return Lanes(-a.values_); }
  Lanes& operator+=(const Lanes& b) noexcept { return *this = *this + b; }
  Lanes& operator-=(const Lanes& b) noexcept { return *this = *this - b; }
  Lanes& operator*=(const Lanes& b) noexcept { return *this = *this * b; }
  Lanes& operator/=(const Lanes& b) noexcept { return *this = *this / b; }

  friend bool operator<(const Lanes& a, const Lanes& b) noexcept { return a.point() < b.point(); }
  friend bool operator>(const Lanes& a, const Lanes& b) noexcept { return a.point() > b.point(); }
  friend bool operator<=(const Lanes& a, const Lanes& b) noexcept { return a.point() <= b.point(); }
  friend bool operator>=(const Lanes& a, const Lanes& b) noexcept { return a.point() >= b.point(); }
  friend bool operator==(const Lanes& a, const Lanes& b) noexcept { return a.point() == b.point(); }

  friend Lanes sqrt(const Lanes& x) noexcept { return Lanes(std::experimental::sqrt(x.values_)); }
  friend Lanes abs(const Lanes& x) noexcept { return Lanes(std::experimental::abs(x.values_)); }
  friend Lanes exp(const Lanes& x) noexcept {
    const double value = std::exp(x.point());
    return x.expanded(value, value, value);
  }
  friend Lanes pow(const Lanes& x, double exponent) noexcept {
    const double a = x.point(), value = std::pow(a, exponent), slope = exponent * value / a;
    return x.expanded(value, slope, (exponent - 1.0) * slope / a);
  }
  friend Lanes sin(const Lanes& x) noexcept {
    const double value = std::sin(x.point());
    return x.expanded(value, std::cos(x.point()), -value);
  }
  friend Lanes cos(const Lanes& x) noexcept {
    const double value = std::cos(x.point());
    return x.expanded(value, -std::sin(x.point()), -value);
  }
  friend Lanes tan(const Lanes& x) noexcept {
    const double value = std::tan(x.point()), slope = 1.0 + value * value;
    return x.expanded(value, slope, 2.0 * value * slope);
  }

  /// Of a function whose value, slope and bend (second derivative) are known at the point.
  [[nodiscard]] Lanes expanded(double value, double slope, double bend = 0.0) const noexcept {
    const Values step = values_ - Values(point());
    return Lanes(value + step * (slope + step * (0.5 * bend)));
  }

 private:
  Values values_;
};

/// A point, and beside it as many as a part of the craft has arguments, at most three.
using PartLanes = Lanes<4>;
/// A state of the craft, and beside it one with another value of each of its first seven components.
using StateLanes = Lanes<8>;

/// Of differences, over a size that matters: the square root of the machine epsilon.
inline constexpr double relative_lane_step = 0x1p-26;

/// Change of a value in a lane over the step, as rounded, that its argument took there.
template <int count>
[[nodiscard]] double slope_in(int lane, const Lanes<count>& value, const Lanes<count>& argument) noexcept {
  return (value[lane] - value.point()) / (argument[lane] - argument.point());
}

template <int count>
[[nodiscard]] double point_of(const Lanes<count>& x) noexcept {
  return x.point();
}

}  // namespace bowrise
