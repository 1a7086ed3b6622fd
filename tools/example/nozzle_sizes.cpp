// Launches one craft with three nozzles: nozzle_sizes SCENARIO.yaml
#include <cstdio>
#include <variant>

#include "sim/scenario/read.hpp"
#include "sim/study/outcome.hpp"

int main(int argc, char** argv) {
  const auto read = bowrise::read_scenario(argc > 1 ? argv[1] : "");
  const auto* scenario = std::get_if<bowrise::Scenario>(&read);
  if (scenario == nullptr) return 2;
  for (const double larger_m : {-0.002, 0.0, 0.002}) {
    bowrise::Setup setup = scenario->setup;
    setup.nozzle.exit_diameter_m += larger_m;
    const bowrise::Outcome outcome = bowrise::outcome_of(setup);
    const auto value = [&](const char* name) {
      return outcome.values[bowrise::result_index(name)].value_or(0.0);
    };
    std::printf("%.0f mm: 30 mph in %.2f s, %.1f m/s at %.0f rpm\n", 1e3 * setup.nozzle.exit_diameter_m,
                value("time_to_30_mph"), value("top_speed"), value("top_rpm"));
  }
}
