#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/output/study_text.hpp"
#include "sim/output/study_words.hpp"

namespace bowrise {
namespace {

constexpr std::size_t told_in_full = 4;
constexpr double worth_telling = 0.02;

std::string_view probability_word(double probability) {
  if (probability >= 0.8) return "very likely";
  if (probability >= 0.5) return "likely";
  if (probability >= 0.2) return "possible";
  if (probability >= 0.05) return "less likely";
  return "hardly";
}

std::string percent(double share) {
  if (share < 0.01) return "under 1 %";
  if (share > 0.99) return "over 99 %";
  return fmt::format("{:.0f} %", 100.0 * share);
}

/// Two figures, written out.
std::string size_text(double size) {
  return size >= 10.0 ? fmt::format("{:.0f}", size) : fmt::format("{:.2g}", size);
}

/// The explanation in the middle of a sentence.
std::string short_name(const Suspect& suspect) {
  if (suspect.fault == nullptr) return "a sound craft";
  std::string name(suspect.fault->name);
  std::replace(name.begin(), name.end(), '_', ' ');
  return name;
}

std::string numbers_text(const Diagnosis& answer) {
  std::vector<std::vector<std::string>> lines{{"", "seen", "when sound", "how well that is known"}};
  for (std::size_t i = 0; i < answer.seen.size(); ++i) {
    const ResultRow& row = result_rows()[answer.seen[i].result];
    const std::string scatter = answer.sound_scatter[i]
                                    ? fmt::format("{:.1f} %, {}", 100.0 * *answer.sound_scatter[i],
                                                  answer.measured(i) ? "measured" : "from the scenario")
                                    : "";
    lines.push_back({result_label(row), result_cell(row, answer.seen[i].value),
                     result_cell(row, answer.sound[i]), scatter});
  }
  return aligned(lines);
}

std::string shows_text(const Diagnosis& answer, const Suspect& suspect) {
  std::string text;
  for (std::size_t i = 0; i < answer.seen.size(); ++i) {
    const ResultRow& row = result_rows()[answer.seen[i].result];
    text += fmt::format("{}{} {}", text.empty() ? "" : "; ", result_label(row),
                        result_cell(row, suspect.shows[i]));
  }
  return text;
}

/// How well the way in which it came fits a fault; empty where that is not known.
std::string came_text(const Diagnosis& answer, const Fault& fault) {
  if (answer.came == Came::unknown) return "";
  const bool suddenly = answer.came == Came::suddenly;
  return fmt::format("; {} in {:.0f} of 100 cases", suddenly ? "suddenly" : "slowly",
                     100.0 * (suddenly ? fault.suddenly : 1.0 - fault.suddenly));
}

std::string suspect_text(const Diagnosis& answer, const Suspect& suspect, std::size_t number) {
  std::string text = fmt::format("  {}  {}: {}, {}\n", number, meaning_of(suspect),
                                 probability_word(suspect.probability), percent(suspect.probability));
  if (suspect.fault != nullptr) {
    const Fault& fault = *suspect.fault;
    if (suspect.size)
      text += fmt::format("       {} {} {} ({} to {})\n", size_text(suspect.size->median), fault.unit,
                          fault.of_what, size_text(suspect.size->low), size_text(suspect.size->high));
    text += fmt::format("       comes {}{}\n       proof: {}\n", fault.onset, came_text(answer, fault),
                        fault.check);
  }
  return text + "       would show " + shows_text(answer, suspect) + "\n";
}

std::string others_text(const Diagnosis& answer, std::size_t told) {
  std::string some, hardly;
  for (std::size_t i = told; i < answer.suspects.size(); ++i) {
    const Suspect& one = answer.suspects[i];
    if (one.probability >= worth_telling)
      some += fmt::format("{}{} {}", some.empty() ? "" : ", ", short_name(one), percent(one.probability));
    else
      hardly += (hardly.empty() ? "" : ", ") + short_name(one);
  }
  std::string text;
  if (!some.empty()) text += "  also: " + some + "\n";
  if (!hardly.empty()) text += "  hardly, under 2 % each: " + hardly + "\n";
  if (answer.something_else >= worth_telling)
    text += fmt::format("  several at once, or something not tried: {}\n", percent(answer.something_else));
  return text;
}

std::string alike_text(const Diagnosis& answer) {
  const std::vector<std::size_t> alike = not_told_apart(answer);
  if (alike.size() < 2) return "";
  std::string names;
  for (const std::size_t place : alike)
    names += (names.empty() ? "" : ", ") + short_name(answer.suspects[place]);
  return "\nthese cannot be told apart by these numbers: " + names +
         "\n  their order is little more than how often each is met; look, or take the next number\n";
}

/// Faults that are neither found nor ruled out by these numbers.
std::string hidden_in_scatter_text(const Diagnosis& answer) {
  std::string names;
  for (const Suspect& one : answer.suspects)
    if (one.fault != nullptr && one.stands_out < clear_separation)
      names += (names.empty() ? "" : ", ") + short_name(one);
  if (names.empty()) return "";
  return "\nthese numbers can hide, at a middling size: " + names +
         "\n  these may be there besides; only a look or other numbers can tell\n";
}

std::string next_text(const Diagnosis& answer) {
  const Suspect &first = answer.suspects[0], &second = answer.suspects[1];
  const bool clear = answer.next && answer.next->separation >= clear_separation;
  std::string text = fmt::format("\nto tell {} from {}\n", short_name(first), short_name(second));
  if (answer.next) {
    const ResultRow& row = result_rows()[answer.next->result];
    text += fmt::format("  take {}: {} with {}, {} with {}{}\n", result_label(row),
                        result_cell(row, answer.next->first), short_name(first),
                        result_cell(row, answer.next->second), short_name(second),
                        clear ? "" : "; close to the scatter: repeat it, and trust the eye more");
  } else {
    text += "  no number that a rider can take is left\n";
  }
  if (clear) return text;
  for (const Suspect* one : {&first, &second})
    if (one->fault != nullptr)
      text += fmt::format("  look for {}: {}\n", short_name(*one), one->fault->check);
  return text;
}

std::string hidden_text() {
  std::string text = "\nnot in the physics, told by other signs\n";
  for (const HiddenFault& fault : hidden_faults())
    text += fmt::format("  {}: {}; {}\n", fault.meaning, fault.tell_tale, fault.check);
  return text;
}

}  // namespace

std::string diagnosis_text(const Diagnosis& answer) {
  std::string text = numbers_text(answer);
  text +=
      "  numbers read off by a rider are taken to scatter twice as much as a logger's: speed 1.6 %, rpm 1 "
      "%,\n"
      "  times 0.06 s and 4 %, hook-up by ear 15 %, all else 10 %\n";
  if (answer.sound_measured.empty())
    text +=
        "  no --sound numbers: the scenario stands for the sound craft, and what the model does not know of "
        "it "
        "counts as doubt\n";
  if (answer.came == Came::unknown)
    text += "  how it came is not told: --came suddenly or --came slowly makes the answer surer\n";
  else
    text += fmt::format("  it came {}: faults that come so weigh more\n",
                        answer.came == Came::suddenly ? "suddenly" : "slowly");
  if (!answer.sound_fits)
    text +=
        "\nthe --sound numbers are not those of the scenario's craft: check them, or fit the scenario first "
        "(bowrise fit)\n";
  if (answer.hint != nullptr)
    text += fmt::format("\nfirst rule out {}: {}; {}\n", answer.hint->meaning, answer.hint->tell_tale,
                        answer.hint->check);
  if (!answer.explained)
    text += "\nno single fault explains these numbers: check them, then think of two faults at once\n";
  else if (answer.suspects[0].fault == nullptr)
    text += "\nno fault needed: a sound craft explains these numbers\n";
  text += answer.explained ? "\nwhat explains them, most likely first\n" : "\nwhat comes nearest\n";
  std::size_t told = 0;
  while (told < answer.suspects.size() && told < told_in_full &&
         (told < 2 || answer.suspects[told].probability >= worth_telling)) {
    text += suspect_text(answer, answer.suspects[told], told + 1);
    ++told;
  }
  text += others_text(answer, told);
  if (answer.explained) text += alike_text(answer) + next_text(answer);
  text += hidden_in_scatter_text(answer);
  text += hidden_text();
  if (answer.used < answer.draws)
    text += fmt::format("  {} of {} draws of what is uncertain do not fit the sound craft and are left out\n",
                        answer.draws - answer.used, answer.draws);
  return text;
}

}  // namespace bowrise
