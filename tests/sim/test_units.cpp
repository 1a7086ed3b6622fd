#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>
#include <set>

#include "models/constants.hpp"
#include "sim/units.hpp"

using namespace bowrise;
using Catch::Matchers::Contains;
using Catch::Matchers::Equals;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

double parsed(std::string_view text, Dimension wanted) {
  const auto result = parse_quantity(text, wanted);
  if (const auto* const error = std::get_if<QuantityError>(&result)) FAIL(error->what);
  return std::get<double>(result);
}

std::string refused(std::string_view text, Dimension wanted) {
  const auto result = parse_quantity(text, wanted);
  if (const auto* const value = std::get_if<double>(&result)) FAIL(text << " was read as " << *value);
  return std::get<QuantityError>(result).what;
}

std::string formatted(double si, std::string_view unit) {
  const Unit* const found = find_unit(unit);
  REQUIRE(found != nullptr);
  return format_quantity(si, *found);
}

std::string with_unit(double value, const Unit& unit) {
  const bool bare = unit.dimension == Dimension::count || unit.name == "1";
  return shortest(value) + (bare ? "" : " " + std::string{unit.name});
}

}  // namespace

// Definitions: mile 5280 ft, foot 0.3048 m, 550 ft lbf/s, 75 kgf m/s (NIST SP 811, 2008, appendix B); rows
// T-UNIT-1 to -7
TEST_CASE("conversions by definition") {
  CHECK_THAT(parsed("30 mph", Dimension::speed), WithinRel(13.4112, 1e-8));
  CHECK_THAT(parsed("60 mph", Dimension::speed), WithinRel(26.8224, 1e-8));
  CHECK_THAT(parsed("60 ft", Dimension::length), WithinRel(18.288, 1e-8));
  CHECK_THAT(parsed("330 ft", Dimension::length), WithinRel(100.584, 1e-8));
  CHECK_THAT(parsed("0.125 mile", Dimension::length), WithinRel(201.168, 1e-8));
  CHECK_THAT(parsed("300 hp", Dimension::power), WithinRel(223709.961, 1e-8));
  CHECK_THAT(parsed("300 PS", Dimension::power), WithinRel(220649.625, 1e-8));
}

// NIST SP 811 (2008), appendix B.8 (recalled): each factor to the digits given there, so half a unit of the
// last one
TEST_CASE("factors of NIST SP 811") {
  CHECK_THAT(parsed("1 in", Dimension::length), WithinRel(0.0254, 1e-15));
  CHECK_THAT(parsed("1 thou", Dimension::length), WithinRel(2.54e-5, 1e-15));
  CHECK_THAT(parsed("1 mile", Dimension::length), WithinRel(1609.344, 1e-15));
  CHECK_THAT(parsed("1 in2", Dimension::area), WithinRel(6.4516e-4, 1e-15));
  CHECK_THAT(parsed("1 lb", Dimension::mass), WithinRel(0.45359237, 1e-15));
  CHECK_THAT(parsed("1 lbf", Dimension::force), WithinRel(4.4482216152605, 1e-14));
  CHECK_THAT(parsed("1 lbf ft", Dimension::torque), WithinAbs(1.355818, 0.5e-6));
  CHECK_THAT(parsed("1 psi", Dimension::pressure), WithinAbs(6894.757, 0.5e-3));
  CHECK_THAT(parsed("1 hp", Dimension::power), WithinAbs(745.6999, 0.5e-4));
  CHECK_THAT(parsed("1 metric_hp", Dimension::power), WithinAbs(735.4988, 0.5e-4));
  CHECK_THAT(parsed("1 mph", Dimension::speed), WithinRel(0.44704, 1e-15));
  CHECK_THAT(parsed("1 kn", Dimension::speed), WithinAbs(0.5144444, 0.5e-7));
  CHECK_THAT(parsed("1 rpm", Dimension::angular_speed), WithinAbs(0.1047198, 0.5e-7));
  CHECK_THAT(parsed("1 deg", Dimension::angle), WithinAbs(0.01745329, 0.5e-8));
}

