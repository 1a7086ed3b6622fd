// Runs the built program from outside, as a shell would, and keeps what it said.
#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace bowrise {

/// What a finished program left behind.
struct Finished {
  int exit_code;  ///< 128 + signal when it was killed by one
  std::string out, err;
};

struct RunOptions {
  std::filesystem::path folder;                                  ///< to run in; empty: the caller's
  std::vector<std::pair<std::string, std::string>> environment;  ///< set over the caller's
  std::string standard_output;  ///< write stdout to this file instead of keeping it
  std::optional<std::size_t>
      largest_file_bytes{};  ///< more cannot be written into any file, as on a full disk
};

/// Runs BOWRISE_PROGRAM with these arguments, no shell in between, and waits for its end.
[[nodiscard]] Finished run_program(const std::vector<std::string>& arguments, const RunOptions& options = {});

/// A path under the top of the source tree.
[[nodiscard]] std::filesystem::path in_source_tree(const std::string& relative);

/// The demo craft, which every verb accepts.
[[nodiscard]] std::string demo_scenario();

/// A text cut at line ends; the last line need not have one.
[[nodiscard]] std::vector<std::string> lines_of(const std::string& text);

/// A line cut at commas, empty cells kept.
[[nodiscard]] std::vector<std::string> cells_of(const std::string& line);

}  // namespace bowrise
