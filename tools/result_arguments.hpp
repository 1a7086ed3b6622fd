// Where a verb takes scenario files and results of earlier runs alike.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/output/stored_result.hpp"
#include "sim/scenario/read.hpp"

namespace bowrise::tools {

struct ScenarioOrResult {
  Scenario scenario;
  std::optional<StoredResult> stored;  ///< when the user named the folder of a run
};

/// Reads a scenario file, or the setup that lies in the folder of a run. A folder that is no result, one
/// whose setup was changed since its run, or --set on one is a Stop with code 2.
[[nodiscard]] ScenarioOrResult load_scenario_or_result(const std::string& path,
                                                       const std::vector<std::string>& set);

}  // namespace bowrise::tools
