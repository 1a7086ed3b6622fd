// A text without the blanks around it, for all who read what users write.
#pragma once

#include <string_view>

namespace bowrise {

/// A part of the text, empty when it is all blank.
[[nodiscard]] constexpr std::string_view trimmed(std::string_view text,
                                                 std::string_view blanks = " \t") noexcept {
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return text.substr(text.size());
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

}  // namespace bowrise
