// The curve of one pump stage, completed: what mean-line analysis or a test gives over the flows where it
// means something, and simple laws beyond, so that a run can start from no flow and end with the flow driving
// the pump.
//
// All quantities are coefficients of flow phi = Q/(n D^3): heads E/(n D)^2, power P/(rho n^3 D^5), n in
// rev/s.
#pragma once

#include <functional>
#include <span>

#include "models/parameter.hpp"

namespace bowrise {

/// Coefficients of one stage at one flow.
template <class Number>
struct StageCoefficientsOf {
  Number head_inviscid;  ///< head before the losses that depend on Reynolds number
  Number head_viscous;   ///< those losses, at the reference speed
  Number power;          ///< shaft power C_P, mechanical loss in
  Number onset;          ///< suction energy at 3 % head drop
  Number breakdown;      ///< suction energy at full breakdown
  [[nodiscard]] Number head() const noexcept { return head_inviscid - head_viscous; }
};
using StageCoefficients = StageCoefficientsOf<double>;

/// Suction coefficients alone; asked at every flow from none upwards.
struct SuctionCoefficients {
  double onset, breakdown;
};

/// Where a stage's curve comes from.
struct StageSource {
  std::function<StageCoefficients(double flow_coefficient)>
      coefficients;  ///< inside the computed range; suction left at 0
  std::function<SuctionCoefficients(double flow_coefficient)> suction;
};

/// Straight line through points, and how much of their scatter it explains.
struct StraightLine {
  double intercept, slope, determination;
};
/// Least squares; at least two different x.
[[nodiscard]] StraightLine straight_line(std::span<const double> x, std::span<const double> y) noexcept;

/// How a curve goes on below its computed range.
struct PartFlow {
  double shutoff_head_ratio;    ///< head at no flow over head at the low end of the computed range
  double shutoff_torque_ratio;  ///< power coefficient at no flow over that at the best flow
};

/// A source completed to all flows.
///
/// Below the computed range the head goes on as a parabola, the power as a cubic that leaves no flow level;
/// each keeps value and slope at the join. The efficiency follows from both and is never interpolated: were
/// it to fall to zero at no flow and the head with it, a pump at rest could not start. Engineering judgement
/// on recirculating part flow.
///
/// Above the range the loss stays as it is while head and input head fall along the straight line that the
/// input head follows inside the range (Euler: linear in flow). Head may become negative, the flow then
/// drives the pump; the power coefficient is led to a floor of -0.2 of its value at the best flow.
///
/// Backward flow meets the head and the power of no flow.
class StageCurve {
 public:
  /// @param computed  flow coefficients where the source holds, 0 < low < best flow <= high
  /// @param input_head_slope  d(C_P/phi)/dphi of the straight input-head line, < 0
  StageCurve(StageSource source, Range computed, double best_flow_coefficient, double input_head_slope,
             PartFlow part_flow);

  [[nodiscard]] StageCoefficients operator()(double flow_coefficient) const;

  [[nodiscard]] Range computed() const noexcept { return computed_; }
  [[nodiscard]] double best_flow_coefficient() const noexcept { return best_flow_; }
  /// Flow coefficient beyond which the head is a straight line and the power level.
  [[nodiscard]] double straight_from() const;

 private:
  [[nodiscard]] StageCoefficients below(double flow_coefficient) const;
  [[nodiscard]] StageCoefficients above(double flow_coefficient) const;
  [[nodiscard]] double power_above(double flow_coefficient) const noexcept;

  StageSource source_;
  Range computed_;
  double best_flow_, best_power_, input_head_slope_;
  PartFlow part_flow_;
  StageCoefficients low_, low_slope_, high_, high_slope_;
};

}  // namespace bowrise
