// What solvers are compared by: the times at which a launch passes four marks, and its last state.
#pragma once

#include <array>
#include <cstddef>

#include "models/setup.hpp"
#include "sim/craft.hpp"
#include "sim/state.hpp"

namespace bowrise::bench {

inline constexpr double duration_s = 15.0;
inline constexpr double low_speed_m_s = 30 * 0.44704, high_speed_m_s = 60 * 0.44704;
inline constexpr double short_distance_m = 60 * 0.3048, long_distance_m = 100.0;
inline constexpr std::size_t mark_count = 4;

/// How far a state is past each mark; rises through zero there.
[[nodiscard]] inline std::array<double, mark_count> past_marks(const State& state) {
  return {state.speed_m_s - low_speed_m_s, state.speed_m_s - high_speed_m_s,
          state.distance_m - short_distance_m, state.distance_m - long_distance_m};
}

struct Solved {
  std::array<double, mark_count> mark_s{};  ///< 0 where a mark was not reached
  State end{};
  std::size_t steps = 0, rhs_calls = 0;
};

/// Largest relative difference in marks, speed and shaft speed at the end.
[[nodiscard]] double error_of(const Solved& solved, const Solved& reference);

/// The launch as every verb runs it, all its events and sums included.
/// @throws std::runtime_error when it fails, as the others do
[[nodiscard]] Solved solve_with_launch(const Setup& setup, const Craft& craft, double tolerance);

/// Our stepper with nothing around it: it looks for the four marks alone, as CVODE does.
[[nodiscard]] Solved solve_with_our_stepper(const Craft& craft, double tolerance);

#ifdef BOWRISE_WITH_CVODE
enum class Multistep { bdf, adams };
enum class ErrorWeights { alike, shared };  ///< of all states, or by `tolerance_share` as ours has them
/// The same right-hand side by CVODE with a dense Newton solver, whose root finding looks for the four marks
/// alone.
[[nodiscard]] Solved solve_with_cvode(const Craft& craft, Multistep method, ErrorWeights weights,
                                      double tolerance);
#endif

}  // namespace bowrise::bench
