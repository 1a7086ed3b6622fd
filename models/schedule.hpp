// A setting that a rider changes with speed: a table over craft speed, held beyond its ends, C1.
#pragma once

#include "models/curve.hpp"
#include "models/parameter.hpp"

namespace bowrise {

/// One value, or a curve of it over craft speed.
class Schedule {
 public:
  Schedule() = default;
  /// @param rows  [speed, value], speeds rising strictly; empty: the constant holds at every speed
  Schedule(const TableRows& rows, double constant);

  [[nodiscard]] double operator()(double speed_m_s) const noexcept {
    return varies_ ? curve_(speed_m_s) : constant_;
  }
  /// Of Lanes.
  template <class Number>
  [[nodiscard]] Number operator()(const Number& speed_m_s) const noexcept {
    if (!varies_) return constant_;
    return speed_m_s.expanded(curve_(speed_m_s.point()), curve_.slope(speed_m_s.point()));
  }
  [[nodiscard]] bool varies() const noexcept { return varies_; }

 private:
  Curve curve_;
  double constant_ = 0.0;
  bool varies_ = false;
};

}  // namespace bowrise
