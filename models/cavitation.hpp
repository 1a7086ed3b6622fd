// What a rotor needs on its suction side, and what it loses when it does not get it.
//
// All suction quantities are energies above vapour pressure at the rotor's leading edge, E = g NPSH [J/kg].
// Two of them describe a rotor: E_3, at which 3 % of the head is gone ("onset" below), and E_b, at which the
// cavities fill the passage and the head is gone ("breakdown"). Between them s = (E_available - E_b)/(E_3 -
// E_b) and the head factor is 1 - 0.03^s: 1 % lost at s = 1.31, 3 % at 1, 10 % at 0.66, all at 0. The slight
// rise of head that some axial rotors show before the fall (Chen, Tan and Katz 2020) is left out.
//
// E_b is the least certain number of the pump: measured inducers scatter by 30 % about the law used here, and
// craft rotors overlap less than inducers. A static thrust measured with its shaft speed settles it
// (`cavitation.breakdown_factor`).
#pragma once

#include <cmath>

#include "models/pump_inputs.hpp"
#include "models/smooth.hpp"

namespace bowrise {

inline constexpr double log_three_percent = -3.506557897319982;  ///< ln 0.03

/// omega sqrt(Q) / E^0.75 times this is rpm sqrt(US gpm) / ft^0.75 (a matter of units).
inline constexpr double us_suction_specific_speed_per_unit = 2733.0;

/// Suction specific speed [1] from shaft speed, flow and suction energy, each > 0.
/// About 4.2 limits continuous running of waterjets, inducers reach 9 to 15 (from memory).
[[nodiscard]] double suction_specific_speed(double speed_rad_s, double flow_m3_s,
                                            double suction_energy_J_kg) noexcept;

/// NPSH over U_tip^2/2g from a US suction specific speed and phi = c_m/U_tip: the way inducer tests are
/// stated.
/// @param hub_ratio  hub over tip diameter at the inlet
/// Source: definition; NASA SP-8052 (Jakobsen and Keller 1971), eq. for tau.
[[nodiscard]] double suction_head_coefficient(double us_suction_specific_speed, double inlet_flow_coefficient,
                                              double hub_ratio) noexcept;

/// Blade cavitation number K of that state: tau = phi^2 + K (1 + phi^2), so K = (tau - phi^2)/(1 + phi^2).
/// Source: NASA SP-8052 (1971).
[[nodiscard]] double blade_cavitation_number(double suction_head_coefficient,
                                             double inlet_flow_coefficient) noexcept;

/// Blade cavitation number at which measured inducers in water have lost 10 % of their head, 0.00072
/// angle^1.42.
/// @param inlet_tip_angle_deg  blade angle at the inlet tip from the plane of rotation, fitted between 5 and
/// 14 deg Source: own fit to the four open inducers of NASA SP-8052 (1971) table I, read second-hand; they
/// scatter +-30 % about it.
[[nodiscard]] double inducer_cavitation_number(double inlet_tip_angle_deg) noexcept;

/// Incidence at which inducers are designed, 0.425 of the blade angle. Source: NASA SP-8052 (1971) p. 57,
/// read second-hand.
[[nodiscard]] double design_incidence_deg(double inlet_tip_angle_deg) noexcept;

/// NPSH of an ideal inducer in a cold fluid over its inlet velocity head, 3 (1 - 2 phi^2).
/// Source: NASA SP-8052 (1971) eq. 22, read second-hand.
[[nodiscard]] double cold_fluid_suction_factor(double inlet_flow_coefficient) noexcept;

/// Suction energy of a thin helical inducer, factor phi sin b / (1 + cos b) U^2/2.
/// @param factor  2 in free-streamline theory, 3 to 4.4 achieved
/// Source: NASA SP-8052 (1971), form from memory.
[[nodiscard]] double helical_inducer_suction_J_kg(double factor, double inlet_flow_coefficient,
                                                  double blade_angle_rad, double tip_speed_m_s) noexcept;

/// Flow at the tip of a leading edge.
struct SuctionInflow {
  double absolute_m_s;   ///< speed ahead of the blades, meridional and swirl
  double relative_m_s;   ///< speed relative to the blade tip
  double incidence_deg;  ///< blade less flow angle
};

/// Geometry of the leading edge that suction depends on.
struct SuctionEdge {
  double inlet_tip_angle_deg, thickness_m;
};

/// E_3 with a new ring: inlet_factor c^2/2 + (blade_factor + slope |incidence - design| + edge term) w^2/2;
/// the slope grows with a blunt edge.
[[nodiscard]] double onset_energy_J_kg(const Cavitation& cavitation, const SuctionEdge& edge,
                                       const SuctionInflow& inflow) noexcept;

/// E_b with a new ring: breakdown_inlet_factor c^2/2 + breakdown_factor K(angle) w^2/2.
[[nodiscard]] double breakdown_energy_J_kg(const Cavitation& cavitation, const SuctionEdge& edge,
                                           const SuctionInflow& inflow) noexcept;

/// Factor on suction specific speed for the tip gap, 1 - slope sqrt(gap/height).
/// Source: NASA SP-8052 (1971) eq. 54, slope 0.50 to 0.65, read second-hand.
[[nodiscard]] double gap_suction_speed_factor(double slope, double gap_over_height) noexcept;

/// Factor on E_3 when the gap differs from that of a new ring: suction specific speed enters as its power
/// -4/3.
[[nodiscard]] double gap_onset_factor(double slope, double gap_over_height,
                                      double new_gap_over_height) noexcept;

/// Factor on E_b, 1 + slope (gap - new gap)/height, not below 0.3. Engineering judgement: inducers show no
/// effect of the gap on breakdown, while riders report that a worn ring ruins the launch.
[[nodiscard]] double gap_breakdown_factor(double slope, double gap_over_height,
                                          double new_gap_over_height) noexcept;

/// E_3 that belongs to a measured NPSH at 1 % head drop and an assumed E_b, from 1 - 0.03^s = 0.99 (s
/// = 1.313).
[[nodiscard]] double onset_from_one_percent_J_kg(double one_percent_J_kg, double breakdown_J_kg) noexcept;

/// Share of the head left at the reduced suction s: 1 - 0.03^s+ with a smooth s+; C1, 0 to 1 for any s.
template <class Number>
[[nodiscard]] Number head_factor(Number reduced_suction) noexcept {
  using std::exp;
  return 1.0 - exp(log_three_percent * smooth_positive(reduced_suction, 0.05));
}

/// Share of the torque left: the blades still turn water that carries no more head.
[[nodiscard]] inline double torque_factor(double torque_share, double head_factor) noexcept {
  return 1.0 - torque_share * (1.0 - head_factor);
}

/// Head factor towards which the cavities move. C1 and finite for any finite energies: where E_3 does not lie
/// clearly above E_b (a very worn ring), the fall takes place over a tenth of E_b.
/// @param available_J_kg  may be negative    @param onset_J_kg, breakdown_J_kg  >= 0
template <class Number>
[[nodiscard]] Number head_factor_target(Number available_J_kg, Number onset_J_kg,
                                        Number breakdown_J_kg) noexcept {
  const Number least_width = 0.1 * breakdown_J_kg + 0.01;
  const Number width = smooth_max<Number>(onset_J_kg - breakdown_J_kg, least_width, 0.2 * least_width);
  return head_factor((available_J_kg - breakdown_J_kg) / width);
}

}  // namespace bowrise
