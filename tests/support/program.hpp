// Runs the built program from outside, as a shell would, and keeps what it said.
#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bowrise {

using Words = std::vector<std::string>;

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
[[nodiscard]] Finished run_program(const Words& arguments, const RunOptions& options = {});

/// Runs it and checks that it refuses: this exit code, one line on stderr that holds the part, nothing on
/// stdout.
void check_refused(const Words& arguments, std::string_view part, int code = 2);
/// The same with several parts, which need not stand in this order.
void check_refused_for_all(const Words& arguments, const Words& parts);

/// A path under the top of the source tree.
[[nodiscard]] std::filesystem::path in_source_tree(const std::string& relative);

/// The demo craft, which every verb accepts.
[[nodiscard]] std::string demo_scenario();

/// A shipped scenario, by its name without the ending.
[[nodiscard]] std::string scenario_file(const std::string& name);

/// A text cut at line ends; the last line need not have one.
[[nodiscard]] Words lines_of(const std::string& text);

/// A line cut at commas, empty cells kept.
[[nodiscard]] Words cells_of(const std::string& line);

}  // namespace bowrise
