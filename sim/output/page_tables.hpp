// Tables of a report as HTML.
#pragma once

#include <string>
#include <vector>

#include "sim/scenario/read.hpp"
#include "sim/study/report.hpp"

namespace bowrise {

/// Results of every setup, differences to the first and, where draws were asked for, bands and verdicts.
[[nodiscard]] std::string result_tables(const Report& report);

/// What each limit costs, a table for each setup.
[[nodiscard]] std::string cost_tables(const Report& report);

/// Inputs that are not at their presets in any setup; those unlike the first setup's are marked.
[[nodiscard]] std::string setup_table(const std::vector<Scenario>& scenarios);

}  // namespace bowrise
