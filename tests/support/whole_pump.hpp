// Pumps built in code, for tests: a fictional craft pump, a two-stage one, a measured full-scale unit, and
// random pumps inside the usual ranges of every row.
#pragma once

#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <string_view>

#include "models/constants.hpp"
#include "models/pump.hpp"
#include "tests/support/units.hpp"

namespace bowrise::test {

constexpr double derived_value = std::numeric_limits<double>::quiet_NaN();
constexpr double density = 998.0, viscosity = 1.0e-6;

inline double degrees(double angle_deg) { return angle_deg * radians_per_degree; }

inline double si_per_unit(std::string_view unit) {
  if (unit == "mm" || unit == "ms") return 1e-3;
  if (unit == "deg") return radians_per_degree;
  return 1.0;
}

template <class Part, class Rows>
void fill_presets(Part& part, const Rows& rows) {
  for (const auto& row : rows) part.*(row.field) = row.preset.value * si_per_unit(row.unit);
}

struct WholePump {
  Pump pump{};
  Rotor impeller{}, stage_2{};
  Cavitation cavitation{};
  [[nodiscard]] PreparedPump prepared(double speed_rad_s = 7600 * rpm) const {
    return prepare_pump({pump, impeller, stage_2, cavitation, speed_rad_s, density, viscosity});
  }
  [[nodiscard]] PumpCurveRow row(double flow_m3_s, double speed_rad_s = 7600 * rpm) const {
    return pump_curve_row(pump, impeller, stage_2, cavitation, density, viscosity, flow_m3_s, speed_rad_s);
  }
  [[nodiscard]] Problems problems() const { return check(pump, impeller, stage_2, cavitation); }
};

inline Rotor rotor(double leading_deg, double trailing_deg) {
  Rotor blades{};
  fill_presets(blades, rotor_parameters);
  blades.pitch_leading_rad = degrees(leading_deg);
  blades.pitch_trailing_rad = degrees(trailing_deg);
  return blades;
}

/// A fictional craft pump: 160 mm, four blades, 15.4/25.0 deg at the tip, gap 0.25 mm as new, no head factor.
inline WholePump craft_pump() {
  WholePump craft;
  fill_presets(craft.pump, pump_parameters);
  fill_presets(craft.cavitation, cavitation_parameters);
  craft.pump.bore_m = 0.160;
  craft.pump.clearance_m = craft.pump.clearance_new_m = 0.25e-3;
  craft.pump.efficiency_factor = 1.0;
  craft.pump.interstage_stator = YesNo::yes;
  craft.impeller = rotor(15.4, 25.0);
  craft.stage_2 = rotor(derived_value, derived_value);
  return craft;
}

/// Two stages that share the work of the craft pump.
inline WholePump two_stage_pump(YesNo interstage_stator) {
  WholePump craft = craft_pump();
  craft.pump.stages = 2;
  craft.pump.interstage_stator = interstage_stator;
  craft.impeller = rotor(12.0, 18.0);
  craft.stage_2 = rotor(15.4, interstage_stator == YesNo::yes ? 21.0 : 27.0);
  return craft;
}

/// Mixed-flow unit of K. Zurcher's waterjet self-propulsion research data (2013-2015): the six open curve
/// points.
inline WholePump full_scale_pump() {
  WholePump unit = craft_pump();
  unit.pump.bore_m = 1.2;
  unit.pump.clearance_m = unit.pump.clearance_new_m = 2e-3;
  unit.pump.efficiency_factor = 0.94;  // must not act on a measured curve
  unit.pump.curve = {{0.55476, 4.3965, 0.650, 0.30}, {0.73968, 4.2653, 0.825, 0.32},
                     {0.77667, 4.1299, 0.855, 0.33}, {0.85063, 3.6135, 0.894, 0.36},
                     {0.9246, 2.9896, 0.888, 0.49},  {0.99857, 2.2694, 0.855, 0.80}};
  return unit;
}

/// Uniform numbers that are the same on every standard library.
class Draw {
 public:
  double operator()(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_() >> 11) * 0x1.0p-53);
  }

 private:
  std::mt19937_64 engine_{20240917};
};

template <class Part, class Rows>
void draw_usual(Part& part, const Rows& rows, Draw& draw) {
  for (const auto& row : rows) {
    const double value = draw(row.usual.low, row.usual.high);
    part.*(row.field) = row.unit == "count" ? std::round(value) : value * si_per_unit(row.unit);
  }
}

/// Pitch as an angle and solidity: the other ways to say them stay unsaid.
inline void draw_rotor(Rotor& blades, Draw& draw) {
  draw_usual(blades, rotor_parameters, draw);
  blades.pitch_leading_length_m = blades.pitch_trailing_length_m = blades.tip_chord_m = derived_value;
}

inline WholePump random_pump(Draw& draw) {
  WholePump whole;
  do {
    draw_usual(whole.pump, pump_parameters, draw);
    draw_rotor(whole.impeller, draw);
    draw_rotor(whole.stage_2, draw);
    draw_usual(whole.cavitation, cavitation_parameters, draw);
    whole.pump.interstage_stator = YesNo::yes;
  } while (!whole.problems().empty());
  return whole;
}

}  // namespace bowrise::test
