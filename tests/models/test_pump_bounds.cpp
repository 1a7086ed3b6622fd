// Bounds that hold for any pump whatever its blades, over random geometry within the usual ranges.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "models/cavitation.hpp"
#include "models/constants.hpp"
#include "models/pump.hpp"
#include "tests/support/units.hpp"
#include "tests/support/whole_pump.hpp"

using namespace bowrise;
using namespace bowrise::test;

namespace {

/// Head of all stages that cavitation leaves.
double energy_J_kg(const PumpPoint& at, double available_J_kg) {
  double sum = 0.0;
  for (const StagePoint& stage : at.stage) {
    if (stage.energy_onset_J_kg <= 0.0) continue;  // no such stage
    sum += stage.energy_J_kg * head_factor_target(available_J_kg + std::max(sum, 0.0),
                                                  stage.energy_onset_J_kg, stage.energy_breakdown_J_kg);
  }
  return sum;
}

/// The highest flow at which the pump can feed a jet of this area; 0 if none.
template <class Surplus>
double settled_flow(double most_flow, const Surplus& surplus) {
  const double step = most_flow / 400;
  double high = most_flow;
  while (high > 0.0 && surplus(high) < 0.0) high -= step;
  if (high <= 0.0) return 0.0;
  double low = high;
  high += step;
  for (int i = 0; i < 50; ++i) (surplus(0.5 * (low + high)) > 0.0 ? low : high) = 0.5 * (low + high);
  return low;
}

}  // namespace

// Closed form: water at rest under E above its vapour pressure cannot pass an annulus faster than sqrt(2 E),
// and blades that need relative speed as well stay below it. The head factor fades over a little instead of
// ending: 2 %.
TEST_CASE("no pump at rest draws more than its annulus lets through") {
  Draw draw;
  int compared = 0, choked = 0;
  for (int sample = 0; sample < 200; ++sample) {
    const WholePump whole = random_pump(draw);
    CAPTURE(sample);
    const double speed = draw(5500, 8500) * rpm;
    const PreparedPump pump = whole.prepared(speed);
    const double bore = whole.pump.bore_m, hub = whole.impeller.hub_in_m, available = draw(80.0, 100.0);
    const double annulus = pi / 4 * (bore * bore - hub * hub),
                 jet_area = draw(0.2, 0.5) * pi / 4 * bore * bore;
    const double ceiling = annulus * std::sqrt(2.0 * available);
    const double flow = settled_flow(2.0 * ceiling, [&](double q) {
      return energy_J_kg(pump_point(pump, q, speed), available) - 0.5 * q * q / (jet_area * jet_area);
    });
    if (flow == 0.0) continue;
    ++compared;
    REQUIRE(flow < 1.02 * ceiling);
    if (flow > 0.5 * ceiling) ++choked;
  }
  CHECK(compared > 150);
  CHECK(choked > 50);  // the bound was near enough to be broken
}

// Closed form (Mechanical Engineer's Data Handbook p. 159; row P104 at V/vj = 0.5 gives 0.5 for water taken
// from rest, 2/(1 + JVR) with all ram recovered): thrust work over shaft work never exceeds it, and no
// lossless pump beats the jet.
TEST_CASE("no pump propels better than its ideal jet") {
  Draw draw;
  int compared = 0;
  double closest = 0.0;
  for (int sample = 0; sample < 200; ++sample) {
    const WholePump whole = random_pump(draw);
    CAPTURE(sample);
    const double shaft_speed = draw(5500, 8500) * rpm, craft_speed = draw(5.0, 35.0);
    const PreparedPump pump = whole.prepared(shaft_speed);
    const double bore = whole.pump.bore_m, jet_area = draw(0.2, 0.5) * pi / 4 * bore * bore;
    const double flow = settled_flow(0.8 * bore * bore * 45.0, [&](double q) {
      return energy_J_kg(pump_point(pump, q, shaft_speed), 1e6) -
             0.5 * (q * q / (jet_area * jet_area) - craft_speed * craft_speed);
    });
    const double jet = flow / jet_area;
    if (jet < 1.05 * craft_speed) continue;
    double power = 0.0;
    const PumpPoint at = pump_point(pump, flow, shaft_speed);
    for (const StagePoint& stage : at.stage) power += stage.torque_Nm * shaft_speed;
    const double thrust = density * flow * (jet - craft_speed);
    const double ideal = 2.0 / (1.0 + jet / craft_speed);
    ++compared;
    REQUIRE(thrust * craft_speed < ideal * power);
    closest = std::max(closest, thrust * craft_speed / power / ideal);
  }
  CHECK(compared > 100);
  CHECK(closest > 0.7);  // real pumps come near it
}
