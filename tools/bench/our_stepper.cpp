#include <algorithm>
#include <array>
#include <span>
#include <stdexcept>
#include <vector>

#include "sim/instants.hpp"
#include "sim/integrate.hpp"
#include "sim/lever_plan.hpp"
#include "sim/stepper_settings.hpp"
#include "tools/bench/marks.hpp"

namespace bowrise::bench {
namespace {

/// The four marks as guards, and their times as the integrator hands them on.
struct MarkTimes {
  static constexpr std::array<GuardRule, mark_count> all_rising{{{Crossing::rising, Then::record},
                                                                 {Crossing::rising, Then::record},
                                                                 {Crossing::rising, Then::record},
                                                                 {Crossing::rising, Then::record}}};
  [[nodiscard]] static std::span<const GuardRule> rules() { return all_rising; }
  static void guard_values(double, const StateArray& values, std::span<double> out) {
    const auto past = past_marks(to_state(values));
    std::copy(past.begin(), past.end(), out.begin());
  }
  [[nodiscard]] double longest_step() const {
    const bool any_ahead = std::find(mark_s.begin(), mark_s.end(), 0.0) != mark_s.end();
    return any_ahead ? longest_step_to_a_mark_s : longest_step_s;
  }
  static void row(double, const StateArray&) {}
  Then event(std::size_t mark, double t, const StateArray&) {
    mark_s[mark] = t;
    return Then::record;
  }

  std::array<double, mark_count> mark_s{};
};

template <class Stepper>
Solved solve_with(Stepper& stepper, const Craft& craft) {
  std::vector<LeverSegment> lever;
  LeverPlan plan(craft, duration_s, lever);
  Instants instants(craft, lever);
  const auto rates_for = [&](std::size_t segment) { return SegmentRates(craft, instants, segment); };
  IntegrateOptions options;
  options.initial_step = first_step_s;
  options.max_step = longest_step_s;
  options.probes = {.interior = 0, .located_within = located_within_s};
  MarkTimes marks;
  const auto ending = integrate(stepper, rates_for, to_array(craft.start), 0.0, plan, marks, marks, options);
  if (ending.failed()) throw std::runtime_error("our stepper gave up");
  return {marks.mark_s, to_state(ending.state), ending.counters.steps, ending.counters.rhs_calls};
}

}  // namespace

Solved solve_with_our_stepper(const Craft& craft, double tolerance) {
  return with_rosenbrock(craft, tolerance, [&](auto& stepper) { return solve_with(stepper, craft); });
}

}  // namespace bowrise::bench
