#include <catch2/catch.hpp>
#include <cmath>

#include "models/blade_row.hpp"
#include "models/constants.hpp"
#include "tests/support/published.hpp"
#include "tests/support/units.hpp"
#include "tests/support/whole_pump.hpp"

using namespace bowrise;
using namespace bowrise::test;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Rotor craft_rotor() { return rotor(15.4, 25.0); }

constexpr double bore = 0.160, row_speed = 7600 * rpm;
constexpr RowFriction cast{1.0e-6, 1.6};
const Stator stator{0.07, degrees(3.0)};

BladeRow craft_row() { return blade_row(resolved(craft_rotor(), bore), bore); }

}  // namespace

// Wiesner 1967 formula, recomputed (row P131)
TEST_CASE("Wiesner slip factor", "[published]") {
  test::check_published({"pump: slip factor, five blades at 30 deg", "Wiesner 1967", test::Known::worked_out},
                        0.7708, wiesner_slip_factor(degrees(30), 5), test::within_rel(2e-3));
}

// Carter rule m = 0.23 + 0.1 (90 - b2)/50, recomputed (row P133)
TEST_CASE("Carter deviation", "[published]") {
  test::check_published({"pump: deviation, camber 8, blade 20 deg, solidity 1.2, deg", "rule of Carter",
                         test::Known::worked_out},
                        2.702, carter_deviation_rad(degrees(8), degrees(20), 1.2) / radians_per_degree,
                        test::within_rel(5e-3));
}

// closed form (row P135)
TEST_CASE("pitch of a helix") {
  CHECK_THAT(helix_pitch_m(0.080, degrees(18)), WithinRel(0.1633, 2e-3));
  const double at_hub = helix_angle_rad(helix_pitch_m(0.080, degrees(18)), 0.032);
  CHECK_THAT(helix_pitch_m(0.032, at_hub), WithinRel(helix_pitch_m(0.080, degrees(18)), 1e-12));
}

// Gorla and Khan, Turbomachinery, ch. 2 ex. 15, read in a transcription, recomputed (rows P094, P096, P098).
// Flow velocity 4.5 m/s and flow 1.3 m3/s follow from the published answers.
TEST_CASE("worked example of an axial pump") {
  CHECK_THAT(2.0 * 22.0 / (550 * pi / 30), WithinRel(0.764, 5e-3));
  CHECK_THAT(relative_flow_angle_rad(4.5, 22.0) / radians_per_degree, WithinAbs(11.56, 0.1));
  CHECK_THAT(998.0 * 1.3 * gravity_m_s2 * 10.0 / 0.83 / 1000.0, WithinRel(153.65, 5e-3));
}

// exam problem, rotor 0.75/0.40 m at 500 rpm, 12 deg in, 15 deg out at the mean radius, no deviation,
// shock-free, hydraulic efficiency 0.88, recomputed (row P101)
TEST_CASE("Euler work of an axial pump") {
  const double blade_speed = 500 * pi / 30 * 0.5 * (0.375 + 0.200);
  const double meridional = blade_speed * std::tan(degrees(12));
  const double work =
      euler_work_J_kg(blade_speed, blade_speed - meridional / std::tan(degrees(15)), blade_speed, 0.0);
  CHECK_THAT(0.88 * work / gravity_m_s2, WithinRel(4.2, 0.01));
  CHECK_THAT(euler_work_J_kg(20.0, 5.0, 20.0, 5.0), WithinAbs(0.0, 1e-12));
}

TEST_CASE("incidence leaks through blades that do not overlap") {
  CHECK(incidence_leak(0.5, degrees(20)) == 0.9);
  CHECK(incidence_leak(1.15, degrees(25)) < 0.2);
  CHECK(incidence_leak(2.0, degrees(25)) < 1e-3);
}

// Lieblein 1959: thin below DF 0.4, about doubled at 0.6; the constants are from memory
TEST_CASE("wake thickness grows with diffusion and stays finite in deep stall") {
  CHECK_THAT(wake_momentum_thickness(0.0), WithinRel(0.0045 / (1 - 0.95 * std::log(1.05)), 2e-2));
  CHECK_THAT(wake_momentum_thickness(0.5), WithinRel(0.0045 / (1 - 0.95 * std::log(1.70)), 1e-3));
  double before = wake_momentum_thickness(-1.0);
  for (double diffusion = -0.99; diffusion < 4.0; diffusion += 0.01) {
    const double now = wake_momentum_thickness(diffusion);
    REQUIRE(now > before);
    before = now;
  }
  CHECK(before < 0.0045 / 0.25 * 1.01);
}

