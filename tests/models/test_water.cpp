#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "models/water.hpp"
#include "tests/support/not_finite.hpp"
#include "tests/support/published.hpp"
#include "tests/support/units.hpp"

using namespace bowrise;
using Catch::Matchers::Message;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using test::headline;
using test::kelvin;
using test::Known;

namespace {

constexpr double standard_sea_g_kg = 35.16504;  // practical salinity 35
constexpr double pascal_second_per_micro = 1e-6;
const char* const ittc_water = "ITTC 7.5-02-01-03";

}  // namespace

// Millero & Poisson 1981 / UNESCO Tech. Pap. Mar. Sci. 44 (1983), published check values of the
// one-atmosphere equation (recalled, recomputed to all digits); rows W-EOS80-1, W-EOS80-2
TEST_CASE("EOS-80 gives its published check values", "[published]") {
  CHECK_THAT(eos80_density_kg_m3(5, 0), WithinAbs(999.96675, 2e-5));
  test::check_published({"water: density by EOS-80, salinity 35, 5 degC, kg/m3",
                         "UNESCO Tech. Pap. Mar. Sci. 44 (1983), check value", Known::from_memory},
                        1027.67547, eos80_density_kg_m3(5, 35), test::within_abs(2e-5));
  // same table at 25 degC, from memory; sensitive to the highest powers of t, which 5 degC is not
  CHECK_THAT(eos80_density_kg_m3(25, 0), WithinAbs(997.04796, 2e-5));
  CHECK_THAT(eos80_density_kg_m3(25, 35), WithinAbs(1023.34306, 2e-5));
}

// IAPWS R6-95 at 101325 Pa (python3-iapws 1.5.3); rows W-RHOF-1, -2, -3, -4, -6
TEST_CASE("fresh water density agrees with IAPWS-95", "[published]") {
  test::WorstOf worst(test::within_abs(0.01));
  worst.add(999.9666, fresh_water_density_kg_m3(kelvin(5)));
  worst.add(999.1026, fresh_water_density_kg_m3(kelvin(15)));
  worst.add(997.0476, fresh_water_density_kg_m3(kelvin(25)));
  worst.add(994.0333, fresh_water_density_kg_m3(kelvin(35)));
  worst.add(998.2072, fresh_water_density_kg_m3(kelvin(20)));
  worst.check({"water: density, fresh, worst of five at 5 to 35 degC, kg/m3", "IAPWS R6-95",
               Known::worked_out, headline});
}

// ITTC 7.5-02-01-03 (Rev 02/03), fresh water, read in public transcriptions of the table; rows W-ITTC-1, -2
TEST_CASE("fresh water density agrees with the ITTC table", "[published]") {
  test::WorstOf worst(test::within_abs(0.001));
  worst.add(999.1026, fresh_water_density_kg_m3(kelvin(15)));
  worst.add(998.2072, fresh_water_density_kg_m3(kelvin(20)));
  worst.check({"water: density, fresh, worse of 15 and 20 degC, kg/m3", ittc_water, Known::read});
}

// TEOS-10 full Gibbs function at 0 dbar, rho_t_exact of the Gibbs SeaWater toolbox (python3-gsw 3.6.16);
// rows W-RHOSEA-1, -2, -3, -8
TEST_CASE("sea water density agrees with TEOS-10", "[published]") {
  test::WorstOf worst(test::within_abs(0.02));
  worst.add(1027.675603, sea_water_density_kg_m3(kelvin(5), standard_sea_g_kg));
  worst.add(1025.976029, sea_water_density_kg_m3(kelvin(15), standard_sea_g_kg));
  worst.add(1023.343631, sea_water_density_kg_m3(kelvin(25), standard_sea_g_kg));
  worst.add(1022.030968, sea_water_density_kg_m3(kelvin(35), 38.0));
  worst.check({"water: density, sea, worst of four at 5 to 35 degC, kg/m3", "TEOS-10", Known::worked_out});
}

// ITTC 7.5-02-01-03 (Rev 02/03), standard sea water; rows W-ITTC-13, -14. The table lies 0.045 kg/m3 above
// TEOS-10 at one atmosphere and fits a sea pressure of 10.1325 dbar, as if the atmosphere were counted twice;
// hence 0.06.
TEST_CASE("sea water density agrees with the ITTC table", "[published]") {
  test::WorstOf worst(test::within_abs(0.06));
  worst.add(1026.0210, sea_water_density_kg_m3(kelvin(15), standard_sea_g_kg));
  worst.add(1024.8103, sea_water_density_kg_m3(kelvin(20), standard_sea_g_kg));
  worst.check({"water: density, sea, worse of 15 and 20 degC, kg/m3", ittc_water, Known::read});
}

// Rows W-TEOS-* (TEOS-10 at depth), W-R12-* (full viscosity formulation) and W-IF97R1-1 (region 1) test
// formulations that are not implemented, because the correlations here are one-atmosphere ones.

