// Events of a launch: one row each. What is watched is a continuous function of (State, Instant); where it
// passes the threshold is located on dense output, and recording that never changes the run.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "sim/craft.hpp"
#include "sim/evaluate.hpp"
#include "sim/guard_types.hpp"

namespace bowrise {

enum class EventKind {
  speed_mark,
  distance_mark,
  head_loss,  ///< cavitation takes more or less than 3 % of head: first cavitation and hook-up
  air_loss,   ///< air takes more or less than 3 % of head
  air_over_cavitation,
  limiter,          ///< touched and left
  command_short,    ///< throttle command under or over 98 %
  air_path_behind,  ///< air path more than 2 % behind the command
  hull_bound,       ///< acceleration under or over 0.05 m/s2
  trim_peak,        ///< trim stops rising: the hump once planing has begun
  rpm_peak,
  steady_speed  ///< acceleration under or over 0.02 m/s2: half a second of it ends the run
};

/// A number of an instant that events are made of.
enum class Watched : std::size_t {
  speed,
  distance,
  head_loss,
  air_loss,
  air_over_cavitation,  ///< head factor less air factor
  limiter_fade,
  command,
  air_path_lag,
  shaft_rate,
  acceleration,
  trim_rate
};
inline constexpr std::size_t watched_count = static_cast<std::size_t>(Watched::trim_rate) + 1;
using WatchedValues = std::array<double, watched_count>;

/// All of them, in the order of `Watched`.
[[nodiscard]] inline WatchedValues watched_values(const State& state, const Instant& now) noexcept {
  return {state.speed_m_s,
          state.distance_m,
          1.0 - now.head_factor,
          1.0 - now.air_factor,
          now.head_factor - now.air_factor,
          now.engine.limiter_fade,
          now.command,
          now.command - state.air_path,
          now.rate.shaft_speed_rad_s,
          now.rate.speed_m_s,
          now.rate.trim_rad};
}

/// What must be known of an instant, so that the search for an event works out no more: the state alone, the
/// drive train (`drive_train` in evaluate.hpp), or all of it.
enum class EventReads { state, drive_train, all };
[[nodiscard]] constexpr EventReads reads_of(Watched watched) noexcept {
  return watched <= Watched::distance     ? EventReads::state
         : watched <= Watched::shaft_rate ? EventReads::drive_train
                                          : EventReads::all;
}

struct EventRow {
  EventKind kind;
  std::string name;
  Crossing direction;
  Watched watched;
  double threshold;

  [[nodiscard]] double over_threshold(const WatchedValues& values) const noexcept {
    return values[static_cast<std::size_t>(watched)] - threshold;
  }
};

/// One event that happened.
struct Event {
  std::size_t row;  ///< index into the event table of the run
  double time_s;
  bool rising;  ///< direction in which the value passed the threshold
  State state;
  Limit limit_after;  ///< what limits from here on
};

/// The table for one setup: the usual marks, the user's own, and what summary and limits need.
[[nodiscard]] std::vector<EventRow> launch_events(const Run& run);

}  // namespace bowrise
