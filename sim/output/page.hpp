// A report as one HTML file that needs no network: static charts for every browser, and on top of them, where
// scripts may run, a shared cursor, zoom and values under it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/output/stored_result.hpp"
#include "sim/scenario/read.hpp"
#include "sim/study/report.hpp"

namespace bowrise {

/// @param scenarios  those of the report's setups, in their order; at most `most_overlaid`
/// @param report  none of its setups failed
/// @param stored  the earlier run of each scenario, where there was one: the page says what has changed
/// since; empty: no runs
[[nodiscard]] std::string report_page(const std::vector<Scenario>& scenarios, const Report& report,
                                      const std::vector<std::optional<StoredResult>>& stored = {});

}  // namespace bowrise
