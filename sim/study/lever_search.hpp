// The lever, given at a few knots, that brings a craft to 30 mph soonest.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "sim/craft.hpp"
#include "sim/launch.hpp"

namespace bowrise {

inline constexpr std::size_t lever_knots = 6;
using KnotLevers = std::array<double, lever_knots>;

/// Lever at six times from t = 0, closer where the revs shoot up, straight between them, full at `full_s`;
/// each as near to what is asked as the hand gets from the one before. All at 1 is pinned.
[[nodiscard]] TableRows lever_table(const KnotLevers& levers, double full_s, double hand_rate_1_s);

/// A lever that was run, at the same knots.
[[nodiscard]] KnotLevers levers_at_knots(const std::vector<LeverSegment>& lever, double full_s);

/// Launch without rows that ends at `duration_s` at the latest.
[[nodiscard]] Launch short_launch(const Craft& craft, const Setup& setup, double duration_s);

/// When a launch passed 30 mph.
[[nodiscard]] std::optional<double> time_to_30_mph(const Launch& run);

/// Searches from the best of the starts without derivatives (Sbplx of NLopt, after Rowan 1990): a fixed
/// number of launches, no clock. The answer is the best lever seen, so it is never slower than the starts.
/// @param full_s  time of the last knot, when the lever is full: about that to 30 mph
[[nodiscard]] Throttle quickest_lever(const Craft& craft, const Setup& setup, double full_s,
                                      const std::vector<KnotLevers>& starts, std::size_t evaluations);

}  // namespace bowrise
