// State: the ten numbers that change during a run, as named doubles for the physics and as an array for the
// solver.
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

namespace bowrise {

template <class Number>
struct StateOf {
  Number speed_m_s, trim_rad, shaft_speed_rad_s, flow_m3_s;
  Number cavity_1, cavity_2;  ///< share of a stage's head that cavitation takes
  Number void_fraction;       ///< air in the water at the pump face
  Number air_path;            ///< manifold pressure fraction of the engine
  Number boost;               ///< turbo state; 1 without a turbo
  Number distance_m;
};
using State = StateOf<double>;
inline constexpr std::size_t state_size = 10;
inline constexpr std::size_t states_without_turbo = 8;  ///< so many, from the first, are all that rates read
using StateArray = std::array<double, state_size>;

template <class Number>
[[nodiscard]] std::array<Number, state_size> to_array(const StateOf<Number>& state) noexcept {
  const auto& [speed, trim, shaft_speed, flow, cavity_1, cavity_2, voids, air_path, boost, distance] = state;
  return {speed, trim, shaft_speed, flow, cavity_1, cavity_2, voids, air_path, boost, distance};
}
template <class Number>
[[nodiscard]] StateOf<Number> to_state(const std::array<Number, state_size>& values) noexcept {
  const auto& [speed, trim, shaft_speed, flow, cavity_1, cavity_2, voids, air_path, boost, distance] = values;
  return {speed, trim, shaft_speed, flow, cavity_1, cavity_2, voids, air_path, boost, distance};
}

/// Names for messages, in the order of State.
inline constexpr std::array<std::string_view, state_size> state_names{
    "speed",         "trim",     "shaft speed", "flow",    "cavity of stage 1", "cavity of stage 2",
    "void fraction", "air path", "boost",       "distance"};

/// A size that matters of each state: absolute tolerances are the relative one times these.
inline constexpr State typical_state{1.0, 0.02, 100.0, 0.02, 0.1, 0.1, 0.02, 0.1, 0.1, 1.0};

/// Indices into the array form, for the solver's messages and masks.
enum class StateIndex : std::size_t {
  speed,
  trim,
  shaft_speed,
  flow,
  cavity_1,
  cavity_2,
  void_fraction,
  air_path,
  boost,
  distance
};

}  // namespace bowrise
