// A run as a logger on the craft saw it, in SI. What a reader of files makes, and what a fit is made to.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace bowrise {

/// One line of a log; what the logger left out is empty.
struct LoggedSample {
  double time_s;
  std::optional<double> speed_m_s;          ///< over ground
  std::optional<double> shaft_speed_rad_s;  ///< of impeller and engine
  std::optional<double> throttle;           ///< 0 shut, 1 open
  std::optional<double> heading_rad;        ///< course over ground
};

/// One launch cut out of a log: from standstill, or a steady crawl, until the throttle is shut or the speed
/// falls away.
struct LoggedRun {
  std::string name;  ///< "lake.csv, run 2"
  std::vector<LoggedSample> samples;
  double start_s;                    ///< where the throttle seems to open, on the clock of the samples
  std::optional<double> idle_rad_s;  ///< shaft speed before that
  double course = 1.0;               ///< cosine of its course to that of the first run
  double rolling_m_s = 0.0;          ///< speed at the start, 0 from standstill
  std::vector<std::string> notes{};  ///< what was left out or looks odd, each a line
};

}  // namespace bowrise
