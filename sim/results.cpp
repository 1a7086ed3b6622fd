#include "sim/results.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

constexpr double shortest_note_s = 0.2;    // a flag raised for less is in the summary, not among the warnings
constexpr double shortest_limit_s = 0.02;  // a limit that holds for less than this is part of its neighbours

std::vector<const Event*> of_kind(const Launch& launch, EventKind kind) {
  std::vector<const Event*> found;
  for (const Event& event : launch.events)
    if (launch.event_rows[event.row].kind == kind) found.push_back(&event);
  return found;
}

void read_marks(const Launch& launch, Summary& summary) {
  for (std::size_t row = 0; row < launch.event_rows.size(); ++row) {
    const EventRow& rule = launch.event_rows[row];
    const bool is_speed = rule.kind == EventKind::speed_mark;
    if (!is_speed && rule.kind != EventKind::distance_mark) continue;
    Mark mark{rule.name, is_speed, std::nullopt, 0.0, 0.0};
    const auto first = std::find_if(launch.events.begin(), launch.events.end(),
                                    [&](const Event& e) { return e.row == row; });
    if (first != launch.events.end()) {
      mark.time_s = first->time_s;
      mark.speed_m_s = first->state.speed_m_s;
      mark.distance_m = first->state.distance_m;
    }
    summary.marks.push_back(std::move(mark));
  }
}

// Times from falling through 97 % of the head to rising through it again.
void read_cavitation(const Launch& launch, Summary& summary) {
  std::optional<double> since;
  if (launch.first_limit == Limit::cavitation) since = 0.0;
  for (const Event* event : of_kind(launch, EventKind::head_loss)) {
    if (event->rising) {
      since = event->time_s;
      if (!summary.first_cavitation_s) summary.first_cavitation_s = event->time_s;
    } else {
      if (since) summary.cavitating_s += event->time_s - *since;
      since.reset();
      summary.hook_up_s = event->time_s;
      summary.hook_up_speed_m_s = event->state.speed_m_s;
    }
  }
  if (since) {  // still cavitating at the end: it never hooked up
    summary.cavitating_s += launch.end_time_s - *since;
    summary.hook_up_s.reset();
    summary.hook_up_speed_m_s.reset();
  }
}

void read_hump(const Craft& craft, const Launch& launch, Summary& summary) {
  for (const Event* event : of_kind(launch, EventKind::trim_peak)) {
    if (volume_froude(*craft.hull, event->state.speed_m_s) < 1.0) continue;
    if (summary.hump_trim_rad && event->state.trim_rad <= *summary.hump_trim_rad) continue;
    summary.hump_s = event->time_s;
    summary.hump_speed_m_s = event->state.speed_m_s;
    summary.hump_trim_rad = event->state.trim_rad;
  }
}

struct Stretch {
  double start_s, end_s;
  Limit limit;
};

// Every change of what limits is an event, so what holds just after one holds until the next.
std::vector<Stretch> limit_stretches(const Launch& launch) {
  std::vector<Stretch> stretches;
  double start = 0.0;
  Limit limit = launch.first_limit;
  const auto close = [&](double end) {
    if (end > start) {
      if (!stretches.empty() && stretches.back().limit == limit)
        stretches.back().end_s = end;
      else
        stretches.push_back({start, end, limit});
    }
    start = end;
  };
  for (const Event& event : launch.events) {
    close(event.time_s);
    limit = event.limit_after;
  }
  close(launch.end_time_s);
  return stretches;
}

void read_limits(const Launch& launch, Summary& summary) {
  std::vector<Stretch> stretches = limit_stretches(launch);
  for (std::size_t i = 1; i < stretches.size(); ++i)
    if (stretches[i].end_s - stretches[i].start_s < shortest_limit_s)
      stretches[i].limit = stretches[i - 1].limit;
  for (const Stretch& stretch : stretches)
    summary.limited_s[static_cast<std::size_t>(stretch.limit)] += stretch.end_s - stretch.start_s;
}

