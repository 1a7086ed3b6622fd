// bowrise throttle: all throttle plans side by side.
#include <cmath>
#include <memory>

#include "sim/key_text.hpp"
#include "sim/output/json_study.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/output/study_text.hpp"
#include "sim/output/text.hpp"
#include "sim/study/throttle_plans.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct ThrottleArguments {
  ScenarioOptions scenario;
  CommonOptions common;
  std::optional<std::string> html;
  std::string worn = "1 mm", rolling = "8 mph", pump = "both", start = "both";
};

/// The setup with one key set from an option; what is wrong with it is a Stop with code 2.
Setup with(const Setup& setup, const char* key, const std::string& option, const std::string& text) {
  Setup changed = setup;
  if (const auto error = set_from_text(changed, *find_key(key), text))
    throw Stop{bad_input, option + " " + text + ": " + *error};
  if (const Problems problems = check(changed); !problems.empty())
    throw Stop{bad_input, option + " " + text + ": " + problems.front().key + ": " + problems.front().what +
                              "; " + problems.front().allowed};
  return changed;
}

ThrottleStudyOptions study_options(const Setup& setup, const ThrottleArguments& options) {
  ThrottleStudyOptions study;
  study.threads = thread_count(options.common.threads);
  const double given = setup.pump.clearance_m;
  if (options.pump != "worn") study.clearances_m.push_back(given);
  if (options.pump != "given") {
    const double worn = with(setup, "pump.clearance", "--worn", options.worn).pump.clearance_m;
    if (options.pump == "worn" || worn > given) study.clearances_m.push_back(worn);
  }
  if (options.start != "rolling") study.rolling_speeds_m_s.push_back(0.0);
  if (options.start != "rest") {
    const double rolling =
        with(setup, "start.rolling_speed", "--rolling", options.rolling).start.rolling_speed_m_s;
    if (!(rolling > 0.0)) throw Stop{bad_input, "--rolling " + options.rolling + ": must be above 0"};
    study.rolling_speeds_m_s.push_back(rolling);
  }
  return study;
}

void run(const ThrottleArguments& options) {
  const Scenario scenario = load(options.scenario, Needs::run);
  const auto cases = throttle_study(scenario.setup, study_options(scenario.setup, options));
  if (!cases.front().failure.empty()) throw Stop{computation_failed, "bowrise: " + cases.front().failure};
  if (!options.common.quiet)
    print(options.common.json ? throttle_json(cases)
                              : name_of(scenario) + "\n\n" + throttle_text(cases) + cautions_text());
  if (!options.html) return;
  const auto traces = plan_traces(scenario.setup, cases, thread_count(options.common.threads));
  write_page(*options.html, throttle_page(scenario, cases, traces), options.common);
}

}  // namespace

void add_throttle(CLI::App& app) {
  const auto options = std::make_shared<ThrottleArguments>();
  Verb verb(app, "throttle",
            "pinned, ramp, staged, held, eased or optimised: which is quickest, which spares the pump");
  add_scenario_options(verb, options->scenario);
  add_common_options(verb, options->common);
  add_html_option(verb, options->html);
  verb.add_option("--worn", options->worn, "ring gap of the worn pump").type("GAP").show_preset();
  verb.add_option("--rolling", options->rolling, "craft speed of the rolling start")
      .type("SPEED")
      .show_preset();
  verb.add_option("--pump", options->pump, "with the ring gap as given, worn, or both")
      .one_of({"given", "worn", "both"})
      .show_preset();
  verb.add_option("--start", options->start, "from rest, rolling, or both")
      .one_of({"rest", "rolling", "both"})
      .show_preset();
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
