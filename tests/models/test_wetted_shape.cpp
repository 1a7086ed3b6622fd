// Beam and wetted lengths of a planing bottom against the equations they must satisfy.
#include <catch2/catch.hpp>
#include <cmath>

#include "models/constants.hpp"
#include "models/planing_state.hpp"

namespace bowrise {
namespace {

using Catch::Matchers::WithinRel;

// Water so thin that a negative allowance takes nearly all friction away: what is left is the lift alone.
PlaningBottom slippery_bottom(double deadrise_deg) {
  return prepare_planing_bottom(1.0, 80.0, deadrise_deg * radians_per_degree, -0.0012, FrictionLine::ittc57,
                                1000.0, 1.05e-8, 2.0);
}

}  // namespace

// Closed form: with the wetted chine nil, (15) and (16) on the wetted beam carry the lift.
TEST_CASE("A bottom with dry chines carries its lift on the wetted beam") {
  int dry = 0;
  for (const double deadrise_deg : {5.0, 20.0, 35.0}) {
    const PlaningBottom bottom = slippery_bottom(deadrise_deg);
    for (double trim_deg = 0.6; trim_deg < 14.0; trim_deg *= 1.05)
      for (double speed = 5.0; speed < 36.0; speed *= 1.02) {
        const PlaningState state = planing_state(bottom, speed, trim_terms(bottom, trim_deg), 1500.0);
        const double beam = state.wetted_beam_m;
        const double pull = state.bottom_lift_N - 1500.0;  // of friction; its effect is right to a hundredth
        if (beam > 0.97 || beam < 0.2 || std::abs(pull) > 0.2) continue;
        ++dry;
        const double lam = std::tan(deadrise_deg * radians_per_degree) /
                           (2.0 * pi * std::tan(trim_deg * radians_per_degree));
        const double speed_coefficient = speed / std::sqrt(gravity_m_s2 * beam);
        const double flat = flat_lift_coefficient(trim_deg, lam, speed_coefficient);
        const double lift =
            500.0 * speed * speed * beam * beam * deadrise_lift_coefficient(flat, deadrise_deg);
        INFO("deadrise " << deadrise_deg << " trim " << trim_deg << " speed " << speed << " beam " << beam);
        CHECK_THAT(state.bottom_lift_N, WithinRel(lift, 2e-6));
      }
  }
  CHECK(dry > 100);
}

// Savitsky & Brown 1976 (Marine Technology 13(4)), written out here anew; the printed rule is from memory and
// was confirmed to 0.03 % against an open calculation. Pressure, friction and centre of pressure do not know
// it.
TEST_CASE("The wetted lengths of 1976 leave the forces of an uncut keel alone") {
  const double degree = radians_per_degree;
  const auto bottom = [&](WettedLengthForm form) {
    return prepare_planing_bottom(1.0, 8.0, 20.0 * degree, 0.0004, FrictionLine::ittc57, 1000.0, 1.05e-6, 8.0,
                                  form);
  };
  const PlaningBottom former = bottom(WettedLengthForm::savitsky_1964);
  const PlaningBottom later = bottom(WettedLengthForm::savitsky_brown_1976);
  for (const double speed : {5.0, 8.0, 12.0})
    for (const double trim_deg : {3.0, 5.0, 9.0}) {
      const PlaningState a = planing_state(former, speed, trim_terms(former, trim_deg), 4511.0);
      const PlaningState b = planing_state(later, speed, trim_terms(later, trim_deg), 4511.0);
      CHECK(a.friction_N == b.friction_N);
      CHECK(a.bottom_lift_N == b.bottom_lift_N);
      CHECK(a.centre_of_pressure_m == b.centre_of_pressure_m);
      const double lam = b.wetted_length_beams;
      if (lam < 1.0 || b.wetted_beam_m < 1.0 || b.wetted_chine_m == 0.0) continue;
      const double difference =
          (0.57 + 0.020) * (std::tan(20.0 * degree) / (2.0 * std::tan(trim_deg * degree)) - 20.0 / 167.0);
      CHECK_THAT(b.wetted_keel_m - b.wetted_chine_m, WithinRel(difference, 1e-9));
      CHECK_THAT(0.5 * (b.wetted_keel_m + b.wetted_chine_m), WithinRel(lam - 0.03, 1e-9));
    }
}

TEST_CASE("A keel longer than the hull is cut by the chosen form") {
  const double degree = radians_per_degree;
  const auto state = [&](WettedLengthForm form) {
    const PlaningBottom bottom = prepare_planing_bottom(1.0, 1.5, 20.0 * degree, 0.0004, FrictionLine::ittc57,
                                                        1000.0, 1.05e-6, 8.0, form);
    return planing_state(bottom, 6.0, trim_terms(bottom, 4.0), 4511.0);
  };
  const PlaningState former = state(WettedLengthForm::savitsky_1964),
                     later = state(WettedLengthForm::savitsky_brown_1976);
  REQUIRE(former.keel_demand_m > 1.6);
  CHECK(later.keel_demand_m < former.keel_demand_m);
  CHECK(later.friction_N > former.friction_N);  // less is cut off
  CHECK_THAT(later.wetted_keel_m, WithinRel(1.5, 1e-9));
}

}  // namespace bowrise
