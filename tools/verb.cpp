#include "tools/verb.hpp"

#include <cstdio>

#include "sim/output/json.hpp"

namespace bowrise::tools {

void add_common_options(CLI::App& verb, CommonOptions& options) {
  verb.set_version_flag("--version", "bowrise " + std::string(version()));
  verb.add_flag("--json", options.json, "print the result as JSON");
  verb.add_flag("--quiet", options.quiet, "print nothing on success");
  verb.add_option("--threads", options.threads,
                  "threads for studies; 0: one per core. Results do not depend on it")
      ->check(CLI::Range(0, 1024));
}

void add_scenario_options(CLI::App& verb, ScenarioOptions& options) {
  verb.add_option("SCENARIO", options.path, "scenario file (YAML)")->required();
  verb.add_option("--set", options.set,
                  "KEY=VALUE over the file, e.g. --set nozzle.exit_diameter=84mm; repeatable")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false);
}

Scenario load(const ScenarioOptions& options, Needs needs) {
  ReadOptions read;
  read.needs = needs;
  for (const std::string& text : options.set) {
    const auto equals = text.find('=');
    if (equals == std::string::npos || equals == 0)
      throw Stop{bad_input, "--set " + text + ": write KEY=VALUE, e.g. nozzle.exit_diameter=84mm"};
    read.set.emplace_back(text.substr(0, equals), text.substr(equals + 1));
  }
  auto result = read_scenario(options.path, read);
  if (auto* scenario = std::get_if<Scenario>(&result)) return std::move(*scenario);
  std::string message;
  for (const Complaint& complaint : std::get<std::vector<Complaint>>(result))
    message += (message.empty() ? "" : "\n") + to_string(complaint);
  throw Stop{bad_input, message};
}

void print(const std::string& text) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0)
    throw Stop{not_written, "bowrise: could not write to standard output"};
}

}  // namespace bowrise::tools