// SI prefixes and units accepted beside SI (BIPM brochure, 9th edition): exact
TEST_CASE("metric conversions are exact to the last bit") {
  CHECK(parsed("86 mm", Dimension::length) == 0.086);
  CHECK(parsed("8.6 cm", Dimension::length) == 0.086);
  CHECK(parsed("1.5 km", Dimension::length) == 1500);
  CHECK(parsed("58 cm2", Dimension::area) == 0.0058);
  CHECK(parsed("7 mm2", Dimension::area) == 7e-6);
  CHECK(parsed("1.63 L", Dimension::volume) == 0.00163);
  CHECK(parsed("1630 cm3", Dimension::volume) == 0.00163);
  CHECK(parsed("1630 mL", Dimension::volume) == 0.00163);
  CHECK(parsed("350 g", Dimension::mass) == 0.35);
  CHECK(parsed("10 ms", Dimension::time) == 0.01);
  CHECK(parsed("2 min", Dimension::time) == 120);
  CHECK(parsed("1.5 h", Dimension::time) == 5400);
  CHECK(parsed("36 km/h", Dimension::speed) == 10);
  CHECK(parsed("224 kW", Dimension::power) == 224e3);
  CHECK(parsed("0.2 MW", Dimension::power) == 0.2e6);
  CHECK(parsed("3 kN", Dimension::force) == 3000);
  CHECK(parsed("1013.25 hPa", Dimension::pressure) == standard_pressure_Pa);
  CHECK(parsed("1013.25 mbar", Dimension::pressure) == standard_pressure_Pa);
  CHECK(parsed("101.325 kPa", Dimension::pressure) == standard_pressure_Pa);
  CHECK(parsed("1.01325 bar", Dimension::pressure) == standard_pressure_Pa);
  CHECK(parsed("0.1 MPa", Dimension::pressure) == 1e5);
  CHECK(parsed("210 L/s", Dimension::flow) == 0.21);
  CHECK(parsed("2 mm/s", Dimension::wear_rate) == 0.002);
  CHECK(parsed("35.165 g/kg", Dimension::salinity) == 35.165);
  CHECK(parsed("3 %", Dimension::dimensionless) == 0.03);
}

TEST_CASE("temperatures take the offset") {
  CHECK(parsed("24 degC", Dimension::temperature) == 297.15);
  CHECK(parsed("0 K", Dimension::temperature) == 0);
  CHECK_THAT(parsed("32 degF", Dimension::temperature), WithinRel(273.15, 1e-15));
  CHECK_THAT(parsed("212 degF", Dimension::temperature), WithinRel(373.15, 1e-15));
  CHECK_THAT(parsed("-40 degF", Dimension::temperature),
             WithinRel(parsed("-40 degC", Dimension::temperature), 1e-15));
  CHECK_THAT(refused("-300 degC", Dimension::temperature), Equals("\"-300 degC\" is below absolute zero"));
}

TEST_CASE("the ways to write a quantity") {
  for (const char* const text :
       {"86 mm", "86mm", "  86 mm\t", "86   mm", "86. mm", "8.6e1 mm", "8.6E+1mm", "+86 mm"}) {
    CAPTURE(text);
    CHECK(parsed(text, Dimension::length) == 0.086);
  }
  CHECK_THAT(parsed("-2.5 deg", Dimension::angle), WithinRel(-2.5 * pi / 180, 1e-15));
  CHECK(parsed(".5 m", Dimension::length) == 0.5);
  CHECK(parsed("1e3 kg", Dimension::mass) == 1000);
  CHECK(parsed("2 1/m", Dimension::inverse_length) == 2);
  CHECK(parsed("0.03", Dimension::dimensionless) == 0.03);
  CHECK(parsed("-1", Dimension::dimensionless) == -1);
  CHECK(parsed("4", Dimension::count) == 4);
  CHECK(parsed("4.0", Dimension::count) == 4);
}

TEST_CASE("aliases name the same unit") {
  CHECK(find_unit("N m") == find_unit("Nm"));
  CHECK(find_unit("lb ft") == find_unit("lbf ft"));
  CHECK(find_unit("ft lbf") == find_unit("lbf ft"));
  CHECK(find_unit("inch") == find_unit("in"));
  CHECK(find_unit("cc") == find_unit("cm3"));
  CHECK(parsed("230 N m", Dimension::torque) == 230);
  CHECK(find_unit("furlong") == nullptr);
  CHECK(find_unit("") == nullptr);
}

