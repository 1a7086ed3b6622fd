// Reading scenarios in tests: results as lines to compare, setups compared bit for bit, random setups.
// BOWRISE_SOURCE_DIR is the top of the source tree, set by the build.
#pragma once

#include <algorithm>
#include <bit>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <random>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "sim/keys.hpp"
#include "sim/scenario/read.hpp"
#include "tests/support/text.hpp"

namespace bowrise {

using Lines = std::vector<std::string>;
using Result = std::variant<Scenario, std::vector<Complaint>>;

inline const std::filesystem::path bad = std::filesystem::path{BOWRISE_SOURCE_DIR} / "tests/command/bad";

/// Complaints as lines, without the folder of the files.
inline Lines lines(const std::vector<Complaint>& complaints, const std::filesystem::path& folder) {
  Lines list;
  for (const Complaint& complaint : complaints) {
    std::string line = to_string(complaint);
    const std::string prefix = folder.string() + "/";
    for (std::size_t at = 0; (at = line.find(prefix, at)) != std::string::npos;)
      line.erase(at, prefix.size());
    list.push_back(line);
  }
  return list;
}

inline Lines errors(const Result& result, const std::filesystem::path& folder) {
  return std::holds_alternative<Scenario>(result) ? Lines{} : lines(std::get<1>(result), folder);
}

inline Scenario sound(const Result& result) {
  if (const auto* const complaints = std::get_if<1>(&result)) {
    for (const Complaint& complaint : *complaints) UNSCOPED_INFO(to_string(complaint));
    FAIL("a sound scenario was refused");
  }
  return std::get<Scenario>(result);
}

inline Scenario from_text(const std::string& text, const ReadOptions& options = {}) {
  return sound(read_scenario_text(text, bad / "text.yaml", options));
}

inline Lines text_errors(const std::string& text, const ReadOptions& options = {}) {
  return errors(read_scenario_text(text, bad / "here.yaml", options), bad);
}

inline bool same_bits(double a, double b) {
  return (std::isnan(a) && std::isnan(b)) ||
         std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

/// The first key in which two setups differ; empty when they are the same bit for bit.
inline std::string difference(const Setup& a, const Setup& b) {
  for (const Key& key : all_keys()) {
    if (key.kind == KeyKind::number && !same_bits(get_SI(a, key), get_SI(b, key))) return key.name;
    if (key.kind == KeyKind::choice && key.read_word(a) != key.read_word(b)) return key.name;
    if (key.kind == KeyKind::table && key.read_table(a) != key.read_table(b)) return key.name;
  }
  return "";
}

/// A value of each key, anywhere in its possible range; about half of what may be left to be derived is.
inline Setup random_setup(std::mt19937_64& generator) {
  Setup setup = preset_setup();
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(generator);
  };
  for (const Key& key : all_keys()) {
    if (key.kind == KeyKind::choice) {
      key.write_word(setup, static_cast<int>(generator() % key.words.size()));
    } else if (key.kind == KeyKind::table) {
      if (generator() % 2 == 0) continue;
      TableRows rows(key.least_rows + generator() % 3);
      for (std::size_t i = 0; i < rows.size(); ++i) {
        for (const KeyColumn& column : key.columns) {
          double low = from_unit(column.possible.low, *column.unit),
                 high = from_unit(column.possible.high, *column.unit);
          if (rows[i].empty()) {  // the first column rises
            const double step = (high - low) / static_cast<double>(rows.size());
            low += step * static_cast<double>(i);
            high = low + 0.9 * step;
          }
          rows[i].push_back(between(low, high));
        }
      }
      key.write_table(setup, rows);
    } else {
      if (key.preset.kind == Preset::Kind::derived && generator() % 2 == 0) continue;
      const bool said = std::any_of(key.instead_of.begin(), key.instead_of.end(), [&](auto name) {
        return has_value(setup, *find_key(std::string{key.section} + "." + std::string{name}));
      });
      if (said) continue;  // in another way
      double value = between(from_unit(key.possible.low, *key.unit), from_unit(key.possible.high, *key.unit));
      if (key.unit->dimension == Dimension::count) value = std::round(value);
      set_SI(setup, key, value);
    }
  }
  if (setup.pump.stages != 2.0) setup.stage_2 = preset_setup().stage_2;
  return setup;
}

}  // namespace bowrise
