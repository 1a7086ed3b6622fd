// Curves in tests: a scenario file laid out over axes, cells found by the name of their column.
// BOWRISE_SOURCE_DIR is the top of the source tree, set by the build.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "sim/curves.hpp"
#include "sim/scenario/read.hpp"

namespace bowrise {

/// A sound scenario under scenarios/, with changes as --set would make them.
inline Scenario shipped_scenario(const std::string& name, Needs needs = Needs::run,
                                 std::vector<std::pair<std::string, std::string>> set = {}) {
  auto result =
      read_scenario(std::filesystem::path(BOWRISE_SOURCE_DIR) / "scenarios" / name, {std::move(set), needs});
  if (const auto* const complaints = std::get_if<std::vector<Complaint>>(&result)) {
    for (const Complaint& complaint : *complaints) UNSCOPED_INFO(to_string(complaint));
    FAIL("scenarios/" << name << " is refused");
  }
  return std::get<Scenario>(std::move(result));
}

inline std::size_t column_of(const CurveTable& table, std::string_view name) {
  const auto found = std::find(table.columns.begin(), table.columns.end(), name);
  INFO("column " << name);
  REQUIRE(found != table.columns.end());
  return static_cast<std::size_t>(found - table.columns.begin());
}

inline double value(const CurveTable& table, std::string_view column, std::size_t row = 0) {
  REQUIRE(row < table.rows.size());
  return std::get<double>(table.rows[row][column_of(table, column)]);
}

inline std::string word(const CurveTable& table, std::string_view column, std::size_t row = 0) {
  REQUIRE(row < table.rows.size());
  return std::get<std::string>(table.rows[row][column_of(table, column)]);
}

}  // namespace bowrise
