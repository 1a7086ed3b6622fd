// Immutable C1 curves: monotone-preserving cubics for tables of any spacing, and a uniform
// one for the hot path.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "models/point_of.hpp"

namespace bowrise {

/// Piecewise cubic through (x, y) with Fritsch-Butland (1984) slopes: C1, monotone where the data are, no
/// overshoot. Two points give a straight line. Slopes at the ends by the one-sided three-point form.
class Curve {
 public:
  Curve() = default;
  /// @param x strictly rising, at least 2 values; y as many. @throws std::invalid_argument
  /// otherwise or if not finite
  Curve(std::span<const double> x, std::span<const double> y);

  /// Value at x. Outside the table the end tangent goes on in a straight line (the caller
  /// asks `covers` and flags it).
  [[nodiscard]] double operator()(double x) const noexcept;
  [[nodiscard]] double slope(double x) const noexcept;
  [[nodiscard]] bool covers(double x) const noexcept { return x >= x_.front() && x <= x_.back(); }
  [[nodiscard]] double low() const noexcept { return x_.front(); }
  [[nodiscard]] double high() const noexcept { return x_.back(); }

 private:
  std::vector<double> x_, y_, slope_;
};

/// Curves over one uniform grid, asked together: index by one multiplication, one cubic each. C1; straight
/// beyond the ends. Not a number gives not a number, in both.
template <std::size_t columns>
class UniformCurves {
 public:
  UniformCurves() = default;
  /// @param low, high  range, low < high;  @param y  of each curve its values at equal spacing, at least 4
  /// @throws std::invalid_argument otherwise or if not finite
  UniformCurves(double low, double high, const std::array<std::span<const double>, columns>& y);

  /// Number: a double, or Lanes.
  template <class Number>
  [[nodiscard]] std::array<Number, columns> operator()(Number x) const noexcept {
    const Number position = (x - low_) * inverse_step_;
    std::array<Number, columns> values;
    if (!(position > 0.0)) {
      const Cell& first = cells_.front();
      for (std::size_t i = 0; i < columns; ++i) values[i] = first.a[i] + first.b[i] * position;
    } else if (position >= cell_count_) {
      for (std::size_t i = 0; i < columns; ++i)
        values[i] = end_value_[i] + end_slope_[i] * (position - cell_count_);
    } else {
      const auto index = static_cast<std::size_t>(point_of(position));
      const Number t = position - static_cast<double>(index);
      const Cell& cell = cells_[index];
      for (std::size_t i = 0; i < columns; ++i)
        values[i] = cell.a[i] + t * (cell.b[i] + t * (cell.c[i] + t * cell.d[i]));
    }
    return values;
  }
  [[nodiscard]] bool covers(double x) const noexcept { return x >= low_ && x <= high_; }
  [[nodiscard]] double low() const noexcept { return low_; }
  [[nodiscard]] double high() const noexcept { return high_; }

 private:
  using Values = std::array<double, columns>;
  struct Cell {
    Values a, b, c, d;
  };
  double low_ = 0.0, high_ = 0.0, inverse_step_ = 0.0, cell_count_ = 0.0;
  Values end_value_{}, end_slope_{};
  std::vector<Cell> cells_;
};

/// A Curve sampled on a uniform grid.
class UniformCurve {
 public:
  UniformCurve() = default;
  /// As UniformCurves.
  UniformCurve(double low, double high, std::span<const double> y) : curves_(low, high, {y}) {}

  template <class Number>
  [[nodiscard]] Number operator()(Number x) const noexcept {
    return curves_(x)[0];
  }
  [[nodiscard]] bool covers(double x) const noexcept { return curves_.covers(x); }
  [[nodiscard]] double low() const noexcept { return curves_.low(); }
  [[nodiscard]] double high() const noexcept { return curves_.high(); }

 private:
  UniformCurves<1> curves_;
};

}  // namespace bowrise
