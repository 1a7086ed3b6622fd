#include "models/cavitation.hpp"

#include <algorithm>

#include "models/blade_row.hpp"
#include "models/constants.hpp"

namespace bowrise {
namespace {

constexpr double incidence_corner_deg = 0.5;

double velocity_head_J_kg(double speed_m_s) noexcept { return 0.5 * speed_m_s * speed_m_s; }

}  // namespace

double suction_specific_speed(double speed_rad_s, double flow_m3_s, double suction_energy_J_kg) noexcept {
  return speed_rad_s * std::sqrt(flow_m3_s) / std::pow(suction_energy_J_kg, 0.75);
}

double suction_head_coefficient(double us_suction_specific_speed, double inlet_flow_coefficient,
                                double hub_ratio) noexcept {
  // omega sqrt(Q)/E^0.75 with Q = phi U pi r^2 (1 - hub_ratio^2), E = tau U^2/2: the speed cancels.
  const double scale = us_suction_specific_speed_per_unit * std::sqrt(pi) * std::pow(2.0, 0.75);
  const double annulus_factor = std::sqrt(1.0 - hub_ratio * hub_ratio);
  return std::pow(scale * std::sqrt(inlet_flow_coefficient) * annulus_factor / us_suction_specific_speed,
                  4.0 / 3.0);
}

double blade_cavitation_number(double suction_head_coefficient, double inlet_flow_coefficient) noexcept {
  const double square = inlet_flow_coefficient * inlet_flow_coefficient;
  return (suction_head_coefficient - square) / (1.0 + square);
}

double inducer_cavitation_number(double inlet_tip_angle_deg) noexcept {
  return 0.00072 * std::pow(inlet_tip_angle_deg, 1.42);
}

double design_incidence_deg(double inlet_tip_angle_deg) noexcept { return 0.425 * inlet_tip_angle_deg; }

double cold_fluid_suction_factor(double inlet_flow_coefficient) noexcept {
  return 3.0 * (1.0 - 2.0 * inlet_flow_coefficient * inlet_flow_coefficient);
}

double helical_inducer_suction_J_kg(double factor, double inlet_flow_coefficient, double blade_angle_rad,
                                    double tip_speed_m_s) noexcept {
  return factor * inlet_flow_coefficient * std::sin(blade_angle_rad) / (1.0 + std::cos(blade_angle_rad)) *
         velocity_head_J_kg(tip_speed_m_s);
}

double onset_energy_J_kg(const Cavitation& cavitation, const SuctionEdge& edge,
                         const SuctionInflow& inflow) noexcept {
  const double off_design_deg = smooth_magnitude(
      inflow.incidence_deg - design_incidence_deg(edge.inlet_tip_angle_deg), incidence_corner_deg);
  const double blunt_edge_m = std::max(edge.thickness_m - new_edge_thickness_m, 0.0);
  const double incidence_slope =
      cavitation.incidence_slope_per_deg * (1.0 + cavitation.edge_incidence_1_m * blunt_edge_m);
  const double blade_factor =
      cavitation.blade_factor + incidence_slope * off_design_deg + cavitation.edge_slope_per_m * blunt_edge_m;
  return cavitation.inlet_factor * velocity_head_J_kg(inflow.absolute_m_s) +
         blade_factor * velocity_head_J_kg(inflow.relative_m_s);
}

double breakdown_energy_J_kg(const Cavitation& cavitation, const SuctionEdge& edge,
                             const SuctionInflow& inflow) noexcept {
  const double blade_factor =
      cavitation.breakdown_factor * inducer_cavitation_number(edge.inlet_tip_angle_deg);
  return cavitation.breakdown_inlet_factor * velocity_head_J_kg(inflow.absolute_m_s) +
         blade_factor * velocity_head_J_kg(inflow.relative_m_s);
}

double gap_suction_speed_factor(double slope, double gap_over_height) noexcept {
  return 1.0 - slope * std::sqrt(gap_over_height);
}

double gap_onset_factor(double slope, double gap_over_height, double new_gap_over_height) noexcept {
  // A gap of half the blade height is no pump; the floor only keeps the arithmetic finite.
  const double worn = std::max(gap_suction_speed_factor(slope, gap_over_height), 0.2);
  return std::pow(gap_suction_speed_factor(slope, new_gap_over_height) / worn, 4.0 / 3.0);
}

double gap_breakdown_factor(double slope, double gap_over_height, double new_gap_over_height) noexcept {
  return std::max(1.0 + slope * (gap_over_height - new_gap_over_height), 0.3);
}

double onset_from_one_percent_J_kg(double one_percent_J_kg, double breakdown_J_kg) noexcept {
  constexpr double reduced_suction = -4.605170185988091 / log_three_percent;  // s at which 0.03^s = 0.01
  return breakdown_J_kg + (one_percent_J_kg - breakdown_J_kg) / reduced_suction;
}

}  // namespace bowrise
