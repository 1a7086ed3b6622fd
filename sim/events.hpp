// Events of a launch: one row each. A guard is a continuous function of (t, State, Instant) whose sign change
// is located on dense output; recording one never changes the run.
#pragma once

#include <string>
#include <vector>

#include "sim/craft.hpp"
#include "sim/evaluate.hpp"
#include "sim/integrate.hpp"

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

/// What the value of an event reads, so that its search works out no more: the state alone, the drive train
/// (`drive_train` in evaluate.hpp), or all of an Instant.
enum class EventReads { state, drive_train, all };

struct EventRow {
  EventKind kind;
  std::string name;
  Crossing direction;
  EventReads reads;
  double (*value)(const State&, const Instant&);  ///< what is compared
  double threshold;
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
