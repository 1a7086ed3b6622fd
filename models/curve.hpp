// Immutable C1 curves: monotone-preserving cubics for tables of any spacing, and a uniform
// one for the hot path.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

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

/// A Curve sampled on a uniform grid: index by one multiplication, one cubic. C1; straight beyond the ends.
/// Not a number gives not a number, in both.
class UniformCurve {
 public:
  UniformCurve() = default;
  /// @param low, high  range, low < high;  @param y  values at equal spacing, at least 4
  /// @throws std::invalid_argument otherwise or if not finite
  UniformCurve(double low, double high, std::span<const double> y);

  [[nodiscard]] double operator()(double x) const noexcept {
    const double position = (x - low_) * inverse_step_;
    if (!(position > 0.0)) return cells_.front().a + cells_.front().b * position;
    if (position >= cell_count_) return end_value_ + end_slope_ * (position - cell_count_);
    const auto index = static_cast<std::size_t>(position);
    const double t = position - static_cast<double>(index);
    const Cell& cell = cells_[index];
    return cell.a + t * (cell.b + t * (cell.c + t * cell.d));
  }
  [[nodiscard]] bool covers(double x) const noexcept { return x >= low_ && x <= high_; }
  [[nodiscard]] double low() const noexcept { return low_; }
  [[nodiscard]] double high() const noexcept { return high_; }

 private:
  struct Cell {
    double a, b, c, d;
  };
  double low_ = 0.0, high_ = 0.0, inverse_step_ = 0.0, cell_count_ = 0.0, end_value_ = 0.0, end_slope_ = 0.0;
  std::vector<Cell> cells_;
};

}  // namespace bowrise
