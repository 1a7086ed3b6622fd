#include "tools/bench/marks.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "sim/launch.hpp"

namespace bowrise::bench {
namespace {

constexpr std::array<const char*, mark_count> mark_names{"30 mph", "60 mph", "60 ft", "100 m"};

}  // namespace

double error_of(const Solved& solved, const Solved& reference) {
  double worst = 0.0;
  const auto compare = [&](double value, double exact) {
    if (exact != 0.0) worst = std::max(worst, std::abs(value / exact - 1.0));
  };
  for (std::size_t i = 0; i < mark_count; ++i) compare(solved.mark_s[i], reference.mark_s[i]);
  compare(solved.end.speed_m_s, reference.end.speed_m_s);
  compare(solved.end.shaft_speed_rad_s, reference.end.shaft_speed_rad_s);
  return worst;
}

Solved solve_with_launch(const Setup& setup, const Craft& craft, double tolerance) {
  LaunchOptions options;
  options.duration_s = duration_s;
  options.tolerance = tolerance;
  options.stop_at_top_speed = false;
  const Launch run = launch(craft, setup.run, options);
  if (run.end == LaunchEnd::failed) throw std::runtime_error(run.failure);
  Solved solved;
  solved.end = run.end_state;
  solved.steps = run.counters.steps;
  solved.rhs_calls = run.counters.rhs_calls;
  for (const Event& event : run.events)
    for (std::size_t i = 0; i < mark_count; ++i)
      if (run.event_rows[event.row].name == mark_names[i]) solved.mark_s[i] = event.time_s;
  return solved;
}

}  // namespace bowrise::bench
