// A locale that writes numbers with a comma, made for one test: few machines have one installed.
#pragma once

#include <cstdlib>

#include "tests/support/folder.hpp"

namespace bowrise {

/// The folder for LOCPATH in which de_DE.UTF-8 is to be found, where the tool that makes locales has its
/// sources.
class GermanLocale {
 public:
  GermanLocale() {
    const std::string make =
        "localedef -i de_DE -f UTF-8 '" + (folder_.path / name).string() + "' >/dev/null 2>&1";
    if (std::system(make.c_str()) != 0)
      WARN("no locale with a decimal comma can be made here: not tested with one");
  }
  static constexpr const char* name = "de_DE.UTF-8";
  [[nodiscard]] const std::filesystem::path& path() const { return folder_.path; }

 private:
  Folder folder_;
};

}  // namespace bowrise
