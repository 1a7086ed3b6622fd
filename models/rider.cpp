#include "models/rider.hpp"

#include <algorithm>
#include <cmath>

namespace bowrise {
namespace {

struct Waypoint {
  double time_s, lever;
};

// Where a rider's hand ends up who means `lever`. Full is a stop, which nobody misses.
double held_lever(const Throttle& throttle, double lever) {
  return lever >= 1.0 ? 1.0 : std::min(lever * (1.0 + throttle.lever_error), 1.0);
}

// Corners of the lever before the idle floor: from shut at t = 0, never faster than the hand.
std::vector<Waypoint> waypoints(const Throttle& throttle) {
  const double hand = throttle.hand_rate_1_s, late_s = throttle.timing_error_s;
  std::vector<Waypoint> points{{0.0, 0.0}};
  const auto reachable_s = [&](double lever) {
    return points.back().time_s + std::abs(lever - points.back().lever) / hand;
  };
  const auto move = [&](double start_s, double lever) {
    if (start_s > points.back().time_s) points.push_back({start_s, points.back().lever});
    if (lever != points.back().lever) points.push_back({reachable_s(lever), lever});
  };
  switch (throttle.plan) {
    case Plan::pinned:
      move(0.0, 1.0);
      break;
    case Plan::ramp:
      points.push_back({std::max(throttle.ramp_time_s + late_s, 1.0 / hand), 1.0});
      break;
    case Plan::staged:
      move(0.0, held_lever(throttle, throttle.stage_level));
      move(throttle.stage_time_s + late_s, 1.0);
      break;
    case Plan::table:
      for (const auto& row : throttle.table) {
        const double lever = held_lever(throttle, row[1]);
        const double time_s = row[0] > 0.0 ? row[0] + late_s : 0.0;
        if (const double soonest_s = reachable_s(lever); time_s > soonest_s * (1.0 + 1e-9))
          points.push_back({time_s, lever});
        else
          points.push_back({soonest_s, lever});
      }
      break;
    case Plan::hold:
    case Plan::rider:
    case Plan::ideal:
      break;
  }
  return points;
}

void add_piece(std::vector<LeverSegment>& segments, double start_s, double level, double rate_1_s) {
  if (!segments.empty() && segments.back().rate_1_s == rate_1_s && segments.back().lever(start_s) == level)
    return;
  segments.push_back({start_s, level, rate_1_s});
}

// A straight piece, held at the floor where it would pass below. A piece that only touches the floor at one
// of its ends has no crossing inside: a segment there would have no length.
void add_floored(std::vector<LeverSegment>& segments, Waypoint from, Waypoint to, double floor) {
  if (from.lever <= floor && to.lever <= floor) return add_piece(segments, from.time_s, floor, 0.0);
  const double rate = (to.lever - from.lever) / (to.time_s - from.time_s);
  const double crossing_s = from.time_s + (rate != 0.0 ? (floor - from.lever) / rate : 0.0);
  const bool crosses_inside = from.time_s < crossing_s && crossing_s < to.time_s;
  if (from.lever < floor) {
    add_piece(segments, from.time_s, floor, 0.0);
    if (crosses_inside) add_piece(segments, crossing_s, floor, rate);
  } else {
    add_piece(segments, from.time_s, from.lever, rate);
    if (crosses_inside && to.lever < floor) add_piece(segments, crossing_s, floor, 0.0);
  }
}

}  // namespace

std::vector<LeverSegment> lever_segments(const Throttle& throttle, double floor) {
  const std::vector<Waypoint> points = waypoints(throttle);
  std::vector<LeverSegment> segments;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) add_floored(segments, points[i], points[i + 1], floor);
  add_piece(segments, points.back().time_s, std::max(points.back().lever, floor), 0.0);
  return segments;
}

LeverSegment decided_segment(const Throttle& throttle, double time_s, double lever, double wanted_lever,
                             double floor) noexcept {
  const double aim = std::max(held_lever(throttle, wanted_lever), floor);
  const double hand = throttle.hand_rate_1_s;
  return {time_s, lever, std::clamp((aim - lever) / throttle.decision_time_s, -hand, hand)};
}

Problems check(const Throttle& throttle) {
  if (throttle.plan != Plan::table) return {};
  if (throttle.table.empty()) return {{"throttle.table", "missing for plan table", "rows of [time, lever]"}};
  double time_s = 0.0, lever = 0.0;
  for (const auto& row : throttle.table) {
    const double reachable_s = std::abs(row[1] - lever) / throttle.hand_rate_1_s;
    const bool opens_at_once =
        row[0] == 0.0;  // the first row may say where the lever goes as fast as the hand can
    if (!opens_at_once && row[0] - time_s < reachable_s * (1.0 - 1e-9))
      return {{"throttle.table", "moves the lever faster than throttle.hand_rate",
               "leave the hand time between rows, or raise throttle.hand_rate"}};
    time_s = opens_at_once ? reachable_s : row[0];
    lever = row[1];
  }
  return {};
}

}  // namespace bowrise
