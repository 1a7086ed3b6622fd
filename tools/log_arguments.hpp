// Logger files as a user names them, with what is said about their columns -> runs.
#pragma once

#include <string>
#include <vector>

#include "sim/logged_run.hpp"

namespace bowrise::tools {

struct LogArguments {
  std::vector<std::string> paths;
  std::vector<std::string> columns, units;  ///< "speed=gps_mph", "speed=mph"
  std::vector<std::string> course;          ///< out or back, for each run
};

struct LoggedRuns {
  std::vector<LoggedRun> runs;
  std::vector<std::string> notes;  ///< of logs and runs, each begins with its name
};

/// Every run of every log; what is wrong is a Stop with code 2.
[[nodiscard]] LoggedRuns runs_in(const LogArguments& options);

}  // namespace bowrise::tools
