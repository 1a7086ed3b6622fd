// Outcome: what a study keeps of one setup, the value of every result row.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "models/setup.hpp"
#include "sim/craft.hpp"
#include "sim/results.hpp"

namespace bowrise {

/// Values by the order of `result_rows()`, each in the unit of its row; empty where the launch did not get
/// there.
struct Outcome {
  std::vector<std::optional<double>> values;
  std::string failure{};  ///< why there is no launch at all; then no value is present
  std::array<double, limit_words.size()>
      limited_s{};  ///< time under each limit, by the order of `limit_words`

  [[nodiscard]] bool failed() const { return !failure.empty(); }
};

/// The same from a launch that has been read down already.
[[nodiscard]] Outcome outcome_of(const Summary& summary);

/// Prepares, launches and reads down one setup. A computation that fails is an outcome, not an exception.
/// @param coast  also coast down to rest, for `coast_down_distance`
/// @param offered  tables that may serve; the outcome is the same bit by bit without them
[[nodiscard]] Outcome outcome_of(const Setup& setup, bool coast = false, const Tables& offered = {});

/// Index of a result by its name; nothing when there is none of that name.
[[nodiscard]] std::optional<std::size_t> find_result(std::string_view name);

/// Index of a result that must exist. @throws std::logic_error when the program names one that does not
[[nodiscard]] std::size_t result_index(std::string_view name);

}  // namespace bowrise
