// bowrise wear: how the ring gap grows launch after launch.
#include <memory>

#include "sim/key_text.hpp"
#include "sim/output/chart.hpp"
#include "sim/output/json_study.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/output/study_text.hpp"
#include "sim/output/text.hpp"
#include "sim/study/wear_life.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct WearArguments {
  std::vector<std::string> paths, set, strategies;
  CommonOptions common;
  std::optional<std::string> html;
  BandArguments band;
  std::size_t launches = 500;
  std::string slower = "0.2 s";
};

/// Every scenario with every strategy; without one, as the scenario opens the throttle.
std::vector<Contender> contenders_of(const WearArguments& options, const std::vector<Scenario>& scenarios) {
  std::vector<Contender> contenders;
  const Key& plan = *find_key("throttle.plan");
  for (const Scenario& scenario : scenarios) {
    if (options.strategies.empty()) {
      contenders.push_back(contender_of(scenario));
      contenders.back().name += ", " + text_of(scenario.setup, plan);
    }
    for (const std::string& strategy : options.strategies) {
      Contender contender = contender_of(scenario);
      contender.name += ", " + strategy;
      if (const auto error = set_from_text(contender.setup, plan, strategy))
        throw Stop{bad_input, "--strategy " + strategy + ": " + *error};
      if (const Problems problems = check(contender.setup); !problems.empty())
        throw Stop{bad_input,
                   "--strategy " + strategy + ": " + problems.front().key + ": " + problems.front().what};
      contenders.push_back(std::move(contender));
    }
  }
  return contenders;
}

double slower_s(const WearArguments& options) {
  const auto value = parse_quantity(options.slower, Dimension::time);
  if (const auto* error = std::get_if<QuantityError>(&value))
    throw Stop{bad_input, "--slower " + options.slower + ": " + error->what};
  if (std::get<double>(value) <= 0.0)
    throw Stop{bad_input, "--slower " + options.slower + ": must be above 0 s"};
  return std::get<double>(value);
}

void run(const WearArguments& options) {
  WearOptions wear{static_cast<double>(options.launches), slower_s(options),
                   band_options(options.band, options.common)};
  std::vector<Scenario> scenarios;
  for (const std::string& path : options.paths) scenarios.push_back(load({path, options.set}, Needs::run));
  const std::vector<Contender> contenders = contenders_of(options, scenarios);
  if (options.html && contenders.size() > most_overlaid)
    throw Stop{bad_input, "bowrise: wear --html overlays 1 to " + std::to_string(most_overlaid) +
                              " scenarios times strategies"};
  const std::vector<WearLife> lives = wear_lives(contenders, wear);
  if (lives.front().points.empty()) throw Stop{computation_failed, "bowrise: " + lives.front().failure};
  if (!options.common.quiet)
    print(options.common.json ? wear_json(lives, wear) : wear_text(lives, wear) + cautions_text());
  if (options.html) write_page(*options.html, wear_page(scenarios, lives, wear), options.common);
}

}  // namespace

void add_wear(CLI::App& app) {
  const auto options = std::make_shared<WearArguments>();
  Verb verb(app, "wear",
            "how the ring gap grows launch after launch, what it costs, which way of driving slows it");
  add_scenario_list(verb, options->paths, options->set, "one or more");
  add_common_options(verb, options->common);
  add_html_option(verb, options->html);
  add_band_options(verb, options->band);
  verb.add_option("--launches", options->launches, "launches to follow")
      .type("N")
      .between(1, 1'000'000)
      .show_preset();
  verb.add_option("--strategy", options->strategies, "throttle plan to drive by; repeatable")
      .type("PLAN")
      .repeatable();
  verb.add_option("--slower", options->slower, "also count the launches until 30 mph takes so much longer")
      .type("TIME")
      .show_preset();
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
