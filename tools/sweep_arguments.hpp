// What a user typed after `sweep`, turned into a plan and its definition.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/output/sweep_definition.hpp"
#include "tools/verb.hpp"

namespace bowrise::tools {

struct SweepArguments {
  ScenarioOptions scenario;
  std::vector<std::string> vary, rank;
  std::size_t samples = 0, sensitivity = 0;
  std::uint64_t seed = 1;
  std::string part = "1/1";
};

/// Scenario, axes, samples, ranking and part. @return those that mean nothing when parts are joined
std::vector<Argument> add_sweep_arguments(Verb& verb, SweepArguments& arguments);

/// "PURPOSE=WEIGHT" texts; a purpose twice or no weight above 0 is a Stop with code 2.
[[nodiscard]] std::vector<Weight> weights_of(const std::vector<std::string>& rank);

struct PlannedSweep {
  SweepPlan plan;
  SweepDefinition definition;
};

/// Without weights every purpose counts alike: holeshot, top, rough, life, and price where a varied part has
/// one.
[[nodiscard]] PlannedSweep planned_sweep(const SweepArguments& arguments);

}  // namespace bowrise::tools
