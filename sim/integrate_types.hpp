#pragma once
/// Options and endings of `integrate`.
#include <cstddef>
#include <limits>

#include "sim/guard_types.hpp"

namespace bowrise {

struct IntegrateOptions {
  double initial_step = 1e-3;  ///< first trial step
  double restart_step = 0;     ///< first trial step after a stop; 0: as if there had been no stop
  double max_step = std::numeric_limits<double>::infinity();
  double output_step = 0;  ///< spacing of rows; 0 or less: no rows
  ProbeGrid probes{.interior =
                       4};  ///< of guards; a spacing asks for a longest step, so that they can be counted
  std::size_t max_steps = 1'000'000;
  std::size_t max_rhs_calls = 100'000'000;
};

enum class EndReason {
  reached_end,
  stopped_by_guard,         ///< index: the guard
  failed_not_finite,        ///< a rate or the state; index: the component
  failed_guard_not_finite,  ///< index: the guard
  failed_step_too_small,    ///< index: the component that fails the error test worst, if known
  failed_too_many_steps,    ///< steps or calls of the right-hand side
};

struct IntegrationCounters {
  std::size_t steps = 0;
  std::size_t rejected_steps =
      0;  ///< of a stepper that counts them; for Odeint only those for a rate not finite
  std::size_t rhs_calls = 0;
  std::size_t jacobians = 0;
  std::size_t guard_probes = 0;  ///< calls of guard_values
  std::size_t rows = 0;
};

struct Ending {
  static constexpr std::size_t no_index = std::numeric_limits<std::size_t>::max();

  EndReason reason = EndReason::reached_end;
  double time = 0;               ///< of the end or stop; after a failure the last good time
  std::size_t index = no_index;  ///< guard or component, see EndReason
  IntegrationCounters counters;

  [[nodiscard]] bool failed() const noexcept { return reason > EndReason::stopped_by_guard; }
};

/// An ending with the state at its time (always finite, unless the initial state was not).
template <class State>
struct EndingAt : Ending {
  State state{};
};

}  // namespace bowrise
