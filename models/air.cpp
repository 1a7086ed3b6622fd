#include "models/air.hpp"

#include <cmath>

namespace bowrise {

namespace {

// ISO 2533:1975
constexpr double earth_radius_m = 6356766.0;
constexpr double sea_level_temperature_K = 288.15;
constexpr double lapse_K_m = 0.0065;
constexpr double standard_air_gas_constant_J_kgK = 287.05287;

// humid air as two ideal gases
constexpr double dry_air_gas_constant_J_kgK = 287.05;
constexpr double water_vapour_gas_constant_J_kgK = 461.495;

void require_pressure(double pressure_Pa) {
  detail::require_within("air pressure", pressure_Pa, air_pressure_min_Pa, air_pressure_max_Pa, "Pa");
}

/// Pressure over pressure at sea level in the standard atmosphere [1].
double pressure_ratio(double altitude_m) {
  constexpr double exponent = gravity_m_s2 / (standard_air_gas_constant_J_kgK * lapse_K_m);
  return std::pow(standard_atmosphere_temperature_K(altitude_m) / sea_level_temperature_K, exponent);
}

}  // namespace

double dry_air_pressure_Pa(double temperature_K, double pressure_Pa, double relative_humidity) {
  detail::require_within("air temperature", temperature_K, air_temperature_min_K, air_temperature_max_K, "K");
  require_pressure(pressure_Pa);
  detail::require_within("relative humidity", relative_humidity, 0.0, 1.0, "");
  return pressure_Pa - relative_humidity * saturation_pressure_Pa(temperature_K);
}

double humid_air_density_kg_m3(double temperature_K, double pressure_Pa, double relative_humidity) {
  const double dry_Pa = dry_air_pressure_Pa(temperature_K, pressure_Pa, relative_humidity);
  const double vapour_Pa = pressure_Pa - dry_Pa;
  return dry_Pa / (dry_air_gas_constant_J_kgK * temperature_K) +
         vapour_Pa / (water_vapour_gas_constant_J_kgK * temperature_K);
}

AirState air_state(double temperature_K, double pressure_Pa, double relative_humidity) {
  return {.temperature_K = temperature_K,
          .pressure_Pa = pressure_Pa,
          .dry_pressure_Pa = dry_air_pressure_Pa(temperature_K, pressure_Pa, relative_humidity),
          .density_kg_m3 = humid_air_density_kg_m3(temperature_K, pressure_Pa, relative_humidity)};
}

double geopotential_altitude_m(double geometric_altitude_m) {
  detail::require_within("altitude", geometric_altitude_m, -4996.0, 11019.0, "m");
  return earth_radius_m * geometric_altitude_m / (earth_radius_m + geometric_altitude_m);
}

double standard_atmosphere_temperature_K(double altitude_m) {
  detail::require_within("geopotential altitude", altitude_m, -5000.0, 11000.0, "m");
  return sea_level_temperature_K - lapse_K_m * altitude_m;
}

double standard_atmosphere_pressure_Pa(double altitude_m) {
  return standard_pressure_Pa * pressure_ratio(altitude_m);
}

double standard_atmosphere_density_kg_m3(double altitude_m) {
  return standard_atmosphere_pressure_Pa(altitude_m) /
         (standard_air_gas_constant_J_kgK * standard_atmosphere_temperature_K(altitude_m));
}

double station_pressure_from_sea_level(double sea_level_pressure_Pa, double altitude_m) {
  detail::require_within("pressure at sea level", sea_level_pressure_Pa, 85e3, 110e3, "Pa");
  return sea_level_pressure_Pa * pressure_ratio(altitude_m);
}

double available_head_m(double ambient_pressure_Pa, const WaterState& water) {
  require_pressure(ambient_pressure_Pa);
  return (ambient_pressure_Pa - water.vapour_pressure_Pa) / (water.density_kg_m3 * gravity_m_s2);
}

}  // namespace bowrise