TEST_CASE("stations split the annulus into equal areas and follow the helix") {
  const BladeRow row = craft_row();
  const double hub_in = 0.2 * bore, tip = 0.5 * bore;
  CHECK_THAT(row.tip_angle_in_rad, WithinRel(degrees(15.4), 1e-12));
  CHECK_THAT(row.blade_height_m, WithinRel(0.048, 1e-12));
  for (std::size_t i = 0; i < station_count; ++i) {
    const BladeStation& station = row.stations[i];
    const double inside =
        (station.radius_in_m * station.radius_in_m - hub_in * hub_in) / (tip * tip - hub_in * hub_in);
    CHECK_THAT(inside, WithinAbs((static_cast<double>(i) + 0.5) / 5.0, 1e-12));
    CHECK_THAT(station.radius_in_m * std::tan(station.angle_in_rad),
               WithinRel(tip * std::tan(degrees(15.4)), 1e-12));
    CHECK_THAT(station.radius_out_m * std::tan(station.angle_out_rad),
               WithinRel(tip * std::tan(degrees(25.0)), 1e-12));
    CHECK(station.solidity > 1.15);  // the same axial length over steeper blades and smaller circles
  }
  CHECK(row.mixed_flow_share == 0.0);
}

TEST_CASE("pitch radius moves the whole helix") {
  Rotor blades = craft_rotor();
  blades.pitch_radius_m = 0.060;
  const BladeRow row = blade_row(resolved(blades, bore), bore);
  CHECK_THAT(row.tip_angle_out_rad, WithinRel(std::atan(0.060 / 0.080 * std::tan(degrees(25.0))), 1e-12));
}

TEST_CASE("a row without deviation, loss or area change does the textbook work") {
  Rotor blades = craft_rotor();
  blades.hub_out_m = blades.hub_in_m = 0.064;
  blades.pitch_trailing_rad = blades.pitch_leading_rad;  // no camber
  blades.solidity = 4.0;                                 // no leak
  const BladeRow row = blade_row(resolved(blades, bore), bore);
  const double flow = 0.15, meridional = flow / row.open_area_out_m2;
  double work = 0.0;
  for (const BladeStation& station : row.stations) {
    const double blade_speed = row_speed * station.radius_out_m;
    work +=
        euler_work_J_kg(blade_speed, blade_speed - meridional / std::tan(station.angle_out_rad), 0.0, 0.0) /
        5.0;
  }
  CHECK_THAT(row_flow(row, {}, cast, flow, row_speed, {}).euler_work_J_kg, WithinRel(work, 1e-6));
}

TEST_CASE("losses belong to their causes") {
  const BladeRow row = craft_row();
  const double flow = 0.22;
  const RowFlow at = row_flow(row, stator, cast, flow, row_speed, {});
  SECTION("roughness acts on friction alone, in proportion") {
    const RowFlow polished = row_flow(row, stator, {1.0e-6, 1.0}, flow, row_speed, {});
    CHECK_THAT(at.losses_J_kg.viscous(), WithinRel(1.6 * polished.losses_J_kg.viscous(), 1e-12));
    CHECK(at.losses_J_kg.inviscid() == polished.losses_J_kg.inviscid());
    CHECK(at.euler_work_J_kg == polished.euler_work_J_kg);
  }
  SECTION("at the same coefficient only friction changes with speed, about as its power -0.2") {
    const RowFlow slow = row_flow(row, stator, cast, flow / 4, row_speed / 4, {});
    CHECK_THAT(16 * slow.losses_J_kg.inviscid(), WithinRel(at.losses_J_kg.inviscid(), 1e-9));
    const double growth = 16 * slow.losses_J_kg.viscous() / at.losses_J_kg.viscous();
    CHECK(growth > std::pow(4.0, 0.15));
    CHECK(growth < std::pow(4.0, 0.2));
  }
  SECTION("no stator leaves the swirl energy in the head") {
    const RowFlow open = row_flow(row, {}, cast, flow, row_speed, {});
    CHECK(open.losses_J_kg.stator + open.losses_J_kg.residual_swirl == 0.0);
    CHECK(open.energy_J_kg() > at.energy_J_kg());
  }
  SECTION("residual swirl is the head of its angle") {
    const double meridional = flow / row.open_area_out_m2;
    CHECK_THAT(at.losses_J_kg.residual_swirl,
               WithinRel(0.5 * std::pow(meridional * std::tan(degrees(3)), 2), 1e-12));
  }
  SECTION("incidence loss is 0.7 of the head across the leading edge") {
    double expected = 0.0;
    for (const BladeStation& station : row.stations) {
      const double meridional = flow / row.open_area_in_m2, swirl = row_speed * station.radius_in_m;
      const double incidence = station.angle_in_rad - std::atan2(meridional, swirl);
      expected += 0.7 * 0.5 * std::pow(std::hypot(meridional, swirl) * std::sin(incidence), 2) / 5.0;
    }
    CHECK_THAT(at.losses_J_kg.incidence, WithinRel(expected, 1e-9));
  }
  SECTION("incidence loss vanishes where the water meets the blade head on") {
    const double shock_free =
        row.open_area_in_m2 * row_speed * row.tip_radius_m * std::tan(row.tip_angle_in_rad);
    const RowFlow head_on = row_flow(row, stator, cast, shock_free, row_speed, {});
    CHECK_THAT(head_on.losses_J_kg.incidence, WithinAbs(0.0, 1e-9));
    CHECK_THAT(head_on.incidence_tip_rad, WithinAbs(0.0, 1e-12));
  }
}

