// One row of rotor blades by mean-line analysis: velocity triangles, deviation or slip, and losses at five
// stations of equal area between hub and tip, averaged.
//
// Convention: blade and flow angles are measured from the plane of rotation. U = omega r is the blade speed,
// c_m the meridional velocity, c_u the swirl (positive with the rotation), w the velocity relative to the
// blades, w_u = U - c_u. Energies are per unit mass of water [J/kg].
//
// What the analysis does not see: radial equilibrium (c_m is uniform over the span), the tip gap (a factor in
// pump.cpp), recirculation at part flow (pump_curve.cpp replaces the curve there) and cavitation
// (cavitation.cpp).
#pragma once

#include <array>
#include <cstddef>

#include "models/pump_inputs.hpp"

namespace bowrise {

inline constexpr std::size_t station_count = 5;
using Stations = std::array<double, station_count>;

/// Rotor inputs with the derived presets filled in: hub 0.40 and 0.52 of the bore, pitch radius at the blade
/// tip, solidity from the tip chord or 1.15, pitch angles at the pitch radius from table or length. Angles
/// said in no way stay NaN.
/// @throws std::invalid_argument if the radii of a table of blade angles do not rise
[[nodiscard]] Rotor resolved(const Rotor& rotor, double bore_m);

/// Blade angle at a radius of a helix of this pitch (advance in one turn): tan(angle) = pitch / (2 pi
/// radius).
[[nodiscard]] double helix_angle_rad(double pitch_m, double radius_m) noexcept;

/// Pitch of a helix with this blade angle at this radius.
[[nodiscard]] double helix_pitch_m(double radius_m, double angle_rad) noexcept;

/// Euler work U2 c_u2 - U1 c_u1 [J/kg].
[[nodiscard]] double euler_work_J_kg(double blade_speed_out_m_s, double swirl_out_m_s,
                                     double blade_speed_in_m_s, double swirl_in_m_s) noexcept;

/// Angle of the relative flow from the plane of rotation, atan(c_m / w_u).
[[nodiscard]] double relative_flow_angle_rad(double meridional_m_s, double relative_swirl_m_s) noexcept;

/// Deviation of the flow from a circular-arc blade at its trailing edge, m camber / sqrt(solidity) with
/// m = 0.23 + 0.1 (90 deg - outlet angle)/50 deg.
/// @param camber_rad  outlet less inlet blade angle; negative camber gives negative deviation
/// Source: Carter 1950, constants from memory.
[[nodiscard]] double carter_deviation_rad(double camber_rad, double outlet_angle_rad,
                                          double solidity) noexcept;

/// Share of the incidence that reaches the outlet because the blades overlap too little to guide the flow:
/// 0.9 exp(-pi max(solidity - cos b2, 0) / sin b2). Source: engineering judgement (decay of a potential
/// disturbance in a straight passage).
[[nodiscard]] double incidence_leak(double solidity, double outlet_angle_rad) noexcept;

/// Slip factor 1 - sqrt(sin b2) / blades^0.7: swirl with shock-free guidance is slip U2 - c_m2 / tan b2.
/// Valid for outlets at a clearly larger radius than the inlet. Source: Wiesner 1967.
[[nodiscard]] double wiesner_slip_factor(double outlet_angle_rad, double blades) noexcept;

/// Diffusion factor 1 - w2/w1 + |dw_u| / (2 solidity w1). Source: Lieblein 1953.
[[nodiscard]] double diffusion_factor(double relative_speed_in_m_s, double relative_speed_out_m_s,
                                      double turning_m_s, double solidity) noexcept;

/// Momentum thickness of the blade wake over chord at chord Reynolds number 5e5, smooth:
/// 0.0045 / (1 - 0.95 ln Deq) with Deq = 1.05 + 1.3 DF. Above DF of about 0.9, far in stall, the denominator
/// is led smoothly to a floor of 0.25 instead of through zero. Source: form of Lieblein 1959; constants from
/// memory.
[[nodiscard]] double wake_momentum_thickness(double diffusion_factor) noexcept;

/// A leading edge as made; what is thicker is blunt.
inline constexpr double new_edge_thickness_m = 0.001;

/// One streamline of the row. Lengths in m, angles from the plane of rotation.
struct BladeStation {
  double radius_in_m, radius_out_m, angle_in_rad, angle_out_rad;
  double sine_in, cotangent_in, cotangent_out;
  double chord_m, solidity;
  double deviation_rad;  ///< Carter's, without incidence
  double leak;           ///< see incidence_leak
  double slip_factor;    ///< Wiesner's
};

/// Geometry of a row, worked out once.
struct BladeRow {
  std::array<BladeStation, station_count> stations;  ///< from hub to tip
  double blades, tip_radius_m;
  double blade_height_m;   ///< at the inlet edge
  double annulus_in_m2;    ///< at the inlet, less the boundary layers: what the flow passes just ahead of the
                           ///< blades
  double open_area_in_m2;  ///< the same, less the blades
  double open_area_out_m2;  ///< at the outlet, less boundary layers and blades
  double tip_angle_in_rad;  ///< blade angle at the tip of the leading edge
  double tip_angle_out_rad;
  double mixed_flow_share;  ///< 0: Carter's deviation; 1: Wiesner's slip
  double blunt_edge_m;      ///< thickness of the leading edge above new_edge_thickness_m
};

/// Lays out a row. @param rotor  every field given (see `resolved`), hub diameters below the bore.
/// @throws std::invalid_argument as `resolved`
/// The pitch is the same from hub to tip or, with a table of blade angles, a monotone cubic through the pitch
/// of its rows. Laws of our own choice: blades are helicoids cut by two planes normal to the shaft, so the
/// axial length is the same at every radius and chord = length / sin(stagger); boundary layers take 3 % of
/// the annulus, blades 6 % of the rest at the inlet and 4 % at the outlet whatever their number (more blades
/// are made thinner). Carter's deviation holds up to a mean radius ratio of 1.1, Wiesner's slip from 1.2;
/// between, the two exit swirls are mixed so that a swept hub diameter shows no step.
[[nodiscard]] BladeRow blade_row(const Rotor& rotor, double bore_m);

/// What follows the rotor. No stator: zeros.
struct Stator {
  double loss;                ///< over the velocity head entering it
  double residual_swirl_rad;  ///< to the axis
};

/// Water and surface, for friction.
struct RowFriction {
  double kinematic_viscosity_m2_s, roughness_factor;
  double edge_drag = 0.0;  ///< drag coefficient of a leading edge on its thickness above a new one's
};

/// Losses [J/kg], mass averaged.
struct RowLosses {
  double profile, end_walls;  ///< fall with Reynolds number, about as its power -0.2
  double secondary, incidence, edge, stator, residual_swirl;  ///< do not
  [[nodiscard]] double viscous() const noexcept { return profile + end_walls; }
  [[nodiscard]] double inviscid() const noexcept {
    return secondary + incidence + edge + stator + residual_swirl;
  }
};

/// Result of the analysis at one flow and speed.
struct RowFlow {
  double euler_work_J_kg;  ///< work done by the blades on the water
  RowLosses losses_J_kg;
  Stations swirl_out_m_s;    ///< c_u behind the rotor, at BladeStation::radius_out_m
  double incidence_tip_rad;  ///< blade less flow angle at the outermost station
  double diffusion_factor_tip;
  [[nodiscard]] double energy_J_kg() const noexcept {
    return euler_work_J_kg - losses_J_kg.viscous() - losses_J_kg.inviscid();
  }
};

/// Mean-line analysis of a row.
/// @param flow_m3_s     > 0      @param speed_rad_s  > 0
/// @param swirl_in_m_s  c_u ahead of the rotor at BladeStation::radius_in_m, below the blade speed
/// Off the best flow by more than about 40 % the result is arithmetic without physics behind it (stall,
/// recirculation). Source of the loss forms: profile Lieblein 1959; secondary Howell 1945; flat-plate
/// friction on the end walls; 0.7 of the incidence head and the stator figures: engineering judgement.
/// Constants from memory.
[[nodiscard]] RowFlow row_flow(const BladeRow& row, const Stator& stator, const RowFriction& friction,
                               double flow_m3_s, double speed_rad_s, const Stations& swirl_in_m_s) noexcept;

/// Swirl that a row leaves ahead of the next one: r c_u is kept from outlet radius to the next inlet radius.
[[nodiscard]] Stations swirl_ahead_of(const BladeRow& next, const BladeRow& previous,
                                      const Stations& swirl_out_m_s) noexcept;

}  // namespace bowrise
