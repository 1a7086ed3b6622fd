#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sim/output/study_text.hpp"
#include "sim/output/study_words.hpp"
#include "sim/study/run_scatter.hpp"

namespace bowrise {
namespace {

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

std::string names_text(const Comparison& comparison) {
  std::string text;
  for (std::size_t i = 0; i < comparison.names.size(); ++i) {
    text += fmt::format("{}  {}\n", letter(i), comparison.names[i]);
    if (comparison.nominal[i].failed())
      text += fmt::format("   no launch: {}\n", comparison.nominal[i].failure);
  }
  return text + "\n";
}

std::vector<std::string> letters(std::size_t setups) {
  std::vector<std::string> line{""};
  for (std::size_t i = 0; i < setups; ++i) line.push_back(letter(i));
  return line;
}

/// The setup that serves a purpose best and those that nobody could measure to be behind it; "-" when none
/// does.
std::string best_for(const Comparison& comparison, Purpose purpose, std::string_view result) {
  const auto index = static_cast<std::size_t>(purpose);
  const double sign = purpose_rows()[index].better == Better::low ? 1.0 : -1.0;
  std::optional<double> best;
  for (const PurposeValues& values : comparison.purposes)
    if (values[index] && (!best || sign * *values[index] < sign * *best)) best = values[index];
  if (!best) return "-";
  const double scatter = run_scatter(result_rows()[result_index(result)], *best);
  std::string letters;
  for (std::size_t i = 0; i < comparison.purposes.size(); ++i) {
    const auto& value = comparison.purposes[i][index];
    if (!value) continue;
    const bool level = *value == *best || scatter <= 0.0 ||
                       runs_to_show(*value - *best, scatter).value_or(sensible_runs + 1) > sensible_runs;
    if (level) letters += letter(i);
  }
  return letters;
}

std::string results_text(const Comparison& comparison) {
  std::vector<std::vector<std::string>> lines{letters(comparison.names.size())};
  for (std::size_t result = 0; result < result_rows().size(); ++result) {
    if (!anybody_got(comparison.nominal, result)) continue;
    auto& line = lines.emplace_back(1, result_label(result_rows()[result]));
    for (const Outcome& outcome : comparison.nominal)
      line.push_back(result_cell(result_rows()[result], outcome.values[result]));
  }
  auto& chop = lines.emplace_back(1, fmt::format("100 m in {} m of chop", rough_chop_m));
  for (const PurposeValues& values : comparison.purposes) {
    const auto& value = values[static_cast<std::size_t>(Purpose::rough)];
    chop.push_back(value ? fmt::format("{:.2f} s", *value) : "not reached");
  }
  return aligned(lines) +
         fmt::format("\n  best for holeshot {}, top speed {}, rough water {}, life of the pump {}\n",
                     best_for(comparison, Purpose::holeshot, "time_to_30_mph"),
                     best_for(comparison, Purpose::top, "top_speed"),
                     best_for(comparison, Purpose::rough, "time_to_100_m"),
                     best_for(comparison, Purpose::life, "wear_index"));
}

/// Seconds under each limit, then what lifting it would bring.
std::string limits_text(const Comparison& comparison) {
  std::vector<std::vector<std::string>> lines{letters(comparison.names.size())};
  lines[0][0] = "limited by";
  for (std::size_t limit = 0; limit < limit_words.size(); ++limit) {
    auto& line = lines.emplace_back(1, std::string(limit_words[limit]));
    for (const Outcome& outcome : comparison.nominal)
      line.push_back(fmt::format("{:.2f} s", outcome.limited_s[limit]));
  }
  std::string text = "\n" + aligned(lines);
  for (std::size_t i = 0; i < comparison.costs.size(); ++i)
    text += fmt::format("\n{}", letter(i)) + limit_costs_text(comparison.costs[i]);
  return text;
}

}  // namespace

std::string comparison_text(const Comparison& comparison) {
  const std::size_t setups = comparison.names.size();
  std::string text = names_text(comparison) + results_text(comparison) + limits_text(comparison);
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
