// Files that the build puts into the program: the page's own, and the chart library of the distribution's
// package.
#pragma once

#include <string_view>

namespace bowrise {

[[nodiscard]] std::string_view page_template();
[[nodiscard]] std::string_view page_style();
[[nodiscard]] std::string_view page_script();
/// Dygraphs (MIT), with its licence notice at its head.
[[nodiscard]] std::string_view chart_library();
[[nodiscard]] std::string_view chart_library_style();

}  // namespace bowrise
