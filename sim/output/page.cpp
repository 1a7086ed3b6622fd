#include "sim/output/page.hpp"

#include <fmt/format.h>

#include "sim/output/cautions.hpp"
#include "sim/output/html.hpp"
#include "sim/output/json.hpp"
#include "sim/output/page_charts.hpp"
#include "sim/output/page_files.hpp"
#include "sim/output/page_tables.hpp"
#include "sim/scenario/write.hpp"

namespace bowrise {
namespace {

/// Without the pointer to a source map, which is not there.
std::string without_source_map(std::string_view file) {
  std::string text(file);
  for (const std::string_view mark : {"//# sourceMappingURL=", "/*# sourceMappingURL="})
    if (const auto at = text.rfind(mark); at != std::string::npos) text.erase(at);
  return text;
}

std::string swatch(std::size_t setup) {
  const LineStyle& style = line_style(setup);
  std::string dashes;
  for (const int dash : style.dashes) dashes += (dashes.empty() ? "" : " ") + std::to_string(dash);
  return fmt::format(
      "<svg class=\"swatch\" width=\"60\" height=\"16\" aria-hidden=\"true\"><line x1=\"2\" x2=\"58\" "
      "y1=\"8\" "
      "y2=\"8\" stroke=\"{}\" stroke-width=\"3\"{}/></svg>",
      style.colour, dashes.empty() ? "" : " stroke-dasharray=\"" + dashes + "\"");
}

std::string legend(const std::vector<Scenario>& scenarios, const Report& report) {
  std::string out = "<ul class=\"setups\">\n";
  for (std::size_t i = 0; i < scenarios.size(); ++i) {
    out += fmt::format("<li><b class=\"letter\">{}</b>{}<span class=\"name\">{}</span>", letter_of(i),
                       swatch(i), escaped(report.setups[i].name));
    if (!scenarios[i].note.empty()) out += "<br><small>" + escaped(scenarios[i].note) + "</small>";
    out += "</li>\n";
  }
  return out + "</ul>\n";
}

std::string headline(const Report& report) {
  std::string out = report.setups.front().name;
  for (std::size_t i = 1; i < report.setups.size(); ++i) out += " / " + report.setups[i].name;
  return escaped(out);
}

std::string figure(const Chart& chart, const ChartGrid& grid) {
  return fmt::format(
      "<figure id=\"{}\"><figcaption><b>{}</b>, {}. {}</figcaption>\n<div class=\"still\">{}</div>\n"
      "<output class=\"reading\"></output></figure>\n",
      chart.id, escaped(chart.title),
      escaped(chart.unit + (chart.second.factor > 0.0 ? " (" + chart.second.unit + ")" : "")),
      escaped(chart.caption), chart_svg(chart, grid));
}

std::string figures(const Charts& charts, bool traces) {
  std::string out;
  for (const Chart& chart : charts.charts)
    if ((chart.grid == "time") == traces) out += figure(chart, charts.grids.find(chart.grid)->second);
  return out;
}

std::string items(const std::vector<std::string>& texts) {
  std::string out;
  for (const std::string& text : texts) out += "<li>" + escaped(text) + "</li>\n";
  return out;
}

std::string warnings(const std::vector<Scenario>& scenarios, const Report& report) {
  std::string out;
  for (std::size_t i = 0; i < scenarios.size(); ++i) {
    std::vector<std::string> texts = report.setups[i].summary.warnings;
    for (const Complaint& complaint : scenarios[i].warnings) texts.push_back(to_string(complaint));
    out += "<h3>" + letter_of(i) + "</h3>\n";
    out += texts.empty() ? "<p>None.</p>\n" : "<ul>\n" + items(texts) + "</ul>\n";
  }
  return out;
}

std::string fingerprints(const std::vector<Scenario>& scenarios) {
  std::string out;
  for (std::size_t i = 0; i < scenarios.size(); ++i)
    out += fmt::format("<li>{}: <code>{}</code>, {}</li>\n", letter_of(i), scenario_hash(scenarios[i].setup),
                       escaped(scenarios[i].files.front()));
  return out;
}

}  // namespace

std::string report_page(const std::vector<Scenario>& scenarios, const Report& report) {
  const Charts charts = report_charts(report);
  return filled(page_template(), {{"headline", headline(report)},
                                  {"style", std::string(page_style())},
                                  {"library_style", without_source_map(chart_library_style())},
                                  {"legend", legend(scenarios, report)},
                                  {"results", result_tables(report)},
                                  {"limits", limit_strips(report)},
                                  {"traces", figures(charts, true)},
                                  {"curves", figures(charts, false)},
                                  {"costs", cost_tables(report)},
                                  {"setups", setup_table(scenarios)},
                                  {"warnings", warnings(scenarios, report)},
                                  {"cautions", items({cautions.begin(), cautions.end()})},
                                  {"version", std::string(version())},
                                  {"fingerprints", fingerprints(scenarios)},
                                  {"data", charts_json(charts)},
                                  {"library", without_source_map(chart_library())},
                                  {"script", std::string(page_script())}});
}

}  // namespace bowrise
