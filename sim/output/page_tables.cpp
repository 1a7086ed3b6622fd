#include "sim/output/page_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/key_text.hpp"
#include "sim/output/html.hpp"
#include "sim/output/page_charts.hpp"
#include "sim/output/study_words.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

std::string_view verdict_text(Verdict verdict) {
  switch (verdict) {
    case Verdict::better:
      return "better";
    case Verdict::worse:
      return "worse";
    case Verdict::differs:
      return "differs";
    case Verdict::same:
      return "no difference you could measure";
    case Verdict::undecided:
      return "undecided";
    case Verdict::no_answer:
      break;
  }
  return "no answer";
}

/// A difference in the first unit of the trade: "-0.21 s", "+1.2 mph, +1.9 km/h".
std::string signed_text(const ResultRow& row, double value) {
  const std::string size = result_value_text(row, std::abs(value));
  if (size.find_first_of("123456789") == std::string::npos) return size;  // what rounds to nil has no sign
  const char* const sign = value < 0.0 ? "\u2212" : "+";
  if (row.unit != "m/s") return sign + size;
  const auto comma = size.find(", ");
  return sign + size.substr(0, comma + 2) + sign + size.substr(comma + 2);
}

/// "5-95 %: 1.82 to 2.90 s"; speeds in both units, a line each.
std::string band_html(const ResultRow& row, const std::optional<Band>& band, bool difference) {
  if (!band) return "";
  const auto text = [&](double value) {
    return difference ? signed_text(row, value) : result_value_text(row, value);
  };
  const std::string low = text(band->low), high = text(band->high);
  std::string out = "<br><small>5\u201395 %";
  if (band->answered < band->drawn)
    out += fmt::format(" of the {} of {} draws that get there", band->answered, band->drawn);
  out += ": ";
  for (std::size_t at = 0, to = 0; at != std::string::npos;) {
    const auto comma = low.find(", ", at), high_comma = high.find(", ", to);
    const std::string number = low.substr(at, low.find(' ', at) - at);
    out += (at == 0 ? "" : "<br>") + escaped(number + " to " + high.substr(to, high_comma - to));
    at = comma == std::string::npos ? comma : comma + 2;
    to = high_comma + 2;
  }
  return out + "</small>";
}

HtmlCell value_cell(const ResultRow& row, const std::optional<double>& value,
                    const std::optional<Band>& band) {
  HtmlCell cell = plain(result_cell(row, value));
  cell.html += band_html(row, band, false);
  return cell;
}

HtmlCell difference_cell(const ResultRow& row, const Difference& difference, bool draws) {
  if (!difference.nominal) return plain("no answer");
  HtmlCell cell = plain(*difference.nominal == 0.0 ? "the same" : signed_text(row, *difference.nominal));
  cell.html += band_html(row, difference.band, true);
  if (!draws || *difference.nominal == 0.0) return cell;
  cell.html += "<br><b>" + escaped(verdict_text(difference.verdict)) + "</b>";
  if (difference.runs_each && difference.verdict != Verdict::same)
    cell.html += fmt::format("<br><small>{} runs each would show it</small>", *difference.runs_each);
  return cell;
}

std::vector<Outcome> outcomes_of(const Report& report) {
  std::vector<Outcome> outcomes;
  for (const SetupReport& setup : report.setups) outcomes.push_back(outcome_of(setup.summary));
  return outcomes;
}

std::optional<Band> band_at(const Report& report, std::size_t setup, std::size_t result) {
  if (report.bands) return report.bands->results[result];
  if (report.comparison && !report.comparison->bands.empty()) return report.comparison->bands[setup][result];
  return std::nullopt;
}

std::string difference_table(const Report& report, const std::vector<Outcome>& outcomes) {
  if (!report.comparison) return "";
  const Comparison& comparison = *report.comparison;
  HtmlLines lines{{plain("")}};
  for (std::size_t i = 1; i < outcomes.size(); ++i) lines[0].push_back(plain(letter_of(i) + " less A"));
  for (std::size_t result = 0; result < result_rows().size(); ++result) {
    if (std::none_of(outcomes.begin(), outcomes.end(),
                     [&](const Outcome& o) { return o.values[result].has_value(); }))
      continue;
    const ResultRow& row = result_rows()[result];
    auto& line = lines.emplace_back(1, plain(result_label(row)));
    for (std::size_t i = 1; i < outcomes.size(); ++i)
      line.push_back(difference_cell(row, comparison.differences[i][result], comparison.draws > 0));
  }
  std::string out = html_table("Differences to A", lines);
  for (std::size_t i = 0; i < outcomes.size() && comparison.draws > 0; ++i)
    if (comparison.failed[i] > 0)
      out += fmt::format("<p>{}: {} of {} draws gave no launch and are left out.</p>\n", letter_of(i),
                         comparison.failed[i], comparison.draws);
  return out;
}

