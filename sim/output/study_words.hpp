// Words that the texts of all studies share: labels, values, directions, columns.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/keys.hpp"
#include "sim/results.hpp"
#include "sim/study/diagnose.hpp"
#include "sim/study/outcome.hpp"

namespace bowrise {

/// "time to 30 mph"
[[nodiscard]] std::string result_label(const ResultRow& row);

/// "1.92 s", "71.3 mph, 114.8 km/h", "7710 rpm"
[[nodiscard]] std::string result_value_text(const ResultRow& row, double value);

/// The same, or "not reached".
[[nodiscard]] std::string result_cell(const ResultRow& row, const std::optional<double>& value);

/// Words for a value that has gone down and up: quicker and slower, less and more, ...
struct Direction {
  std::string_view down, up;
};
[[nodiscard]] Direction direction_of(const ResultRow& row);

/// "quicker by 0.21 s", "faster by 1.2 mph, 1.9 km/h"
[[nodiscard]] std::string directed(const ResultRow& row, double difference);

/// The size of a difference in the first unit that `directed` uses, without it.
[[nodiscard]] std::string short_size(const ResultRow& row, double difference);

/// "86 mm": an input in the unit of its row, in five digits; "derived" or "required" without a value.
[[nodiscard]] std::string input_text(const Key& key, double value);

/// Rounded to the two decimals that will be shown, and no zero with a sign.
[[nodiscard]] double hundredths(double value) noexcept;

/// What an explanation says is wrong.
[[nodiscard]] std::string meaning_of(const Suspect& suspect);

/// Columns of equal width with two blanks before each; the first to the left, the others to the right.
[[nodiscard]] std::string aligned(const std::vector<std::vector<std::string>>& lines);

/// "3 of 64 draws gave no launch and are left out", a line; nothing when there were none.
[[nodiscard]] std::string failures_text(std::size_t failed, std::size_t draws);

}  // namespace bowrise
