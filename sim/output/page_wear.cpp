#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "sim/output/chart_series.hpp"
#include "sim/output/html.hpp"
#include "sim/output/page_bars.hpp"
#include "sim/output/page_charts.hpp"
#include "sim/output/page_frame.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/output/study_words.hpp"
#include "sim/output/text.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

constexpr std::size_t grid_points = 200, table_lines = 9;

using PointQuantity = std::function<double(const WearPoint&)>;

double in_mm(double length_m) { return in_unit(length_m, "mm"); }

double value_at(const WearPoint& point, std::string_view result) {
  return point.outcome.values[result_index(result)].value_or(std::numeric_limits<double>::quiet_NaN());
}

std::vector<double> course_of(const WearLife& life, const PointQuantity& quantity,
                              const std::vector<double>& launches) {
  std::vector<double> x, y;
  for (const WearPoint& point : life.points) {
    x.push_back(point.launches);
    y.push_back(quantity(point));
  }
  return laid_over(x, y, launches);
}

Charts charts_of(const std::vector<WearLife>& lives, const WearOptions& options) {
  Charts charts;
  std::vector<double> launches;
  for (std::size_t i = 0; i <= grid_points; ++i)
    launches.push_back(options.launches * static_cast<double>(i) / static_cast<double>(grid_points));
  charts.grids["launches"] = {"launches", "launches", 0, {}, launches};
  const auto add = [&](Chart chart, const PointQuantity& quantity) {
    chart.grid = "launches";
    for (std::size_t i = 0; i < lives.size(); ++i)
      if (!lives[i].points.empty())
        chart.lines.push_back({letter_of(i), i, LineWeight::thick, course_of(lives[i], quantity, launches)});
    charts.charts.push_back(std::move(chart));
  };
  Chart gap{"gap", "Ring gap", "The level lines: amber from 0.5 mm, red from 1.0 mm.", "",
            "mm",  3,          {"thousandths of an inch", in_unit(1e-3, "thou")}};
  gap.levels = {{in_mm(amber_gap_m), 0, "amber"}, {in_mm(red_gap_m), 0, "red"}};
  add(std::move(gap), [](const WearPoint& p) { return in_mm(p.state.clearance_m); });
  add({"time-to-30", "Time to 30 mph", "No line: 30 mph is not reached.", "", "s", 2, {}},
      [](const WearPoint& p) { return value_at(p, "time_to_30_mph"); });
  add({"cavitating", "Time cavitating in a launch", "", "", "s", 2, {}},
      [](const WearPoint& p) { return value_at(p, "cavitating_time"); });
  Chart top{"top-speed", "Top speed", "", "", "mph", 2, km_h()};
  top.from_zero = false;
  add(std::move(top), [](const WearPoint& p) { return mph(value_at(p, "top_speed")); });
  add({"edge", "Leading edge lost", "", "", "mm", 3, {}},
      [](const WearPoint& p) { return in_mm(p.state.edge_loss_m); });
  add({"growth", "What one more launch adds to the gap", "", "", "thousandths of a mm", 3, {}},
      [](const WearPoint& p) { return 1e3 * in_mm(p.growth_per_launch_m); });
  return charts;
}

std::string launches_text(const std::optional<double>& launches, const WearOptions& options) {
  return launches ? fmt::format("after {:.0f} launches", *launches)
                  : fmt::format("not within {:.0f}", options.launches);
}

HtmlCell limit_cell(const std::optional<double>& launches, const std::optional<Band>& band,
                    const WearOptions& options) {
  std::string html = escaped(launches_text(launches, options));
  if (band)
    html +=
        fmt::format("<br><small>5\u201395 % of the {} of {} draws that get there: {:.0f} to {:.0f}</small>",
                    band->answered, band->drawn, band->low, band->high);
  std::vector<BarRange> ranges;
  if (band) ranges.push_back({band->low, band->high, true});
  return range_cell(html, {0.0, options.launches}, ranges, std::nullopt, launches);
}

std::string limit_table(const std::vector<WearLife>& lives, const WearOptions& options) {
  HtmlLines lines{{plain("until")},
                  {plain(fmt::format("30 mph takes {:.2g} s longer, or is lost", options.slower_s))},
                  {plain("gap 0.5 mm, amber")},
                  {plain("gap 1.0 mm, red")},
                  {plain("gap doubled")}};
  for (std::size_t i = 0; i < lives.size(); ++i) {
    const WearLife& life = lives[i];
    lines[0].push_back(plain(letter_of(i)));
    if (life.points.empty()) {
      for (std::size_t line = 1; line < lines.size(); ++line) lines[line].push_back(plain("no launch"));
      continue;
    }
    lines[1].push_back(limit_cell(life.limits.slower, life.slower_band, options));
    lines[2].push_back(limit_cell(life.limits.amber, std::nullopt, options));
    lines[3].push_back(limit_cell(life.limits.red, life.red_band, options));
    lines[4].push_back(limit_cell(life.limits.doubled, std::nullopt, options));
  }
  return html_table(fmt::format("Life, in launches; the scale of the bars ends at {:.0f}", options.launches),
                    lines);
}

