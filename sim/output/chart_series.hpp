// Series for charts: traces of launches and tables of studies laid over the grid of a chart.
#pragma once

#include <functional>
#include <vector>

#include "models/constants.hpp"
#include "sim/launch.hpp"
#include "sim/output/chart.hpp"

namespace bowrise {

[[nodiscard]] double mph(double speed_m_s);
/// Kilometres an hour as the second reading of miles an hour.
[[nodiscard]] SecondUnit km_h();

/// Values at the abscissae of a grid, linear between points; NaN before the first and after the last.
/// @param x, grid  rising; of equal abscissae the first counts
[[nodiscard]] std::vector<double> laid_over(const std::vector<double>& x, const std::vector<double>& y,
                                            const std::vector<double>& grid);

using Quantity = std::function<double(const TraceRow&)>;

/// A quantity of a trace at rising times.
[[nodiscard]] std::vector<double> sampled(const std::vector<TraceRow>& rows, const Quantity& quantity,
                                          const std::vector<double>& times_s);

/// Times from 0 to the end, evenly, no more than a screen has columns.
[[nodiscard]] std::vector<double> chart_times(double end_s);

/// When the pump cavitates.
[[nodiscard]] std::vector<ChartSpan> cavitating_spans(const std::vector<TraceRow>& rows, std::size_t setup);

}  // namespace bowrise
