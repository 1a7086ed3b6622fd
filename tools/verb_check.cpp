// bowrise check: validate a scenario and print what it resolves to.
#include <memory>

#include "sim/craft.hpp"
#include "sim/output/json.hpp"
#include "sim/scenario/write.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct CheckArguments {
  ScenarioOptions scenario;
  CommonOptions common;
};

void run(const CheckArguments& options) {
  const Scenario scenario = load(options.scenario, Needs::run);
  static_cast<void>(prepare(scenario.setup));  // geometry that cannot be computed is found here too
  for (const Complaint& warning : scenario.warnings) std::fprintf(stderr, "%s\n", to_string(warning).c_str());
  if (!options.common.quiet) print(options.common.json ? setup_json(scenario) : write_scenario(scenario));
}

}  // namespace

void add_check(CLI::App& app) {
  const auto options = std::make_shared<CheckArguments>();
  Verb verb(app, "check", "validate a scenario and print the resolved setup with the origin of every value");
  add_scenario_options(verb, options->scenario);
  add_common_options(verb, options->common);
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