// IAPWS SR6-08 / Huber et al. 2009, computer-program verification value; row W-MU4-1
TEST_CASE("fresh water viscosity gives its published check value", "[published]") {
  test::check_published({"water: viscosity, fresh, 25 degC, uPa s", "IAPWS SR6-08, check value", Known::read},
                        889.996773679, 1e6 * fresh_water_viscosity_Pa_s(298.15), test::within_rel(1e-9));
}

// IAPWS R12-08 (mu2 = 1) at the IAPWS-95 density, 101325 Pa; rows W-MUF-1 to -4
TEST_CASE("fresh water viscosity agrees with the full formulation") {
  CHECK_THAT(fresh_water_viscosity_Pa_s(kelvin(5)), WithinRel(1518.173 * pascal_second_per_micro, 1e-3));
  CHECK_THAT(fresh_water_viscosity_Pa_s(kelvin(15)), WithinRel(1137.568 * pascal_second_per_micro, 1e-3));
  CHECK_THAT(fresh_water_viscosity_Pa_s(kelvin(25)), WithinRel(890.022 * pascal_second_per_micro, 1e-3));
  CHECK_THAT(fresh_water_viscosity_Pa_s(kelvin(35)), WithinRel(719.126 * pascal_second_per_micro, 1e-3));
}

// ITTC 7.5-02-01-03 (Rev 02/03), fresh and standard sea water; rows W-ITTC-3, -4, -6, -7, -11
TEST_CASE("viscosity agrees with the ITTC table", "[published]") {
  test::WorstOf worst(test::within_rel(1e-3));
  worst.add(1.1386, 1e6 * water_state(kelvin(15), 0).kinematic_viscosity_m2_s);
  worst.add(1.0034, 1e6 * water_state(kelvin(20), 0).kinematic_viscosity_m2_s);
  worst.add(1.1892, 1e6 * water_state(kelvin(15), standard_sea_g_kg).kinematic_viscosity_m2_s);
  worst.add(1.0508, 1e6 * water_state(kelvin(20), standard_sea_g_kg).kinematic_viscosity_m2_s);
  worst.check({"water: kinematic viscosity, worst of fresh and sea at 15 and 20 degC, mm2/s", ittc_water,
               Known::read});
  CHECK_THAT(water_state(kelvin(15), standard_sea_g_kg).viscosity_Pa_s, WithinRel(1.220e-3, 5e-4));
}

// IAPWS R7-97, tables 35 and 36 (recalled, recomputed); rows W-IF97R4-1, -2, W-IF97R4B-1
TEST_CASE("region 4 of IAPWS R7-97 gives its published check values, both ways", "[published]") {
  test::check_published(
      {"water: saturation pressure, 300 K, Pa", "IAPWS R7-97, table 35", Known::from_memory}, 3536.58941,
      saturation_pressure_Pa(300), test::within_rel(5e-9));
  CHECK_THAT(saturation_pressure_Pa(500), WithinRel(2.63889776e6, 5e-9));
  CHECK_THAT(saturation_temperature_K(0.1e6), WithinRel(372.755919, 5e-9));
}

TEST_CASE("saturation temperature is the inverse of saturation pressure, ends included") {
  for (const double temperature_K : {273.15, 280.0, 313.15, 373.15, 500.0, 640.0, 647.096}) {
    CAPTURE(temperature_K);
    // both equations come from one quadratic, so only rounding (magnified near 273 K) is left
    CHECK_THAT(saturation_temperature_K(saturation_pressure_Pa(temperature_K)),
               WithinRel(temperature_K, 1e-10));
  }
}

// IAPWS-95 phase equilibrium (python3-iapws 1.5.3); rows W-PV-1 to -4
// ITTC 7.5-02-01-03 (Rev 02/03), fresh water; row W-ITTC-5
TEST_CASE("vapour pressure of fresh water agrees with IAPWS-95 and the ITTC table", "[published]") {
  test::WorstOf worst(test::within_rel(3e-4));
  worst.add(872.575, vapour_pressure_Pa(kelvin(5), 0));
  worst.add(1705.793, vapour_pressure_Pa(kelvin(15), 0));
  worst.add(3169.929, vapour_pressure_Pa(kelvin(25), 0));
  worst.add(5629.016, vapour_pressure_Pa(kelvin(35), 0));
  worst.check({"water: vapour pressure, fresh, worst of four at 5 to 35 degC, Pa", "IAPWS-95",
               Known::worked_out, headline});
  CHECK_THAT(vapour_pressure_Pa(kelvin(15), 0), WithinRel(1705.8, 3e-4));
}

// Equal chemical potential of water: TEOS-10 liquid (python3-gsw 3.6.16) with IAPWS-95 vapour; rows
// W-PVSAL-1, -2
TEST_CASE("salt lowers the vapour pressure as TEOS-10 says") {
  CHECK_THAT(vapour_pressure_Pa(kelvin(15), 35.165) / vapour_pressure_Pa(kelvin(15), 0),
             WithinAbs(0.98133, 5e-4));
  CHECK_THAT(vapour_pressure_Pa(kelvin(25), 35.165) / vapour_pressure_Pa(kelvin(25), 0),
             WithinAbs(0.98127, 5e-4));
}

