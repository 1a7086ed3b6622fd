#include "sim/output/page_frame.hpp"

#include <fmt/format.h>

#include "sim/output/cautions.hpp"
#include "sim/output/html.hpp"
#include "sim/output/json.hpp"
#include "sim/output/page_files.hpp"
#include "sim/output/text.hpp"
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

std::string link(std::string_view id, std::string_view name) {
  return fmt::format("<a href=\"#{}\">{}</a> ", id, escaped(name));
}

std::string navigation(const std::vector<PageSection>& sections) {
  std::string out;
  for (const PageSection& section : sections) out += link(section.id, section.name);
  return out + link("cautions", "Cautions");
}

std::string section_html(const PageSection& section) {
  return fmt::format("<section id=\"{}\">\n<h2>{}</h2>\n{}</section>\n", section.id, escaped(section.heading),
                     section.html);
}

std::string sections_html(const std::vector<PageSection>& sections) {
  std::string out;
  for (const PageSection& section : sections) out += section_html(section);
  return out;
}

/// Of all sources that were looked at for warnings; nothing where none was.
std::string warnings(const Page& page) {
  std::string out;
  for (const PageSource& source : page.sources) {
    if (!source.warnings) continue;
    if (!source.label.empty()) out += "<h3>" + escaped(source.label) + "</h3>\n";
    out += source.warnings->empty() ? "<p>None.</p>\n" : html_list(*source.warnings);
  }
  return out;
}

/// Those of the page and, where there is anything to tell, its warnings.
std::vector<PageSection> with_warnings(const Page& page) {
  std::vector<PageSection> sections = page.sections;
  if (std::string told = warnings(page); !told.empty())
    sections.push_back({"warnings", "Warnings", "Warnings", std::move(told)});
  return sections;
}

std::string fingerprints(const Page& page) {
  std::string out;
  for (const PageSource& source : page.sources)
    out += fmt::format("<li>{}<code>{}</code>, {}</li>\n",
                       source.label.empty() ? "" : escaped(source.label) + ": ", source.fingerprint,
                       escaped(source.file));
  return out;
}

std::string scripts(const Charts& charts) {
  if (charts.charts.empty()) return "";
  return "<script type=\"application/json\" id=\"chart-data\">" + charts_json(charts) +
         "</script>\n<script>\n" + without_source_map(chart_library()) + "\n</script>\n<script>\n" +
         std::string(page_script()) + "</script>\n";
}

}  // namespace

std::string page_html(const Page& page) {
  const bool interactive = !page.charts.charts.empty();
  const std::vector<PageSection> sections = with_warnings(page);
  return filled(page_template(),
                {{"headline", escaped(page.headline)},
                 {"title", escaped(page.title)},
                 {"style", std::string(page_style())},
                 {"library_style", interactive ? without_source_map(chart_library_style()) : std::string()},
                 {"top", page.top},
                 {"navigation", navigation(sections)},
                 {"sections", sections_html(sections)},
                 {"cautions", html_list({cautions.begin(), cautions.end()})},
                 {"version", std::string(version())},
                 {"fingerprints", fingerprints(page)},
                 {"scripts", scripts(page.charts)}});
}

PageSource source_of(const Scenario& scenario, std::string label, std::vector<std::string> warnings) {
  for (const Complaint& complaint : scenario.warnings) warnings.push_back(to_string(complaint));
  return {std::move(label), scenario_hash(scenario), scenario.files.front(), std::move(warnings)};
}

std::string title_and_note(const Scenario& scenario) {
  std::string out = "<p class=\"name\"><b>" + escaped(name_of(scenario)) + "</b>";
  if (!scenario.note.empty()) out += "<br><small>" + escaped(scenario.note) + "</small>";
  return out + "</p>\n";
}

std::string legend_line(std::size_t setup, const std::string& html) {
  const LineStyle& style = line_style(setup);
  const std::string dashes = dash_text(style);
  return fmt::format(
      "<li><b class=\"letter\">{}</b><svg class=\"swatch\" width=\"60\" height=\"16\" "
      "aria-hidden=\"true\"><line "
      "x1=\"2\" x2=\"58\" y1=\"8\" y2=\"8\" stroke=\"{}\" stroke-width=\"3\"{}/></svg>{}</li>\n",
      style.letter, style.colour, dashes.empty() ? "" : " stroke-dasharray=\"" + dashes + "\"", html);
}

std::string figure(const Chart& chart, const ChartGrid& grid) {
  std::string unit = chart.unit;
  if (chart.second.factor > 0.0) unit += " (" + chart.second.unit + ")";
  return fmt::format(
      "<figure id=\"{}\"><figcaption><b>{}</b>{}. {}</figcaption>\n<div class=\"still\">{}</div>\n"
      "<output class=\"reading\"></output></figure>\n",
      chart.id, escaped(chart.title), unit.empty() ? "" : ", " + escaped(unit), escaped(chart.caption),
      chart_svg(chart, grid));
}

std::string figures(const Charts& charts, std::string_view grid) {
  std::string out;
  for (const Chart& chart : charts.charts)
    if (chart.grid == grid) out += figure(chart, charts.grids.find(grid)->second);
  return out;
}

std::string chart_box(const std::string& figures) {
  return "<div class=\"charts\">\n" + figures + "</div>\n";
}

std::string chart_hint() {
  return "<p class=\"hint\" hidden>Move over a chart, or touch it, to read all beside it there. Drag "
         "sideways with a "
         "mouse, or spread two fingers, to zoom; then <button type=\"button\" class=\"whole\">show all of "
         "it</button>.</p>\n";
}

}  // namespace bowrise
