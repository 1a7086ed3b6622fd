/// Properties of fresh and sea water at one atmosphere: density, viscosity, vapour pressure, freezing point.
///
/// One published correlation per quantity, chosen so that together they agree with the international
/// reference formulations far better than a craft can notice: density to 0.01 kg/m3, viscosity and vapour
/// pressure to 0.1 %. Compressibility is left out (about 3e-4 at the pressure inside a pump), and so are
/// dissolved and entrained gas. Salinity is absolute salinity in g of salt per kg of sea water; 0 is fresh.
///
/// These functions belong to the preparation of a craft, not to the hot path: outside their range, and for
/// arguments that are not finite, they throw std::domain_error with the range in the message. They neither
/// clamp nor extrapolate.
#pragma once

#include <string_view>

#include "models/constants.hpp"

namespace bowrise {

/// Range of `water_state`. Region 4 of IAPWS R7-97 sets the lower temperature, the density fits the others.
inline constexpr double water_temperature_min_K = zero_celsius_K;
inline constexpr double water_temperature_max_K = zero_celsius_K + 40.0;
inline constexpr double water_salinity_max_g_kg = 42.0;

/// What the hydraulics needs to know about the water.
struct WaterState {
  double density_kg_m3;
  double viscosity_Pa_s;
  double kinematic_viscosity_m2_s;
  double vapour_pressure_Pa;
};

/// All properties at one atmosphere.
/// @param temperature_K  273.15 to 313.15 K (0 to 40 degC)
/// @param salinity_g_kg  0 to 42 g/kg; standard sea water is 35.165
/// @throws std::domain_error outside these ranges or not finite
[[nodiscard]] WaterState water_state(double temperature_K, double salinity_g_kg);

/// Density of air-free fresh water, 273.15 to 313.15 K.
/// Within 7e-4 kg/m3 of IAPWS-95.
/// @throws std::domain_error outside the range or not finite
/// Source: Tanaka et al. 2001, Metrologia 38, 301, eq. 1 (coefficients as coded in public programs).
[[nodiscard]] double fresh_water_density_kg_m3(double temperature_K);

/// Density of sea water, 273.15 to 313.15 K, 0 to 42 g/kg: Tanaka's fresh water plus the salt terms of
/// EOS-80. Within 0.003 kg/m3 of TEOS-10 where compared.
/// @throws std::domain_error outside the range or not finite
/// Source: Tanaka et al. 2001; Millero & Poisson 1981, one-atmosphere equation of state.
[[nodiscard]] double sea_water_density_kg_m3(double temperature_K, double salinity_g_kg);

/// Density by EOS-80 alone, in the variables it was published in. It carries the published check values that
/// prove the salt terms; the engine uses `sea_water_density_kg_m3`, which is 0.002 kg/m3 nearer to IAPWS-95.
/// @param temperature_68_degC  on the scale of 1968, -2 to 40 degC
/// @param practical_salinity   [1] 0 to 42
/// @throws std::domain_error outside the range or not finite
/// Source: Millero & Poisson 1981; UNESCO Technical Papers in Marine Science 44, 1983.
[[nodiscard]] double eos80_density_kg_m3(double temperature_68_degC, double practical_salinity);

/// Dynamic viscosity of fresh water at 0.1 MPa, 253.15 to 383.15 K.
/// @throws std::domain_error outside the range or not finite
/// Source: IAPWS SR6-08; Huber et al. 2009, four-term correlation.
[[nodiscard]] double fresh_water_viscosity_Pa_s(double temperature_K);

/// Dynamic viscosity of sea water: fresh water times a salinity factor, 273.15 to 383.15 K, 0 to 150 g/kg.
/// @throws std::domain_error outside the range or not finite
/// Source: Sharqawy, Lienhard & Zubair 2010, eqs 22-23, the factor alone, on IAPWS SR6-08 fresh water.
[[nodiscard]] double sea_water_viscosity_Pa_s(double temperature_K, double salinity_g_kg);

/// Saturation pressure of pure water, 273.15 to 647.096 K.
/// @throws std::domain_error outside the range or not finite
/// Source: IAPWS R7-97, region 4, basic equation (eq. 30).
[[nodiscard]] double saturation_pressure_Pa(double temperature_K);

/// Saturation temperature of pure water, 611.212 Pa to 22.06401 MPa: the inverse of `saturation_pressure_Pa`.
/// @throws std::domain_error outside the range or not finite
/// Source: IAPWS R7-97, region 4, backward equation (eq. 31).
[[nodiscard]] double saturation_temperature_K(double pressure_Pa);

/// Vapour pressure over sea water divided by that over pure water [1], 0 to 42 g/kg; 0.9813 at 35.165 g/kg.
/// @throws std::domain_error outside the range or not finite
/// Source: own fit to the chemical potential of water in TEOS-10, 0 to 40 degC, worst error 1.9e-4. An ideal
/// solution, as in the ITTC table, is 0.18 % lower at 35 g/kg.
[[nodiscard]] double vapour_pressure_ratio(double salinity_g_kg);

/// Vapour pressure of sea water, 273.15 to 313.15 K, 0 to 42 g/kg.
/// @throws std::domain_error outside the range or not finite
/// Source: IAPWS R7-97 region 4 times `vapour_pressure_ratio`.
[[nodiscard]] double vapour_pressure_Pa(double temperature_K, double salinity_g_kg);

/// Freezing point of sea water at one atmosphere, 0 to 42 g/kg; 3 mK below TEOS-10 at 35 g/kg.
/// @throws std::domain_error outside the range or not finite
/// Source: UNESCO Technical Papers in Marine Science 44, 1983 (coefficients from memory).
[[nodiscard]] double freezing_temperature_K(double salinity_g_kg);

namespace detail {

/// Throws std::domain_error "<what> <value> <unit> is outside <low> to <high> <unit>" unless low <= value <=
/// high. NaN and infinity are outside every range. A pure number has an empty unit.
void require_within(std::string_view what, double value, double low, double high, std::string_view unit);

}  // namespace detail

}  // namespace bowrise
