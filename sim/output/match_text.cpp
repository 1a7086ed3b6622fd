#include <fmt/format.h>

#include "sim/output/study_text.hpp"
#include "sim/output/study_words.hpp"

namespace bowrise {
namespace {

/// Results that somebody who changes a part wants to know besides the target.
constexpr std::array side_effects{"time_to_30_mph", "time_to_60_mph", "top_speed", "top_rpm",
                                  "cavitating_time"};

std::string headline(const Match& match, const Remedy& remedy) {
  const ResultRow& row = result_rows()[match.target.result];
  const std::string reached = result_cell(row, remedy.outcome.values[match.target.result]);
  const std::string from = remedy.key->name + " from " + input_text(*remedy.key, remedy.present);
  if (remedy.value && remedy.exact)
    return fmt::format("{} to {}: {}", from, input_text(*remedy.key, *remedy.value), reached);
  if (remedy.value)
    return fmt::format("{} to {}, the nearest size: {}", from, input_text(*remedy.key, *remedy.value),
                       reached);
  return fmt::format("{}: no usual value does; the nearest, {}, gives {}", from,
                     input_text(*remedy.key, remedy.nearest), reached);
}

std::string effects_of(const Match& match, const Remedy& remedy) {
  std::string text;
  for (const char* name : side_effects) {
    const std::size_t index = result_index(name);
    const auto &before = match.as_it_is.values[index], &after = remedy.outcome.values[index];
    if (index == match.target.result || !before || !after) continue;
    const ResultRow& row = result_rows()[index];
    text += fmt::format("      {:<16} {}\n", result_label(row),
                        *after == *before ? "the same" : directed(row, *after - *before));
  }
  return text;
}

}  // namespace

std::string match_text(const Match& match) {
  const ResultRow& row = result_rows()[match.target.result];
  std::string text = fmt::format("{} to be {}; as it is: {}\none change at a time:\n\n", result_label(row),
                                 result_value_text(row, match.target.value),
                                 result_cell(row, match.as_it_is.values[match.target.result]));
  for (const Remedy& remedy : match.remedies)
    text += "  " + headline(match, remedy) + "\n" + effects_of(match, remedy) + "\n";
  return text;
}

}  // namespace bowrise
