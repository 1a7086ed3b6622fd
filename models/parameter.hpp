// One row per input. The row beside a part's struct is the only declaration of that input: the scenario key,
// its unit, preset, ranges, spread, meaning and source. Reading, validation, --set, help and tables are
// generated from these rows. Numbers in a row stand in the unit that a tuner measures; fields of the structs
// are SI.
#pragma once

#include <array>
#include <cstddef>
#include <limits>
#include <span>
#include <string_view>
#include <type_traits>
#include <vector>

namespace bowrise {

struct Range {
  double low, high;
};

/// How an uncertain input is drawn when a band is asked for. `none` means the value is taken as known; so is
/// a `setting`, until the log of a run tells otherwise.
enum class Shape { none, uniform, log_uniform, setting };

struct Spread {
  Shape shape = Shape::none;
  double low = 0.0, high = 0.0;  ///< in the row's unit; setting: factors on what the scenario says
};

/// What holds when a scenario says nothing.
struct Preset {
  enum class Kind { value, required, derived };
  Kind kind;
  double value;
  constexpr Preset(double preset_value)
      : kind(Kind::value), value(preset_value) {}  // NOLINT: a number is a preset
  constexpr Preset(Kind without_value)
      : kind(without_value), value(std::numeric_limits<double>::quiet_NaN()) {}
};
inline constexpr Preset required{Preset::Kind::required};
/// Worked out from other inputs while preparing (its meaning says how); the field holds NaN until then.
inline constexpr Preset derived{Preset::Kind::derived};

/// A number. `possible` is an error outside, `usual` a warning outside; random tests draw from `usual`.
/// Unit "1" is dimensionless, "count" a whole number.
template <class Part>
struct Parameter {
  std::string_view name;
  double Part::*field;
  std::string_view unit;
  Preset preset;
  Range possible, usual;
  Spread spread;
  std::string_view meaning, source;
  /// Rows of the same part that this one stands in for: given later, it puts them back to their presets;
  /// given by both in one place, with both naming each other, it is a contradiction.
  std::span<const std::string_view> instead_of{};
};

/// A choice between a few words. The field is an enum whose values count from 0 in the order of the words.
template <class Part>
struct Choice {
  std::string_view name;
  int (*get)(const Part&);
  void (*set)(Part&, int);
  std::span<const std::string_view> words;
  int preset;
  std::string_view meaning, source;
};

/// Builds the getter and setter of a Choice from a pointer to the enum field.
template <auto Field, class Part>
[[nodiscard]] constexpr Choice<Part> choice(std::string_view name, std::span<const std::string_view> words,
                                            int preset, std::string_view meaning, std::string_view source) {
  return {name,
          [](const Part& part) { return static_cast<int>(part.*Field); },
          [](Part& part, int index) {
            part.*Field = static_cast<std::remove_reference_t<decltype(part.*Field)>>(index);
          },
          words,
          preset,
          meaning,
          source};
}

/// Rows of a table, every number in SI; empty means not given.
using TableRows = std::vector<std::vector<double>>;

/// A table of numbers with named columns. The first column must rise strictly.
template <class Part>
struct TableParameter {
  std::string_view name;
  TableRows Part::*field;
  std::span<const std::string_view> column_names, column_units;
  std::span<const Range> possible;  ///< per column, in the column's unit
  std::size_t least_rows, most_rows;
  std::string_view meaning, source;
  std::span<const std::string_view> instead_of{};  ///< as in Parameter
};

template <class Part>
inline constexpr std::array<Choice<Part>, 0> no_choices{};
template <class Part>
inline constexpr std::array<TableParameter<Part>, 0> no_tables{};

/// Size of a part whose fields are exactly these rows: lets a static_assert find a field without a row.
[[nodiscard]] constexpr std::size_t part_size(std::size_t numbers, std::size_t choices = 0,
                                              std::size_t tables = 0) {
  constexpr std::size_t alignment = sizeof(double);
  const std::size_t choice_bytes = (choices * sizeof(int) + alignment - 1) / alignment * alignment;
  return numbers * sizeof(double) + choice_bytes + tables * sizeof(TableRows);
}

}  // namespace bowrise
