// bowrise report: setups as one HTML page.
#include <memory>

#include "sim/output/chart.hpp"
#include "sim/output/json.hpp"
#include "sim/output/page.hpp"
#include "sim/output/text.hpp"
#include "sim/study/report.hpp"
#include "tools/result_arguments.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct ReportArguments {
  std::vector<std::string> paths, set;
  CommonOptions common;
  BandArguments band;
  std::string file;
  bool coast = false;
};

void run(const ReportArguments& options) {
  if (options.paths.size() > most_overlaid)
    throw Stop{bad_input, "bowrise: report overlays 1 to " + std::to_string(most_overlaid) + " scenarios"};
  std::vector<Scenario> scenarios;
  std::vector<std::optional<StoredResult>> stored;
  std::vector<Contender> contenders;
  for (const std::string& path : options.paths) {
    ScenarioOrResult loaded = load_scenario_or_result(path, options.set);
    scenarios.push_back(std::move(loaded.scenario));
    stored.push_back(std::move(loaded.stored));
    contenders.push_back(contender_of(scenarios.back()));
  }
  BandOptions band = band_options(options.band, options.common);
  band.coast = options.coast;
  const Report result = report(contenders, band);
  for (std::size_t i = 0; i < result.setups.size(); ++i)
    if (!result.setups[i].failure.empty())
      throw Stop{computation_failed,
                 "bowrise: " + options.paths[i] + ": " + result.setups[i].failure + "; nothing was written"};
  const std::string page = report_page(scenarios, result, stored);
  write_page(options.file, page, options.common);
  if (options.common.json && !options.common.quiet) print(report_json(options.file, page.size(), scenarios));
}

}  // namespace

void add_report(CLI::App& app) {
  const auto options = std::make_shared<ReportArguments>();
  Verb verb(app, "report", "setups overlaid on one HTML page: launch charts, steady curves, limits, results");
  verb.add_option("SCENARIO", options->paths,
                  "scenario files (YAML) or folders that run --out wrote, 1 to 6; the first is the "
                  "baseline. The setup "
                  "of a folder is run again, and the page says where the numbers have changed since")
      .type("FILE_OR_DIR")
      .required();
  add_set_option(verb, options->set);
  add_common_options(verb, options->common);
  add_band_options(verb, options->band);
  verb.add_option("--out", options->file, "the page to write; a file of this name is replaced")
      .type("FILE.html")
      .required();
  verb.add_flag("--coast", options->coast, "shut the throttle at the end and coast down to walking pace");
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
