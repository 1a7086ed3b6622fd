// Logger files: comma-separated values with a header -> samples in SI -> runs.
//
// Columns are known by their usual names (sim/scenario/log_columns.cpp), or named by the user; units stand in
// the header, "speed (mph)" or "speed_kmh", in a line under it, behind each number, or are given by the user.
// A number without a unit is refused, but for time (seconds, or what its steps can only be), shaft speed
// (rpm), heading (degrees) and throttle (a share, or percent when it goes above 1.5), which loggers write
// without one.
//
// What loggers do as a rule is read and, where something was put right or left out, noted: lines before the
// header and behind the samples, clock times, repeated stamps, words for no reading, a spike.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "sim/logged_run.hpp"
#include "sim/scenario/document.hpp"

namespace bowrise {

/// What the user says about columns; quantities are time, speed, rpm, throttle, heading.
struct LogOptions {
  std::map<std::string, std::string, std::less<>> columns;  ///< quantity -> name in the header
  std::map<std::string, std::string, std::less<>> units;    ///< quantity -> unit
};

/// The quantities that a log may hold, "time, speed, rpm, throttle, heading".
[[nodiscard]] std::string log_quantities();
[[nodiscard]] bool is_log_quantity(std::string_view name);

inline constexpr std::size_t largest_log_bytes = 32U << 20U;
inline constexpr std::size_t most_log_samples = 400'000;

struct Log {
  std::string file;
  std::vector<LoggedSample> samples;  ///< time rising strictly from 0
  std::vector<std::string> notes;     ///< what was put right or left out, each a line
};

/// @return the log, or the first thing that makes it unusable, with line and column
[[nodiscard]] std::variant<Log, Complaint> read_log(const std::filesystem::path& path,
                                                    const LogOptions& options = {});
/// The same with the content at hand; `file` names it in complaints.
[[nodiscard]] std::variant<Log, Complaint> read_log_text(std::string_view text, const std::string& file,
                                                         const LogOptions& options = {});

/// Launches in a log: standstill or a steady crawl, a rise past 5 m/s, at least 2 s, up to where the throttle
/// is let go or the speed falls away from its best.
/// @return at least one run, or why there is none
[[nodiscard]] std::variant<std::vector<LoggedRun>, Complaint> runs_of(const Log& log);

}  // namespace bowrise
