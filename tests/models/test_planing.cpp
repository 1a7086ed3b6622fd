#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "models/constants.hpp"
#include "models/planing_state.hpp"
#include "tests/support/published.hpp"
#include "tests/support/units.hpp"

using namespace bowrise;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using test::degree;
using test::foot_m;
using test::horsepower_W;
using test::Known;
using test::pound_N;

namespace {

constexpr double slug_ft3_kg_m3 = 515.378818, pound_foot_Nm = pound_N * foot_m;

// Savitsky 1964, Table 1: 60 000 lbf, 14 ft beam, 10 deg deadrise, 67.5 ft/s, thrust line 4 deg and 0.5 ft
// below the centre of gravity. Density 1.94 slug/ft3 stands in his lift; his friction uses about 2.00.
SavitskyCase savitsky_table_1(double density_slug_ft3 = 1.94) {
  return {.weight_N = 60000.0 * pound_N,
          .beam_m = 14.0 * foot_m,
          .deadrise_rad = 10.0 * degree,
          .load_centre_m = 29.0 * foot_m,
          .centre_height_m = 2.0 * foot_m,
          .speed_m_s = 67.5 * foot_m,
          .thrust_line_angle_rad = 4.0 * degree,
          .thrust_line_depth_m = 0.5 * foot_m,
          .density_kg_m3 = density_slug_ft3 * slug_ft3_kg_m3,
          .kinematic_viscosity_m2_s = 1.00e-5 * foot_m * foot_m,
          .roughness_allowance = 0.0004,
          .friction_line = FrictionLine::schoenherr};
}

PlaningBottom craft_bottom(double deadrise_deg = 20.0, double length_m = 3.3) {
  return prepare_planing_bottom(1.0, length_m, deadrise_deg * degree, 0.0004, FrictionLine::ittc57, 1000.0,
                                1.05e-6, 8.0);
}

}  // namespace

// ITTC 7.5-02-02-01, formula values; rows FR-ITTC-1e5 to -1e8
TEST_CASE("ITTC-57 friction line", "[published]") {
  test::WorstOf worst(test::within_rel(1e-4));
  worst.add(0.00833333, ittc57_friction(1e5));
  worst.add(0.00468750, ittc57_friction(1e6));
  worst.add(0.00339669, ittc57_friction(5e6));
  worst.add(0.00300000, ittc57_friction(1e7));
  worst.add(0.00208333, ittc57_friction(1e8));
  worst.check({"hull: ITTC-57 friction, worst of five at Reynolds number 1e5 to 1e8", "ITTC 7.5-02-02-01",
               Known::worked_out});
}

// ATTC 1947, values of the implicit formula; rows FR-SCH-1e6, -1e7, -1e9
TEST_CASE("Schoenherr friction line", "[published]") {
  test::WorstOf worst(test::within_rel(5e-4));
  worst.add(0.0044094, schoenherr_friction(1e6));
  worst.add(0.0029343, schoenherr_friction(1e7));
  worst.add(0.0015309, schoenherr_friction(1e9));
  worst.check({"hull: Schoenherr friction, worst of three at Reynolds number 1e6 to 1e9", "ATTC 1947",
               Known::worked_out});
  for (double reynolds = 1e5; reynolds < 1e10; reynolds *= 3.0) {
    const double friction = schoenherr_friction(reynolds);
    CHECK_THAT(0.242 / std::sqrt(friction), WithinRel(std::log10(reynolds * friction), 1e-5));
  }
}

TEST_CASE("friction lines stay finite down to rest") {
  for (const double reynolds : {0.0, 1.0, 100.0, 1e4}) {
    CHECK(ittc57_friction(reynolds) < 0.02);
    CHECK(schoenherr_friction(reynolds) < 0.02);
  }
}