// ITTC 7.5-02-01-03 (Rev 02/03), standard sea water; row W-ITTC-16. The table is an ideal solution (Raoult),
// ours follows the measured activity: 3e-3 covers the difference.
TEST_CASE("vapour pressure of sea water agrees with the ITTC table", "[published]") {
  test::check_published({"water: vapour pressure, sea, 15 degC, Pa", ittc_water, Known::read}, 1670.9,
                        water_state(kelvin(15), standard_sea_g_kg).vapour_pressure_Pa,
                        test::within_rel(3e-3));
}

// TEOS-10, air-free, 0 dbar: -1.9191 degC (python3-gsw 3.6.16); row W-TF-1
TEST_CASE("freezing point agrees with TEOS-10", "[published]") {
  test::check_published({"water: freezing point, sea, degC", "TEOS-10", Known::worked_out}, -1.9191,
                        freezing_temperature_K(standard_sea_g_kg) - zero_celsius_K, test::within_abs(0.005));
  CHECK(freezing_temperature_K(0) == zero_celsius_K);
}

TEST_CASE("a water state is put together from its parts") {
  const double temperature_K = kelvin(18);
  const double salinity_g_kg = 20;
  const WaterState water = water_state(temperature_K, salinity_g_kg);
  CHECK(water.density_kg_m3 == sea_water_density_kg_m3(temperature_K, salinity_g_kg));
  CHECK(water.viscosity_Pa_s == sea_water_viscosity_Pa_s(temperature_K, salinity_g_kg));
  CHECK(water.kinematic_viscosity_m2_s == water.viscosity_Pa_s / water.density_kg_m3);
  CHECK(water.vapour_pressure_Pa == vapour_pressure_Pa(temperature_K, salinity_g_kg));
}

TEST_CASE("without salt, sea water is fresh water to the last bit") {
  CHECK(sea_water_density_kg_m3(290, 0) == fresh_water_density_kg_m3(290));
  CHECK(sea_water_viscosity_Pa_s(290, 0) == fresh_water_viscosity_Pa_s(290));
  CHECK(vapour_pressure_Pa(290, 0) == saturation_pressure_Pa(290));
}

TEST_CASE("the ends of the water range are inside it") {
  CHECK_NOTHROW(water_state(kelvin(0), 0));
  CHECK_NOTHROW(water_state(kelvin(40), 42));
  CHECK_NOTHROW(eos80_density_kg_m3(-2, 42));
  CHECK_NOTHROW(fresh_water_viscosity_Pa_s(253.15));
}

TEST_CASE("water outside its range is refused with the range in the message") {
  CHECK_THROWS_MATCHES(water_state(320, 0), std::domain_error,
                       Message("water temperature 320 K is outside 273.15 to 313.15 K"));
  CHECK_THROWS_MATCHES(water_state(293.15, 42.5), std::domain_error,
                       Message("salinity 42.5 g/kg is outside 0 to 42 g/kg"));
  CHECK_THROWS_AS(water_state(std::nextafter(kelvin(0), 0.0), 0), std::domain_error);
  CHECK_THROWS_AS(water_state(std::nextafter(kelvin(40), 400.0), 0), std::domain_error);
  CHECK_THROWS_AS(water_state(293.15, -1e-9), std::domain_error);
  CHECK_THROWS_AS(eos80_density_kg_m3(-2.01, 0), std::domain_error);
  CHECK_THROWS_AS(eos80_density_kg_m3(10, 42.01), std::domain_error);
  CHECK_THROWS_AS(fresh_water_viscosity_Pa_s(383.2), std::domain_error);
  CHECK_THROWS_AS(sea_water_viscosity_Pa_s(273.0, 0), std::domain_error);
  CHECK_THROWS_AS(sea_water_viscosity_Pa_s(293.15, 150.1), std::domain_error);
  CHECK_THROWS_AS(saturation_pressure_Pa(273.1), std::domain_error);
  CHECK_THROWS_AS(saturation_pressure_Pa(647.1), std::domain_error);
  CHECK_THROWS_AS(saturation_temperature_K(611.0), std::domain_error);
  CHECK_THROWS_AS(saturation_temperature_K(22.07e6), std::domain_error);
  CHECK_THROWS_AS(freezing_temperature_K(43), std::domain_error);
}

TEST_CASE("water that is not a number is refused") {
  for (const double bad : {test::not_a_number, test::infinity, -test::infinity}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(water_state(bad, 0), std::domain_error);
    CHECK_THROWS_AS(water_state(293.15, bad), std::domain_error);
    CHECK_THROWS_AS(saturation_temperature_K(bad), std::domain_error);
    CHECK_THROWS_AS(vapour_pressure_ratio(bad), std::domain_error);
  }
}