TEST_CASE("a missing, unknown or wrong unit is explained") {
  CHECK_THAT(refused("86", Dimension::length), Equals("\"86\" has no unit"));
  CHECK_THAT(refused("86 kg", Dimension::length),
             Equals("\"86 kg\" is a mass; write a length in mm, cm, m, km, in, ft, mile, thou"));
  CHECK_THAT(refused("2 g", Dimension::acceleration),
             Equals("\"2 g\" is a mass; write an acceleration in m/s2"));
  CHECK_THAT(refused("3 mm", Dimension::dimensionless),
             Equals("\"3 mm\" is a length; write a plain number or %"));
  CHECK_THAT(
      refused("86 mn", Dimension::length),
      Equals("\"86 mn\": unknown unit \"mn\" (did you mean mm?); write a length in mm, cm, m, km, in, ft, "
             "mile, thou"));
  CHECK_THAT(refused("5 x", Dimension::mass),
             Equals("\"5 x\": unknown unit \"x\"; write a mass in g, kg, lb"));
  CHECK_THAT(refused("3 blades", Dimension::count),
             Equals("\"3 blades\": unknown unit \"blades\"; write a whole number"));
  CHECK_THAT(refused("3 count", Dimension::count), Contains("write a whole number"));
}

TEST_CASE("the nearest spelling is suggested") {
  CHECK_THAT(refused("86 MM", Dimension::length), Contains("did you mean mm?"));
  CHECK_THAT(refused("3 feet", Dimension::length), Contains("did you mean ft?"));
  CHECK_THAT(refused("1 Mpa", Dimension::pressure), Contains("did you mean MPa?"));
  CHECK_THAT(refused("300 kw", Dimension::power), Contains("did you mean kW?"));
  CHECK_THAT(refused("40 kmh", Dimension::speed), Contains("did you mean km/h?"));
  CHECK_THAT(refused("40 kph", Dimension::speed), Contains("did you mean km/h?"));
  CHECK_THAT(refused("1 kg*m2", Dimension::inertia), Contains("did you mean kg m2?"));
  CHECK_THAT(refused("24 C", Dimension::temperature), Contains("did you mean degC?"));
  CHECK_THAT(refused("7600 RPM", Dimension::angular_speed), Contains("did you mean rpm?"));
}

TEST_CASE("bhp is refused because it does not say which horsepower") {
  CHECK_THAT(refused("300 bhp", Dimension::power), Contains("hp is 745.7 W, PS is 735.5 W"));
}

TEST_CASE("what is not one decimal number is refused, each with its own message") {
  const auto length = Dimension::length;
  CHECK_THAT(refused("", length), Contains("nothing is given; write a length in mm"));
  CHECK_THAT(refused(" \t", length), Contains("nothing is given"));
  CHECK_THAT(refused("mm", length), Equals("\"mm\" does not begin with a number"));
  CHECK_THAT(refused("--2 mm", length), Contains("does not begin with a number"));
  CHECK_THAT(refused("+-2 mm", length), Contains("does not begin with a number"));
  CHECK_THAT(refused("86,5 mm", length), Contains("has a comma; write a decimal point"));
  CHECK_THAT(refused("1,000 mm", length), Contains("has a comma"));
  CHECK_THAT(refused(",5 mm", length), Contains("begins with a comma"));
  CHECK_THAT(refused("1 000 mm", length), Contains("is not one number"));
  CHECK_THAT(refused("1.2.3 mm", length), Contains("is not one number"));
  CHECK_THAT(refused("1_000 mm", length), Contains("is not one number"));
  CHECK_THAT(refused("0x10 mm", length), Contains("is hexadecimal"));
  CHECK_THAT(refused("-0X1p3 mm", length), Contains("is hexadecimal"));
  for (const char* const text : {"nan mm", "NaN", "inf mm", "-inf", "infinity m"}) {
    CHECK_THAT(refused(text, length), Contains("is not a finite number"));
  }
  CHECK_THAT(refused("1e400 mm", length), Contains("is too large or too small a number"));
  CHECK_THAT(refused("1e-400 mm", length), Contains("is too large or too small a number"));
  CHECK_THAT(refused("1e308 km", length), Equals("\"1e308 km\" is too large a quantity"));
  CHECK_THAT(refused("2.5", Dimension::count), Equals("\"2.5\" is not a whole number"));
  CHECK_THAT(refused("0.5 1", Dimension::dimensionless), Contains("is not one number"));
}

TEST_CASE("a message never carries control characters or an endless text") {
  CHECK_THAT(refused("7 \x1b[31m", Dimension::length), Contains("\"7 ?[31m\""));
  CHECK_THAT(refused(std::string_view{"7 \0m", 4}, Dimension::length), Contains("\"7 ?m\""));
  CHECK(refused("7 " + std::string(100000, 'y'), Dimension::length).size() < 300);
}