TEST_CASE("lift inversions undo the lift formulae") {
  for (const double deadrise : {0.0, 10.0, 20.0, 35.0})
    for (double lift = 1e-3; lift < 5.0; lift *= 1.5) {
      const double flat = flat_lift_for(lift, deadrise);
      CHECK_THAT(deadrise_lift_coefficient(flat, deadrise), WithinRel(lift, 1e-8));
      CHECK(flat > std::pow(0.0039 * deadrise, 2.5));  // the rising branch
      for (const double trim : {0.5, 2.0, 6.0, 15.0})
        for (const double cv : {0.6, 2.0, 13.0})
          CHECK_THAT(flat_lift_coefficient(trim, wetted_length_for(flat, trim, cv), cv),
                     WithinRel(flat, 1e-8));
    }
}

// Savitsky 1964, Table 1, printed values by way of a public transcription; rows S64-*. Tolerances of the
// check list: set by chart readings and by his two densities, so they show a right transcription, not
// accuracy.
TEST_CASE("Savitsky's Table 1, coefficients") {
  const SavitskyRow row = savitsky_row(savitsky_table_1(), 2.0 * degree);
  CHECK_THAT(row.speed_coefficient, WithinRel(3.18, 0.005));
  CHECK_THAT(row.lift_coefficient, WithinRel(0.069, 0.01));
  CHECK_THAT(row.flat_lift, WithinRel(0.085, 0.02));  // chart reading
}

TEST_CASE("Savitsky's Table 1 at 2 deg") {
  const SavitskyRow row = savitsky_row(savitsky_table_1(), 2.0 * degree);
  CHECK_THAT(row.wetted_length_beams, WithinRel(3.85, 0.015));
  CHECK_THAT(row.mean_bottom_speed_m_s / foot_m, WithinRel(67.0, 0.005));
  CHECK_THAT(row.reynolds, WithinRel(3.61e8, 0.015));
  CHECK_THAT(row.friction_coefficient, WithinRel(0.00174, 0.015));
  CHECK_THAT(row.friction_N / pound_N, WithinRel(7340.0, 0.045));  // printed 3 % high: density about 2.00
  CHECK_THAT(row.drag_N / pound_N, WithinRel(9434.0, 0.035));
  CHECK_THAT(row.centre_of_pressure_ratio, WithinRel(0.59, 0.02));
  CHECK_THAT(row.load_lever_m / foot_m, WithinAbs(-2.6, 1.0));
  CHECK_THAT(row.moment_Nm / pound_foot_Nm, WithinRel(-149960.0, 0.15));
}

TEST_CASE("Savitsky's Table 1 at 4 deg") {
  const SavitskyRow row = savitsky_row(savitsky_table_1(), 4.0 * degree);
  CHECK_THAT(row.wetted_length_beams, WithinRel(1.86, 0.05));  // read by eye between two curves
  CHECK_THAT(row.mean_bottom_speed_m_s / foot_m, WithinRel(66.2, 0.005));
  CHECK_THAT(row.reynolds, WithinRel(1.73e8, 0.06));
  CHECK_THAT(row.friction_coefficient, WithinRel(0.00192, 0.015));
  CHECK_THAT(row.friction_N / pound_N, WithinRel(3760.0, 0.07));  // printed 3 % high: density about 2.00
  CHECK_THAT(row.drag_N / pound_N, WithinRel(7948.0, 0.035));
  CHECK_THAT(row.centre_of_pressure_ratio, WithinRel(0.70, 0.02));
  CHECK_THAT(row.load_lever_m / foot_m, WithinAbs(10.8, 1.0));
  CHECK_THAT(row.moment_Nm / pound_foot_Nm, WithinRel(648350.0, 0.08));
}

