// Text into HTML: everything that a user wrote passes here.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bowrise {

/// Safe between tags and in quoted attributes; control characters become blanks.
[[nodiscard]] std::string escaped(std::string_view text);

/// A cell of a table, its content already HTML.
struct HtmlCell {
  std::string html, css_class;
};

[[nodiscard]] inline HtmlCell plain(std::string_view text, std::string css_class = "") {
  return {escaped(text), std::move(css_class)};
}

using HtmlLines = std::vector<std::vector<HtmlCell>>;

/// A table in a box of its own that scrolls; the first line and the first column are headings.
/// @param caption  plain text
[[nodiscard]] std::string html_table(std::string_view caption, const HtmlLines& lines);

/// A list with a bullet for each text. @param texts  plain
[[nodiscard]] std::string html_list(const std::vector<std::string>& texts);

/// Replaces every [[name]] of the template by its text, in one pass: inserted text is not looked at again.
/// @throws std::logic_error for a name without a text
[[nodiscard]] std::string filled(std::string_view page,
                                 const std::map<std::string, std::string, std::less<>>& texts);

}  // namespace bowrise
