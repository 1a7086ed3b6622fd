#include "models/intake.hpp"

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "models/lanes.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

constexpr double throat_share_of_bore = 0.9;  // engineering judgement
constexpr double chop_reference_height_m = 0.3, chop_reference_speed_m_s = 15.0;
constexpr double leak_discharge = 0.6;             // sharp-edged orifice
constexpr double leak_pressure_width_Pa = 2000.0;  // rounds the corner where ram beats suction
constexpr double carrying_flow_width_m3_s =
    1e-3;  // rounds the corner where the flow turns; small beside any in use
constexpr double wetted_share_of_hull = 0.5;  // engineering judgement
// A turbulent layer of the 1/7-power law along a flat plate (Schlichting, Boundary-Layer Theory; from
// memory).
constexpr double layer_exponent = 7.0, layer_coefficient = 0.37, layer_reynolds_power = 0.2;
constexpr double swallowed_width_in_bores = 1.3;
constexpr double least_layer_share = 0.10,
                 layer_share_corner = 0.05;  // of the layer's flow: below, w is held
constexpr double full_wake_speed_m_s = 1.0;

// Debris leaves (1 - b) of the duct; the stream spreads again behind it with the loss of a
// sudden enlargement.
double blockage_loss(double blockage) {
  const double open = 1.0 - blockage;
  return (blockage / open) * (blockage / open);
}

// Square root of a positive pressure difference, none of a negative one. C1: from zero it
// starts as a parabola.
template <class Number>
Number smooth_root(Number pressure_Pa) noexcept {
  using std::sqrt;
  const Number suction = std::max(Number(0.0), pressure_Pa);
  const Number magnitude = smooth_magnitude(suction, leak_pressure_width_Pa);
  return suction * suction / (magnitude * sqrt(magnitude));
}

constexpr double most_stern_lift = 0.5, stern_lift_rounding = 0.15;  // shares of the weight
constexpr double stock_feed = 0.25;  // the grate that intake.spill_onset is stated for
constexpr double lowest_onset = 0.2, highest_onset = 0.9;

// A grate that scoops, and a plate that raises the pressure under the stern, bring more water to the lip.
double spill_onset(const Intake& intake, const Grate& grate, double plate_angle_rad) {
  const double moved = intake.spill_onset + intake.grate_onset_slope * (grate.feed - stock_feed) +
                       intake.plate_onset_slope_per_rad * plate_angle_rad;
  return std::clamp(moved, lowest_onset, highest_onset);
}

/// What flows in the layer itself, over the width that is swallowed.
template <class Number>
Number layer_flow_m3_s(Number speed_m_s, double bore_m, Number thickness_m, double exponent) noexcept {
  return speed_m_s * swallowed_width_in_bores * bore_m * thickness_m * exponent / (exponent + 1.0);
}

LayerWake layer_wake(const Intake& intake, const IntakeSurroundings& around) {
  const double length = std::isfinite(intake.wetted_length_m) ? intake.wetted_length_m
                                                              : wetted_share_of_hull * around.hull_length_m;
  return {around.bore_m, layer_coefficient * length *
                             std::pow(length / around.kinematic_viscosity_m2_s, -layer_reynolds_power)};
}

}  // namespace

template <class Number>
Number boundary_layer_wake(Number flow_m3_s, Number speed_m_s, double bore_m, Number layer_thickness_m,
                           double exponent) noexcept {
  using std::pow;
  const double width = swallowed_width_in_bores * bore_m, m = exponent;
  const Number layer_flow = layer_flow_m3_s(speed_m_s, bore_m, layer_thickness_m, m);
  if (flow_m3_s <= layer_flow)
    return 1.0 - (m + 1.0) / (m + 2.0) * pow(flow_m3_s / layer_flow, 1.0 / (m + 1.0));
  const Number momentum_thickness = layer_thickness_m * m / ((m + 1.0) * (m + 2.0));
  return speed_m_s * momentum_thickness * width / flow_m3_s;
}

