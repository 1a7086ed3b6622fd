// bowrise fit: makes the model agree with a logged run, or with a few numbers seen on the water.
#include <algorithm>
#include <filesystem>
#include <memory>

#include "sim/output/json_study.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/output/study_text.hpp"
#include "sim/output/text.hpp"
#include "sim/output/whole_file.hpp"
#include "sim/scenario/uncertain.hpp"
#include "tools/log_arguments.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct FitArguments {
  ScenarioOptions scenario;
  CommonOptions common;
  std::optional<std::string> html;
  BandArguments band{128, 1};
  LogArguments logs;
  std::vector<std::string> seen;
  std::string out;
  bool force = false;
};

void write_fitted(const FitArguments& options, const Scenario& scenario, const Fit& fit) {
  namespace fs = std::filesystem;
  std::error_code error;
  if (!options.force && fs::exists(options.out, error))
    throw Stop{not_written, "bowrise: " + options.out + " exists; --force replaces it"};
  std::string to;
  for (const auto* names : {&options.logs.paths, &options.seen})
    for (const std::string& name : *names) to += (to.empty() ? "" : ", ") + name;
  FittedFile file{name_of(scenario) + ", fitted", "fitted to " + to, {}, {}};
  const fs::path folder = fs::absolute(options.out).parent_path();
  file.from = fs::absolute(options.scenario.path)
                  .lexically_normal()
                  .lexically_relative(folder.lexically_normal())
                  .string();
  for (const Key& key : all_keys()) {
    const auto origin = scenario.origin.find(key.name);
    const bool on_command_line =
        origin != scenario.origin.end() && origin->second.kind == Origin::Kind::command_line;
    if (on_command_line) file.also_set.push_back(&key);
  }
  if (const auto failure =
          write_whole_file(options.out, fitted_scenario_text(file, fit.setup, fit.posterior)))
    throw Stop{not_written, "bowrise: " + *failure};
}

void run(const FitArguments& options) {
  const Scenario scenario = load(options.scenario, Needs::run);
  if (!scenario.posterior.keys.empty())
    throw Stop{bad_input,
               options.scenario.path + ": is fitted already; fit what it starts from, with all logs at once"};
  std::vector<Seen> seen;
  for (const std::string& text : options.seen) {
    const auto [result, value] = result_value(text, "--seen " + text);
    if (!(value > 0.0)) throw Stop{bad_input, "--seen " + text + ": write a value above 0"};
    seen.push_back({result, value});
  }
  const auto [runs, notes] = runs_in(options.logs);
  if (runs.empty() && seen.empty())
    throw Stop{bad_input, "bowrise: fit needs a log, or --seen RESULT=VALUE, e.g. --seen top_speed=52mph"};
  const Fit found = fit(scenario.setup, runs, seen, band_options(options.band, options.common));
  if (const auto hopeless = hopeless_text(found, options.scenario.path))
    throw Stop{bad_input, (runs.empty() ? "--seen" : options.logs.paths.front()) + ": " + *hopeless};
  if (!options.out.empty()) write_fitted(options, scenario, found);
  std::vector<std::string> names;
  for (const LoggedRun& logged : runs) names.push_back(logged.name);
  if (!options.common.quiet)
    print(options.common.json ? fit_json(found, names, notes)
                              : fit_text(found, names, notes) + "\n" + cautions_text());
  if (!options.html) return;
  const auto traces = fitted_runs(scenario.setup, runs, found);
  write_page(*options.html, fit_page(scenario, found, names, traces), options.common);
}

}  // namespace

void add_fit(CLI::App& app) {
  const auto options = std::make_shared<FitArguments>();
  Verb verb(
      app, "fit",
      "make the model agree with logged runs, or a few numbers seen, and say how well it is known then");
  add_scenario_options(verb, options->scenario);
  verb.add_option("LOG", options->logs.paths,
                  "logger files (CSV): time and speed, and shaft rpm and throttle if any")
      .type("FILE");
  add_common_options(verb, options->common);
  add_html_option(verb, options->html);
  add_band_options(verb, options->band);
  const auto repeatable = [&](const char* name, std::vector<std::string>& values, const char* text,
                              const char* type) {
    verb.add_option(name, values, text).type(type).repeatable();
  };
  repeatable("--seen", options->seen, "a number seen on the water, e.g. top_speed=52mph; repeatable",
             "RESULT=VALUE");
  repeatable("--column", options->logs.columns,
             "which column holds time, speed, rpm, throttle, heading; repeatable", "QUANTITY=NAME");
  repeatable("--unit", options->logs.units, "unit of a column whose header tells none; repeatable",
             "QUANTITY=UNIT");
  verb.add_option("--course", options->logs.course, "out or back for each run: two ways tell a current")
      .split_at_commas()
      .one_of({"out", "back"})
      .repeatable();
  verb.add_option("--out", options->out, "write the fitted scenario, which every verb takes").type("FILE");
  verb.add_flag("--force", options->force, "replace the file of --out");
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
