// The ways to say the pitch of a blade: an angle, a length, a table over the span; and its chord.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "models/blade_row.hpp"
#include "models/constants.hpp"
#include "tests/support/whole_pump.hpp"

using namespace bowrise;
using namespace bowrise::test;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double inch = 0.0254;

/// The craft pump with its pitch said in no way.
WholePump without_pitch() {
  WholePump craft = craft_pump();
  craft.impeller.pitch_leading_rad = craft.impeller.pitch_trailing_rad = derived_value;
  return craft;
}

/// A helix of the craft pump's pitch at radii from below the hub to the tip.
TableRows helix_table(double leading_deg, double trailing_deg, int rows) {
  TableRows table;
  for (int i = 0; i < rows; ++i) {
    const double radius = 0.030 + 0.050 * i / (rows - 1);
    const auto angle = [&](double tip_deg) { return std::atan(0.080 * std::tan(degrees(tip_deg)) / radius); };
    table.push_back({radius, angle(leading_deg), angle(trailing_deg)});
  }
  return table;
}

void check_same(const WholePump& one, const WholePump& other, double tolerance) {
  REQUIRE(one.problems().empty());
  REQUIRE(other.problems().empty());
  for (const double flow : {0.12, 0.20, 0.2535, 0.30}) {
    const PumpCurveRow a = one.row(flow), b = other.row(flow);
    CHECK_THAT(b.head_m, WithinRel(a.head_m, tolerance));
    CHECK_THAT(b.shaft_power_W, WithinRel(a.shaft_power_W, tolerance));
    CHECK_THAT(b.npsh_breakdown_m, WithinRel(a.npsh_breakdown_m, tolerance));
  }
}

std::string complaints(const WholePump& pump) {
  std::string text;
  for (const Problem& problem : pump.problems())
    text += problem.key + ": " + problem.what + "; " + problem.allowed + "\n";
  return text;
}

}  // namespace

// closed form tan(angle) = pitch / (2 pi radius), as row P135: 0.1633 m is 18 deg at 80 mm
TEST_CASE("pitch as a length is the angle of its helix") {
  Rotor blades = without_pitch().impeller;
  blades.pitch_leading_length_m = 0.1633;
  blades.pitch_trailing_length_m = 9.2 * inch;
  const Rotor whole = resolved(blades, 0.160);
  CHECK_THAT(whole.pitch_leading_rad / radians_per_degree, WithinAbs(18.0, 0.01));
  CHECK_THAT(std::tan(whole.pitch_trailing_rad), WithinRel(9.2 * inch / (2 * pi * 0.080), 1e-12));
  blades.pitch_radius_m = 0.060;
  CHECK_THAT(std::tan(resolved(blades, 0.160).pitch_trailing_rad),
             WithinRel(9.2 * inch / (2 * pi * 0.060), 1e-12));
}

// A separate calculation of the craft pump states its 15.4 / 25.0 deg as 138 / 234 mm, 5.4 / 9.2 in
// (rounded).
TEST_CASE("a pump is the same in degrees and in inches of pitch") {
  CHECK_THAT(helix_pitch_m(0.080, degrees(15.4)), WithinAbs(0.138, 0.0005));
  CHECK_THAT(helix_pitch_m(0.080, degrees(25.0)), WithinAbs(9.2 * inch, 0.05 * inch));
  WholePump in_inches = without_pitch();
  in_inches.impeller.pitch_leading_length_m = 2 * pi * 0.080 * std::tan(degrees(15.4));
  in_inches.impeller.pitch_trailing_length_m = 2 * pi * 0.080 * std::tan(degrees(25.0));
  check_same(craft_pump(), in_inches, 1e-12);
  // a screw advances alike at every radius: where its length was read does not matter
  in_inches.impeller.pitch_radius_m = 0.055;
  check_same(craft_pump(), in_inches, 1e-12);
  // one edge each way
  in_inches.impeller.pitch_radius_m = derived_value;
  in_inches.impeller.pitch_leading_length_m = derived_value;
  in_inches.impeller.pitch_leading_rad = degrees(15.4);
  check_same(craft_pump(), in_inches, 1e-12);
}

TEST_CASE("a helix written as a table is the same pump") {
  for (const int rows : {2, 3, 7}) {
    WholePump tabulated = without_pitch();
    tabulated.impeller.blade_angles = helix_table(15.4, 25.0, rows);
    check_same(craft_pump(), tabulated, 1e-9);
  }
  WholePump two = two_stage_pump(YesNo::yes), tabulated = two;
  tabulated.stage_2.pitch_leading_rad = tabulated.stage_2.pitch_trailing_rad = derived_value;
  tabulated.stage_2.blade_angles = helix_table(15.4, 21.0, 4);
  check_same(two, tabulated, 1e-9);
}