std::string draws_note(const Report& report) {
  const std::size_t draws = report.bands        ? report.bands->draws
                            : report.comparison ? report.comparison->draws
                                                : 0;
  if (draws == 0)
    return "<p>No bands were asked for: single numbers look surer than they are; differences are surer than "
           "numbers.</p>\n";
  return fmt::format(
      "<p>5\u201395 %: of {} draws of the uncertain inputs, the same draws for every setup.</p>\n", draws);
}

/// A key that may be broken at its joints on a narrow screen.
std::string breakable(std::string_view key) {
  std::string out;
  for (const char c : escaped(key)) {
    if (c == '_') out += "<wbr>";
    out += c;
    if (c == '.') out += "<wbr>";
  }
  return out;
}

/// A cost: a number with sign, or a dash.
std::string cost_text(const std::optional<double>& value, double factor, int digits) {
  if (!value) return "\u2013";
  const std::string text = fmt::format("{:+.{}f}", *value * factor, digits);
  return text.find_first_of("123456789") == std::string::npos ? text.substr(1) : text;
}

}  // namespace

std::string result_tables(const Report& report) {
  const std::vector<Outcome> outcomes = outcomes_of(report);
  HtmlLines lines{{plain("")}};
  for (std::size_t i = 0; i < outcomes.size(); ++i) lines[0].push_back(plain(letter_of(i)));
  for (std::size_t result = 0; result < result_rows().size(); ++result) {
    const ResultRow& row = result_rows()[result];
    if (std::none_of(outcomes.begin(), outcomes.end(),
                     [&](const Outcome& o) { return o.values[result].has_value(); }))
      continue;
    auto& line = lines.emplace_back(1, plain(result_label(row)));
    for (std::size_t i = 0; i < outcomes.size(); ++i)
      line.push_back(value_cell(row, outcomes[i].values[result], band_at(report, i, result)));
  }
  return "<div class=\"tables\">\n" + html_table("Each setup", lines) + difference_table(report, outcomes) +
         "</div>\n" + draws_note(report);
}

std::string cost_tables(const Report& report) {
  const double mph = in_unit(1.0, "mph"), km_h = in_unit(1.0, "km/h");
  std::string out;
  for (std::size_t i = 0; i < report.setups.size(); ++i) {
    HtmlLines lines{{plain("against"), plain("0-30 mph, s"), plain("0-60 mph, s"), plain("100 m, s"),
                     plain("top, mph"), plain("top, km/h"), plain("rpm")}};
    for (const LimitCost& cost : report.setups[i].costs) {
      std::string meaning(cost.meaning);
      if (meaning.starts_with("against ")) meaning.erase(0, 8);
      lines.push_back(
          {plain(meaning), plain(cost_text(cost.time_to_30_mph_s, 1.0, 2)),
           plain(cost_text(cost.time_to_60_mph_s, 1.0, 2)), plain(cost_text(cost.time_to_100_m_s, 1.0, 2)),
           plain(cost_text(cost.top_speed_m_s, mph, 1)), plain(cost_text(cost.top_speed_m_s, km_h, 1)),
           plain(cost_text(cost.top_rpm, 1.0, 0))});
    }
    out += html_table(letter_of(i), lines);
  }
  return out;
}

std::string setup_table(const std::vector<Scenario>& scenarios) {
  const Setup presets = preset_setup();
  const auto two_stages = [](const Scenario& s) { return s.setup.pump.stages == 2.0; };
  const bool any_stage_2 = std::any_of(scenarios.begin(), scenarios.end(), two_stages);
  HtmlLines lines{{plain("input"), plain("preset")}};
  for (std::size_t i = 0; i < scenarios.size(); ++i) lines[0].push_back(plain(letter_of(i)));
  for (const Key& key : all_keys()) {
    if (key.section == "stage_2" && !any_stage_2) continue;
    const std::string preset = text_of(presets, key);
    const std::string first = text_of(scenarios.front().setup, key);
    bool shown = false, changed = false;
    std::vector<HtmlCell> line{{breakable(key.name), ""}, plain(preset)};
    for (const Scenario& scenario : scenarios) {
      const bool idle = key.section == "stage_2" && !two_stages(scenario);
      const std::string text = idle ? "\u2013" : text_of(scenario.setup, key);
      const bool unlike = text != first && !(idle && !two_stages(scenarios.front()));
      shown = shown || (!idle && text != preset);
      changed = changed || unlike;
      line.push_back(unlike ? HtmlCell{"<b>\u25c6 " + escaped(text) + "</b>", "changed"} : plain(text));
    }
    if (changed) line[0] = {"<b>\u25c6 " + breakable(key.name) + "</b>", "changed"};
    if (shown) lines.push_back(std::move(line));
  }
  return html_table(scenarios.size() > 1 ? "\u25c6 unlike A" : "This setup", lines);
}

}  // namespace bowrise