TEST_CASE("Savitsky's Table 1 at equilibrium") {
  const auto row = savitsky_equilibrium(savitsky_table_1());
  REQUIRE(row);
  CHECK_THAT(row->trim_rad / degree, WithinAbs(2.3, 0.06));
  CHECK_THAT(row->drag_N / pound_N, WithinRel(9095.0, 0.035));
  CHECK_THAT(row->effective_power_W / horsepower_W, WithinRel(1115.0, 0.035));
  CHECK_THAT(row->wetted_length_beams,
             WithinRel(3.475, 0.015));  // printed 3.29, a slip: his interpolation gives 3.475
  CHECK_THAT(row->transom_draught_m / foot_m, WithinRel(2.24, 0.03));  // printed from the slipped length
  CHECK_THAT(row->wetted_keel_m / foot_m, WithinRel(55.9, 0.05));      // printed from the slipped length
  CHECK_THAT(row->moment_Nm, WithinAbs(0.0, 1.0));

  const auto denser = savitsky_equilibrium(savitsky_table_1(2.00));
  REQUIRE(denser);
  CHECK_THAT(denser->drag_N / pound_N, WithinRel(9095.0, 0.015));
}

// Savitsky 1964 Fig. 18, his example; row S64-porp
TEST_CASE("porpoising limit", "[published]") {
  test::check_published({"hull: porpoising limit, deadrise 10 deg, root of half the lift 0.186, deg",
                         "Savitsky 1964, Fig. 18", Known::read},
                        4.5, porpoising_limit(10.0).deg(0.186), test::within_abs(0.25));
  CHECK(porpoising_limit(35.0).deg(0.2) == porpoising_limit(20.0).deg(0.2));
  CHECK(porpoising_limit(20.0).deg(0.2) > porpoising_limit(0.0).deg(0.2));
}

// Savitsky, DeLorme & Datla 2007, formula value; row WS-20-4
TEST_CASE("whisker spray area", "[published]") {
  test::check_published({"hull: length added by whisker spray, trim 4, deadrise 20 deg, beams",
                         "Savitsky, DeLorme & Datla 2007", Known::worked_out},
                        0.39035, whisker_spray(4.0 * degree, 20.0 * degree).added_length_beams,
                        test::within_rel(1e-3));
}

// The same paper's friction rule changes from 0.001084 to 0.001105 at 1.5e6 (2 %): no jump here
// (the turbulent line alone rises by 1.6e-6 per 1000 there; the jump would be 21e-6)
TEST_CASE("spray friction has no jump") {
  CHECK_THAT(spray_friction(1e6), WithinRel(1.328e-3, 1e-9));
  CHECK_THAT(spray_friction(4e6), WithinRel(0.074 / std::pow(4e6, 0.2) - 0.0012, 1e-9));
  for (double reynolds = 1.3e6; reynolds < 1.7e6; reynolds += 1e3)
    CHECK(std::abs(spray_friction(reynolds + 1e3) - spray_friction(reynolds)) < 4e-6);
}

// Savitsky & Brown 1976 flap formulae on a published case (7.315 m beam, 5 deg), numbers by way of an open
// implementation
TEST_CASE("flap lift and drag", "[published]") {
  const double pressure = 0.5 * 1025.87 * 13.07 * 13.07;
  const FlapForces flap = flap_forces(0.3048, 7.315, 7.315, 5.0, 2.88, pressure);
  test::check_published({"hull: lift of a flap at 5 deg, N", "Savitsky & Brown 1976", Known::second_hand},
                        44933.5, flap.lift_N, test::within_rel(1e-3));
  CHECK_THAT(flap.drag_N, WithinRel(1841.0, 1e-3));
  CHECK_THAT(flap.lift_centre_m, WithinRel(0.6 * 7.315, 1e-12));
}

// Savitsky & Brown 1976 print their wetted lengths as a change of form only: the means differ by 0.03 beams,
// and the differences by under 15 % at usual angles
TEST_CASE("wetted lengths of 1964 and 1976 agree") {
  const WettedLengths a = wetted_lengths_1964(2.0, 4.0 * degree, 15.0 * degree);
  const WettedLengths b = wetted_lengths_1976(2.0, 4.0 * degree, 15.0 * degree);
  CHECK_THAT(0.5 * (a.keel_beams + a.chine_beams), WithinRel(2.0, 1e-12));
  CHECK_THAT(0.5 * (b.keel_beams + b.chine_beams), WithinRel(1.97, 1e-12));
  CHECK_THAT(b.keel_beams - b.chine_beams, WithinRel(a.keel_beams - a.chine_beams, 0.15));
}

