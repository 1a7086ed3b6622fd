// What `bowrise run --out` left in a folder, read back: who made it, of which setup, and the numbers to hold
// a run of today against.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "sim/results.hpp"

namespace bowrise {

/// The files of a result.
constexpr const char* trace_file = "trace.csv";
constexpr const char* summary_file = "summary.json";
constexpr const char* setup_file = "scenario.yaml";

struct StoredMark {
  std::string name;
  std::optional<double> time_s;  ///< empty where the launch did not get there
};

struct StoredResult {
  std::string version;        ///< of the program that made it
  std::string scenario_hash;  ///< of the setup it was made of
  std::vector<StoredMark> marks;
  std::optional<double> top_speed_m_s;
};

/// @return the result, or one line that says what is wrong with the folder
[[nodiscard]] std::variant<StoredResult, std::string> read_result(const std::filesystem::path& folder);

/// Every number of the stored result that a run of today misses by more than 1e-4 of it, as a text each:
/// between builds and machines the last digits may differ. Marks that only one of the two knows are left out.
[[nodiscard]] std::vector<std::string> changes_since(const StoredResult& stored, const Summary& today);

}  // namespace bowrise
