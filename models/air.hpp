/// The atmosphere over the water: standard pressure against altitude, density of the day's humid air, and the
/// head that the atmosphere offers to the pump.
///
/// Pressure comes from the altitude or from a barometer; the temperature is the day's, not the standard one.
/// Weather reports give pressure *reduced to sea level*: at 1000 m, taking it for the pressure on site is
/// wrong by about 12 % of engine power and 1.2 m of head, hence `station_pressure_from_sea_level`.
///
/// Preparation only, not for the hot path: outside their range, and for arguments that are not finite, these
/// functions throw std::domain_error with the range in the message.
#pragma once

#include "models/constants.hpp"
#include "models/water.hpp"

namespace bowrise {

/// Range of the day's air. Below 273.15 K the saturation pressure of IAPWS R7-97 does not reach.
inline constexpr double air_temperature_min_K = zero_celsius_K;
inline constexpr double air_temperature_max_K = zero_celsius_K + 60.0;
inline constexpr double air_pressure_min_Pa = 50e3;
inline constexpr double air_pressure_max_Pa = 110e3;

/// What engine and hull need to know about the air.
struct AirState {
  double temperature_K;
  double pressure_Pa;      ///< absolute, on site
  double dry_pressure_Pa;  ///< without the share of water vapour; what weather corrections of engines use
  double density_kg_m3;
};

/// All properties of the day's air.
/// @param temperature_K      273.15 to 333.15 K
/// @param pressure_Pa        absolute pressure on site, 50 to 110 kPa
/// @param relative_humidity  [1] 0 to 1
/// @throws std::domain_error outside these ranges or not finite
[[nodiscard]] AirState air_state(double temperature_K, double pressure_Pa, double relative_humidity);

/// Pressure less the partial pressure of water vapour; ranges and errors as `air_state`.
/// Source: Dalton's law with the saturation pressure of IAPWS R7-97 region 4; the enhancement of the
/// saturation pressure by the air (0.4 %) is left out.
[[nodiscard]] double dry_air_pressure_Pa(double temperature_K, double pressure_Pa, double relative_humidity);

/// Density as a mixture of two ideal gases; ranges and errors as `air_state`. About 4e-4 below CIPM-2007.
/// Source: ideal gas law with the gas constants 287.05 (dry air) and 461.495 J/(kg K) (water vapour).
[[nodiscard]] double humid_air_density_kg_m3(double temperature_K, double pressure_Pa,
                                             double relative_humidity);

/// Geopotential altitude of a height above sea level as maps give it, -4996 to 11019 m (the troposphere).
/// @throws std::domain_error outside the range or not finite
/// Source: ISO 2533:1975, earth radius 6356766 m.
[[nodiscard]] double geopotential_altitude_m(double geometric_altitude_m);

/// Temperature of the standard atmosphere, at a geopotential altitude -5000 to 11000 m.
/// @throws std::domain_error outside the range or not finite
/// Source: ISO 2533:1975: 288.15 K at sea level, -6.5 K per km.
[[nodiscard]] double standard_atmosphere_temperature_K(double altitude_m);

/// Pressure of the standard atmosphere; range and errors as the temperature.
/// Source: ISO 2533:1975: 101325 Pa at sea level, gas constant 287.05287 J/(kg K).
[[nodiscard]] double standard_atmosphere_pressure_Pa(double altitude_m);

/// Density of the standard atmosphere; range and errors as the temperature.
/// Source: ISO 2533:1975.
[[nodiscard]] double standard_atmosphere_density_kg_m3(double altitude_m);

/// Pressure on site from the pressure a weather report gives, both in Pa.
/// @param sea_level_pressure_Pa    reduced to sea level with the standard atmosphere, 85 to 110 kPa
/// @param altitude_m               geopotential, of the site, -5000 to 11000 m
/// @throws std::domain_error outside these ranges or not finite
/// Source: the pressure ratio of ISO 2533:1975.
[[nodiscard]] double station_pressure_from_sea_level(double sea_level_pressure_Pa, double altitude_m);

/// Head that the atmosphere offers above the vapour pressure of the water, (p - p_v)/(rho g), in m.
/// @param ambient_pressure_Pa  absolute pressure on site, 50 to 110 kPa
/// @throws std::domain_error outside the range or not finite
[[nodiscard]] double available_head_m(double ambient_pressure_Pa, const WaterState& water);

}  // namespace bowrise
