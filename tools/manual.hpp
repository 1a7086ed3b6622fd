// What --help shows besides the options: what a verb is for, examples, exit codes and which verbs to see
// next.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace bowrise::tools {

/// Lays out --help of the program and of its verbs.
class ManualFormatter : public CLI::Formatter {
 public:
  std::string make_help(const CLI::App* app, std::string name, CLI::AppFormatMode mode) const override;
  std::string make_description(const CLI::App* app) const override;
  std::string make_footer(const CLI::App* app) const override;

 private:
  [[nodiscard]] std::string option_groups(const CLI::App* app) const;
};

/// For --version: the version and the licence.
[[nodiscard]] std::string version_text();

}  // namespace bowrise::tools
