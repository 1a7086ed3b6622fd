#include "sim/output/plot_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "models/constants.hpp"
#include "sim/output/chart.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

constexpr std::size_t margin = 7;         // labels of the ordinate and the axis
constexpr std::size_t plot_columns = 65;  // margin and columns make 72
constexpr std::size_t plot_lines = 8;

using Quantity = double (*)(const TraceRow&);

/// Lowest and highest value of the rows that fall into each column: a flare shorter than a column is not
/// lost.
struct Column {
  double low = 0.0, high = 0.0;
};

std::vector<Column> columns_of(const std::vector<TraceRow>& rows, Quantity quantity) {
  const double end = rows.back().time_s;
  std::vector<Column> out;
  std::size_t next = 0;
  for (std::size_t i = 0; i < plot_columns; ++i) {
    const double until = end * static_cast<double>(i + 1) / static_cast<double>(plot_columns);
    const double here = quantity(rows[std::min(next, rows.size() - 1)]);
    Column column{here, here};
    for (; next < rows.size() && (rows[next].time_s < until || i + 1 == plot_columns); ++next) {
      column.low = std::min(column.low, quantity(rows[next]));
      column.high = std::max(column.high, quantity(rows[next]));
    }
    out.push_back(column);
  }
  return out;
}

/// Line of a value, counted from the foot.
std::size_t line_of(double value, double top) {
  const double share = std::clamp(value / top, 0.0, 1.0);
  return static_cast<std::size_t>(std::lround(share * static_cast<double>(plot_lines - 1)));
}

/// A top for the ordinate that is round and not below the highest value.
double round_top(const std::vector<Column>& shown) {
  double high = 0.0;
  for (const Column& column : shown) high = std::max(high, column.high);
  if (high <= 0.0) return 1.0;
  const double power = std::pow(10.0, std::floor(std::log10(high)));
  for (const double step : {1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0})
    if (step * power >= high) return step * power;
  return 10.0 * power;
}

std::string panel(const std::string& title, const std::vector<TraceRow>& rows, Quantity quantity) {
  const std::vector<Column> shown = columns_of(rows, quantity);
  const double top = round_top(shown);
  std::string text = title + "\n";
  for (std::size_t line = plot_lines; line-- > 0;) {
    const bool labelled = line == plot_lines - 1 || line == 0;
    std::string row = labelled ? fmt::format("{:>5} |", tick_text(line == 0 ? 0.0 : top)) : "      |";
    for (const Column& column : shown)
      row += line_of(column.low, top) <= line && line <= line_of(column.high, top) ? '*' : ' ';
    row.erase(row.find_last_not_of(' ') + 1);
    text += row + "\n";
  }
  return text;
}

std::string time_axis(double end_s) {
  std::string rule(margin - 1, ' '), labels(margin + plot_columns, ' ');
  rule += '+' + std::string(plot_columns, '-');
  for (const double tick : ticks(0.0, end_s, 7)) {
    const auto at = static_cast<std::size_t>(std::min(
        std::floor(tick / end_s * static_cast<double>(plot_columns)), static_cast<double>(plot_columns - 1)));
    const std::string label = tick_text(tick);
    if (margin + at + label.size() > labels.size()) continue;
    rule[margin + at] = '+';
    labels.replace(margin + at, label.size(), label);
  }
  labels.erase(labels.find_last_not_of(' ') + 1);
  return rule + "\n" + labels + (labels.size() + 2 <= margin + plot_columns ? " s" : "") + "\n";
}

}  // namespace

std::string plot_text(const Launch& launch) {
  const std::vector<TraceRow>& rows = launch.rows;
  if (rows.empty() || rows.back().time_s <= 0.0) return "";
  return panel("speed, mph", rows, [](const TraceRow& r) { return in_unit(r.state.speed_m_s, "mph"); }) +
         panel("shaft speed, rpm", rows,
               [](const TraceRow& r) { return r.state.shaft_speed_rad_s * rpm_per_rad_s; }) +
         panel("head lost to cavitation, %", rows,
               [](const TraceRow& r) { return 100.0 * (1.0 - r.now.head_factor); }) +
         time_axis(rows.back().time_s);
}

}  // namespace bowrise
