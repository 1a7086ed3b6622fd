// bowrise match: which change makes a result what it should be.
#include <array>
#include <memory>

#include "sim/output/json_study.hpp"
#include "sim/output/study_text.hpp"
#include "sim/output/text.hpp"
#include "sim/study/match.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct MatchArguments {
  ScenarioOptions scenario;
  CommonOptions common;
  std::vector<std::string> adjust;
  std::string until;
};

constexpr std::array usual_remedies{"nozzle.exit_diameter", "impeller.pitch_trailing", "cone.position",
                                    "engine.power_factor"};

Adjustable adjustable(const Scenario& scenario, const std::string& name) {
  const std::string option = "--adjust " + name;
  const Key& key = changeable_key(scenario, name, option);
  const PartSizes* const part = part_sizes(scenario, key);
  return {&key, part == nullptr ? std::vector<double>{} : part->sizes};
}

void run(const MatchArguments& options) {
  const Scenario scenario = load(options.scenario, Needs::run);
  const auto [result, value] = result_value(options.until, "--until " + options.until);
  std::vector<std::string> names = options.adjust;
  if (names.empty()) names.assign(usual_remedies.begin(), usual_remedies.end());
  std::vector<Adjustable> inputs;
  for (const std::string& name : names) inputs.push_back(adjustable(scenario, name));
  const Match found = match(scenario.setup, {result, value}, inputs, thread_count(options.common.threads));
  if (found.as_it_is.failed()) throw Stop{computation_failed, "bowrise: " + found.as_it_is.failure};
  if (options.common.quiet) return;
  print(options.common.json ? match_json(found) : match_text(found) + cautions_text());
}

}  // namespace

void add_match(CLI::App& app) {
  const auto options = std::make_shared<MatchArguments>();
  Verb verb(app, "match",
            "which nozzle, pitch, cone or power gives a wanted result, and what else that changes");
  add_scenario_options(verb, options->scenario);
  add_common_options(verb, options->common);
  verb.add_option(
          "--adjust", options->adjust,
          "input that may change, alone; repeatable. Without it: nozzle, trailing pitch, cone position "
          "and power. Sizes listed under parts: in the scenario are kept to")
      .type("KEY")
      .repeatable();
  verb.add_option("--until", options->until, "the result wanted, e.g. top_rpm=7900rpm")
      .type("RESULT=VALUE")
      .required();
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
