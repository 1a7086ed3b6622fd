#pragma once
/// What `rosenbrock.hpp` is told of a problem, what it counts and how it gives up.
#include <array>
#include <cstddef>
#include <exception>
#include <limits>

namespace bowrise {

/// Why no step could be made: a rate is not finite (or a stage left the numbers), or no step that still moves
/// the time meets the error test (also: too many trials for one step).
enum class StepProblem { not_finite, too_small };

/// Thrown by `do_step` when it gives up; the stepper then still holds the last good time and state.
struct StepFailure final : std::exception {
  StepFailure(double last_good_time, std::size_t component, StepProblem problem)
      : time(last_good_time), component_index(component), reason(problem) {}
  [[nodiscard]] const char* what() const noexcept override {
    return reason == StepProblem::not_finite ? "rate of change is not finite" : "time step became too small";
  }
  double time;                  ///< last good time
  std::size_t component_index;  ///< the component that is not finite, or that fails the error test worst
  StepProblem reason;
};

/// Work done since construction.
struct StepperCounters {
  std::size_t steps = 0;           ///< accepted
  std::size_t rejected_steps = 0;  ///< trials refused by the error test or by a rate that is not finite
  std::size_t rhs_calls = 0;       ///< all calls of the system, those for the Jacobian included
  std::size_t jacobians = 0;
};

namespace detail {

template <std::size_t N>
[[nodiscard]] constexpr std::array<double, N> filled(double value) {
  std::array<double, N> all{};
  all.fill(value);
  return all;
}

template <std::size_t N>
[[nodiscard]] constexpr std::array<bool, N> all_active() {
  std::array<bool, N> all{};
  all.fill(true);
  return all;
}

}  // namespace detail

/// What the stepper has to know of the problem, per component.
template <std::size_t N>
struct RosenbrockSettings {
  /// Allowed error per step is absolute + relative * |y|; the root mean square over components is tested.
  std::array<double, N> relative_tolerance = detail::filled<N>(1e-6);
  std::array<double, N> absolute_tolerance = detail::filled<N>(1e-6);
  /// Scale of each component: differences for the Jacobian are taken over sqrt(epsilon) * max(|y|, typical).
  std::array<double, N> typical_size = detail::filled<N>(1.0);
  /// Steps above this are long (see rosenbrock.hpp): of systems that offer their Jacobian, where autonomous.
  double long_step = std::numeric_limits<double>::infinity();
  /// False: no rate depends on this component (a distance, a switched-off lag), so its column is zero.
  std::array<bool, N> active = detail::all_active<N>();
};

}  // namespace bowrise
