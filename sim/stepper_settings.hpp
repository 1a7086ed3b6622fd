// How finely a launch is stepped: what the Rosenbrock stepper is told of a craft.
#pragma once

#include "sim/craft.hpp"
#include "sim/rosenbrock.hpp"
#include "sim/state.hpp"

namespace bowrise {

/// Marks near the top speed are read less well inside long steps [s]; with none ahead they may be longer.
inline constexpr double longest_step_s = 1.4, longest_step_to_a_mark_s = 0.7;
inline constexpr double first_step_s = 1e-2;
inline constexpr double located_within_s = 1e-7;  ///< what an event's time is known to

/// How much of the tolerance a step may err by in each state. Speed and distance carry their errors to every
/// later mark, and shaft speed and flow drive them; a cavity, the air and the throttle path follow their
/// causes within hundredths of a second and forget. Measured over random craft, see DEVELOPERS.md.
inline constexpr State tolerance_share{.speed_m_s = 0.15,
                                       .trim_rad = 1.5,
                                       .shaft_speed_rad_s = 0.3,
                                       .flow_m3_s = 0.3,
                                       .cavity_1 = 10.0,
                                       .cavity_2 = 10.0,
                                       .void_fraction = 10.0,
                                       .air_path = 10.0,
                                       .boost = 1.0,
                                       .distance_m = 0.3};

/// @param tolerance  relative, of the sizes of `typical_state` where a state is smaller; above 0
[[nodiscard]] RosenbrockSettings<state_size> rosenbrock_settings(const Craft& craft, double tolerance);

/// Hands `use` the craft's stepper: for eight equations without a turbo, with one for all ten.
template <class Use>
auto with_rosenbrock(const Craft& craft, double tolerance, const Use& use) {
  const auto settings = rosenbrock_settings(craft, tolerance);
  if (craft.engine->boost_turns_rad > 0.0) {
    Rosenbrock4DenseOutput<state_size> stepper(settings);
    return use(stepper);
  }
  Rosenbrock4DenseOutput<state_size, states_without_turbo> stepper(settings);
  return use(stepper);
}

}  // namespace bowrise