// Closed form of a law that is no helix: angles that fall in a straight line from hub to tip, told at seven
// radii. A cubic through seven points of a smooth curve misses it by far less than a pitch block reads.
TEST_CASE("a table gives its angles at every station") {
  const auto leading_deg = [](double radius) { return 34.0 - 230.0 * radius; };
  const auto trailing_deg = [](double radius) { return 46.0 - 250.0 * radius; };
  Rotor blades = without_pitch().impeller;
  for (int i = 0; i < 7; ++i) {
    const double radius = 0.030 + 0.050 * i / 6;
    blades.blade_angles.push_back({radius, degrees(leading_deg(radius)), degrees(trailing_deg(radius))});
  }
  const BladeRow row = blade_row(resolved(blades, 0.160), 0.160);
  for (const BladeStation& station : row.stations) {
    CHECK_THAT(station.angle_in_rad / radians_per_degree, WithinAbs(leading_deg(station.radius_in_m), 0.05));
    CHECK_THAT(station.angle_out_rad / radians_per_degree,
               WithinAbs(trailing_deg(station.radius_out_m), 0.05));
  }
  CHECK_THAT(row.tip_angle_in_rad / radians_per_degree, WithinAbs(15.6, 1e-9));
  CHECK_THAT(resolved(blades, 0.160).pitch_trailing_rad / radians_per_degree, WithinAbs(26.0, 1e-9));
}

TEST_CASE("chord of the tip instead of solidity") {
  WholePump by_chord = craft_pump();
  by_chord.impeller.solidity = derived_value;
  by_chord.impeller.tip_chord_m = 1.15 * pi * 0.160 / 4;  // solidity = blades x chord / (pi x bore)
  check_same(craft_pump(), by_chord, 1e-12);
  CHECK(resolved(craft_pump().impeller, 0.160).solidity == 1.15);
  by_chord.impeller.blades = 3;
  CHECK_THAT(resolved(by_chord.impeller, 0.160).solidity, WithinRel(0.75 * 1.15, 1e-12));
}

TEST_CASE("blades said twice, not at all or impossibly are refused by key") {
  using Catch::Contains;
  WholePump pump = craft_pump();
  pump.impeller.pitch_leading_length_m = 0.138;
  CHECK_THAT(complaints(pump),
             Contains("impeller.pitch_leading_length: says the same as impeller.pitch_leading"));
  CHECK(pump.problems().size() == 1);

  CHECK_THAT(complaints(without_pitch()),
             Contains("impeller.pitch_leading: missing") && Contains("impeller.pitch_trailing: missing"));

  pump = without_pitch();
  pump.impeller.pitch_leading_length_m = 0.130;
  pump.impeller.pitch_trailing_length_m = 5.0;
  CHECK_THAT(complaints(pump), Contains("impeller.pitch_trailing_length: makes a blade angle of 84.3 deg"));
  pump.impeller.pitch_trailing_length_m = 0.120;
  CHECK_THAT(complaints(pump), Contains("impeller.pitch_trailing: below the leading pitch"));

  pump = craft_pump();
  pump.impeller.blade_angles = helix_table(15.4, 25.0, 4);  // says what the angles say
  CHECK(pump.problems().empty());
  pump.impeller.pitch_trailing_rad = degrees(26.0);
  CHECK_THAT(complaints(pump), Contains("impeller.pitch_trailing: contradicts") && Contains("25.0 deg"));
  pump.impeller.pitch_trailing_rad = derived_value;
  pump.impeller.pitch_trailing_length_m = 0.3;
  CHECK_THAT(complaints(pump), Contains("impeller.pitch_trailing_length: contradicts"));

  const auto table_complaint = [](const TableRows& rows) {
    WholePump tabulated = without_pitch();
    tabulated.impeller.blade_angles = rows;
    return complaints(tabulated);
  };
  const TableRows good = helix_table(15.4, 25.0, 4);
  CHECK(table_complaint(good).empty());
  CHECK_THAT(table_complaint({good[0], good[1], good[2]}), Contains("from hub to tip, 32.0 mm to 79.8 mm"));
  CHECK_THAT(table_complaint({good[1], good[2], good[3]}), Contains("do not cover"));
  CHECK_THAT(table_complaint({good[0], good[2], good[1], good[3]}), Contains("radius does not rise"));
  CHECK_THAT(table_complaint({good[0], {0.05, 0.4, 0.3}, good[3]}), Contains("brake the water"));
  CHECK_THAT(table_complaint({good[0]}), Contains("too few rows"));

  pump = craft_pump();
  pump.impeller.solidity = 1.15;
  pump.impeller.tip_chord_m = 0.14;
  CHECK_THAT(complaints(pump), Contains("impeller.tip_chord: says the same as impeller.solidity"));
  pump.impeller.solidity = derived_value;
  pump.impeller.tip_chord_m = 0.9;
  CHECK_THAT(complaints(pump), Contains("impeller.tip_chord: makes a solidity of 7.2"));
}