TEST_CASE("a bottom carries exactly its load, wet or dry") {
  const PlaningBottom bottom = craft_bottom(20.0, 50.0);  // long enough that no keel is held
  for (double speed = 3.0; speed < 40.0; speed += 0.7)
    for (const double trim_deg : {1.5, 2.0, 3.0, 5.0, 8.0, 12.0}) {
      const TrimTerms trim = trim_terms(bottom, trim_deg);
      const PlaningState state = planing_state(bottom, speed, trim, 4511.0);
      const double cv = speed / std::sqrt(gravity_m_s2 * state.wetted_beam_m);
      const double lift =
          deadrise_lift_coefficient(flat_lift_coefficient(trim_deg, state.wetted_length_beams, cv), 20.0) *
          500.0 * speed * speed * state.wetted_beam_m * state.wetted_beam_m;
      CHECK_THAT(lift, WithinRel(state.bottom_lift_N, 5e-4));
      CHECK_THAT(state.bottom_lift_N, WithinRel(4511.0 + state.friction_N * trim.sine, 1e-12));
      CHECK_THAT(0.5 * (state.wetted_keel_m + state.wetted_chine_m),
                 WithinRel(state.wetted_length_beams * state.wetted_beam_m, 1e-9));
      CHECK(state.wetted_chine_m >= 0.0);
      if (state.wetted_beam_m < 0.98) CHECK(state.wetted_chine_m < 1e-9);
    }
}

TEST_CASE("mean bottom speed follows its formula") {
  const PlaningBottom bottom = craft_bottom();
  const PlaningState state = planing_state(bottom, 12.0, trim_terms(bottom, 5.0), 4511.0);
  REQUIRE(state.wetted_beam_m == 1.0);
  CHECK_THAT(state.mean_bottom_speed_m_s / 12.0,
             WithinRel(mean_bottom_speed_ratio(state.wetted_length_beams, 5.0, 20.0), 1e-5));
}

TEST_CASE("chines go dry without a kink") {
  const PlaningBottom bottom = craft_bottom();
  const TrimTerms trim = trim_terms(bottom, 2.0);
  constexpr double step = 0.002;
  bool wet_seen = false, dry_seen = false;
  for (double speed = 20.0; speed < 26.0; speed += step) {
    const PlaningState before = planing_state(bottom, speed - step, trim, 4511.0);
    const PlaningState here = planing_state(bottom, speed, trim, 4511.0);
    const PlaningState after = planing_state(bottom, speed + step, trim, 4511.0);
    (here.chines_dry ? dry_seen : wet_seen) = true;
    // a kink of slope s shows as s/step; the rounded corner stays under a few hundred N s2/m2
    CHECK(std::abs(after.friction_N - 2.0 * here.friction_N + before.friction_N) / (step * step) < 400.0);
  }
  CHECK(wet_seen);
  CHECK(dry_seen);
}

TEST_CASE("wetted keel is held to the keel") {
  const PlaningBottom bottom = craft_bottom(20.0, 2.0);
  const PlaningState state = planing_state(bottom, 20.0, trim_terms(bottom, 2.5), 4511.0);
  CHECK(state.keel_demand_m > 2.0);
  CHECK(state.wetted_keel_m <= 2.0);
  const PlaningBottom longer = craft_bottom(20.0, 5.0);
  const PlaningState free = planing_state(longer, 20.0, trim_terms(longer, 2.5), 4511.0);
  CHECK(state.friction_N < free.friction_N);
  CHECK_THAT(state.centre_of_pressure_m, WithinRel(free.centre_of_pressure_m, 0.01));
}

