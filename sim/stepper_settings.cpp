#include "sim/stepper_settings.hpp"

#include <array>
#include <cstddef>

namespace bowrise {
namespace {

// States that nothing depends on, or that never move, cost no Jacobian column.
std::array<bool, state_size> active_states(const Craft& craft) {
  std::array<bool, state_size> active{};
  active.fill(true);
  active[static_cast<std::size_t>(StateIndex::distance)] = false;
  active[static_cast<std::size_t>(StateIndex::cavity_2)] = craft.two_stages;
  active[static_cast<std::size_t>(StateIndex::boost)] = craft.engine->boost_turns_rad > 0.0;
  return active;
}

}  // namespace

RosenbrockSettings<state_size> rosenbrock_settings(const Craft& craft, double tolerance) {
  RosenbrockSettings<state_size> settings;
  settings.typical_size = to_array(typical_state);
  settings.relative_tolerance = to_array(tolerance_share);
  for (std::size_t i = 0; i < state_size; ++i) {
    settings.relative_tolerance[i] *= tolerance;
    settings.absolute_tolerance[i] = settings.relative_tolerance[i] * settings.typical_size[i];
  }
  settings.long_step = longest_step_to_a_mark_s;
  settings.active = active_states(craft);
  return settings;
}

}  // namespace bowrise
