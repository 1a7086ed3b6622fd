// The texts of --help. A test runs every example.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace bowrise::tools {

struct ManualPage {
  std::string_view verb;                   ///< or the program's name
  std::string_view purpose;                ///< a paragraph, lines under 100 columns
  std::vector<std::string_view> examples;  ///< with shipped scenarios, from the top of the source tree
  std::string_view see_also;
};

/// Null for a verb without a page.
[[nodiscard]] const ManualPage* manual_page(const std::string& verb);

}  // namespace bowrise::tools
