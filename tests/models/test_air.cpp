#include <catch2/catch.hpp>
#include <stdexcept>

#include "models/air.hpp"
#include "tests/support/not_finite.hpp"
#include "tests/support/published.hpp"
#include "tests/support/units.hpp"

using namespace bowrise;
using Catch::Matchers::Message;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using test::kelvin;
using test::Known;

// ISO 2533:1975 equations, evaluated apart (g0 9.80665, R 287.05287, 288.15 K, 101325 Pa, -6.5 K/km);
// rows A-ISAP-1 to -4
TEST_CASE("pressure of the standard atmosphere", "[published]") {
  test::WorstOf worst(test::within_abs(0.1));
  worst.add(95460.8, standard_atmosphere_pressure_Pa(500));
  worst.add(89874.6, standard_atmosphere_pressure_Pa(1000));
  worst.add(84556, standard_atmosphere_pressure_Pa(1500));
  worst.add(79495.2, standard_atmosphere_pressure_Pa(2000));
  worst.check({"air: pressure of the standard atmosphere, worst of four to 2000 m, Pa", "ISO 2533:1975",
               Known::worked_out});
  CHECK(standard_atmosphere_pressure_Pa(0) == standard_pressure_Pa);
}

// as above; rows A-ISAR-1 to -4
TEST_CASE("density of the standard atmosphere", "[published]") {
  test::WorstOf worst(test::within_abs(1e-5));
  worst.add(1.16727, standard_atmosphere_density_kg_m3(500));
  worst.add(1.11164, standard_atmosphere_density_kg_m3(1000));
  worst.add(1.05807, standard_atmosphere_density_kg_m3(1500));
  worst.add(1.00649, standard_atmosphere_density_kg_m3(2000));
  worst.check({"air: density of the standard atmosphere, worst of four to 2000 m, kg/m3", "ISO 2533:1975",
               Known::worked_out});
}

// ISO 2533:1975 definition: -6.5 K per km
TEST_CASE("temperature of the standard atmosphere") {
  CHECK_THAT(standard_atmosphere_temperature_K(2000), WithinAbs(275.15, 1e-9));
  CHECK(standard_atmosphere_temperature_K(0) == 288.15);
}

// ISO 2533:1975, earth radius 6356766 m; row A-ISAG-1. 2000 m of height are 1999.37 m of geopotential
// altitude (own evaluation, given to 0.01 m).
TEST_CASE("height on the map against geopotential altitude") {
  CHECK_THAT(geopotential_altitude_m(2000), WithinAbs(1999.37, 0.005));
  CHECK_THAT(standard_atmosphere_pressure_Pa(geopotential_altitude_m(2000)), WithinAbs(79501.4, 0.1));
}

// CIPM-2007 (Picard et al. 2008, Metrologia 45, 149; coefficients recalled), 400 ppm CO2; rows A-HUM-1 to -3
TEST_CASE("density of humid air agrees with CIPM-2007", "[published]") {
  test::WorstOf worst(test::within_rel(1e-3));
  worst.add(1.19931, humid_air_density_kg_m3(kelvin(20), 101325, 0.5));
  worst.add(1.17592, humid_air_density_kg_m3(kelvin(25), 101325, 0.6));
  worst.add(1.22552, humid_air_density_kg_m3(kelvin(15), 101325, 0.0));
  worst.check({"air: density of humid air, worst of three, kg/m3", "CIPM-2007 (Picard et al. 2008)",
               Known::from_memory, test::headline});
}

TEST_CASE("humid air is lighter than dry air, and its dry pressure is lower by the vapour") {
  const AirState dry = air_state(kelvin(30), 100e3, 0);
  const AirState humid = air_state(kelvin(30), 100e3, 0.8);
  CHECK(dry.dry_pressure_Pa == dry.pressure_Pa);
  CHECK_THAT(humid.pressure_Pa - humid.dry_pressure_Pa,
             WithinRel(0.8 * saturation_pressure_Pa(kelvin(30)), 1e-12));
  CHECK(humid.density_kg_m3 < 0.99 * dry.density_kg_m3);
  CHECK(humid.density_kg_m3 == humid_air_density_kg_m3(kelvin(30), 100e3, 0.8));
  CHECK(humid.temperature_K == kelvin(30));
}

