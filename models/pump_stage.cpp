#include "models/pump_stage.hpp"

#include <algorithm>
#include <array>
#include <boost/math/tools/minima.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <memory>
#include <span>
#include <stdexcept>
#include <string>

#include "models/blade_row.hpp"
#include "models/cavitation.hpp"
#include "models/constants.hpp"
#include "models/curve.hpp"
#include "models/square.hpp"

namespace bowrise {
namespace {

constexpr double least_computed_flow = 0.6;  // of the best flow: below, mean-line analysis says nothing
constexpr double least_measured_flow =
    0.2;  // of the best flow: rows below are near shutoff, where psi/eta has no limit
constexpr double breakdown_over_one_percent = 0.65;
constexpr double vanes_of_residual_swirl = 7.0;  // the row's figure belongs to a stator of this many

/// Gap over blade height, as it is and new.
struct TipGap {
  double now, when_new;
};

TipGap tip_gap(const Pump& pump, const BladeRow& row) noexcept {
  return {pump.clearance_m / row.blade_height_m, pump.clearance_new_m / row.blade_height_m};
}

/// Factors on a stage's head and power, from the tip gap and the calibration of the head.
struct StageFactors {
  double head, power;
};

StageFactors stage_factors(const Pump& pump, const TipGap& gap, double best_efficiency,
                           double efficiency_factor) noexcept {
  // The floors keep a ring that is worn beyond all use finite.
  const double head =
      std::max(1.0 - pump.gap_head_slope * (std::sqrt(gap.now) - std::sqrt(gap.when_new)), 0.1);
  const double efficiency =
      std::max(1.0 - pump.gap_efficiency_slope * (gap.now - gap.when_new) / best_efficiency, 0.1);
  return {.head = head * efficiency_factor, .power = head / efficiency};
}

SuctionCoefficients with_gap(const SuctionCoefficients& suction, const Cavitation& cavitation,
                             const TipGap& gap) noexcept {
  return {suction.onset * gap_onset_factor(cavitation.gap_onset_slope, gap.now, gap.when_new),
          suction.breakdown * gap_breakdown_factor(cavitation.gap_breakdown_slope, gap.now, gap.when_new)};
}

PartFlow part_flow(const Pump& pump) noexcept { return {pump.shutoff_head_ratio, pump.shutoff_torque_ratio}; }

// Mean line.

/// The rotors of a pump at one speed, asked at any flow coefficient.
struct MeanLine {
  Cavitation cavitation;
  std::array<BladeRow, 2> row;
  std::array<SuctionEdge, 2> edge;
  std::array<Stator, 2> stator;
  RowFriction friction;
  double speed_rad_s, flow_per_coefficient_m3_s, head_unit_J_kg, mechanical_efficiency;
  bool swirl_to_second;

  [[nodiscard]] Stations swirl_ahead(std::size_t stage, double phi) const noexcept {
    if (stage == 0 || !swirl_to_second) return {};
    return swirl_ahead_of(row[1], row[0], row_at(0, phi).swirl_out_m_s);
  }

  [[nodiscard]] RowFlow row_at(std::size_t stage, double phi) const noexcept {
    return row_flow(row[stage], stator[stage], friction, phi * flow_per_coefficient_m3_s, speed_rad_s,
                    swirl_ahead(stage, phi));
  }

  [[nodiscard]] StageCoefficients coefficients(std::size_t stage, double phi) const noexcept {
    const RowFlow at = row_at(stage, phi);
    return {.head_inviscid = (at.euler_work_J_kg - at.losses_J_kg.inviscid()) / head_unit_J_kg,
            .head_viscous = at.losses_J_kg.viscous() / head_unit_J_kg,
            .power = phi * at.euler_work_J_kg / (head_unit_J_kg * mechanical_efficiency),
            .onset = 0.0,
            .breakdown = 0.0};
  }

