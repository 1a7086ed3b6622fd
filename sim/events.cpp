#include "sim/events.hpp"

#include <cmath>

#include "sim/units.hpp"

namespace bowrise {
namespace {

double speed(const State& state, const Instant&) { return state.speed_m_s; }
double distance(const State& state, const Instant&) { return state.distance_m; }
double head_loss(const State&, const Instant& now) { return 1.0 - now.head_factor; }
double air_loss(const State&, const Instant& now) { return 1.0 - now.air_factor; }
double air_over_cavitation(const State&, const Instant& now) { return now.head_factor - now.air_factor; }
double fade(const State&, const Instant& now) { return now.engine.limiter_fade; }
double command(const State&, const Instant& now) { return now.command; }
double lag(const State& state, const Instant& now) { return now.command - state.air_path; }
double acceleration(const State&, const Instant& now) { return now.rate.speed_m_s; }
double trim_rate_now(const State&, const Instant& now) { return now.rate.trim_rad; }
double shaft_rate(const State&, const Instant& now) { return now.rate.shaft_speed_rad_s; }

double in(double value, const char* unit) { return from_unit(value, *find_unit(unit)); }

}  // namespace

std::vector<EventRow> launch_events(const Run& run) {
  std::vector<EventRow> rows{
      {EventKind::speed_mark, "30 mph", Crossing::rising, EventReads::state, speed, in(30, "mph")},
      {EventKind::speed_mark, "50 km/h", Crossing::rising, EventReads::state, speed, in(50, "km/h")},
      {EventKind::speed_mark, "60 mph", Crossing::rising, EventReads::state, speed, in(60, "mph")},
      {EventKind::distance_mark, "60 ft", Crossing::rising, EventReads::state, distance, in(60, "ft")},
      {EventKind::distance_mark, "100 m", Crossing::rising, EventReads::state, distance, 100.0},
      {EventKind::distance_mark, "1/8 mile", Crossing::rising, EventReads::state, distance,
       in(0.125, "mile")},
      {EventKind::head_loss, "cavitation", Crossing::both, EventReads::drive_train, head_loss, 0.03},
      {EventKind::air_loss, "air", Crossing::both, EventReads::drive_train, air_loss, 0.03},
      {EventKind::air_over_cavitation, "air over cavitation", Crossing::both, EventReads::drive_train,
       air_over_cavitation, 0.0},
      {EventKind::limiter, "limiter", Crossing::both, EventReads::drive_train, fade, 0.05},
      {EventKind::command_short, "command", Crossing::both, EventReads::drive_train, command, 0.98},
      {EventKind::air_path_behind, "air path", Crossing::both, EventReads::drive_train, lag, 0.02},
      {EventKind::hull_bound, "hull", Crossing::both, EventReads::all, acceleration, 0.05},
      {EventKind::trim_peak, "trim peak", Crossing::falling, EventReads::all, trim_rate_now, 0.0},
      {EventKind::rpm_peak, "rpm peak", Crossing::falling, EventReads::drive_train, shaft_rate, 0.0},
      {EventKind::steady_speed, "steady speed", Crossing::both, EventReads::all, acceleration, 0.02}};
  if (std::isfinite(run.speed_mark_m_s))
    rows.push_back({EventKind::speed_mark, format_quantity(run.speed_mark_m_s, *find_unit("mph")),
                    Crossing::rising, EventReads::state, speed, run.speed_mark_m_s});
  if (std::isfinite(run.distance_mark_m))
    rows.push_back({EventKind::distance_mark, format_quantity(run.distance_mark_m, *find_unit("m")),
                    Crossing::rising, EventReads::state, distance, run.distance_mark_m});
  return rows;
}

}  // namespace bowrise
