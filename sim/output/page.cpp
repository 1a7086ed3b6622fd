#include "sim/output/page.hpp"

#include "sim/output/html.hpp"
#include "sim/output/page_charts.hpp"
#include "sim/output/page_frame.hpp"
#include "sim/output/page_tables.hpp"

namespace bowrise {
namespace {

std::string legend(const std::vector<Scenario>& scenarios, const Report& report) {
  std::string out = "<ul class=\"setups\">\n";
  for (std::size_t i = 0; i < scenarios.size(); ++i) {
    std::string text = "<span class=\"name\">" + escaped(report.setups[i].name) + "</span>";
    if (!scenarios[i].note.empty()) text += "<br><small>" + escaped(scenarios[i].note) + "</small>";
    out += legend_line(i, text);
  }
  return out + "</ul>\n";
}

std::string headline(const Report& report) {
  std::string out = report.setups.front().name;
  for (std::size_t i = 1; i < report.setups.size(); ++i) out += " / " + report.setups[i].name;
  return out;
}

/// Where the setup of an earlier run comes from, and what its numbers were where they have changed.
void tell_earlier_run(PageSource& source, const StoredResult& stored, const Summary& today) {
  const std::vector<std::string> changes = changes_since(stored, today);
  source.file += ", run by bowrise " + stored.version +
                 (changes.empty() ? ": the same numbers today" : ": its numbers have changed since");
  for (const std::string& change : changes)
    source.warnings->push_back("Another number than in the run by bowrise " + stored.version + ": " + change);
}

}  // namespace

std::string report_page(const std::vector<Scenario>& scenarios, const Report& report,
                        const std::vector<std::optional<StoredResult>>& stored) {
  Page page{headline(report),     "Launch and top speed, predicted", legend(scenarios, report), {}, {},
            report_charts(report)};
  for (std::size_t i = 0; i < scenarios.size(); ++i) {
    const Summary& summary = report.setups[i].summary;
    page.sources.push_back(source_of(scenarios[i], letter_of(i), summary.warnings));
    if (i < stored.size() && stored[i]) tell_earlier_run(page.sources.back(), *stored[i], summary);
  }
  page.sections = {
      {"results", "Results", "Results", result_tables(report)},
      {"limits", "Limits", "What limits the launch, and when", limit_strips(report)},
      {"traces", "Launch", "The launch against time", chart_hint() + chart_box(figures(page.charts, "time"))},
      {"curves", "Steady", "Steady running",
       chart_box(figures(page.charts, "speed") + figures(page.charts, "rpm"))},
      {"costs", "Costs", "What each limit costs",
       "<p>Seconds and speed lost against the same craft without that limit; a minus is gained.</p>\n" +
           cost_tables(report)},
      {"setup", "Setup", "Setup", "<p>Inputs that are not at their presets.</p>\n" + setup_table(scenarios)}};
  return page_html(page);
}

}  // namespace bowrise
