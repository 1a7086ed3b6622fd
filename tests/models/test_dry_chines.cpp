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

}  // namespace bowrise
