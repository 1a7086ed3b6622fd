// Steady answers: states in which the rates that are free vanish, found by following the craft's own dynamics
// with implicit steps that grow until they are Newton's (pseudo-transient continuation), so that the branch
// found is one on which the craft could really settle.
#pragma once

#include <optional>

#include "sim/craft.hpp"
#include "sim/evaluate.hpp"

namespace bowrise {

/// What is held; what is not given settles. A pinned speed holds the craft as a rope would: it does not
/// accelerate.
struct Pinned {
  std::optional<double> speed_m_s, trim_rad, shaft_speed_rad_s, shaft_power_W, flow_m3_s;
  double lever = 1.0;
};

struct Steady {
  State state;
  Instant now;
};

/// @param guess  a state to start from; the planing state of `planing_guess` serves full throttle
/// @return nothing where the dynamics settle nowhere (no equilibrium, or none reached)
[[nodiscard]] std::optional<Steady> steady(const Craft& craft, const Pinned& pinned, const State& guess);

/// A state near full-throttle planing at this craft speed.
[[nodiscard]] State planing_guess(const Craft& craft, double speed_m_s);

/// Top speed: everything free at this lever, from a guess; refined by following speeds upwards if need be.
[[nodiscard]] std::optional<Steady> top_speed(const Craft& craft, double lever, const State& guess);

/// Steady run at a given craft speed with just the throttle that holds it; nothing if full throttle is too
/// little.
[[nodiscard]] std::optional<Steady> cruise(const Craft& craft, double speed_m_s);

/// The start of a run: idle in balance, craft held until t = 0; or rolling, on the throttle that holds the
/// speed (idle below the speed at which idle thrust alone would carry it).
/// @param idle_air_path  set to the air path that balances the pump at the idle speed at rest
/// @throws std::runtime_error when no flow balances the pump at idle or no throttle holds the rolling speed
[[nodiscard]] State start_state(const Craft& craft, const Start& start, double static_trim_rad,
                                double& idle_air_path);

}  // namespace bowrise
