// Launch: one run from the start state to its ending, with events located and, if asked for, rows kept.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/craft.hpp"
#include "sim/evaluate.hpp"
#include "sim/events.hpp"
#include "sim/integrate_types.hpp"

namespace bowrise {

enum class Method { rosenbrock, runge_kutta };

struct LaunchOptions {
  double duration_s = 15.0;
  double tolerance = 1e-4;
  double row_step_s = 0.0;  ///< 0: keep no rows
  bool stop_at_top_speed = true;
  bool stop_when_stalled = true;
  double rest_speed_m_s = 0.0;         ///< stop when the speed falls through this; 0: never
  Method method = Method::rosenbrock;  ///< runge_kutta is the explicit check
};

/// One row of a trace: the state and all that follows from it.
struct TraceRow {
  double time_s;
  State state;
  Instant now;
  bool at_event;
};

/// Sums and extremes gathered at every probe of every step, independent of output.
struct Tally {
  double peak_acceleration_m_s2 = 0.0, peak_acceleration_time_s = 0.0;
  double peak_thrust_N = 0.0, peak_thrust_time_s = 0.0;
  double peak_shaft_speed_rad_s = 0.0, peak_shaft_speed_time_s = 0.0;
  double peak_trim_rad = 0.0, peak_trim_time_s = 0.0;
  double peak_jet_speed_m_s = 0.0;
  WearExposure wear;  ///< by trapezia as long as the steps: within 1 % at the preset tolerance
  std::array<double, flag_count> flag_time_s{};
};

enum class LaunchEnd { top_speed, duration, engine_stalled, at_rest, failed };

struct Launch {
  LaunchEnd end;
  std::string failure;  ///< empty unless failed: time, state and component
  double end_time_s;
  State end_state;
  std::vector<EventRow> event_rows;
  std::vector<Event> events;        ///< in order of time
  std::vector<LeverSegment> lever;  ///< the throttle as it was moved
  std::vector<TraceRow> rows;       ///< output grid and one per recorded event
  Tally tally;
  Limit first_limit;  ///< what limits at t = 0
  IntegrationCounters counters;
};

/// Runs a craft. Never throws for a failing computation: the ending says so.
[[nodiscard]] Launch launch(const Craft& craft, const Run& run, const LaunchOptions& options);

/// Below this speed, walking pace, a coasting craft counts as at rest: what is left is a slow drift that no
/// observer times and that the radar of the published tests hardly sees.
inline constexpr double at_rest_m_s = 2.0;

/// Coast-down from a state: the lever shuts as fast as the hand can, fuel is cut, the flow turns the pump
/// against the engine's friction until the craft is at rest. Distance goes on from the state's.
[[nodiscard]] Launch coast_down(const Craft& craft, const Run& run, const LaunchOptions& options,
                                const State& from);

/// Puts a coast-down behind the run that it started from: rows and events, their times going on from the
/// run's end.
void append(Launch& run, const Launch& coast);

/// Options as a setup asks for them, rows at output.step.
[[nodiscard]] LaunchOptions launch_options(const Setup& setup, bool keep_rows);

}  // namespace bowrise
