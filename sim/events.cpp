#include "sim/events.hpp"

#include <cmath>

#include "sim/units.hpp"

namespace bowrise {
namespace {

double in(double value, const char* unit) { return from_unit(value, *find_unit(unit)); }

}  // namespace

std::vector<EventRow> launch_events(const Run& run) {
  std::vector<EventRow> rows{
      {EventKind::speed_mark, "30 mph", Crossing::rising, Watched::speed, in(30, "mph")},
      {EventKind::speed_mark, "50 km/h", Crossing::rising, Watched::speed, in(50, "km/h")},
      {EventKind::speed_mark, "60 mph", Crossing::rising, Watched::speed, in(60, "mph")},
      {EventKind::distance_mark, "60 ft", Crossing::rising, Watched::distance, in(60, "ft")},
      {EventKind::distance_mark, "100 m", Crossing::rising, Watched::distance, 100.0},
      {EventKind::distance_mark, "1/8 mile", Crossing::rising, Watched::distance, in(0.125, "mile")},
      {EventKind::head_loss, "cavitation", Crossing::both, Watched::head_loss, 0.03},
      {EventKind::air_loss, "air", Crossing::both, Watched::air_loss, 0.03},
      {EventKind::air_over_cavitation, "air over cavitation", Crossing::both, Watched::air_over_cavitation,
       0.0},
      {EventKind::limiter, "limiter", Crossing::both, Watched::limiter_fade, 0.05},
      {EventKind::command_short, "command", Crossing::both, Watched::command, 0.98},
      {EventKind::air_path_behind, "air path", Crossing::both, Watched::air_path_lag, 0.02},
      {EventKind::hull_bound, "hull", Crossing::both, Watched::acceleration, 0.05},
      {EventKind::trim_peak, "trim peak", Crossing::falling, Watched::trim_rate, 0.0},
      {EventKind::rpm_peak, "rpm peak", Crossing::falling, Watched::shaft_rate, 0.0},
      {EventKind::steady_speed, "steady speed", Crossing::both, Watched::acceleration, 0.02}};
  if (std::isfinite(run.speed_mark_m_s))
    rows.push_back({EventKind::speed_mark, format_quantity(run.speed_mark_m_s, *find_unit("mph")),
                    Crossing::rising, Watched::speed, run.speed_mark_m_s});
  if (std::isfinite(run.distance_mark_m))
    rows.push_back({EventKind::distance_mark, format_quantity(run.distance_mark_m, *find_unit("m")),
                    Crossing::rising, Watched::distance, run.distance_mark_m});
  return rows;
}

}  // namespace bowrise
