#include "sim/study/report.hpp"

#include <algorithm>
#include <cmath>

#include "sim/study/executor.hpp"

namespace bowrise {
namespace {

constexpr std::size_t curve_points = 48;
constexpr double slowest_m_s = 1.0;        // below it the curves of a planing craft say little
constexpr double beyond_top_speed = 1.12;  // so that the crossing of thrust and drag is seen from both sides
constexpr double beyond_limiter = 1.06;    // so that the limiter's fall is seen
constexpr double fallback_speed_m_s = 35.0;  // where no setup has a top speed

std::vector<double> evenly(double low, double high) {
  std::vector<double> values;
  for (std::size_t i = 0; i < curve_points; ++i)
    values.push_back(low + (high - low) * static_cast<double>(i) / static_cast<double>(curve_points - 1));
  return values;
}

void run_launch(const Contender& contender, const BandOptions& options, SetupReport& out) {
  out.name = contender.name;
  const Setup& setup = contender.setup;
  out.craft = prepare(setup);
  LaunchOptions launch_with_rows = launch_options(setup, true);
  launch_with_rows.row_step_s = chart_step_s;
  out.launch = launch(out.craft, setup.run, launch_with_rows);
  if (out.launch.end == LaunchEnd::failed) {
    out.failure = out.launch.failure;
    return;
  }
  out.summary = summarise(out.craft, out.launch);
  if (options.coast) {
    const Launch down = coast_down(out.craft, setup.run, launch_with_rows, out.launch.end_state);
    if (down.end == LaunchEnd::failed) {
      out.failure = "coast-down: " + down.failure;
      return;
    }
    out.summary.coast_down = read_coast_down(down, out.launch.end_state);
    append(out.launch, down);
  }
}

void add_curves(const Setup& setup, const Report& report, SetupReport& out) {
  const std::vector<AxisValues> speeds{{Axis::speed, report.speeds_m_s}};
  const std::vector<AxisValues> shaft_speeds{{Axis::shaft_speed, report.shaft_speeds_rad_s}};
  out.hull = curve_table(setup, CurveKind::hull, speeds);
  out.cavitation = curve_table(setup, CurveKind::cavitation, speeds);
  out.engine = curve_table(setup, CurveKind::engine, shaft_speeds);
  for (const double speed : {0.0, out.summary.top_speed_m_s.value_or(0.0)}) {
    if (speed == 0.0 && !out.pump.empty()) continue;  // no top speed to show
    out.pump.push_back(
        {speed, curve_table(setup, CurveKind::thrust, {{Axis::speed, {speed}}, shaft_speeds[0]})});
  }
}

void choose_axes(Report& report) {
  double top = 0.0, shaft = 0.0;
  for (const SetupReport& setup : report.setups) {
    if (!setup.failure.empty()) continue;
    top = std::max(top, setup.summary.top_speed_m_s.value_or(0.0));
    shaft = std::max(shaft, setup.craft.limiter_rad_s);
  }
  report.speeds_m_s = evenly(slowest_m_s, beyond_top_speed * (top > 0.0 ? top : fallback_speed_m_s));
  report.shaft_speeds_rad_s = evenly(0.2 * shaft, beyond_limiter * shaft);
}

}  // namespace

Report report(const std::vector<Contender>& contenders, const BandOptions& options) {
  Report out;
  out.setups.resize(contenders.size());
  for_each_index(contenders.size(), options.threads,
                 [&](std::size_t i) { run_launch(contenders[i], options, out.setups[i]); });
  choose_axes(out);
  for_each_index(contenders.size(), options.threads, [&](std::size_t i) {
    if (out.setups[i].failure.empty()) add_curves(contenders[i].setup, out, out.setups[i]);
  });
  if (contenders.size() > 1) {
    out.comparison = compare(contenders, options);
    for (std::size_t i = 0; i < contenders.size(); ++i) out.setups[i].costs = out.comparison->costs[i];
  } else if (out.setups.front().failure.empty()) {
    out.setups.front().costs =
        limit_costs(contenders.front().setup, outcome_of(out.setups.front().summary), options.threads);
    if (options.draws > 0)
      out.bands = bands_of(contenders.front().setup, options, contenders.front().posterior);
  }
  return out;
}

}  // namespace bowrise