template <class Number>
Number swallowed_deficit_m_s(const LayerWake& wake, Number flow_m3_s, Number speed_m_s) noexcept {
  using std::pow;
  if (speed_m_s <= 0.0) return 0.0;
  const Number thickness = wake.thickness_at_1_m_s * pow(speed_m_s, -layer_reynolds_power);
  const Number layer_flow = layer_flow_m3_s(speed_m_s, wake.bore_m, thickness, layer_exponent);
  const Number flow =
      rounded_max<Number, Number>(flow_m3_s, least_layer_share * layer_flow, layer_share_corner * layer_flow);
  return boundary_layer_wake(flow, speed_m_s, wake.bore_m, thickness, layer_exponent) * speed_m_s *
         smoothstep(0.0, full_wake_speed_m_s, speed_m_s);
}

template double boundary_layer_wake(double, double, double, double, double) noexcept;

double jet_efficiency(double velocity_ratio, double nozzle_loss, double inlet_loss) noexcept {
  return 2.0 * velocity_ratio * (1.0 - velocity_ratio) /
         (1.0 + nozzle_loss - (1.0 - inlet_loss) * velocity_ratio * velocity_ratio);
}

Problems check(const Intake& intake, const Grate& grate) {
  Problems problems;
  if (intake.suction_length_m > 0.0 && intake.suction_inertance_1_m <= 0.0)
    problems.push_back(
        {"intake.suction_inertance", "zero beside a suction length", "30 1/m to 80 1/m is usual"});
  if (grate.feed > 0.0 && grate.drag_area_m2 <= 0.0)
    problems.push_back({"grate.drag_area", "a grate that feeds has drag", "0.5 cm2 to 8 cm2 is usual"});
  return problems;
}

PreparedIntake prepare_intake(const Intake& intake, const Grate& grate, const IntakeSurroundings& around) {
  const double bore_area = 0.25 * pi * around.bore_m * around.bore_m;
  const double throat =
      std::isfinite(intake.throat_area_m2) ? intake.throat_area_m2 : throat_share_of_bore * bore_area;
  PreparedIntake out{};
  out.wake_law = intake.wake_law;
  out.layer = layer_wake(intake, around);
  out.inflow_share = 1.0 - intake.wake_fraction;
  out.inverse_bore_area_1_m2 = 1.0 / bore_area;
  out.duct_loss = intake.duct_loss + grate.loss + blockage_loss(grate.blockage);
  out.mismatch_loss = intake.mismatch_loss;
  out.throat_area_m2 = throat * (1.0 - grate.blockage);
  out.inverse_spill_onset = 1.0 / spill_onset(intake, grate, around.plate_angle_rad);
  out.spill_factor_1_m2 = intake.spill_factor / out.throat_area_m2;
  out.stern_lift_ratio = intake.stern_lift_ratio;
  out.stern_lift_limit_N = most_stern_lift * around.weight_N;
  out.grate_drag_area_m2 = grate.drag_area_m2;
  out.chop_void = intake.chop_factor * around.chop_height_m / chop_reference_height_m * (1.0 - grate.feed);
  out.leak_m3_s_per_root_Pa =
      leak_discharge * intake.leak_area_m2 * std::sqrt(2.0 / around.air_density_kg_m3);
  out.inverse_void_volume_1_m3 = 1.0 / intake.void_volume_m3;
  out.lip_ratio = intake.lip_ratio;
  out.inverse_lip_ratio = 1.0 / intake.lip_ratio;
  out.lip_void = intake.lip_void;
  out.inverse_prime_void = 1.0 / intake.prime_void;
  return out;
}

Cavitation behind_blockage(const Grate& grate, Cavitation cavitation) noexcept {
  cavitation.blade_factor += cavitation.incidence_slope_per_deg * grate.blockage_swing_deg * grate.blockage;
  return cavitation;
}

template <class Number>
InflowOf<Number> inflow(const PreparedIntake& intake, Number flow_m3_s, Number speed_m_s) noexcept {
  using std::abs;
  InflowOf<Number> out;
  out.inflow_speed_m_s = intake.wake_law == WakeLaw::constant
                             ? intake.inflow_share * speed_m_s
                             : speed_m_s - swallowed_deficit_m_s(intake.layer, flow_m3_s, speed_m_s);
  out.duct_speed_m_s = flow_m3_s * intake.inverse_bore_area_1_m2;
  const Number mismatch = out.inflow_speed_m_s - out.duct_speed_m_s;
  out.loss_J_kg = 0.5 * intake.duct_loss * out.duct_speed_m_s * abs(out.duct_speed_m_s) +
                  0.5 * intake.mismatch_loss * mismatch * mismatch;
  return out;
}

