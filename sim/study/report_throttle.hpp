// What a page about throttle plans shows besides the study's numbers: the launches of those worth a look.
#pragma once

#include <cstddef>
#include <vector>

#include "sim/launch.hpp"
#include "sim/study/throttle_plans.hpp"

namespace bowrise {

struct PlanTrace {
  std::size_t plan;  ///< index in the case
  Launch launch;     ///< with rows, some way beyond 30 mph
};

/// Pinned, those that the advice names, and the optimised: indices, rising.
[[nodiscard]] std::vector<std::size_t> plans_to_show(const ThrottleCase& plans);

/// Their launches, case by case; none of a case that could not start.
/// @param setup  that the cases were made from
[[nodiscard]] std::vector<std::vector<PlanTrace>> plan_traces(const Setup& setup,
                                                              const std::vector<ThrottleCase>& cases,
                                                              unsigned threads);

}  // namespace bowrise