// The tables against the functions from which they are made.
TEST_CASE("trim terms are those of the trim") {
  for (const double deadrise_deg : {0.0, 2.0, 20.0, 35.0}) {
    const PlaningBottom bottom = craft_bottom(deadrise_deg);
    for (double deg = 0.5; deg <= 15.0; deg += 0.0137) {
      const TrimTerms trim = trim_terms(bottom, deg);
      const double rad = deg * degree, excess = std::tan(deadrise_deg * degree) / (2.0 * pi * std::tan(rad));
      CHECK_THAT(trim.sine, WithinRel(std::sin(rad), 1e-10));
      CHECK_THAT(trim.cosine, WithinRel(std::cos(rad), 1e-12));
      CHECK_THAT(trim.tangent, WithinRel(std::tan(rad), 1e-10));
      CHECK_THAT(trim.lift_power, WithinRel(std::pow(deg, 1.1), 1e-6));
      CHECK_THAT(trim.half_keel_excess_beams, WithinRel(excess, 1e-10));
      const double dry_flat = 0.0120 * std::sqrt(excess) * std::pow(deg, 1.1);
      CHECK_THAT(trim.dry_flat_root, WithinRel(std::pow(dry_flat, 0.2), 1e-6));
      const WhiskerSpray spray = whisker_spray(rad, deadrise_deg * degree);
      CHECK_THAT(trim.spray_added_length_beams,
                 WithinAbs(smooth_positive(spray.added_length_beams, 0.02), 1e-4));
      if (deadrise_deg > 0.0) CHECK_THAT(trim.spray_length_beams, WithinRel(spray.spray_length_beams, 1e-4));
    }
  }
}

TEST_CASE("slopes of the whisker spray are those of its lengths") {
  constexpr double step = 1e-5;
  for (const double deadrise_deg : {1.0, 10.0, 20.0, 35.0})
    for (double trim_deg = 0.3; trim_deg < 15.0; trim_deg *= 1.2) {
      const auto at = [&](double rad) { return whisker_spray(rad, deadrise_deg * degree); };
      const double rad = trim_deg * degree;
      const WhiskerSpray here = at(rad), below = at(rad - step), above = at(rad + step);
      const auto slope = [&](double WhiskerSpray::*field) {
        return (above.*field - below.*field) / (2.0 * step);
      };
      const double size =
          here.spray_length_beams / rad;  // of either slope; the difference errs by (step/trim)^2
      CHECK_THAT(here.added_length_per_rad, WithinAbs(slope(&WhiskerSpray::added_length_beams), 1e-5 * size));
      CHECK_THAT(here.spray_length_per_rad, WithinAbs(slope(&WhiskerSpray::spray_length_beams), 1e-5 * size));
    }
}

TEST_CASE("tables of lift and length undo the lift formulae") {
  for (const double deadrise : {0.0, 0.5, 5.0, 20.0, 35.0}) {
    const PlaningBottom bottom = craft_bottom(deadrise);
    for (double lift = 2e-3; lift < 8.0; lift *= 1.037) {
      const double root = bottom.flat_lift_root(std::sqrt(lift))[0];
      CHECK_THAT(root * root, WithinRel(flat_lift_for(lift, deadrise), 1e-5));
    }
  }
  const PlaningBottom bottom = craft_bottom();
  for (double m = 1e-3; m < 2000.0; m *= 1.037) {
    const double root = std::sqrt(m);
    const auto [length_root, share] = bottom.length_root(root / (1.0 + root));
    const double z = dimensionless_length_root(m);
    CHECK_THAT(length_root * length_root,
               WithinRel(z, m < 500.0 ? 1e-6 : 2e-5));  // 500: slow, trim under 1 deg
    CHECK_THAT(share, WithinRel(std::pow(z / m, 0.6), 1e-6));
  }
}

TEST_CASE("friction tables are the lines") {
  for (const FrictionLine line : {FrictionLine::ittc57, FrictionLine::schoenherr}) {
    const SlopeTable<1> table = friction_table(line);
    for (double reynolds = 3e4; reynolds < 1e10; reynolds *= 1.037) {
      const double root = std::sqrt(std::sqrt(reynolds)), step = 1e-3 * root;
      const auto [value, slope] = table.value_and_slope(root);
      CHECK_THAT(value, WithinRel(friction_coefficient(line, reynolds), 1e-5));
      CHECK_THAT(table(root)[0], WithinRel(value, 1e-12));
      CHECK_THAT(slope, WithinRel((table(root + step)[0] - table(root - step)[0]) / (2.0 * step), 1e-3));
    }
    // the lines say nothing down there and are held from 1e4 on, round a corner sharper than the table
    for (double reynolds = 0.0; reynolds < 3e4; reynolds += 37.0)
      CHECK_THAT(table(std::sqrt(std::sqrt(reynolds)))[0],
                 WithinRel(friction_coefficient(line, reynolds), 5e-3));
  }
}

