// What the verbs of the program share: exit codes, common options, and how complaints are shown.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "sim/keys.hpp"
#include "sim/scenario/read.hpp"
#include "sim/study/band.hpp"
#include "sim/study/compare.hpp"
#include "sim/study/executor.hpp"
#include "tools/command_line.hpp"

namespace bowrise::tools {

enum ExitCode : int { done = 0, computation_failed = 1, bad_input = 2, not_written = 3 };

/// Options that every verb takes.
struct CommonOptions {
  bool json = false, quiet = false;
  int threads = 0;
};
void add_common_options(Verb& verb, CommonOptions& options);

struct ScenarioOptions {
  std::string path;
  std::vector<std::string> set;
};
/// The two as added, to be told more of.
struct ScenarioArguments {
  Argument path, set;
};
ScenarioArguments add_scenario_options(Verb& verb, ScenarioOptions& options);
Argument add_set_option(Verb& verb, std::vector<std::string>& set);
/// Several scenario files, and --set over each.
void add_scenario_list(Verb& verb, std::vector<std::string>& paths, std::vector<std::string>& set,
                       const std::string& how_many);

/// --html FILE: the answer also as one page for a browser.
void add_html_option(Verb& verb, std::optional<std::string>& file);

/// Writes a page, whole or not at all, and says so in text; a failure is a Stop with code 3.
void write_page(const std::string& file, const std::string& page, const CommonOptions& options);

/// Options of verbs that draw the uncertain inputs.
struct BandArguments {
  std::size_t draws = 0;
  std::uint64_t seed = 1;
};
void add_band_options(Verb& verb, BandArguments& options);
[[nodiscard]] BandOptions band_options(const BandArguments& band, const CommonOptions& common);

/// Thrown by a verb to end the program with a message on stderr.
struct Stop {
  ExitCode code;
  std::string message;
};

/// Reads a scenario; all complaints go into one Stop with code 2.
[[nodiscard]] Scenario load(const ScenarioOptions& options, Needs needs);

/// A number key of the scenario by its name; another kind or an unknown name is a Stop with code 2.
/// @param option  what the user typed, for the message
[[nodiscard]] const Key& number_key(const std::string& name, const std::string& option);

/// The same for an input that is to be changed in this scenario: refused where it would change nothing.
[[nodiscard]] const Key& changeable_key(const Scenario& scenario, const std::string& name,
                                        const std::string& option);

/// The sizes listed under parts: in the scenario; null when there are none.
[[nodiscard]] const PartSizes* part_sizes(const Scenario& scenario, const Key& key);

/// "LOW..HIGH:COUNT" or a list, in the unit of the key's row.
[[nodiscard]] std::vector<double> key_values(const Key& key, const std::string& text,
                                             const std::string& option);

/// Index of a result by its name; an unknown one is a Stop with code 2.
[[nodiscard]] std::size_t result_named(const std::string& name, const std::string& option);

/// "RESULT=VALUE" with a unit: index of the result and the value in the unit of its row.
[[nodiscard]] std::pair<std::size_t, double> result_value(const std::string& text, const std::string& option);

/// Writes results to stdout; a closed or full output is an error.
void print(const std::string& text);

/// A scenario as a study compares it, with what a fit knows of it.
[[nodiscard]] Contender contender_of(const Scenario& scenario);

}  // namespace bowrise::tools
