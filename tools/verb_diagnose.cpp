// bowrise diagnose: which fault explains the numbers of a craft that is no longer what it was.
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <optional>

#include "sim/output/json_study.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/output/study_text.hpp"
#include "sim/output/text.hpp"
#include "sim/study/diagnose.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct DiagnoseArguments {
  ScenarioOptions scenario;
  CommonOptions common;
  std::optional<std::string> html;
  BandArguments band{16, 1};
  std::vector<std::string> seen, sound;
  std::optional<std::string> came;
};

/// Refuses what no watercraft shows; mostly a slip of the finger or of the unit.
void check_possible(const Seen& one, const std::string& option) {
  const ResultRow& row = result_rows()[one.result];
  if (!one.value) {
    if (row.name.starts_with("time_to_") || row.name.starts_with("hook_up_")) return;
    throw Stop{bad_input, option + ": every run has one; =never is for time_to_... and hook_up_..."};
  }
  if (!(*one.value > 0.0)) throw Stop{bad_input, option + ": must be above zero"};
  const double most = row.unit == "rpm" ? 20'000.0 : row.unit == "m/s" ? 100.0 : 1000.0;
  if (*one.value > most)
    throw Stop{bad_input,
               fmt::format("{}: more than any watercraft shows, {:.0f} {}", option, most, row.unit)};
}

std::vector<Seen> numbers(const std::vector<std::string>& texts, const std::string& name) {
  constexpr std::string_view never = "=never";
  std::vector<Seen> found;
  for (const std::string& text : texts) {
    const std::string option = name + " " + text;
    Seen one{};
    if (text.ends_with(never)) {
      one.result = result_named(text.substr(0, text.size() - never.size()), option);
    } else {
      const auto [result, value] = result_value(text, option);
      one = {result, value};
    }
    if (std::any_of(found.begin(), found.end(),
                    [&](const Seen& other) { return other.result == one.result; }))
      throw Stop{bad_input, option + ": given twice"};
    check_possible(one, option);
    found.push_back(one);
  }
  return found;
}

Came came_of(const std::optional<std::string>& text) {
  if (!text) return Came::unknown;
  if (*text != "suddenly" && *text != "slowly")
    throw Stop{bad_input, "--came " + *text + ": must be suddenly or slowly"};
  return *text == "suddenly" ? Came::suddenly : Came::slowly;
}

void run(const DiagnoseArguments& options) {
  const std::vector<Seen> seen = numbers(options.seen, "--seen"), sound = numbers(options.sound, "--sound");
  if (seen.size() < least_seen || seen.size() > most_seen)
    throw Stop{bad_input,
               "diagnose takes 2 to 6 numbers, each with --seen RESULT=VALUE; one number fits every fault"};
  for (const Seen& one : sound)
    if (!one.value)
      throw Stop{bad_input, "--sound takes numbers of the sound craft; leave out what it never reached"};
  const Scenario scenario = load(options.scenario, Needs::run);
  const Diagnosis answer = diagnose(
      scenario.setup, seen, sound,
      {options.band.draws, options.band.seed, thread_count(options.common.threads), came_of(options.came)},
      scenario.posterior);
  if (!answer.failure.empty()) throw Stop{computation_failed, "bowrise: " + answer.failure};
  if (!options.common.quiet)
    print(options.common.json ? diagnosis_json(answer)
                              : name_of(scenario) + "\n" + diagnosis_text(answer) + "\n" + cautions_text());
  if (options.html) write_page(*options.html, diagnosis_page(scenario, answer), options.common);
}

void add_numbers(Verb& verb, const char* name, std::vector<std::string>& texts, const char* meaning) {
  verb.add_option(name, texts, meaning).type("RESULT=VALUE").repeatable();
}

}  // namespace

void add_diagnose(CLI::App& app) {
  const auto options = std::make_shared<DiagnoseArguments>();
  Verb verb(app, "diagnose", "which single fault explains the numbers of a craft that has changed");
  add_scenario_options(verb, options->scenario);
  add_common_options(verb, options->common);
  add_html_option(verb, options->html);
  add_numbers(verb, "--seen", options->seen,
              "a number of the craft today, e.g. top_speed=52mph; top_speed, top_rpm, launch_peak_rpm, "
              "hook_up_speed, time_to_30_mph, coast_down_distance and others of `run --json`; 2 to 6 of "
              "them; =never for a mark that is not reached");
  add_numbers(verb, "--sound", options->sound,
              "the same craft's own number when it was sound; repeatable. Without it the scenario stands for "
              "the sound craft, and the answer is less sure");
  verb.add_option("--came", options->came,
                  "how the trouble came: suddenly (from one run or ride to the next) or slowly")
      .type("HOW");
  add_band_options(verb, options->band);
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