  /// @param swirl_known  flows outside which the swirl of the first stage is held: mean line ends there
  [[nodiscard]] SuctionCoefficients suction(std::size_t stage, double phi,
                                            const Range& swirl_known) const noexcept {
    const double meridional = phi * flow_per_coefficient_m3_s / row[stage].annulus_in_m2;
    const double swirl = swirl_ahead(stage, std::clamp(phi, swirl_known.low, swirl_known.high)).back();
    const double relative_swirl = speed_rad_s * row[stage].tip_radius_m - swirl;
    const double incidence =
        row[stage].tip_angle_in_rad - relative_flow_angle_rad(meridional, relative_swirl);
    const SuctionInflow inflow{.absolute_m_s = std::hypot(meridional, swirl),
                               .relative_m_s = std::hypot(meridional, relative_swirl),
                               .incidence_deg = incidence / radians_per_degree};
    return {onset_energy_J_kg(cavitation, edge[stage], inflow) / head_unit_J_kg,
            breakdown_energy_J_kg(cavitation, edge[stage], inflow) / head_unit_J_kg};
  }
};

MeanLine mean_line(const Pump& pump, const Rotor& impeller, const Rotor& stage_2,
                   const Cavitation& cavitation, double speed_rad_s, double kinematic_viscosity_m2_s) {
  const bool two = pump.stages > 1.5;
  const std::array<Rotor, 2> rotor{resolved(impeller, pump.bore_m),
                                   resolved(two ? stage_2 : impeller, pump.bore_m)};
  const Stator stator{pump.stator_loss,
                      pump.residual_swirl_rad * vanes_of_residual_swirl / pump.stator_vanes};
  const double revolutions_1_s = speed_rad_s / (2.0 * pi);
  MeanLine line{};
  line.cavitation = cavitation;
  for (std::size_t stage = 0; stage < 2; ++stage) {
    line.row[stage] = blade_row(rotor[stage], pump.bore_m);
    line.edge[stage] = {line.row[stage].tip_angle_in_rad / radians_per_degree, rotor[stage].edge_thickness_m};
    line.stator[stage] = stator;
  }
  line.swirl_to_second = two && pump.interstage_stator == YesNo::no;
  if (line.swirl_to_second) line.stator[0] = {0.0, 0.0};
  line.friction = {kinematic_viscosity_m2_s, pump.roughness_factor, pump.edge_drag};
  line.speed_rad_s = speed_rad_s;
  line.flow_per_coefficient_m3_s = revolutions_1_s * pump.bore_m * pump.bore_m * pump.bore_m;
  line.head_unit_J_kg = square(revolutions_1_s * pump.bore_m);
  line.mechanical_efficiency = pump.mechanical_efficiency;
  return line;
}

double efficiency(const StageCoefficients& at, double phi) noexcept { return phi * at.head() / at.power; }

/// Best flow, and the flow at which the head vanishes or up to which the search was allowed.
struct WorkingRange {
  double best_flow, best_efficiency, last_flow;
};

template <class CoefficientsAt>
double refined_best_flow(const CoefficientsAt& at, double low, double high) {
  std::uintmax_t most = 40;
  const auto loss = [&](double phi) { return -efficiency(at(phi), phi); };
  return boost::math::tools::brent_find_minima(loss, low, high, 18, most).first;
}

template <class CoefficientsAt>
double zero_head_flow(const CoefficientsAt& at, double low, double high) {
  std::uintmax_t most = 60;
  return boost::math::tools::toms748_solve([&](double flow) { return at(flow).head(); }, low, high,
                                           boost::math::tools::eps_tolerance<double>(40), most)
      .first;
}

/// Scans upward from no flow to the first loss of head.
/// @param no_work_flow  scale of the search    @param most_flow  the source means nothing beyond
template <class CoefficientsAt>
WorkingRange working_range(const CoefficientsAt& at, double no_work_flow, double most_flow,
                           const char* stage_name) {
  constexpr int steps = 24, most_steps = 3 * steps;
  const double step = no_work_flow / steps;
  double best_flow = 0.0, best_efficiency = 0.0;
  for (int i = 2; i <= most_steps; ++i) {
    const double phi = std::min(i * step, most_flow);
    const StageCoefficients coefficients = at(phi);
    const bool working = coefficients.head() > 0.0 && coefficients.power > 0.0;
    if (working && efficiency(coefficients, phi) > best_efficiency) {
      best_efficiency = efficiency(coefficients, phi);
      best_flow = phi;
    }
    const bool searched = phi == most_flow;
    if ((working && !searched) || (best_flow == 0.0 && !searched)) continue;
    if (best_flow == 0.0) break;
    const double best = refined_best_flow(at, best_flow - step, std::min(best_flow + step, phi));
    return {best, efficiency(at(best), best),
            working ? phi : zero_head_flow(at, std::max(phi - step, best_flow), phi)};
  }
  throw std::runtime_error(
      std::string(stage_name) +
      ": these blades give no head at any flow; more trailing than leading pitch is needed, and "
      "without an interstage stator more on the second stage than on the first");
}

/// Slope of the input head over the computed range with the swirl ahead held: beyond, the swirl no longer
/// changes.
double input_head_slope(MeanLine line, std::size_t stage, const Range& computed) noexcept {
  line.swirl_to_second = false;
  constexpr std::size_t count = 7;
  std::array<double, count> phi{}, input_head{};
  for (std::size_t i = 0; i < count; ++i) {
    phi[i] = computed.low + (computed.high - computed.low) * static_cast<double>(i) / (count - 1.0);
    input_head[i] = line.coefficients(stage, phi[i]).power / phi[i];
  }
  return straight_line(phi, input_head).slope;
}

/// @param swirl_known  flows at which the swirl ahead of the stage is known
StageCurve mean_line_stage(const Pump& pump, const std::shared_ptr<const MeanLine>& line, std::size_t stage,
                           const Range& swirl_known) {
  const auto raw = [&](double phi) { return line->coefficients(stage, phi); };
  const BladeRow& row = line->row[stage];
  // Without deviation a helical trailing edge does no work, at all radii at once, when it screws through the
  // water.
  const double no_work_flow = row.open_area_out_m2 * line->speed_rad_s * row.tip_radius_m *
                              std::tan(row.tip_angle_out_rad) / line->flow_per_coefficient_m3_s;
  const WorkingRange range =
      working_range(raw, no_work_flow, swirl_known.high, stage == 0 ? "impeller" : "stage_2");
  const TipGap gap = tip_gap(pump, row);
  const StageFactors factors = stage_factors(pump, gap, range.best_efficiency, pump.efficiency_factor);
  const StageSource source{[line, stage, factors](double phi) {
                             StageCoefficients at = line->coefficients(stage, phi);
                             at.head_inviscid *= factors.head;
                             at.head_viscous *= factors.head;
                             at.power *= factors.power;
                             return at;
                           },
                           [line, stage, gap, swirl_known](double phi) {
                             return with_gap(line->suction(stage, phi, swirl_known), line->cavitation, gap);
                           }};
  const Range computed{least_computed_flow * range.best_flow, range.last_flow};
  return {source, computed, range.best_flow, factors.power * input_head_slope(*line, stage, computed),
          part_flow(pump)};
}

// Measured curve.

struct MeasuredCurve {
  Curve head, input_head, one_percent;  ///< over the flow coefficient
  double best_flow, best_efficiency;
  Range computed;           ///< rows that are far enough from no flow to be used
  double input_head_slope;  ///< least squares of those rows
};

MeasuredCurve measured_curve(const TableRows& rows) {
  std::vector<double> phi, head, input_head, one_percent;
  for (const std::vector<double>& row : rows) {
    phi.push_back(row[0]);
    head.push_back(row[1]);
    input_head.push_back(row[1] / row[2]);
    one_percent.push_back(row[1] * row[3]);
  }
  MeasuredCurve curve{.head = Curve(phi, head),
                      .input_head = Curve(phi, input_head),
                      .one_percent = Curve(phi, one_percent),
                      .best_flow = 0.0,
                      .best_efficiency = 0.0,
                      .computed = {},
                      .input_head_slope = 0.0};
  const auto best =
      std::max_element(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a[2] < b[2]; });
  const auto index = static_cast<std::size_t>(best - rows.begin());
  const double low = phi[index > 0 ? index - 1 : 0], high = phi[std::min(index + 1, phi.size() - 1)];
  std::uintmax_t most = 60;
  const auto loss = [&](double flow) { return -curve.head(flow) / curve.input_head(flow); };
  const auto [flow, negative_efficiency] = boost::math::tools::brent_find_minima(loss, low, high, 24, most);
  curve.best_flow = flow;
  curve.best_efficiency = -negative_efficiency;
  const auto first = static_cast<std::size_t>(
      std::lower_bound(phi.begin(), phi.end(), least_measured_flow * flow) - phi.begin());
  curve.computed = {phi[first], phi.back()};
  curve.input_head_slope =
      straight_line(std::span(phi).subspan(first), std::span(input_head).subspan(first)).slope;
  return curve;
}

/// Suction law of a rotor of which only bore and hub are known, in units of (n D)^2.
double outline_suction(const Cavitation& cavitation, double annulus_over_bore_squared, double phi) noexcept {
  const double inlet = phi / annulus_over_bore_squared;
  return cavitation.inlet_factor * 0.5 * square(inlet) +
         cavitation.blade_factor * 0.5 * (square(inlet) + square(pi));
}

StageCurve measured_stage(const Pump& pump, const Rotor& impeller, const Cavitation& cavitation) {
  const auto curve = std::make_shared<const MeasuredCurve>(measured_curve(pump.curve));
  const BladeRow row = blade_row(resolved(impeller, pump.bore_m), pump.bore_m);
  const TipGap gap = tip_gap(pump, row);
  const StageFactors factors = stage_factors(pump, gap, curve->best_efficiency, 1.0);
  const double annulus = row.annulus_in_m2 / square(pump.bore_m);
  const StageSource source{
      [curve, factors](double phi) {
        return StageCoefficients{.head_inviscid = factors.head * curve->head(phi),
                                 .head_viscous = 0.0,
                                 .power = factors.power * phi * curve->input_head(phi),
                                 .onset = 0.0,
                                 .breakdown = 0.0};
      },
      [curve, cavitation, gap, annulus](double phi) {
        const double inside = std::clamp(phi, curve->one_percent.low(), curve->one_percent.high());
        const double one_percent = curve->one_percent(inside) * outline_suction(cavitation, annulus, phi) /
                                   outline_suction(cavitation, annulus, inside);
        const double breakdown = breakdown_over_one_percent * one_percent;
        return with_gap({onset_from_one_percent_J_kg(one_percent, breakdown), breakdown}, cavitation, gap);
      }};
  return {source, curve->computed, curve->best_flow, factors.power * curve->input_head_slope,
          part_flow(pump)};
}

}  // namespace

std::vector<StageCurve> stage_curves(const Pump& pump, const Rotor& impeller, const Rotor& stage_2,
                                     const Cavitation& cavitation, double speed_rad_s,
                                     double kinematic_viscosity_m2_s) {
  if (!pump.curve.empty()) return {measured_stage(pump, impeller, cavitation)};
  const auto line = std::make_shared<const MeanLine>(
      mean_line(pump, impeller, stage_2, cavitation, speed_rad_s, kinematic_viscosity_m2_s));
  const Range everywhere{0.0, std::numeric_limits<double>::infinity()};
  std::vector<StageCurve> curves{mean_line_stage(pump, line, 0, everywhere)};
  if (pump.stages > 1.5)
    curves.push_back(
        mean_line_stage(pump, line, 1, line->swirl_to_second ? curves.front().computed() : everywhere));
  return curves;
}

}  // namespace bowrise
