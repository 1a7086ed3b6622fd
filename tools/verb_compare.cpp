// bowrise compare: setups side by side, and over a shared input.
#include <algorithm>
#include <functional>
#include <memory>
#include <optional>

#include "sim/output/json_study.hpp"
#include "sim/output/study_text.hpp"
#include "sim/output/text.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct CompareArguments {
  std::vector<std::string> paths, set;
  CommonOptions common;
  BandArguments band;
  std::string over;
  bool coast = false;
};

constexpr std::size_t most_setups = 26;  // they are called A to Z

std::vector<Contender> contenders_of(const CompareArguments& options) {
  if (options.paths.size() < 2 || options.paths.size() > most_setups)
    throw Stop{bad_input, "bowrise: compare takes 2 to 26 scenarios"};
  std::vector<Contender> contenders;
  for (const std::string& path : options.paths) {
    contenders.push_back(contender_of(load({path, options.set}, Needs::run)));
  }
  return contenders;
}

OverStudy over_of(const CompareArguments& options, const std::vector<Contender>& contenders,
                  const BandOptions& band) {
  const std::string option = "--over " + options.over;
  const auto equals = options.over.find('=');
  if (equals == std::string::npos || equals == 0)
    throw Stop{bad_input, option + ": write KEY=LOW..HIGH:COUNT, e.g. engine.peak_power=150..400hp:11"};
  if (contenders.size() != 2) throw Stop{bad_input, option + ": takes two scenarios"};
  const Key& key = number_key(options.over.substr(0, equals), option);
  const std::vector<double> values = key_values(key, options.over.substr(equals + 1), option);
  if (values.size() < 2 || !std::is_sorted(values.begin(), values.end(), std::less_equal<>{}))
    throw Stop{bad_input, option + ": needs at least two values that rise"};
  return compare_over(contenders[0], contenders[1], key, values, band);
}

void run(const CompareArguments& options) {
  const std::vector<Contender> contenders = contenders_of(options);
  BandOptions band = band_options(options.band, options.common);
  band.coast = options.coast;
  std::optional<OverStudy> over;
  if (!options.over.empty()) over = over_of(options, contenders, band);
  const Comparison comparison = compare(contenders, band);
  if (options.common.quiet) return;
  if (options.common.json) return print(comparison_json(comparison, over ? &*over : nullptr));
  print(comparison_text(comparison) + (over ? over_text(*over, contenders[0].name, contenders[1].name) : "") +
        cautions_text());
}

}  // namespace

void add_compare(CLI::App& app) {
  const auto options = std::make_shared<CompareArguments>();
  Verb verb(app, "compare",
            "setups side by side: every difference to the first, how sure it is, what to make of it");
  add_scenario_list(verb, options->paths, options->set, "two or more");
  add_common_options(verb, options->common);
  add_band_options(verb, options->band);
  verb.add_option("--over", options->over,
                  "vary this input in both of two setups and find where they change places")
      .type("KEY=LOW..HIGH:COUNT");
  verb.add_flag("--coast", options->coast, "also compare the coast-down after the throttle is shut");
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
