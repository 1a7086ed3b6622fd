// What the verbs of the program share: exit codes, common options, and how complaints are shown.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "sim/scenario/read.hpp"

namespace bowrise::tools {

enum ExitCode : int { done = 0, computation_failed = 1, bad_input = 2, not_written = 3 };

/// Options that every verb takes.
struct CommonOptions {
  bool json = false, quiet = false;
  int threads = 0;
};
void add_common_options(CLI::App& verb, CommonOptions& options);

struct ScenarioOptions {
  std::string path;
  std::vector<std::string> set;
};
void add_scenario_options(CLI::App& verb, ScenarioOptions& options);

/// Thrown by a verb to end the program with a message on stderr.
struct Stop {
  ExitCode code;
  std::string message;
};

/// Reads a scenario; all complaints go into one Stop with code 2.
[[nodiscard]] Scenario load(const ScenarioOptions& options, Needs needs);

/// Writes results to stdout; a closed or full output is an error.
void print(const std::string& text);

}  // namespace bowrise::tools