/// What one launch wears, as the pump is now.
std::string strategy_table(const std::vector<WearLife>& lives) {
  double most = 0.0;
  for (const WearLife& life : lives)
    if (!life.points.empty()) most = std::max(most, life.points.front().growth_per_launch_m);
  HtmlLines lines{{plain(""), plain("gap a launch"), plain("0-30 mph"), plain("last launch over first")}};
  for (std::size_t i = 0; i < lives.size(); ++i) {
    if (lives[i].points.empty()) continue;
    const WearPoint &first = lives[i].points.front(), &last = lives[i].points.back();
    const double growth = first.growth_per_launch_m;
    const ResultRow& row = result_rows()[result_index("time_to_30_mph")];
    lines.push_back({plain(letter_of(i)),
                     bar_cell(fmt::format("{:.2f} thousandths of a mm", 1e3 * in_mm(growth)),
                              most > 0.0 ? growth / most : 0.0),
                     plain(result_cell(row, first.outcome.values[result_index("time_to_30_mph")])),
                     plain(growth > 0.0 ? fmt::format("{:.2f}{}", last.growth_per_launch_m / growth,
                                                      lives[i].feeds_back ? ": it feeds on itself" : "")
                                        : std::string("\u2013"))});
  }
  return html_table("One launch as the pump is now", lines);
}

/// Points of a life at about even distances, first and last among them.
std::string point_table(const WearLife& life, std::size_t index) {
  HtmlLines lines{{plain("launches"), plain("gap, mm (thou)"), plain("0-30 mph"), plain("top speed"),
                   plain("cavitating")}};
  const auto cell = [](const WearPoint& point, std::string_view result) {
    return plain(
        result_cell(result_rows()[result_index(result)], point.outcome.values[result_index(result)]));
  };
  for (const WearPoint& point : life.points) {
    const double due = life.points.back().launches * static_cast<double>(lines.size() - 1) /
                       static_cast<double>(table_lines - 1);
    if (point.launches < due && &point != &life.points.back()) continue;
    const double gap = point.state.clearance_m;
    lines.push_back({plain(fmt::format("{:.0f}", point.launches)),
                     plain(fmt::format("{:.2f} ({:.1f})", in_mm(gap), in_unit(gap, "thou"))),
                     cell(point, "time_to_30_mph"), cell(point, "top_speed"),
                     cell(point, "cavitating_time")});
  }
  return html_table(letter_of(index), lines);
}

std::string point_tables(const std::vector<WearLife>& lives) {
  std::string out;
  for (std::size_t i = 0; i < lives.size(); ++i) {
    if (!lives[i].points.empty()) out += point_table(lives[i], i);
    if (!lives[i].failure.empty())
      out += "<p>" + escaped(letter_of(i) + " ended early: " + lives[i].failure) + "</p>\n";
  }
  return out;
}

std::string legend(const std::vector<WearLife>& lives) {
  std::string out = "<ul class=\"setups\">\n";
  for (std::size_t i = 0; i < lives.size(); ++i)
    out += legend_line(i, "<span class=\"name\">" + escaped(lives[i].name) + "</span>");
  return out + "</ul>\n";
}

constexpr std::string_view measuring =
    "<p>Measure the gap with a feeler blade some 30 cm long, engine off and lanyard out, at four places of "
    "the ring, on "
    "every blade at mid-chord; the worst counts. Replace when doubled (common practice, no source; makers "
    "differ by a "
    "factor of two).</p>\n<p>Guessed are the erosion coefficient, to a factor of three, the exponent of tip "
    "speed, what "
    "a gap does to breakdown and how edges wear with the ring: ratios between ways of driving are better "
    "known than "
    "launches to a limit.</p>\n";

}  // namespace

std::string wear_page(const std::vector<Scenario>& scenarios, const std::vector<WearLife>& lives,
                      const WearOptions& options) {
  Page page{lives.front().name, "How long the ring lasts", legend(lives), {}, {}, charts_of(lives, options)};
  for (const Scenario& scenario : scenarios)
    page.sources.push_back(source_of(scenario, scenarios.size() > 1 ? name_of(scenario) : "", {}));
  page.sections = {{"life", "Life", fmt::format("Life over {:.0f} launches", options.launches),
                    limit_table(lives, options)},
                   {"courses", "Course", "Launch after launch",
                    chart_hint() + chart_box(figures(page.charts, "launches"))},
                   {"strategies", "Strategies", "Which way of driving wears less", strategy_table(lives)},
                   {"points", "Numbers", "The same in numbers", point_tables(lives)},
                   {"measure", "Measure", "Measure it, and how sure this is", std::string(measuring)}};
  return page_html(page);
}

}  // namespace bowrise
