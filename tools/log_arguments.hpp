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

/// Every run of every log; what is wrong is a Stop with code 2.
[[nodiscard]] std::vector<LoggedRun> runs_in(const LogArguments& options);

}  // namespace bowrise::tools
