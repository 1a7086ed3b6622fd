#include "sim/output/study_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/output/study_words.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

double in_unit(double si, std::string_view unit) { return to_unit(si, *find_unit(unit)); }

/// " (0.12 to 0.33)" of one sign; " (0.05 quicker to 0.10 slower)" of both.
std::string band_text(const ResultRow& row, const std::optional<Band>& band) {
  if (!band) return "";
  const Direction words = direction_of(row);
  if (band->low >= 0.0 || band->high <= 0.0) {
    const double low = std::min(std::abs(band->low), std::abs(band->high));
    const double high = std::max(std::abs(band->low), std::abs(band->high));
    return fmt::format(" ({} to {})", short_size(row, low), short_size(row, high));
  }
  return fmt::format(" ({} {} to {} {})", short_size(row, band->low), words.down, short_size(row, band->high),
                     words.up);
}

std::string verdict_text(const ResultRow& row, const Difference& difference) {
  if (difference.verdict == Verdict::no_answer) return "no answer: one of the two did not get there";
  if (*difference.nominal == 0.0) return "the same";
  const std::string change = directed(row, *difference.nominal) + band_text(row, difference.band);
  const std::string runs =
      difference.runs_each ? fmt::format("{} runs each would show it", *difference.runs_each) : "";
  switch (difference.verdict) {
    case Verdict::same:
      return "no difference you could measure: " + change;
    case Verdict::undecided:
      return "undecided: " + change;
    case Verdict::better:
    case Verdict::worse:
    case Verdict::differs:
    case Verdict::no_answer:
      break;
  }
  return change + "; " + runs;
}

bool anybody_got(const std::vector<Outcome>& outcomes, std::size_t result) {
  return std::any_of(outcomes.begin(), outcomes.end(),
                     [result](const Outcome& o) { return o.values[result].has_value(); });
}

std::string letter(std::size_t setup) { return std::string(1, static_cast<char>('A' + setup)); }

std::string on_off_text(const std::optional<double>& value, std::string_view unit, int digits) {
  return value ? fmt::format("{:+.{}f}", unit == "mph" ? in_unit(*value, "mph") : *value, digits) : "-";
}

}  // namespace

std::string limit_costs_text(const std::vector<LimitCost>& costs) {
  std::vector<std::vector<std::string>> lines{
      {"", "0-30 mph s", "0-60 mph s", "100 m s", "top mph", "top rpm"}};
  for (const LimitCost& cost : costs)
    lines.push_back({std::string(cost.meaning), on_off_text(cost.time_to_30_mph_s, "s", 2),
                     on_off_text(cost.time_to_60_mph_s, "s", 2), on_off_text(cost.time_to_100_m_s, "s", 2),
                     on_off_text(cost.top_speed_m_s, "mph", 1), on_off_text(cost.top_rpm, "rpm", 0)});
  return "  what limits cost (seconds and speed lost; a minus is gained)\n" + aligned(lines);
}

std::string bands_text(const Bands& bands, const Outcome& nominal) {
  std::vector<std::vector<std::string>> lines{{"", "expected", "5 %", "median", "95 %", "got there"}};
  for (std::size_t i = 0; i < result_rows().size(); ++i) {
    if (!bands.results[i]) continue;
    const ResultRow& row = result_rows()[i];
    const Band& band = *bands.results[i];
    lines.push_back({result_label(row), result_cell(row, nominal.values[i]), result_value_text(row, band.low),
                     result_value_text(row, band.median), result_value_text(row, band.high),
                     fmt::format("{} of {}", band.answered, band.drawn)});
  }
  return fmt::format("  how sure: {} draws of what is uncertain, seed {}\n", bands.draws, bands.seed) +
         aligned(lines) + failures_text(bands.failed, bands.draws);
}

std::string comparison_text(const Comparison& comparison) {
  const std::size_t setups = comparison.names.size();
  std::string text;
  for (std::size_t i = 0; i < setups; ++i) {
    text += fmt::format("{}  {}\n", letter(i), comparison.names[i]);
    if (comparison.nominal[i].failed())
      text += fmt::format("   no launch: {}\n", comparison.nominal[i].failure);
  }
  std::vector<std::vector<std::string>> lines(1, {""});
  for (std::size_t i = 0; i < setups; ++i) lines[0].push_back(letter(i));
  for (std::size_t result = 0; result < result_rows().size(); ++result) {
    if (!anybody_got(comparison.nominal, result)) continue;
    auto& line = lines.emplace_back(1, result_label(result_rows()[result]));
    for (const Outcome& outcome : comparison.nominal)
      line.push_back(result_cell(result_rows()[result], outcome.values[result]));
  }
  text += "\n" + aligned(lines);
  for (std::size_t setup = 1; setup < setups; ++setup) {
    text +=
        fmt::format("\n{} against A{}\n", letter(setup),
                    comparison.draws > 0 ? fmt::format(", with 5-95 % of {} paired draws", comparison.draws)
                                         : std::string(", no band asked for"));
    for (std::size_t result = 0; result < result_rows().size(); ++result)
      if (comparison.nominal[setup].values[result] || comparison.nominal[0].values[result])
        text += fmt::format("  {:<20} {}\n", result_label(result_rows()[result]),
                            verdict_text(result_rows()[result], comparison.differences[setup][result]));
    text += failures_text(comparison.failed[setup], comparison.draws);
  }
  return text;
}

std::string over_text(const OverStudy& study, const std::string& first, const std::string& second) {
  constexpr std::array shown{"time_to_30_mph", "time_to_60_mph", "time_to_100_m", "top_speed", "top_rpm"};
  std::string text = fmt::format("\nover {}: B ({}) less A ({})\n", study.key->name, second, first);
  std::vector<std::vector<std::string>> lines(
      1, {fmt::format("{} [{}]", study.key->name, study.key->unit->name)});
  for (const auto* name : shown) lines[0].push_back(result_label(result_rows()[result_index(name)]));
  for (const OverPoint& point : study.points) {
    auto& line = lines.emplace_back(1, fmt::format("{:.5g}", point.at));
    for (const auto* name : shown) {
      const std::size_t result = result_index(name);
      const auto &a = point.first.values[result], &b = point.second.values[result];
      line.push_back(!a || !b   ? "no answer"
                     : *a == *b ? "the same"
                                : directed(result_rows()[result], *b - *a));
    }
  }
  text += aligned(lines) + "\n";
  if (study.break_evens.empty()) text += "  nowhere in this range do the two change places\n";
  for (const BreakEven& break_even : study.break_evens) {
    const ResultRow& row = result_rows()[break_even.result];
    text +=
        fmt::format("  {:<20} B wins {} {:.4g} {}", result_label(row),
                    break_even.second_wins_above ? "above" : "below", break_even.at, study.key->unit->name);
    if (break_even.band)
      text += fmt::format(" ({:.4g} to {:.4g} in the {} of {} draws that cross once)", break_even.band->low,
                          break_even.band->high, break_even.band->answered, break_even.band->drawn);
    text += '\n';
  }
  return text;
}

}  // namespace bowrise
