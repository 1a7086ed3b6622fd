#include "models/water.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>
#include <string>

namespace bowrise {

namespace {

// Standard sea water: practical salinity 35 is 35.16504 g/kg of absolute salinity (TEOS-10, reference
// composition).
constexpr double practical_per_absolute = 35.0 / 35.16504;
// Temperature scale of 1968 against that of 1990, at ordinary temperatures.
constexpr double t68_per_t90 = 1.00024;

// Coefficients n1 to n10 of IAPWS R7-97, table 34.
constexpr double n1 = 0.11670521452767e4;
constexpr double n2 = -0.72421316703206e6;
constexpr double n3 = -0.17073846940092e2;
constexpr double n4 = 0.12020824702470e5;
constexpr double n5 = -0.32325550322333e7;
constexpr double n6 = 0.14915108613530e2;
constexpr double n7 = -0.48232657361591e4;
constexpr double n8 = 0.40511340542057e6;
constexpr double n9 = -0.23855557567849;
constexpr double n10 = 0.65017534844798e3;
constexpr double region_4_unit_Pa = 1e6;  // the equations are written in MPa

std::string number(double value) {
  std::array<char, 32> text{};
  const auto written = std::to_chars(text.data(), text.data() + text.size(), value);
  return {text.data(), written.ptr};
}

void require_water_temperature(double temperature_K) {
  detail::require_within("water temperature", temperature_K, water_temperature_min_K, water_temperature_max_K,
                         "K");
}

void require_salinity(double salinity_g_kg) {
  detail::require_within("salinity", salinity_g_kg, 0.0, water_salinity_max_g_kg, "g/kg");
}

/// What dissolved salt adds to the density, EOS-80 at one atmosphere; t on the scale of 1968.
double salt_density_kg_m3(double t, double practical_salinity) {
  const double a = 8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
  const double b = -5.72466e-3 + t * (1.0227e-4 + t * -1.6546e-6);
  const double c = 4.8314e-4;
  return practical_salinity * (a + b * std::sqrt(practical_salinity) + c * practical_salinity);
}

}  // namespace

void detail::require_within(std::string_view what, double value, double low, double high,
                            std::string_view unit) {
  if (value >= low && value <= high) return;
  const std::string suffix = unit.empty() ? std::string{} : " " + std::string{unit};
  const std::string given = std::string{what} + " " + number(value) + suffix;
  throw std::domain_error(given + " is outside " + number(low) + " to " + number(high) + suffix);
}

double fresh_water_density_kg_m3(double temperature_K) {
  require_water_temperature(temperature_K);
  const double t = temperature_K - zero_celsius_K;
  const double from_maximum = t - 3.983035;  // density is greatest here
  return 999.974950 * (1 - from_maximum * from_maximum * (t + 301.797) / (522528.9 * (t + 69.34881)));
}

double sea_water_density_kg_m3(double temperature_K, double salinity_g_kg) {
  require_salinity(salinity_g_kg);
  const double fresh = fresh_water_density_kg_m3(temperature_K);
  const double t68 = t68_per_t90 * (temperature_K - zero_celsius_K);
  return fresh + salt_density_kg_m3(t68, salinity_g_kg * practical_per_absolute);
}

double eos80_density_kg_m3(double temperature_68_degC, double practical_salinity) {
  detail::require_within("temperature (1968 scale)", temperature_68_degC, -2.0, 40.0, "degC");
  detail::require_within("practical salinity", practical_salinity, 0.0, 42.0, "");
  const double t = temperature_68_degC;
  const double fresh =
      999.842594 +
      t * (6.793952e-2 + t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
  return fresh + salt_density_kg_m3(t, practical_salinity);
}

double fresh_water_viscosity_Pa_s(double temperature_K) {
  detail::require_within("temperature for the viscosity of water", temperature_K, 253.15, 383.15, "K");
  const double x = temperature_K / 300.0;
  return 1e-6 * (280.68 * std::pow(x, -1.9) + 511.45 * std::pow(x, -7.7) + 61.131 * std::pow(x, -19.6) +
                 0.45903 * std::pow(x, -40.0));
}

double sea_water_viscosity_Pa_s(double temperature_K, double salinity_g_kg) {
  detail::require_within("temperature for the viscosity of sea water", temperature_K, zero_celsius_K, 383.15,
                         "K");
  detail::require_within("salinity", salinity_g_kg, 0.0, 150.0, "g/kg");
  const double t = temperature_K - zero_celsius_K;
  const double s = salinity_g_kg / 1000.0;
  const double a = 1.541 + t * (1.998e-2 + t * -9.52e-5);
  const double b = 7.974 + t * (-7.561e-2 + t * 4.724e-4);
  return fresh_water_viscosity_Pa_s(temperature_K) * (1 + s * (a + s * b));
}

double saturation_pressure_Pa(double temperature_K) {
  detail::require_within("temperature for the saturation pressure", temperature_K, 273.15, 647.096, "K");
  const double theta = temperature_K + n9 / (temperature_K - n10);
  const double a = (theta + n1) * theta + n2;
  const double b = (n3 * theta + n4) * theta + n5;
  const double c = (n6 * theta + n7) * theta + n8;
  const double fourth_root = 2 * c / (-b + std::sqrt(b * b - 4 * a * c));
  const double squared = fourth_root * fourth_root;
  return region_4_unit_Pa * squared * squared;
}

double saturation_temperature_K(double pressure_Pa) {
  // the published ends, 611.213 Pa and 22.064 MPa, are rounded: widened so that the saturation pressures of
  // the end temperatures are accepted
  detail::require_within("saturation pressure", pressure_Pa, 611.212, 22.06401e6, "Pa");
  const double beta = std::sqrt(std::sqrt(pressure_Pa / region_4_unit_Pa));
  const double e = (beta + n3) * beta + n6;
  const double f = (n1 * beta + n4) * beta + n7;
  const double g = (n2 * beta + n5) * beta + n8;
  const double d = 2 * g / (-f - std::sqrt(f * f - 4 * e * g));
  const double sum = n10 + d;
  return (sum - std::sqrt(sum * sum - 4 * (n9 + n10 * d))) / 2;
}

double vapour_pressure_ratio(double salinity_g_kg) {
  require_salinity(salinity_g_kg);
  return std::exp(salinity_g_kg * (-5.115e-4 - 6.84e-7 * salinity_g_kg));
}

double vapour_pressure_Pa(double temperature_K, double salinity_g_kg) {
  require_water_temperature(temperature_K);
  return saturation_pressure_Pa(temperature_K) * vapour_pressure_ratio(salinity_g_kg);
}

double freezing_temperature_K(double salinity_g_kg) {
  require_salinity(salinity_g_kg);
  const double practical = salinity_g_kg * practical_per_absolute;
  const double below_zero =
      practical * (-0.0575 + 1.710523e-3 * std::sqrt(practical) - 2.154996e-4 * practical);
  return zero_celsius_K + below_zero;
}

WaterState water_state(double temperature_K, double salinity_g_kg) {
  const double density = sea_water_density_kg_m3(temperature_K, salinity_g_kg);
  const double viscosity = sea_water_viscosity_Pa_s(temperature_K, salinity_g_kg);
  return {.density_kg_m3 = density,
          .viscosity_Pa_s = viscosity,
          .kinematic_viscosity_m2_s = viscosity / density,
          .vapour_pressure_Pa = vapour_pressure_Pa(temperature_K, salinity_g_kg)};
}

}  // namespace bowrise
