// Results: what a launch is read down to. One row per number: name, unit, meaning, which way is better.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/craft.hpp"
#include "sim/launch.hpp"
#include "sim/steady.hpp"

namespace bowrise {

enum class Better { low, high, neither };

/// One time at which a mark was passed.
struct Mark {
  std::string name;  ///< "30 mph"
  bool is_speed;
  std::optional<double> time_s;  ///< empty: not reached
  double speed_m_s;              ///< there
  double distance_m;
};

struct FlagTime {
  Flag flag;
  double time_s;
};

/// Throttle shut at the end of a run: how far and how long to rest.
struct CoastDown {
  double from_speed_m_s, distance_m, time_s;
};
[[nodiscard]] CoastDown read_coast_down(const Launch& coast, const State& from);

/// A summary of one launch. Values that did not happen are empty.
struct Summary {
  std::vector<Mark> marks;
  std::optional<double> top_speed_m_s, top_speed_shaft_speed_rad_s, top_speed_trim_rad,
      top_speed_inlet_velocity_ratio;
  std::optional<double> top_speed_propulsive_efficiency, top_speed_jet_ratio, top_speed_nozzle_ratio,
      top_speed_thrust_N, top_speed_power_W;
  bool still_accelerating = false;  ///< the run ended before its top speed

  std::optional<double> first_cavitation_s, hook_up_s, hook_up_speed_m_s, hump_s, hump_speed_m_s,
      hump_trim_rad;
  double cavitating_s = 0.0;
  double launch_peak_shaft_speed_rad_s = 0.0, launch_peak_s = 0.0;
  double peak_acceleration_m_s2 = 0.0, peak_thrust_N = 0.0, peak_trim_rad = 0.0;
  WearExposure wear;
  double clearance_growth_m = 0.0;  ///< that this launch cost
  std::array<double, limit_words.size()> limited_s{};
  std::vector<FlagTime> flags;  ///< only those raised
  double end_time_s = 0.0, end_speed_m_s = 0.0, distance_m = 0.0;
  std::optional<CoastDown> coast_down;  ///< only when asked for
  std::vector<std::string> warnings;
};

/// Reads a launch down. Finds the steady top speed by root finding from where the launch ended.
[[nodiscard]] Summary summarise(const Craft& craft, const Launch& launch);

/// A result that studies can rank, solve for and compare.
struct ResultRow {
  std::string_view name, unit, meaning;
  Better better;
  std::optional<double> (*get)(const Summary&);  ///< in the unit
};
[[nodiscard]] std::span<const ResultRow> result_rows();

}  // namespace bowrise
