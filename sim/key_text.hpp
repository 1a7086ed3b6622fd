// The text form of an input in both directions, and the sentences about what is wrong with a text and what is
// allowed.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/keys.hpp"

namespace bowrise {

/// Sets one input from what a user typed: "86 mm", a word, "[[1500 rpm, 120 Nm], [3000 rpm, 140 Nm]]". An
/// input with a derived preset also accepts "derived", a table "[]": back to the preset.
/// @return what is wrong and what is allowed, and then the setup is unchanged; nothing when all is well
[[nodiscard]] std::optional<std::string> set_from_text(Setup& setup, const Key& key, std::string_view text);

/// What is wrong with a table, and where; a row or column that does not apply is `whole`.
struct CellError {
  static constexpr std::size_t whole = static_cast<std::size_t>(-1);
  std::size_t row, column;
  std::string what;
};

/// Sets a table input from the texts of its cells. @return all errors, and then the setup is unchanged
[[nodiscard]] std::vector<CellError> set_from_cells(Setup& setup, const Key& key,
                                                    std::span<const std::vector<std::string>> cells);

/// The text form of the current value; `set_from_text` reads it back to the same bits. A number is written in
/// the unit of its row or, where rounding allows no exact way back, in the SI unit. NaN is "derived" or
/// "required".
[[nodiscard]] std::string text_of(const Setup& setup, const Key& key);

/// The text forms of the cells of a table row; exact like `text_of`.
[[nodiscard]] std::vector<std::string> cell_texts(const Key& key, std::span<const double> row);

/// "a length from 10 mm to 1500 mm", "one of pinned, ramp", "a table of 4 to 40 rows [shaft_speed in rpm,
/// ...]".
[[nodiscard]] std::string allowed_text(const Key& key);

/// Why a possible number deserves a warning: outside the usual range, or another unit was probably meant.
/// @param typed  the value as the user wrote it, for the message
[[nodiscard]] std::optional<std::string> doubt_about(const Setup& setup, const Key& key,
                                                     std::string_view typed);

}  // namespace bowrise
