#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/output/html.hpp"
#include "sim/output/page_bars.hpp"
#include "sim/output/page_frame.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/output/study_words.hpp"
#include "sim/output/text.hpp"

namespace bowrise {
namespace {

constexpr double worth_a_line =
    0.005;  // of all probability; the sound craft and the first two always have one
constexpr std::size_t always_told = 2;

HtmlCell probability_cell(double probability) {
  const std::string text = probability < 0.01 ? "under 1 %" : fmt::format("{:.0f} %", 100.0 * probability);
  return bar_cell(text, probability);
}

std::string size_text(const Suspect& suspect) {
  if (suspect.fault == nullptr || !suspect.size) return "\u2013";
  const Band& size = *suspect.size;
  return fmt::format("{:.2g} {} {} ({:.2g} to {:.2g})", size.median, suspect.fault->unit,
                     suspect.fault->of_what, size.low, size.high);
}

std::vector<const Suspect*> told(const Diagnosis& answer) {
  std::vector<const Suspect*> suspects;
  for (const Suspect& one : answer.suspects)
    if (suspects.size() < always_told || one.probability >= worth_a_line || one.fault == nullptr)
      suspects.push_back(&one);
  return suspects;
}

std::string suspect_table(const Diagnosis& answer) {
  HtmlLines lines{{plain("explanation"), plain("probability"), plain("how much of it (5\u201395 %)")}};
  for (const Suspect* one : told(answer))
    lines.push_back(
        {plain(meaning_of(*one)), probability_cell(one->probability), plain(size_text(*one), "words")});
  if (answer.something_else >= worth_a_line)
    lines.push_back({plain("several at once, or something not tried"),
                     probability_cell(answer.something_else), plain("\u2013", "words")});
  return html_table("What explains the numbers, most likely first", lines);
}

/// What the explanations make of one number, on one scale with what was seen.
std::vector<double> shown_values(const Diagnosis& answer, std::size_t number) {
  std::vector<double> values;
  for (const auto& value : {answer.seen[number].value, answer.sound[number]})
    if (value) values.push_back(*value);
  for (const Suspect* one : told(answer))
    if (one->shows[number]) values.push_back(*one->shows[number]);
  return values;
}

HtmlCell shown_cell(const Diagnosis& answer, std::size_t number, const std::optional<double>& value) {
  const std::string text = result_cell(result_rows()[answer.seen[number].result], value);
  const std::vector<double> values = shown_values(answer, number);
  if (!value || values.empty()) return plain(text);
  return range_cell(escaped(text), scale_of(values), {}, answer.seen[number].value, value);
}

std::string shows_table(const Diagnosis& answer) {
  HtmlLines lines{{plain("")}, {plain("seen")}, {plain("when sound")}};
  for (std::size_t i = 0; i < answer.seen.size(); ++i) {
    lines[0].push_back(plain(result_label(result_rows()[answer.seen[i].result])));
    lines[1].push_back(shown_cell(answer, i, answer.seen[i].value));
    lines[2].push_back(shown_cell(answer, i, answer.sound[i]));
    if (answer.sound_scatter[i]) {
      lines[2].back().html +=
          fmt::format("<small>known to {:.1f} %, {}</small>", 100.0 * *answer.sound_scatter[i],
                      answer.measured(i) ? "measured" : "from the scenario");
    }
  }
  for (const Suspect* one : told(answer)) {
    if (one->fault == nullptr) continue;
    auto& line = lines.emplace_back(1, plain(meaning_of(*one)));
    for (std::size_t i = 0; i < answer.seen.size(); ++i) line.push_back(shown_cell(answer, i, one->shows[i]));
  }
  return html_table(
      "What each would show; the upright line is what was seen, the dot what the explanation makes of it",
      lines);
}

std::string next_html(const Diagnosis& answer) {
  const Suspect &first = answer.suspects[0], &second = answer.suspects[1];
  std::string out = "<p>To tell <b>" + escaped(meaning_of(first)) + "</b> from <b>" +
                    escaped(meaning_of(second)) + "</b>: ";
  if (!answer.next) return out + "no number that a rider can take is left; look.</p>\n";
  const Reading& next = *answer.next;
  const ResultRow& row = result_rows()[next.result];
  out += fmt::format("take <b>{}</b>.</p>\n", escaped(result_label(row)));
  out += html_table("What it would be", {{plain("with"), plain(result_label(row))},
                                         {plain(meaning_of(first)), plain(result_cell(row, next.first))},
                                         {plain(meaning_of(second)), plain(result_cell(row, next.second))}});
  if (next.separation < clear_separation)
    out += "<p>Close to the scatter of such readings: repeat it, and trust the eye more.</p>\n";
  return out;
}

std::string check_table(const Diagnosis& answer) {
  HtmlLines lines{{plain("suspect"), plain("comes"), plain("proof")}};
  for (const Suspect* one : told(answer))
    if (one->fault != nullptr)
      lines.push_back(
          {plain(meaning_of(*one)), plain(one->fault->onset, "words"), plain(one->fault->check, "words")});
  HtmlLines hidden{{plain("fault"), plain("tell-tale"), plain("proof")}};
  for (const HiddenFault& fault : hidden_faults())
    hidden.push_back({plain(fault.meaning), plain(fault.tell_tale, "words"), plain(fault.check, "words")});
  return html_table("How to prove each", lines) +
         html_table("Beyond the physics, told by other signs", hidden);
}

std::string verdict(const Diagnosis& answer) {
  std::string out;
  if (answer.hint != nullptr)
    out += "<p><b>First rule out " + escaped(answer.hint->meaning) +
           "</b>: " + escaped(answer.hint->tell_tale) + "; " + escaped(answer.hint->check) + "</p>\n";
  if (!answer.explained)
    out +=
        "<p><b>No single fault explains these numbers</b>: check them, then think of two faults at "
        "once.</p>\n";
  else if (answer.suspects[0].fault == nullptr)
    out += "<p><b>No fault needed</b>: a sound craft explains these numbers.</p>\n";
  if (answer.sound_measured.empty())
    out +=
        "<p>No numbers of the sound craft were given: the scenario stands for it, and what the model does "
        "not know "
        "of it counts as doubt.</p>\n";
  if (answer.used < answer.draws)
    out += fmt::format(
        "<p>{} of {} draws of what is uncertain do not fit the sound craft and are left out.</p>\n",
        answer.draws - answer.used, answer.draws);
  return out;
}

}  // namespace

std::string diagnosis_page(const Scenario& scenario, const Diagnosis& answer) {
  Page page{name_of(scenario),
            "What is wrong with it",
            title_and_note(scenario),
            {},
            {source_of(scenario, "", {})}};
  page.sections = {{"suspects", "Suspects", "Suspects", verdict(answer) + suspect_table(answer)},
                   {"shows", "Numbers", "What each would show", shows_table(answer)}};
  if (answer.explained && answer.suspects.size() > 1)
    page.sections.push_back({"next", "Next", "What to read off next", next_html(answer)});
  page.sections.push_back({"proof", "Proof", "Prove it", check_table(answer)});
  return page_html(page);
}

}  // namespace bowrise
