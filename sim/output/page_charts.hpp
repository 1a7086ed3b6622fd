// Which charts a report shows, and what limits a launch when.
#pragma once

#include <string>

#include "sim/output/chart.hpp"
#include "sim/study/report.hpp"

namespace bowrise {

/// Letter of a setup in a report: "A" is the baseline.
[[nodiscard]] std::string letter_of(std::size_t setup);

/// Traces on the grid "time", steady curves on "speed" and "rpm".
[[nodiscard]] Charts report_charts(const Report& report);

/// A strip for each setup over the time of the charts: what limits when, by colour, pattern and word; then
/// its key.
[[nodiscard]] std::string limit_strips(const Report& report);

}  // namespace bowrise
