// The time stamps of a log made to rise strictly: units that no header tells, stamps that repeat, samples out
// of order, sessions that begin anew.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace bowrise {

/// Of the samples: what is rarer is left out with a note, more of it makes the log unusable.
inline constexpr double rare_share = 0.02;

struct LogStamp {
  double time;  ///< as read, in seconds if a unit was told
  int line, column;
};

struct LogTimes {
  std::vector<std::optional<double>> time_s;  ///< of each stamp, the first 0; nothing: left out
  std::vector<std::string> notes;
};

/// What makes the stamps unusable.
struct LogTimesRefused {
  int line, column;  ///< 0: the whole log
  std::string what;
};

/// @param unit_told  false: seconds are assumed, milliseconds or microseconds where seconds cannot be
/// @throws LogTimesRefused
[[nodiscard]] LogTimes rising_times(const std::vector<LogStamp>& stamps, bool unit_told);

}  // namespace bowrise
