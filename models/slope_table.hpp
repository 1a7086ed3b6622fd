// Tables of smooth functions whose slope is known, for the hot path. Number: a double, or Lanes.
#pragma once

#include <array>
#include <cstddef>
#include <memory>

#include "models/point_of.hpp"

namespace bowrise {

template <class Number>
struct ValueAndSlopeOf {
  Number value, slope;
};
using ValueAndSlope = ValueAndSlopeOf<double>;

/// Several functions of one variable on a uniform grid. Each cell holds the cubic through values and slopes
/// at its ends: C1, with an error of step^4 f''''/384. (UniformCurve chooses slopes that keep its data
/// monotone and errs with step^3.) Beyond the ends the tangent goes on. Copies share their cells.
template <std::size_t columns>
class SlopeTable {
 public:
  using Row = std::array<ValueAndSlope, columns>;

  SlopeTable() = default;

  /// @param low, high  range, low < high;  @param cells  at least 1
  /// @param row  x -> Row, finite
  template <class RowAt>
  SlopeTable(double low, double high, std::size_t cells, RowAt&& row)
      : low_(low),
        inverse_step_(static_cast<double>(cells) / (high - low)),
        end_(static_cast<double>(cells)) {
    const auto filled = std::make_shared<Cell[]>(cells);
    const double step = (high - low) / static_cast<double>(cells);
    Row before = row(low);
    for (std::size_t i = 0; i < cells; ++i) {
      const Row after = row(low + step * static_cast<double>(i + 1));
      for (std::size_t column = 0; column < columns; ++column)
        filled[i][column] = cubic(before[column], after[column], step);
      before = after;
    }
    cells_ = filled;
  }

  template <class Number>
  [[nodiscard]] std::array<Number, columns> operator()(Number x) const noexcept {
    const Number position = (x - low_) * inverse_step_;
    if (!inside(point_of(position))) return outside(position);
    const auto index = static_cast<std::ptrdiff_t>(point_of(position));
    const Number t = position - static_cast<double>(index);
    const Cell& cell = cells_[index];
    std::array<Number, columns> values;
    for (std::size_t column = 0; column < columns; ++column) values[column] = cell[column].value(t);
    return values;
  }

  /// Of the first column.
  template <class Number>
  [[nodiscard]] ValueAndSlopeOf<Number> value_and_slope(Number x) const noexcept {
    const Number position = (x - low_) * inverse_step_;
    if (!inside(point_of(position)))
      return {outside(position)[0], inverse_step_ * (position > 0.0 ? last()[0].slope(1.0) : cells_[0][0].b)};
    const auto index = static_cast<std::ptrdiff_t>(point_of(position));
    const Number t = position - static_cast<double>(index);
    const Cubic& cubic = cells_[index][0];
    return {cubic.value(t), inverse_step_ * cubic.slope(t)};
  }

 private:
  struct Cubic {
    double a, b, c, d;
    // In pairs: half the waiting of Horner's form.
    template <class Number>
    [[nodiscard]] Number value(Number t) const noexcept {
      return (a + t * b) + t * t * (c + t * d);
    }
    template <class Number>
    [[nodiscard]] Number slope(Number t) const noexcept {
      return b + t * (2.0 * c + 3.0 * d * t);
    }
  };
  using Cell = std::array<Cubic, columns>;

  [[nodiscard]] const Cell& last() const noexcept { return cells_[static_cast<std::ptrdiff_t>(end_) - 1]; }
  [[nodiscard]] bool inside(double position) const noexcept { return position > 0.0 && position < end_; }

  template <class Number>
  [[nodiscard]] std::array<Number, columns> outside(Number position) const noexcept {
    const bool above = position > 0.0;
    const Cell& cell = above ? last() : cells_[0];
    const double t = above ? 1.0 : 0.0;
    const Number beyond = above ? position - end_ : position;
    std::array<Number, columns> values;
    for (std::size_t column = 0; column < columns; ++column)
      values[column] = cell[column].value(t) + cell[column].slope(t) * beyond;
    return values;
  }

  [[nodiscard]] static Cubic cubic(const ValueAndSlope& low, const ValueAndSlope& high,
                                   double step) noexcept {
    const double rise = high.value - low.value, slope = step * low.slope, end_slope = step * high.slope;
    return {low.value, slope, 3.0 * rise - 2.0 * slope - end_slope, slope + end_slope - 2.0 * rise};
  }

  double low_ = 0.0, inverse_step_ = 0.0, end_ = 0.0;  // end_ in steps
  std::shared_ptr<const Cell[]> cells_;
};

}  // namespace bowrise
