#include "sim/output/page_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "models/constants.hpp"
#include "sim/output/chart_series.hpp"

namespace bowrise {
namespace {

constexpr double no_value = std::numeric_limits<double>::quiet_NaN();
/// Values of a column of a curve table at the abscissae that it was asked for; NaN where it has no row.
std::vector<double> column_at(const CurveTable& table, std::string_view axis, std::string_view column,
                              const std::vector<double>& at, double per_unit) {
  const auto index = [&](std::string_view name) {
    return static_cast<std::size_t>(std::find(table.columns.begin(), table.columns.end(), name) -
                                    table.columns.begin());
  };
  std::vector<double> values(at.size(), no_value);
  const std::size_t x = index(axis), y = index(column);
  for (const auto& row : table.rows) {
    const double here = std::get<double>(row.at(x)) / per_unit;
    for (std::size_t i = 0; i < at.size(); ++i)
      if (std::abs(at[i] - here) <= 1e-6 * std::max(1.0, std::abs(at[i])))
        values[i] = std::get<double>(row.at(y));
  }
  return values;
}

std::vector<double> time_grid(const Report& report) {
  double end = 0.0;
  for (const SetupReport& setup : report.setups)
    if (!setup.launch.rows.empty()) end = std::max(end, setup.launch.rows.back().time_s);
  return chart_times(end);
}

struct TraceQuantity {
  std::string suffix;  ///< of the line's name
  LineWeight weight;
  Quantity quantity;
};

Chart trace_chart(const Report& report, const std::vector<double>& times, Chart chart,
                  const std::vector<TraceQuantity>& quantities) {
  chart.grid = "time";
  for (std::size_t i = 0; i < report.setups.size(); ++i)
    for (const TraceQuantity& q : quantities)
      chart.lines.push_back(
          {letter_of(i) + q.suffix, i, q.weight, sampled(report.setups[i].launch.rows, q.quantity, times)});
  return chart;
}

std::vector<ChartSpan> all_cavitating_spans(const Report& report) {
  std::vector<ChartSpan> all;
  for (std::size_t i = 0; i < report.setups.size(); ++i)
    for (const ChartSpan& span : cavitating_spans(report.setups[i].launch.rows, i)) all.push_back(span);
  return all;
}

std::vector<ChartLevel> limiter_levels(const Report& report) {
  std::vector<ChartLevel> levels;
  for (std::size_t i = 0; i < report.setups.size(); ++i) {
    const double value = std::round(report.setups[i].craft.limiter_rad_s * rpm_per_rad_s);
    const auto same =
        std::find_if(levels.begin(), levels.end(), [&](const auto& l) { return l.value == value; });
    if (same == levels.end())
      levels.push_back({value, i, fmt::format("limiter {:.0f} {}", value, letter_of(i))});
    else
      same->label += letter_of(i);
  }
  return levels;
}

std::vector<ChartPoint> hook_up_points(const Report& report) {
  std::vector<ChartPoint> points;
  for (std::size_t i = 0; i < report.setups.size(); ++i) {
    const Summary& s = report.setups[i].summary;
    if (s.hook_up_s)
      points.push_back({*s.hook_up_s, mph(*s.hook_up_speed_m_s), i,
                        fmt::format("{} hook-up {:.2f} s", letter_of(i), *s.hook_up_s)});
  }
  return points;
}

// Where the ram of the speed lifts the suction head far above what is required, nothing is at stake.
void cut_to_required(Chart& chart) {
  double required = 0.0;
  for (const ChartLine& line : chart.lines)
    if (line.weight == LineWeight::thin)
      for (const double value : line.values)
        if (value > required) required = value;
  chart.ceiling = 2.5 * std::max(required, 1.0);
}

void add_difference(const Report& report, Charts& charts) {
  if (report.setups.size() < 2) return;
  const std::vector<ChartLine> speeds = charts.charts.front().lines;  // the speed chart
  Chart chart{"difference", "Speed less that of A", "Above 0: faster than A at that time.", "time", "mph", 2,
              km_h()};
  for (std::size_t i = 1; i < speeds.size(); ++i) {
    std::vector<double> values(speeds[i].values.size());
    for (std::size_t k = 0; k < values.size(); ++k) values[k] = speeds[i].values[k] - speeds[0].values[k];
    chart.lines.push_back({letter_of(i) + " less A", i, LineWeight::thick, std::move(values)});
  }
  charts.charts.push_back(std::move(chart));
}

void add_traces(const Report& report, Charts& charts) {
  const std::vector<double> times = time_grid(report);
  charts.grids["time"] = {"time", "s", 2, {}, times};
  auto& out = charts.charts;
  Chart speed{"speed", "Speed", "The dot is hook-up: cavitation has given way.", "", "mph", 2, km_h()};
  speed.points = hook_up_points(report);
  out.push_back(trace_chart(report, times, speed, {{"", LineWeight::thick, [](const TraceRow& r) {
                                                      return mph(r.state.speed_m_s);
                                                    }}}));
  add_difference(report, charts);
  Chart shaft{"shaft", "Shaft speed", "The level line is the rev limiter.", "", "rpm", 0, {}};
  shaft.levels = limiter_levels(report);
  out.push_back(trace_chart(report, times, shaft, {{"", LineWeight::thick, [](const TraceRow& r) {
                                                      return r.state.shaft_speed_rad_s * rpm_per_rad_s;
                                                    }}}));
  out.push_back(trace_chart(report, times,
                            {"forces", "Thrust and drag", "Thick: thrust. Thin: drag.", "", "N", 0, {}},
                            {{" thrust", LineWeight::thick, [](const TraceRow& r) { return r.now.thrust_N; }},
                             {" drag", LineWeight::thin, [](const TraceRow& r) { return r.now.drag_N; }}}));
  Chart suction{
      "suction",
      "Suction head (NPSH)",
      "Thick: available. Thin: required. Shaded: A cavitates; a lane at the foot for each setup. Values far "
      "above the required head are not shown.",
      "",
      "m",
      1,
      {}};
  suction.spans = all_cavitating_spans(report);
  out.push_back(trace_chart(report, times, suction,
                            {{" available", LineWeight::thick,
                              [](const TraceRow& r) { return r.now.npsh_available_J_kg / gravity_m_s2; }},
                             {" required", LineWeight::thin,
                              [](const TraceRow& r) { return r.now.npsh_required_J_kg / gravity_m_s2; }}}));
  cut_to_required(out.back());
  out.push_back(
      trace_chart(report, times, {"throttle", "Throttle", "Lever and idle floor together.", "", "%", 1, {}},
                  {{"", LineWeight::thick, [](const TraceRow& r) { return 100.0 * r.now.command; }}}));
  out.push_back(trace_chart(
      report, times, {"trim", "Trim", "Bow up.", "", "deg", 2, {}},
      {{"", LineWeight::thick, [](const TraceRow& r) { return r.state.trim_rad / radians_per_degree; }}}));
}

using TableOf = std::function<const CurveTable&(const SetupReport&)>;

void add_curve(const Report& report, const TableOf& table, std::string_view column, const std::string& suffix,
               LineWeight weight, Chart& chart) {
  for (std::size_t i = 0; i < report.setups.size(); ++i)
    chart.lines.push_back({letter_of(i) + suffix, i, weight,
                           column_at(table(report.setups[i]), "speed_m_s", column, report.speeds_m_s, 1.0)});
}

void add_speed_curves(const Report& report, Charts& charts) {
  ChartGrid grid{"speed held", "mph", 1, km_h(), {}};
  for (const double speed : report.speeds_m_s) grid.values.push_back(mph(speed));
  charts.grids["speed"] = grid;
  Chart forces{"steady-forces",
               "Thrust and drag at full throttle",
               "Craft held at each speed. Thick: thrust. Thin: drag. They cross at top speed.",
               "speed",
               "N",
               0,
               {}};
  const auto hull = [](const SetupReport& s) -> const CurveTable& { return s.hull; };
  add_curve(report, hull, "thrust_N", " thrust", LineWeight::thick, forces);
  add_curve(report, hull, "drag_N", " drag", LineWeight::thin, forces);
  for (std::size_t i = 0; i < report.setups.size(); ++i) {
    const Summary& s = report.setups[i].summary;
    if (s.top_speed_m_s && s.top_speed_thrust_N)
      forces.points.push_back({mph(*s.top_speed_m_s), *s.top_speed_thrust_N, i,
                               fmt::format("{} {:.1f} mph, {:.1f} km/h", letter_of(i), mph(*s.top_speed_m_s),
                                           mph(*s.top_speed_m_s) * km_h().factor)});
  }
  charts.charts.push_back(std::move(forces));
  Chart margin{"steady-suction",
               "Suction head at full throttle",
               "Jet unit held level. Thick: available. Thin: at which 3 % of the head is lost. Values far "
               "above are not shown.",
               "speed",
               "m",
               1,
               {}};
  const auto suction = [](const SetupReport& s) -> const CurveTable& { return s.cavitation; };
  add_curve(report, suction, "npsh_available_m", " available", LineWeight::thick, margin);
  add_curve(report, suction, "npsh_3_m", " 3 %", LineWeight::thin, margin);
  cut_to_required(margin);
  charts.charts.push_back(std::move(margin));
}

void add_torque_curves(const Report& report, Charts& charts) {
  ChartGrid grid{"shaft speed", "rpm", 0, {}, {}};
  for (const double speed : report.shaft_speeds_rad_s) grid.values.push_back(speed * rpm_per_rad_s);
  Chart chart{"torque",
              "Engine and pump torque",
              "Thick: engine, limiter included. Thin: pump, jet unit held level, at rest (0) and at "
              "top speed (top); points without a steady answer are bridged.",
              "rpm",
              "N m",
              1,
              {}};
  for (std::size_t i = 0; i < report.setups.size(); ++i) {
    const SetupReport& setup = report.setups[i];
    chart.lines.push_back({letter_of(i) + " engine", i, LineWeight::thick,
                           column_at(setup.engine, "shaft_rpm", "torque_Nm", grid.values, 1.0)});
    for (const PumpTorqueCurve& pump : setup.pump) {
      std::vector<double> torque = column_at(pump.table, "shaft_rpm", "shaft_power_W", grid.values, 1.0);
      for (std::size_t k = 0; k < torque.size(); ++k) torque[k] /= report.shaft_speeds_rad_s[k];
      chart.lines.push_back({letter_of(i) + (pump.speed_m_s == 0.0 ? " pump 0" : " pump top"), i,
                             LineWeight::thin, std::move(torque)});
    }
  }
  charts.grids["rpm"] = std::move(grid);
  charts.charts.push_back(std::move(chart));
}

}  // namespace

std::string letter_of(std::size_t setup) { return std::string(line_style(setup).letter); }

Charts report_charts(const Report& report) {
  Charts charts;
  add_traces(report, charts);
  add_speed_curves(report, charts);
  add_torque_curves(report, charts);
  return charts;
}

}  // namespace bowrise