void read_top_speed(const Craft& craft, const Launch& launch, Summary& summary) {
  const double lever = launch.lever.back().lever(launch.end_time_s);
  const std::optional<Steady> top = top_speed(craft, lever, launch.end_state);
  summary.still_accelerating = launch.end == LaunchEnd::duration;
  if (!top) return;
  const Instant& now = top->now;
  const double power = now.pump_torque_Nm * top->state.shaft_speed_rad_s;
  summary.top_speed_m_s = top->state.speed_m_s;
  summary.top_speed_shaft_speed_rad_s = top->state.shaft_speed_rad_s;
  summary.top_speed_trim_rad = top->state.trim_rad;
  summary.top_speed_inlet_velocity_ratio = now.inlet_velocity_ratio;
  summary.top_speed_thrust_N = now.thrust_N;
  summary.top_speed_power_W = power;
  summary.top_speed_propulsive_efficiency = now.thrust_N * top->state.speed_m_s / power;
  summary.top_speed_jet_ratio = jet_velocity_ratio(top->state, now);
  summary.top_speed_nozzle_ratio = nozzle_velocity_ratio(top->state, now);
}

double launch_window_s(const Summary& summary) { return summary.hook_up_s.value_or(3.0); }

void add_warnings(const Craft& craft, const Launch& launch, Summary& summary) {
  summary.warnings = craft.advice;
  if (summary.still_accelerating)
    summary.warnings.push_back("still accelerating when the run ended; give run.duration more time");
  if (launch.end == LaunchEnd::engine_stalled)
    summary.warnings.push_back("engine stalled: shaft speed fell below 300 rpm");
  if (!summary.top_speed_m_s) summary.warnings.push_back("no steady top speed was found");
  if (summary.first_cavitation_s && !summary.hook_up_s)
    summary.warnings.push_back("the pump still cavitated at the end of the run");
  for (const FlagTime& raised : summary.flags) {
    if (raised.flag == Flag::cavitating || raised.flag == Flag::limiter)
      continue;  // told by times of their own
    if (raised.time_s < shortest_note_s) continue;
    const FlagText& text = flag_texts[static_cast<std::size_t>(raised.flag)];
    summary.warnings.push_back(
        fmt::format("{} for {:.1f} s: {}; {}", text.name, raised.time_s, text.meaning, text.remedy));
  }
}

std::optional<double> mark_time(const Summary& summary, std::string_view name) {
  for (const Mark& mark : summary.marks)
    if (mark.name == name) return mark.time_s;
  return std::nullopt;
}

std::optional<double> scaled(std::optional<double> value, double factor) {
  return value ? std::optional(*value * factor) : std::nullopt;
}

