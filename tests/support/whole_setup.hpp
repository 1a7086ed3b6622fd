// A whole craft as plain numbers, built in code from the rows' presets; for tests of the
// models, which know no reader.
#pragma once

#include <limits>
#include <stdexcept>
#include <string>
#include <string_view>

#include "models/constants.hpp"
#include "models/setup.hpp"

namespace bowrise::test {

/// What a field holds whose value is worked out while preparing.
inline constexpr double derived_number = std::numeric_limits<double>::quiet_NaN();

/// A number in a row's unit as SI. Written out here so that the tests do not lean on the program's own units.
inline double si_from(double value, std::string_view unit) {
  if (unit == "degC") return value + zero_celsius_K;
  constexpr struct {
    std::string_view unit;
    double factor;
  } factors[] = {{"1", 1.0},         {"count", 1.0},
                 {"m", 1.0},         {"kg", 1.0},
                 {"s", 1.0},         {"N", 1.0},
                 {"1/m", 1.0},       {"m/s", 1.0},
                 {"1/s", 1.0},       {"kg m2", 1.0},
                 {"m2", 1.0},        {"g/kg", 1.0},
                 {"mm", 1e-3},       {"ms", 1e-3},
                 {"L", 1e-3},        {"cm2", 1e-4},
                 {"mm2", 1e-6},      {"kPa", 1e3},
                 {"N m", 1.0},       {"deg", radians_per_degree},
                 {"rpm", pi / 30.0}, {"hp", 745.69987158227},
                 {"mph", 0.44704}};
  for (const auto& known : factors)
    if (known.unit == unit) return value * known.factor;
  throw std::logic_error("no factor in this test for the unit " + std::string(unit));
}

template <class Part, class Rows>
void set_presets(Part& part, const Rows& rows) {
  for (const auto& row : rows) part.*(row.field) = si_from(row.preset.value, row.unit);
}

/// Every preset; what has none is not a number.
inline Setup preset_craft() {
  Setup setup{};
  for_each_part([&](std::string_view, auto part, const auto& rows, const auto& choices, const auto&) {
    set_presets(setup.*part, rows);
    for (const auto& row : choices) row.set(setup.*part, row.preset);
  });
  return setup;
}

/// A fictional supercharged three-seater: the presets and what a user has to say.
inline Setup three_seater() {
  Setup setup = preset_craft();
  setup.craft.mass_kg = 355.0;
  setup.hull.beam_m = 1.0;
  setup.hull.length_m = 3.3;
  setup.hull.deadrise_rad = si_from(20.0, "deg");
  setup.hull.load_centre_m = 1.15;
  setup.pump.bore_m = 0.160;
  setup.impeller.pitch_leading_rad = si_from(14.0, "deg");
  setup.impeller.pitch_trailing_rad = si_from(25.4, "deg");
  setup.nozzle.exit_diameter_m = 0.086;
  setup.engine.peak_power_W = si_from(250.0, "hp");
  setup.engine.peak_speed_rad_s = si_from(7700.0, "rpm");
  setup.engine.limiter_rad_s = si_from(8050.0, "rpm");
  setup.engine.charger = Charger::blower;
  return setup;
}

/// True if one of the problems is about this key.
inline bool complains_about(const Problems& problems, std::string_view key) {
  for (const Problem& problem : problems)
    if (problem.key == key) return true;
  return false;
}

}  // namespace bowrise::test
