#include "models/pump_curve.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bowrise {
namespace {

constexpr double power_floor = -0.2;          // of the best point's power: a freewheeling rotor
constexpr double power_floor_rounding = 0.1;  // half width of the rounded corner, same unit
constexpr double bend = 0.1;  // flow, in best flows, over which a slope turns into the straight line's

/// Parabola over 0..1 with this value at 0 and this value and slope at 1.
double parabola(double at_zero, double at_one, double slope_at_one, double t) noexcept {
  const double rise = at_one - at_zero;
  return at_zero + t * (2.0 * rise - slope_at_one + t * (slope_at_one - rise));
}

/// Cubic over 0..1, level at 0, with this value and slope at 1.
double level_start_cubic(double at_zero, double at_one, double slope_at_one, double t) noexcept {
  const double rise = at_one - at_zero;
  return at_zero + t * t * (3.0 * rise - slope_at_one + t * (slope_at_one - 2.0 * rise));
}

/// Leaves (0, value) with `slope` and settles on the direction `final_slope` within a few lengths.
double bent_line(double value, double slope, double final_slope, double length, double x) noexcept {
  return value + final_slope * x + (slope - final_slope) * length * (1.0 - std::exp(-x / length));
}

/// C1 maximum of x and floor that alters nothing further than `rounding` from the floor.
double rounded_floor(double x, double floor, double rounding) noexcept {
  const double above = x - floor + rounding;
  if (above >= 2.0 * rounding) return x;
  if (above <= 0.0) return floor;
  return floor + above * above / (4.0 * rounding);
}

/// One-sided difference quotient, second order, reaching into the computed range.
StageCoefficients inward_slope(const StageSource& source, double at, double step) {
  const StageCoefficients a = source.coefficients(at), b = source.coefficients(at + step),
                          c = source.coefficients(at + 2.0 * step);
  const auto slope = [&](double StageCoefficients::*field) {
    return (4.0 * b.*field - 3.0 * a.*field - c.*field) / (2.0 * step);
  };
  return {.head_inviscid = slope(&StageCoefficients::head_inviscid),
          .head_viscous = slope(&StageCoefficients::head_viscous),
          .power = slope(&StageCoefficients::power),
          .onset = 0.0,
          .breakdown = 0.0};
}

}  // namespace

StraightLine straight_line(std::span<const double> x, std::span<const double> y) noexcept {
  const auto count = static_cast<double>(x.size());
  double mean_x = 0.0, mean_y = 0.0, xx = 0.0, xy = 0.0, yy = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    mean_x += x[i] / count;
    mean_y += y[i] / count;
  }
  for (std::size_t i = 0; i < x.size(); ++i) {
    xx += (x[i] - mean_x) * (x[i] - mean_x);
    xy += (x[i] - mean_x) * (y[i] - mean_y);
    yy += (y[i] - mean_y) * (y[i] - mean_y);
  }
  const double slope = xy / xx;
  return {.intercept = mean_y - slope * mean_x,
          .slope = slope,
          .determination = yy > 0.0 ? xy * xy / (xx * yy) : 1.0};
}

StageCurve::StageCurve(StageSource source, Range computed, double best_flow_coefficient,
                       double input_head_slope, PartFlow part_flow)
    : source_(std::move(source)),
      computed_(computed),
      best_flow_(best_flow_coefficient),
      best_power_(source_.coefficients(best_flow_coefficient).power),
      input_head_slope_(input_head_slope),
      part_flow_(part_flow),
      low_(source_.coefficients(computed.low)),
      low_slope_(inward_slope(source_, computed.low, 1e-4 * computed.low)),
      high_(source_.coefficients(computed.high)),
      high_slope_(inward_slope(source_, computed.high, -1e-4 * computed.high)) {}

StageCoefficients StageCurve::operator()(double flow_coefficient) const {
  const double flow = std::max(flow_coefficient, 0.0);
  StageCoefficients at = flow < computed_.low    ? below(flow)
                         : flow > computed_.high ? above(flow)
                                                 : source_.coefficients(flow);
  const SuctionCoefficients suction = source_.suction(flow);
  at.onset = suction.onset;
  at.breakdown = suction.breakdown;
  return at;
}

StageCoefficients StageCurve::below(double flow_coefficient) const {
  const double t = flow_coefficient / computed_.low;
  // Both parts of the head by the same linear law, so that it holds for the whole at any Reynolds number.
  const auto head = [&](double StageCoefficients::*field) {
    return parabola(part_flow_.shutoff_head_ratio * low_.*field, low_.*field,
                    low_slope_.*field * computed_.low, t);
  };
  return {.head_inviscid = head(&StageCoefficients::head_inviscid),
          .head_viscous = head(&StageCoefficients::head_viscous),
          .power = level_start_cubic(part_flow_.shutoff_torque_ratio * best_power_, low_.power,
                                     low_slope_.power * computed_.low, t),
          .onset = 0.0,
          .breakdown = 0.0};
}

double StageCurve::power_above(double flow_coefficient) const noexcept {
  const double input_head = high_.power / computed_.high;
  const double input_head_slope = (high_slope_.power - input_head) / computed_.high;
  return flow_coefficient * bent_line(input_head, input_head_slope, input_head_slope_, bend * best_flow_,
                                      flow_coefficient - computed_.high);
}

StageCoefficients StageCurve::above(double flow_coefficient) const {
  const double x = flow_coefficient - computed_.high, length = bend * best_flow_;
  return {.head_inviscid =
              bent_line(high_.head_inviscid, high_slope_.head_inviscid, input_head_slope_, length, x),
          .head_viscous = bent_line(high_.head_viscous, high_slope_.head_viscous, 0.0, length, x),
          .power = rounded_floor(power_above(flow_coefficient), power_floor * best_power_,
                                 power_floor_rounding * best_power_),
          .onset = 0.0,
          .breakdown = 0.0};
}

double StageCurve::straight_from() const {
  const double level = (power_floor - power_floor_rounding) * best_power_;
  double flow = computed_.high + 6.0 * bend * best_flow_;
  // The input head falls along a line, so this ends; the count keeps a table short whose input head hardly
  // falls.
  for (int step = 0; step < 60 && power_above(flow) > level; ++step) flow += 0.5 * bend * best_flow_;
  return flow;
}

}  // namespace bowrise
