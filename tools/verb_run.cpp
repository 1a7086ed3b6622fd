// bowrise run: one launch.
#include <memory>
#include <optional>

#include "sim/craft.hpp"
#include "sim/launch.hpp"
#include "sim/output/csv.hpp"
#include "sim/output/json.hpp"
#include "sim/output/plot_text.hpp"
#include "sim/output/stored_result.hpp"
#include "sim/output/study_text.hpp"
#include "sim/output/text.hpp"
#include "sim/output/whole_file.hpp"
#include "sim/results.hpp"
#include "sim/scenario/write.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct RunArguments {
  ScenarioOptions scenario;
  CommonOptions common;
  BandArguments band;
  std::optional<std::string> directory;
  bool force = false, coast = false, plot = false;
};

// The directory is made only now: a run that fails leaves nothing behind.
void write_results(const std::string& directory, bool force, const std::string& csv, const std::string& json,
                   const std::string& setup) {
  if (const auto error = prepare_output_directory(directory, force))
    throw Stop{not_written, "bowrise: " + *error};
  const std::array files{WholeFile{trace_file, csv}, WholeFile{summary_file, json},
                         WholeFile{setup_file, setup}};
  if (const auto error = write_whole_files(directory, files)) throw Stop{not_written, "bowrise: " + *error};
}

void coast(const Setup& setup, const Craft& craft, Launch& result, Summary& summary, bool keep_rows) {
  const Launch down = coast_down(craft, setup.run, launch_options(setup, keep_rows), result.end_state);
  if (down.end == LaunchEnd::failed)
    throw Stop{computation_failed, "bowrise: coast-down: " + down.failure + "; nothing was written"};
  summary.coast_down = read_coast_down(down, result.end_state);
  if (keep_rows) append(result, down);
}

RunStudies studies_of(const Scenario& scenario, const Summary& summary, const RunArguments& options) {
  BandOptions band = band_options(options.band, options.common);
  band.coast = options.coast;
  RunStudies studies{limit_costs(scenario.setup, outcome_of(summary), band.threads), std::nullopt};
  if (band.draws > 0) studies.bands = bands_of(scenario.setup, band, scenario.posterior);
  return studies;
}

std::string studies_text(const RunStudies& studies, const Outcome& nominal) {
  std::string text = "\n" + limit_costs_text(studies.costs);
  if (studies.bands) text += "\n" + bands_text(*studies.bands, nominal);
  return text;
}

void run(const RunArguments& options) {
  const Scenario scenario = load(options.scenario, Needs::run);
  const bool writes = options.directory.has_value();
  const Craft craft = prepare(scenario.setup);
  Launch result = launch(craft, scenario.setup.run, launch_options(scenario.setup, writes || options.plot));
  if (result.end == LaunchEnd::failed)
    throw Stop{computation_failed, "bowrise: " + result.failure + "; nothing was written"};
  Summary summary = summarise(craft, result);
  if (options.coast) coast(scenario.setup, craft, result, summary, writes || options.plot);
  const RunStudies studies = studies_of(scenario, summary, options);
  const std::string json = summary_json(scenario, craft, result, summary, studies);
  if (writes)
    write_results(*options.directory, options.force, trace_csv(craft, result), json,
                  write_scenario(scenario));
  if (options.common.quiet) return;
  print(options.common.json
            ? json
            : run_text(scenario, craft, result, summary) + (options.plot ? "\n" + plot_text(result) : "") +
                  studies_text(studies, outcome_of(summary)) + cautions_text());
}

}  // namespace

void add_run(CLI::App& app) {
  const auto options = std::make_shared<RunArguments>();
  Verb verb(app, "run", "predict one launch: times, rpm, top speed, cavitation, what limits it");
  add_scenario_options(verb, options->scenario);
  add_common_options(verb, options->common);
  add_band_options(verb, options->band);
  verb.add_option(
          "--out", options->directory,
          "write trace.csv, summary.json and scenario.yaml, every input filled in, into this new directory")
      .type("DIR");
  verb.add_flag("--force", options->force, "allow --out to use a directory that holds files");
  verb.add_flag("--coast", options->coast, "shut the throttle at the end and coast down to walking pace");
  verb.add_flag("--plot", options->plot, "also draw speed, rpm and cavitation against time, 72 columns wide");
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
