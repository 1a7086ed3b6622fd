// The flat list of all inputs, "nozzle.exit_diameter" and the rest, built once from the rows of the parts:
// access to any input of a Setup by its name. Text forms: key_text.hpp.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "models/setup.hpp"
#include "sim/units.hpp"

namespace bowrise {

enum class KeyKind { number, choice, table };

/// A column of a table input.
struct KeyColumn {
  std::string_view name;
  const Unit* unit;
  Range possible;  ///< in the unit
};

/// One input. Members that do not belong to the kind are empty; ranges and presets stand in the unit of the
/// row.
struct Key {
  std::string name;  ///< "nozzle.exit_diameter"
  std::string_view section, local_name;
  KeyKind kind;
  std::string_view meaning, source;
  std::span<const std::string_view> instead_of{};  ///< local names, as in Parameter

  const Unit* unit = nullptr;  ///< number
  Preset preset = 0.0;
  Range possible{}, usual{};
  Spread spread{};

  std::span<const std::string_view> words;  ///< choice
  int preset_word = 0;

  std::vector<KeyColumn> columns;  ///< table
  std::size_t least_rows = 0, most_rows = 0;

  std::function<double(const Setup&)> read_number{};
  std::function<void(Setup&, double)> write_number{};
  std::function<int(const Setup&)> read_word{};
  std::function<void(Setup&, int)> write_word{};
  std::function<const TableRows&(const Setup&)> read_table{};
  std::function<void(Setup&, TableRows)> write_table{};
};

/// Every key in the order in which inputs are shown. The list never changes; any thread may read it.
[[nodiscard]] std::span<const Key> all_keys();

/// Section names, "craft" first.
[[nodiscard]] std::span<const std::string_view> all_sections();

/// The key with exactly this name, or null.
[[nodiscard]] const Key* find_key(std::string_view name);

/// The key that was probably meant, or null: a few letters off, or the right name under another section.
[[nodiscard]] const Key* nearest_key(std::string_view typed);

/// The name that was probably meant; empty when none is near.
[[nodiscard]] std::string_view nearest_name(std::span<const std::string_view> names, std::string_view typed);

/// Number keys only: the value in SI. NaN means not given (a preset that is required or derived).
[[nodiscard]] double get_SI(const Setup& setup, const Key& key);
void set_SI(Setup& setup, const Key& key, double value);
/// Number keys only: the value in the unit of the row.
[[nodiscard]] double get_in_unit(const Setup& setup, const Key& key);
void set_in_unit(Setup& setup, const Key& key, double value);

/// Whether a number is not NaN or a table not empty; a choice always has a value.
[[nodiscard]] bool has_value(const Setup& setup, const Key& key);

/// The key back at its preset: no value where that is required or derived, an empty table.
void set_preset(Setup& setup, const Key& key);

/// Every input at its preset; required and derived numbers hold NaN, tables are empty.
[[nodiscard]] Setup preset_setup();

}  // namespace bowrise
