// The table of verbs: adding one means one line in bowrise.cpp and one file verb_NAME.cpp.
#pragma once

namespace CLI {
class App;
}  // namespace CLI

namespace bowrise::tools {

void add_run(CLI::App& app);
void add_check(CLI::App& app);
void add_compare(CLI::App& app);
void add_curves(CLI::App& app);
void add_diagnose(CLI::App& app);
void add_fit(CLI::App& app);
void add_match(CLI::App& app);
void add_parameters(CLI::App& app);
void add_report(CLI::App& app);
void add_throttle(CLI::App& app);
void add_wear(CLI::App& app);
void add_sweep(CLI::App& app);

}  // namespace bowrise::tools