// clang-format off
constexpr std::array results{
    ResultRow{"time_to_30_mph", "s", "time from rest to 30 mph", Better::low, [](const Summary& s) { return mark_time(s, "30 mph"); }},
    ResultRow{"time_to_50_kmh", "s", "time from rest to 50 km/h", Better::low, [](const Summary& s) { return mark_time(s, "50 km/h"); }},
    ResultRow{"time_to_60_mph", "s", "time from rest to 60 mph", Better::low, [](const Summary& s) { return mark_time(s, "60 mph"); }},
    ResultRow{"time_to_60_ft", "s", "time over the first 60 ft", Better::low, [](const Summary& s) { return mark_time(s, "60 ft"); }},
    ResultRow{"time_to_100_m", "s", "time over the first 100 m", Better::low, [](const Summary& s) { return mark_time(s, "100 m"); }},
    ResultRow{"time_to_eighth_mile", "s", "time over the first 1/8 mile", Better::low, [](const Summary& s) { return mark_time(s, "1/8 mile"); }},
    ResultRow{"top_speed", "m/s", "steady speed of the final throttle", Better::high, [](const Summary& s) { return s.top_speed_m_s; }},
    ResultRow{"top_rpm", "rpm", "shaft speed at top speed", Better::neither, [](const Summary& s) { return scaled(s.top_speed_shaft_speed_rad_s, rpm_per_rad_s); }},
    ResultRow{"launch_peak_rpm", "rpm", "highest shaft speed of the launch", Better::neither, [](const Summary& s) -> std::optional<double> { return s.launch_peak_shaft_speed_rad_s * rpm_per_rad_s; }},
    ResultRow{"hook_up_time", "s", "cavitation last gives way", Better::low, [](const Summary& s) { return s.hook_up_s; }},
    ResultRow{"hook_up_speed", "m/s", "speed at hook-up", Better::low, [](const Summary& s) { return s.hook_up_speed_m_s; }},
    ResultRow{"cavitating_time", "s", "time with more than 3 % of the head lost to cavitation", Better::low, [](const Summary& s) -> std::optional<double> { return s.cavitating_s; }},
    ResultRow{"peak_acceleration", "m/s2", "largest forward acceleration", Better::high, [](const Summary& s) -> std::optional<double> { return s.peak_acceleration_m_s2; }},
    ResultRow{"wear_index", "s", "erosion index of the launch: head loss weighted by a power of tip speed, preset the sixth", Better::low, [](const Summary& s) -> std::optional<double> { return s.wear.erosion_index_s; }},
    ResultRow{"coast_down_distance", "m", "throttle shut at the end of the run: distance to walking pace", Better::low, [](const Summary& s) { return s.coast_down ? std::optional(s.coast_down->distance_m) : std::nullopt; }}};
// clang-format on

}  // namespace

Summary summarise(const Craft& craft, const Launch& launch) {
  Summary summary;
  read_marks(launch, summary);
  read_cavitation(launch, summary);
  read_hump(craft, launch, summary);
  read_limits(launch, summary);
  const Tally& tally = launch.tally;
  summary.peak_acceleration_m_s2 = tally.peak_acceleration_m_s2;
  summary.peak_thrust_N = tally.peak_thrust_N;
  summary.peak_trim_rad = tally.peak_trim_rad;
  summary.wear = tally.wear;
  summary.clearance_growth_m =
      wear_after(craft.wear, tally.wear, craft.worn).clearance_m - craft.worn.clearance_m;
  summary.launch_peak_shaft_speed_rad_s = craft.start.shaft_speed_rad_s;
  for (const Event* event : of_kind(launch, EventKind::rpm_peak)) {
    if (event->time_s > launch_window_s(summary) ||
        event->state.shaft_speed_rad_s <= summary.launch_peak_shaft_speed_rad_s)
      continue;
    summary.launch_peak_shaft_speed_rad_s = event->state.shaft_speed_rad_s;
    summary.launch_peak_s = event->time_s;
  }
  if (summary.launch_peak_s == 0.0 && launch.end_state.shaft_speed_rad_s > craft.start.shaft_speed_rad_s) {
    summary.launch_peak_shaft_speed_rad_s = launch.end_state.shaft_speed_rad_s;  // it never flares: no peak
    summary.launch_peak_s = launch.end_time_s;
  }
  for (std::size_t i = 0; i < flag_count; ++i)
    if (tally.flag_time_s[i] > 0.0) summary.flags.push_back({static_cast<Flag>(i), tally.flag_time_s[i]});
  summary.end_time_s = launch.end_time_s;
  summary.end_speed_m_s = launch.end_state.speed_m_s;
  summary.distance_m = launch.end_state.distance_m;
  read_top_speed(craft, launch, summary);
  add_warnings(craft, launch, summary);
  return summary;
}

CoastDown read_coast_down(const Launch& coast, const State& from) {
  return {from.speed_m_s, coast.end_state.distance_m - from.distance_m, coast.end_time_s};
}

std::span<const ResultRow> result_rows() { return results; }

}  // namespace bowrise