TEST_CASE("a number is written in its shortest form that reads back") {
  CHECK(shortest(0.1) == "0.1");
  CHECK(shortest(-2.5) == "-2.5");
  CHECK(shortest(0.1 + 0.2) == "0.30000000000000004");
  CHECK(shortest(-0.0) == "0");
  CHECK(shortest(1.0 / 3.0) == "0.3333333333333333");
  CHECK(shortest(std::numeric_limits<double>::infinity()) == "inf");
}

TEST_CASE("a quantity reads well") {
  CHECK(formatted(0.086, "mm") == "86 mm");
  CHECK(formatted(0.086, "m") == "0.086 m");
  CHECK(formatted(297.15, "degC") == "24 degC");
  CHECK(formatted(273.16, "degC") == "0.01 degC");  // 273.16 - 273.15 is 0.01000000000005 in binary
  CHECK(formatted(0.1 + 0.2, "m") == "0.3 m");
  CHECK(formatted(1.0 / 3.0, "mm") == "333.3333333333333 mm");
  CHECK(formatted(1e6, "W") == "1000000 W");
  CHECK(formatted(8000, "N") == "8000 N");
  CHECK(formatted(2e-7, "m3") == "2e-07 m3");
  CHECK(formatted(0.0, "kg") == "0 kg");
  CHECK(formatted(-0.0, "mm") == "0 mm");
  CHECK(formatted(0.03, "1") == "0.03");
  CHECK(formatted(0.03, "%") == "3 %");
  CHECK(formatted(4, "count") == "4");
  CHECK(formatted(parsed("7600 rpm", Dimension::angular_speed), "rpm") == "7600 rpm");
  CHECK(formatted(parsed("255 hp", Dimension::power), "hp") == "255 hp");
  CHECK(formatted(parsed("12 thou", Dimension::length), "thou") == "12 thou");
}

TEST_CASE("what was typed in a unit is written in that unit as it was typed") {
  for (const Unit& unit : all_units()) {
    CAPTURE(unit.name);
    for (int hundredths = 1; hundredths <= 2000; ++hundredths) {
      const double value = unit.dimension == Dimension::count ? hundredths : hundredths / 100.0;
      const std::string text = with_unit(value, unit);
      const std::string again = format_quantity(parsed(text, unit.dimension), unit);
      if (again != text) FAIL_CHECK(text << " came back as " << again);
    }
  }
}

TEST_CASE("any quantity written and read again is the same to 1e-15") {
  std::mt19937_64 random{20};
  for (const Unit& unit : all_units()) {
    CAPTURE(unit.name);
    double worst = 0;
    for (int i = 0; i < 2000; ++i) {
      // raw generator bits, because the library's distributions differ between implementations
      const double fraction = static_cast<double>(random() >> 11) * 0x1p-53;
      double si = std::pow(10.0, 12 * fraction - 6) * (i % 2 == 0 ? 1 : -1);
      if (unit.dimension == Dimension::temperature) si = 200 + 400 * fraction;
      if (unit.dimension == Dimension::count) si = std::round(si);
      const double again = parsed(format_quantity(si, unit), unit.dimension);
      if (si != 0) worst = std::max(worst, std::abs(again - si) / std::abs(si));
    }
    CHECK(worst <= 1e-15);
  }
}

TEST_CASE("the table is in order") {
  std::set<std::string_view> names;
  for (const Unit& unit : all_units()) {
    CAPTURE(unit.name);
    CHECK(names.insert(unit.name).second);
    CHECK(find_unit(unit.name) == &unit);
    CHECK(unit.factor > 0);
    CHECK(std::isfinite(unit.factor));
    CHECK((unit.offset == 0 || unit.dimension == Dimension::temperature));
    CHECK_FALSE(name_of(unit.dimension) == "quantity");
    CHECK_FALSE(units_of(unit.dimension).empty());
  }
  CHECK(names.size() == 65);
}

TEST_CASE("words for messages") {
  CHECK(with_article(Dimension::length) == "a length");
  CHECK(with_article(Dimension::angle) == "an angle");
  CHECK(units_of(Dimension::power) == "W, kW, MW, hp, metric_hp, PS");
  CHECK(units_of(Dimension::dimensionless) == "a plain number or %");
  CHECK(units_of(Dimension::count) == "a whole number");
}