// ISO 2533 with the recommended water set (own evaluation of both); rows A-HEAD-1 to -4
TEST_CASE("head that the atmosphere offers") {
  const WaterState lake = water_state(kelvin(20), 0);
  const WaterState sea = water_state(kelvin(15), 35.16504);
  CHECK_THAT(available_head_m(standard_atmosphere_pressure_Pa(0), lake), WithinAbs(10.1119, 0.003));
  CHECK_THAT(available_head_m(standard_atmosphere_pressure_Pa(1000), lake), WithinAbs(8.9422, 0.003));
  CHECK_THAT(available_head_m(standard_atmosphere_pressure_Pa(2000), lake), WithinAbs(7.8819, 0.003));
  CHECK_THAT(available_head_m(standard_atmosphere_pressure_Pa(0), sea), WithinAbs(9.9043, 0.003));
}

// The reduction to sea level is the standard atmosphere, so the standard day gives the standard pressure
// back; the exponent of the usual formula, 5.25588, is the rounded g/(R lapse) of ISO 2533:1975.
TEST_CASE("pressure on site from a weather report") {
  CHECK_THAT(station_pressure_from_sea_level(101325, 1000),
             WithinRel(standard_atmosphere_pressure_Pa(1000), 1e-14));
  CHECK_THAT(station_pressure_from_sea_level(100e3, 1000),
             WithinRel(100e3 * 0.886993, 1e-5));  // 89874.6 / 101325
  CHECK(station_pressure_from_sea_level(102e3, 0) == 102e3);
  CHECK(station_pressure_from_sea_level(102e3, -300) > 102e3);
}

TEST_CASE("the ends of the air range are inside it") {
  CHECK_NOTHROW(air_state(kelvin(0), 50e3, 0));
  CHECK_NOTHROW(air_state(kelvin(60), 110e3, 1));
  CHECK_NOTHROW(standard_atmosphere_density_kg_m3(geopotential_altitude_m(-4996)));
  CHECK_NOTHROW(standard_atmosphere_density_kg_m3(geopotential_altitude_m(11019)));
}

TEST_CASE("air outside its range is refused with the range in the message") {
  const WaterState lake = water_state(kelvin(20), 0);
  CHECK_THROWS_MATCHES(air_state(kelvin(20), 1013.25, 0.5), std::domain_error,
                       Message("air pressure 1013.25 Pa is outside 50000 to 110000 Pa"));
  CHECK_THROWS_MATCHES(air_state(kelvin(20), 101325, 50), std::domain_error,
                       Message("relative humidity 50 is outside 0 to 1"));
  CHECK_THROWS_AS(air_state(273.1, 101325, 0.5), std::domain_error);
  CHECK_THROWS_AS(air_state(333.2, 101325, 0.5), std::domain_error);
  CHECK_THROWS_AS(air_state(kelvin(20), 110.1e3, 0.5), std::domain_error);
  CHECK_THROWS_AS(air_state(kelvin(20), 101325, -0.01), std::domain_error);
  CHECK_THROWS_AS(geopotential_altitude_m(11020), std::domain_error);
  CHECK_THROWS_AS(standard_atmosphere_pressure_Pa(11001), std::domain_error);
  CHECK_THROWS_AS(standard_atmosphere_density_kg_m3(-5001), std::domain_error);
  CHECK_THROWS_AS(station_pressure_from_sea_level(84e3, 0), std::domain_error);
  CHECK_THROWS_AS(station_pressure_from_sea_level(101325, 12000), std::domain_error);
  CHECK_THROWS_AS(available_head_m(101.325, lake), std::domain_error);
}

TEST_CASE("air that is not a number is refused") {
  for (const double bad : {test::not_a_number, test::infinity, -test::infinity}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(air_state(bad, 101325, 0.5), std::domain_error);
    CHECK_THROWS_AS(air_state(kelvin(20), bad, 0.5), std::domain_error);
    CHECK_THROWS_AS(air_state(kelvin(20), 101325, bad), std::domain_error);
    CHECK_THROWS_AS(standard_atmosphere_pressure_Pa(bad), std::domain_error);
    CHECK_THROWS_AS(geopotential_altitude_m(bad), std::domain_error);
  }
}