TEST_CASE("swirl ahead takes work away and is carried with its moment") {
  const BladeRow row = craft_row();
  const Stations swirl{5.0, 4.0, 3.5, 3.0, 2.5};
  const RowFlow with = row_flow(row, stator, cast, 0.22, row_speed, swirl),
                without = row_flow(row, stator, cast, 0.22, row_speed, {});
  CHECK(with.euler_work_J_kg < without.euler_work_J_kg - 100.0);
  const Stations next = swirl_ahead_of(row, row, swirl);
  for (std::size_t i = 0; i < station_count; ++i)
    CHECK_THAT(next[i] * row.stations[i].radius_in_m,
               WithinRel(swirl[i] * row.stations[i].radius_out_m, 1e-12));
}

TEST_CASE("mixed-flow rows slip, and a swept hub shows no step") {
  Rotor blades = craft_rotor();
  blades.hub_in_m = 0.040;
  double before = 0.0;
  for (int i = 0; i <= 350; ++i) {
    blades.hub_out_m = 0.050 + 0.0002 * i;
    const double work =
        row_flow(blade_row(resolved(blades, bore), bore), stator, cast, 0.15, row_speed, {}).euler_work_J_kg;
    if (i > 0) REQUIRE(std::abs(work - before) < 0.02 * before);
    before = work;
  }
  CHECK(blade_row(resolved(blades, bore), bore).mixed_flow_share == 1.0);
}

// Carter's rule for axial rows, Wiesner's slip for rows whose mean radius grows by 1.2 or more: each written
// out here again from its published form.
TEST_CASE("an axial row deviates by Carter, a mixed-flow row slips by Wiesner, never both") {
  const double flow = 0.15;
  Rotor blades = craft_rotor();
  blades.solidity = 2.5;  // no incidence leaks through
  const BladeRow axial = blade_row(resolved(blades, bore), bore);
  blades.hub_in_m = 0.040;
  blades.hub_out_m = 0.125;
  const BladeRow mixed = blade_row(resolved(blades, bore), bore);
  REQUIRE(axial.mixed_flow_share == 0.0);
  REQUIRE(mixed.mixed_flow_share == 1.0);
  const RowFlow along = row_flow(axial, stator, cast, flow, row_speed, {}),
                outward = row_flow(mixed, stator, cast, flow, row_speed, {});
  for (std::size_t i = 0; i < station_count; ++i) {
    const BladeStation& a = axial.stations[i];
    const double outlet_deg = a.angle_out_rad / radians_per_degree;
    const double deviation =
        (0.23 + 0.1 * (90 - outlet_deg) / 50) * (a.angle_out_rad - a.angle_in_rad) / std::sqrt(a.solidity);
    CHECK_THAT(along.swirl_out_m_s[i],
               WithinRel(row_speed * a.radius_out_m -
                             flow / axial.open_area_out_m2 / std::tan(a.angle_out_rad - deviation),
                         0.02));
    const BladeStation& m = mixed.stations[i];
    const double slip = 1 - std::sqrt(std::sin(m.angle_out_rad)) / std::pow(4.0, 0.7);
    CHECK_THAT(outward.swirl_out_m_s[i],
               WithinRel(slip * row_speed * m.radius_out_m -
                             flow / mixed.open_area_out_m2 / std::tan(m.angle_out_rad),
                         1e-9));
  }
}

