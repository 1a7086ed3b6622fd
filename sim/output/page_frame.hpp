// What every page shares: one HTML file that needs no network, with a head, sections, warnings, cautions and
// where its numbers come from; static charts for every browser, and on top of them, where scripts may run, a
// shared cursor, zoom and values under it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/output/chart.hpp"
#include "sim/scenario/read.hpp"

namespace bowrise {

struct PageSection {
  std::string id, name;       ///< of the link to it; plain
  std::string heading, html;  ///< heading plain
};

/// What is told of a scenario besides its results.
struct PageSource {
  std::string label;  ///< "A"; empty when it is the only one; plain
  std::string fingerprint, file;
  std::optional<std::vector<std::string>> warnings;  ///< empty where nobody looked for any
};

struct Page {
  std::string headline;  ///< whose numbers they are; plain
  std::string title;     ///< what the page answers; plain
  std::string top;       ///< HTML under the title
  std::vector<PageSection> sections;
  std::vector<PageSource> sources;
  Charts charts{};  ///< that the interactive layer draws; without any the page carries no script
};

[[nodiscard]] std::string page_html(const Page& page);

/// The scenario's fingerprint, file and complaints, with warnings of its launch.
[[nodiscard]] PageSource source_of(const Scenario& scenario, std::string label,
                                   std::vector<std::string> warnings);

/// The name of a scenario and its note, for the top of a page about it alone.
[[nodiscard]] std::string title_and_note(const Scenario& scenario);

/// One line of a legend: letter, dash and colour of a line style, then what it stands for.
/// @param html  what it stands for
[[nodiscard]] std::string legend_line(std::size_t setup, const std::string& html);

/// A chart with its caption; the interactive layer takes its place when the chart is among those of the page.
[[nodiscard]] std::string figure(const Chart& chart, const ChartGrid& grid);

/// The charts of a page on one grid, side by side where there is room, without a box around them.
[[nodiscard]] std::string figures(const Charts& charts, std::string_view grid);

/// Figures in a box that sets them side by side.
[[nodiscard]] std::string chart_box(const std::string& figures);

/// How to use the interactive layer, and the button that undoes a zoom; hidden where no script runs.
[[nodiscard]] std::string chart_hint();

}  // namespace bowrise
