// Intake: how much of the ram reaches the pump, what the grate and debris cost, what spills ahead of the lip,
// and the air that comes with the water.
//
// The inlet loss is of our own form, finite at rest and U-shaped in the inlet velocity ratio:
//   e_in = zeta c^2/2 + eps (vi - c)^2/2,  c = Q/A_bore,  vi = (1 - w) V.
// Its coefficients meet published flush-intake losses of 0.05-0.12 near ratio 0.7 (CFD quoted by Ding et
// al.). Number: a double, or StateLanes.
#pragma once

#include "models/flag.hpp"
#include "models/passage_inputs.hpp"
#include "models/problem.hpp"
#include "models/pump_inputs.hpp"

namespace bowrise {

/// Ratios of flow and jet speeds to the craft's mean nothing below this.
inline constexpr double least_ratio_speed_m_s = 1.0;

/// Momentum-mean wake of a power-law boundary layer swallowed by a capture area of width 1.3 D.
/// @param flow_m3_s Q > 0; speed V > 0; bore D; layer_thickness d; exponent m of the 1/m law
/// Continuous where the stream outgrows the layer: both branches give 1/(m+2). Source: width factor as used
/// with ITTC 7.5-02-05-03.1 (waterjet research data of Zurcher, 2013-2015); flux integrals of the power law.
template <class Number>
[[nodiscard]] Number boundary_layer_wake(Number flow_m3_s, Number speed_m_s, double bore_m,
                                         Number layer_thickness_m, double exponent) noexcept;

/// Ideal jet efficiency 2 mu (1 - mu)/(1 + zeta_n - (1 - eps) mu^2), mu = vi/vj in (0, 1).
[[nodiscard]] double jet_efficiency(double velocity_ratio, double nozzle_loss, double inlet_loss) noexcept;

/// Wake of the layer that grew along a bottom, and its C1 continuation to where the law says nothing: no
/// flow, no speed.
struct LayerWake {
  double bore_m;
  double thickness_at_1_m_s;  ///< 0.37 x (x/nu)^-0.2; thickness falls as speed^-0.2
};

/// Speed that the swallowed layer takes from the inflow, w V [m/s]. C1 in flow and speed, of either sign; w
/// is held where less than a tenth of the layer's own flow is swallowed, and fades out below 1 m/s, where ram
/// is nothing.
template <class Number>
[[nodiscard]] Number swallowed_deficit_m_s(const LayerWake& wake, Number flow_m3_s,
                                           Number speed_m_s) noexcept;

/// Constants of intake and grate.
struct PreparedIntake {
  WakeLaw wake_law;
  double inflow_share;  ///< 1 - w of the constant law
  LayerWake layer;
  double inverse_bore_area_1_m2;
  double duct_loss;  ///< duct, bars and debris together, on c^2/2
  double mismatch_loss;
  double throat_area_m2;                          ///< what debris leaves open
  double inverse_spill_onset, spill_factor_1_m2;  ///< the factor over the throat's area
  double stern_lift_ratio, stern_lift_limit_N;
  double grate_drag_area_m2;
  double chop_void;  ///< void fraction at 15 m/s and above in this chop through this grate
  double leak_m3_s_per_root_Pa;
  double inverse_void_volume_1_m3;
  double lip_ratio, inverse_lip_ratio, lip_void;
  double inverse_prime_void;  ///< of the void fraction that takes all head
};

template <class Number>
struct InflowOf {
  Number inflow_speed_m_s;  ///< vi
  Number loss_J_kg;         ///< e_in
  Number duct_speed_m_s;    ///< c
};
using Inflow = InflowOf<double>;

template <class Number>
struct SpillOf {
  Number drag_N, lift_N;
};
using Spill = SpillOf<double>;

[[nodiscard]] Problems check(const Intake& intake, const Grate& grate);

/// What lies around the intake.
struct IntakeSurroundings {
  double plate_angle_rad, bore_m, hull_length_m, chop_height_m, air_density_kg_m3, kinematic_viscosity_m2_s;
  double weight_N;  ///< of all that the water carries at rest
};

/// Derived presets are resolved here: throat area 0.9 of the bore area, wetted length half of the hull's.
[[nodiscard]] PreparedIntake prepare_intake(const Intake& intake, const Grate& grate,
                                            const IntakeSurroundings& around);

/// Suction coefficients behind a partly blocked grate: the uneven stream takes the blade tips through a swing
/// of incidence, which asks for suction head at any mean incidence.
[[nodiscard]] Cavitation behind_blockage(const Grate& grate, Cavitation cavitation) noexcept;

template <class Number>
[[nodiscard]] InflowOf<Number> inflow(const PreparedIntake& intake, Number flow_m3_s,
                                      Number speed_m_s) noexcept;

/// Spill ahead of the lip: drag K s^2 rho A V^2 with s = max(0, 1 - IVR/onset), and its lift under the stern,
/// exact up to 0.35 of the weight and held at half of it: a stern that is carried higher takes the lip out of
/// the water (engineering judgement; riders report bow-down steering, not flight). C1.
template <class Number>
[[nodiscard]] SpillOf<Number> spill(const PreparedIntake& intake, Number flow_m3_s, Number speed_m_s,
                                    double density_kg_m3) noexcept;

/// Inlet velocity ratio Q/(A_throat V); 0 below 1 m/s, where it means nothing.
template <class Number>
[[nodiscard]] Number inlet_velocity_ratio(const PreparedIntake& intake, Number flow_m3_s,
                                          Number speed_m_s) noexcept;

/// Rate of the void fraction at the pump face [1/s]: chop, a lip that separates, leaks; carried off with the
/// flow.
/// @param suction_pressure_Pa  static pressure ahead of the impeller; @param ambient_pressure_Pa  of the air
template <class Number>
[[nodiscard]] Number void_rate(const PreparedIntake& intake, Number void_fraction, Number flow_m3_s,
                               Number speed_m_s, Number suction_pressure_Pa,
                               double ambient_pressure_Pa) noexcept;

/// Share of head and torque that a void fraction leaves: 1 - (a/prime_void)^1.5, smoothly down to 0
/// (engineering judgement: pumps shrug off 2-3 % air, suffer at 5-8 %, lose prime above 10-15 %).
template <class Number>
[[nodiscard]] Number air_factor(const PreparedIntake& intake, Number void_fraction) noexcept;

}  // namespace bowrise