// Axial research pump of the ONR AxWJ-2 class: D 0.3048 m, 7 blades, tip solidity 2.0, 900 rpm, phi 0.758,
// psi 2.46, tip stagger 27.7 deg (Wu, Tan, Miorini and Katz, Exp. Fluids 51, 2011; all from memory, hub 0.33
// to 0.50 D assumed): plausibility only (rows P109, P110, P111). Its blades share the work evenly over the
// span, so the tip streamline stands for the pump.
TEST_CASE("axial research pump is plausible") {
  CHECK_THAT(std::asin(127.4 / 274.3) / radians_per_degree, WithinAbs(27.7, 0.5));
  const double diameter = 0.3048, turns = 900.0 / 60.0, blade_speed = pi * turns * diameter;
  const double flow = 0.758 * turns * std::pow(diameter, 3), head_unit = std::pow(turns * diameter, 2);
  Rotor outline = rotor(20.0, 30.0);
  outline.blades = 7.0;
  outline.hub_in_m = 0.33 * diameter;
  outline.hub_out_m = 0.50 * diameter;
  outline.solidity = 2.0;
  const BladeRow row = blade_row(resolved(outline, diameter), diameter);
  const double hydraulic_efficiency = 0.89 / 0.985;  // published overall efficiency, from memory (row P112)
  const auto head_coefficient = [&](double leading_deg, double trailing_deg) {
    const double deviation =
        carter_deviation_rad(degrees(trailing_deg - leading_deg), degrees(trailing_deg), 2.0);
    const double swirl =
        blade_speed - flow / row.open_area_out_m2 / std::tan(degrees(trailing_deg) - deviation);
    return hydraulic_efficiency * euler_work_J_kg(blade_speed, swirl, blade_speed, 0.0) / head_unit;
  };
  // leading edge 2 deg above the flow, then the trailing edge that gives the published head
  const double leading_deg =
      relative_flow_angle_rad(flow / row.open_area_in_m2, blade_speed) / radians_per_degree + 2.0;
  double trailing_deg = leading_deg;
  while (head_coefficient(leading_deg, trailing_deg) < 2.46 && trailing_deg < 60.0) trailing_deg += 0.01;
  CHECK_THAT(0.5 * (leading_deg + trailing_deg), WithinAbs(27.7, 2.0));
  // blades turned to the published stagger with that camber
  const double half_camber_deg = 0.5 * (trailing_deg - leading_deg);
  CHECK_THAT(head_coefficient(27.7 - half_camber_deg, 27.7 + half_camber_deg), WithinRel(2.46, 0.10));
}

// own law: drag of the noses over the passages between them, by hand at the middle station
TEST_CASE("a blunt leading edge costs head, one as made nothing") {
  Rotor blunt = resolved(craft_rotor(), bore);
  const auto loss = [&](double thickness_m, double drag) {
    blunt.edge_thickness_m = thickness_m;
    return row_flow(blade_row(blunt, bore), stator, {1.0e-6, 1.6, drag}, 0.25, row_speed, {})
        .losses_J_kg.edge;
  };
  CHECK(loss(0.5e-3, 0.15) == 0.0);
  CHECK(loss(1.0e-3, 0.15) == 0.0);
  CHECK(loss(3.0e-3, 0.0) == 0.0);
  CHECK_THAT(loss(3.0e-3, 0.30), WithinRel(2.0 * loss(3.0e-3, 0.15), 1e-12));
  CHECK_THAT(loss(3.0e-3, 0.15), WithinRel(2.0 * loss(2.0e-3, 0.15), 1e-12));
  // tip: relative speed about 65 m/s, passage 2 pi 0.08 / 4 sin(15.4 deg) = 33 mm: 0.15 x 2/33 x 65^2/2 = 19
  // J/kg; the hub is slower, its passage as wide
  CHECK(loss(3.0e-3, 0.15) > 8.0);
  CHECK(loss(3.0e-3, 0.15) < 20.0);
}