template <class Number>
SpillOf<Number> spill(const PreparedIntake& intake, Number flow_m3_s, Number speed_m_s,
                      double density_kg_m3) noexcept {
  // s A V = A V - Q/onset: written so that nothing is divided by the speed; its square
  // needs no rounding to be C1
  const Number unswallowed =
      std::max<Number>(0.0, intake.throat_area_m2 * speed_m_s - flow_m3_s * intake.inverse_spill_onset);
  const Number drag = intake.spill_factor_1_m2 * density_kg_m3 * unswallowed * unswallowed;
  constexpr double rounding = stern_lift_rounding / most_stern_lift;
  const double limit = intake.stern_lift_limit_N;
  return {drag, rounded_min<Number>(intake.stern_lift_ratio * drag, limit, rounding * limit)};
}

template <class Number>
Number inlet_velocity_ratio(const PreparedIntake& intake, Number flow_m3_s, Number speed_m_s) noexcept {
  if (speed_m_s < least_ratio_speed_m_s) return 0.0;
  return flow_m3_s / (intake.throat_area_m2 * speed_m_s);
}

template <class Number>
Number void_rate(const PreparedIntake& intake, Number void_fraction, Number flow_m3_s, Number speed_m_s,
                 Number suction_pressure_Pa, double ambient_pressure_Pa) noexcept {
  const Number through = intake.throat_area_m2 * smooth_max(speed_m_s, least_ratio_speed_m_s, 0.2);
  const Number separated =
      intake.lip_void *
      smooth_positive<Number>(
          (intake.throat_area_m2 * speed_m_s - flow_m3_s * intake.inverse_lip_ratio) / through, 0.02);
  const Number chop = intake.chop_void * smoothstep(0.0, chop_reference_speed_m_s, speed_m_s);
  const Number leak =
      intake.leak_m3_s_per_root_Pa > 0.0
          ? intake.leak_m3_s_per_root_Pa * smooth_root<Number>(ambient_pressure_Pa - suction_pressure_Pa)
          : Number(0.0);
  const Number through_pump =
      smooth_positive(flow_m3_s, carrying_flow_width_m3_s);  // water coming back breeds no air
  return ((chop + separated - void_fraction) * through_pump + leak) * intake.inverse_void_volume_1_m3;
}

template <class Number>
Number air_factor(const PreparedIntake& intake, Number void_fraction) noexcept {
  using std::sqrt;
  constexpr double width = 0.05;
  constexpr double per_clean = 0.99937578003141;  // 1 over smooth_positive(1, width)
  const Number share = smooth_positive(void_fraction, 1e-4) * intake.inverse_prime_void;
  return smooth_positive<Number>(1.0 - share * sqrt(share), width) * per_clean;
}

template InflowOf<double> inflow(const PreparedIntake&, double, double) noexcept;
template SpillOf<double> spill(const PreparedIntake&, double, double, double) noexcept;
template double inlet_velocity_ratio(const PreparedIntake&, double, double) noexcept;
template double void_rate(const PreparedIntake&, double, double, double, double, double) noexcept;
template double air_factor(const PreparedIntake&, double) noexcept;
template InflowOf<StateLanes> inflow(const PreparedIntake&, StateLanes, StateLanes) noexcept;
template SpillOf<StateLanes> spill(const PreparedIntake&, StateLanes, StateLanes, double) noexcept;
template StateLanes inlet_velocity_ratio(const PreparedIntake&, StateLanes, StateLanes) noexcept;
template StateLanes void_rate(const PreparedIntake&, StateLanes, StateLanes, StateLanes, StateLanes,
                              double) noexcept;
template StateLanes air_factor(const PreparedIntake&, StateLanes) noexcept;

}  // namespace bowrise
