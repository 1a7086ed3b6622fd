// What tests ask of a text.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace bowrise {

inline bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

/// How often the part stands in the text, overlaps not counted.
inline std::size_t count_of(const std::string& text, std::string_view part) {
  std::size_t found = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) ++found;
  return found;
}

}  // namespace bowrise
