// What each limit costs: the same launch in a world where that limit is lifted, less the launch as it is.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "models/setup.hpp"
#include "sim/study/outcome.hpp"

namespace bowrise {

/// What a limit takes from the setup: positive is lost by it. Empty where one of the two did not get there.
struct LimitCost {
  std::string_view name, meaning;
  std::optional<double> time_to_30_mph_s, time_to_60_mph_s, time_to_100_m_s, top_speed_m_s, top_rpm;
};

/// Every limit that can be lifted from this setup; each is a setup of its own: the physics is not told.
/// @param as_it_is  the outcome of `setup` itself
[[nodiscard]] std::vector<LimitCost> limit_costs(const Setup& setup, const Outcome& as_it_is,
                                                 unsigned threads);

}  // namespace bowrise