// The state by the published functions and bisection, without tables or series, for bottoms far apart
TEST_CASE("planing state against the formulae solved directly") {
  struct Case {
    double beam_m, deadrise_deg, load_N;
  };
  for (const auto& [beam, deadrise, load] :
       {Case{1.0, 20.0, 4511.0}, Case{1.0, 0.0, 4511.0}, Case{0.23, 10.0, 71.2}, Case{4.27, 10.0, 266900.0},
        Case{10.0, 15.0, 1.96e6}}) {
    const double length = 8.0 * beam;
    const PlaningBottom bottom = prepare_planing_bottom(beam, length, deadrise * degree, 0.0004,
                                                        FrictionLine::schoenherr, 1000.0, 1.05e-6, 8.0);
    for (const double cv : {1.0, 1.5, 2.5, 4.0, 6.0})
      for (const double trim_deg : {1.0, 2.5, 5.0, 9.0, 14.0}) {
        const double speed = cv * std::sqrt(gravity_m_s2 * beam), force = 500.0 * speed * speed * beam * beam;
        const TrimTerms trim = trim_terms(bottom, trim_deg);
        const PlaningState state = planing_state(bottom, speed, trim, load);
        if (state.wetted_beam_m < beam || state.keel_demand_m > 0.98 * length) continue;
        const auto friction_at = [&](double lam) {
          const double ratio = mean_bottom_speed_ratio(lam, trim_deg, deadrise);
          return force * ratio * ratio * lam / std::cos(deadrise * degree) *
                 (schoenherr_friction(speed * ratio * lam * beam / 1.05e-6) + 0.0004);
        };
        double low = 1e-4, high = 100.0;
        for (int step = 0; step < 80; ++step) {
          const double lam = 0.5 * (low + high);
          const double lift =
              force * deadrise_lift_coefficient(flat_lift_coefficient(trim_deg, lam, cv), deadrise);
          (lift > load + friction_at(lam) * trim.sine ? high : low) = lam;
        }
        INFO("beam " << beam << " deadrise " << deadrise << " Cv " << cv << " trim " << trim_deg);
        const double friction = friction_at(low), drag = load * trim.tangent + friction / trim.cosine;
        const double pull = friction * trim.sine / load;  // what the second pass leaves is its square
        CHECK_THAT(state.wetted_length_beams, WithinRel(low, 2e-5 + 4.0 * pull * pull));
        CHECK_THAT(state.friction_N, WithinAbs(friction, 2e-4 * drag));
      }
  }
}

TEST_CASE("planing state is smooth across keel, chines and dry band") {
  for (const double deadrise : {2.0, 20.0, 35.0}) {
    const PlaningBottom bottom = craft_bottom(deadrise);
    for (const double trim_deg : {0.6, 1.5, 3.0, 6.0}) {
      const TrimTerms trim = trim_terms(bottom, trim_deg);
      const auto friction = [&](double speed) {
        return planing_state(bottom, speed, trim, 4511.0).friction_N;
      };
      for (double speed = 5.0; speed < 40.0; speed += 0.01) {
        // a step anywhere of 1e-6 of the friction shows as 1e-6 here, the curve itself as 1e-7
        const double bend = friction(speed + 1e-4) - 2.0 * friction(speed) + friction(speed - 1e-4);
        if (std::abs(bend) > 1e-6 * friction(speed)) FAIL_CHECK(deadrise << " " << trim_deg << " " << speed);
      }
    }
  }
}
