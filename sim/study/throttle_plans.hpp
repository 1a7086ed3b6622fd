// Throttle plans side by side: which is quickest, which spares the pump, and what a rider's error costs.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "models/setup.hpp"
#include "sim/study/outcome.hpp"

namespace bowrise {

/// Errors that a rider makes: the hand early or late, the lever too little or too far open.
enum class RiderError : std::size_t { early, late, less, more };
inline constexpr std::size_t rider_error_count = 4;
inline constexpr double rider_timing_error_s = 0.1, rider_lever_error = 0.1;

/// One plan and what became of it.
struct PlanResult {
  std::string name;
  Throttle throttle;
  Outcome outcome;
  /// Time to 30 mph with each error; empty where the mark was missed.
  std::array<std::optional<double>, rider_error_count> with_error_s;

  /// Time to 30 mph at the worst of them; empty where one missed the mark.
  [[nodiscard]] std::optional<double> worst_s() const;
  /// A result by name, in the unit of its row.
  [[nodiscard]] std::optional<double> value(std::string_view result) const;
};

/// All plans on one craft from one start.
struct ThrottleCase {
  double clearance_m, rolling_speed_m_s;
  std::string failure;            ///< why this craft cannot start; then there are no plans
  std::vector<PlanResult> plans;  ///< pinned first, optimised last
};

/// The setup with the ring and the start of a case.
[[nodiscard]] Setup at_case(Setup setup, const ThrottleCase& one);

/// What to make of a case: indices of plans. Empty where no plan reached 30 mph.
struct ThrottleAdvice {
  std::size_t quickest, gentlest;  ///< least time to 30 mph; least wear index
  std::size_t compromise;          ///< least wear among those nobody could measure to be slower than pinned
  std::size_t steadiest;           ///< least time with the worst error
  std::optional<std::size_t> runs_each;  ///< runs that show the quickest ahead of pinned
};

struct ThrottleStudyOptions {
  std::vector<double> clearances_m, rolling_speeds_m_s;
  unsigned threads = 1;
  std::size_t evaluations = 600;  ///< launches that the optimiser may spend on a case
};

/// Cases by clearance, then by rolling speed. A plan table of the setup takes part as it is.
[[nodiscard]] std::vector<ThrottleCase> throttle_study(const Setup& setup,
                                                       const ThrottleStudyOptions& options);

[[nodiscard]] std::optional<ThrottleAdvice> advice_on(const ThrottleCase& plans);

}  // namespace bowrise
