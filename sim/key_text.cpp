#include "sim/key_text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <utility>
#include <variant>

#include "sim/trimmed.hpp"

namespace bowrise {
namespace {

constexpr std::string_view blanks = " \t\n\r";

std::string shown(std::string_view typed) {
  constexpr std::size_t longest = 60;
  std::string text{typed.substr(0, longest)};
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';
  }
  return typed.size() > longest ? text + "..." : text;
}

std::string unit_suffix(const Unit& unit) {
  const bool bare = unit.dimension == Dimension::dimensionless || unit.dimension == Dimension::count;
  return bare ? std::string{} : std::string{" "}.append(unit.name);
}

/// "200000" and not "2e+05": the numbers of a range are short enough.
std::string plain_number(double value) {
  const double size = std::abs(value);
  if (size >= 1e8 || (size > 0.0 && size < 1e-4)) return shortest(value);
  std::array<char, 32> digits{};
  const auto written =
      std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed);
  return {digits.data(), written.ptr};
}

std::string range_text(const Range& range, const Unit& unit) {
  const std::string suffix = unit_suffix(unit);
  return plain_number(range.low) + suffix + " to " + plain_number(range.high) + suffix;
}

std::string allowed_quantity(const Range& range, const Unit& unit) {
  const std::string what = unit.dimension == Dimension::dimensionless ? "a number"
                           : unit.dimension == Dimension::count       ? "a whole number"
                                                                      : with_article(unit.dimension);
  return what + " from " + range_text(range, unit);
}

/// A temperature that reads as a sensible one if degF was meant; salinity that was probably a mass fraction.
std::string_view other_unit_meant(const Key& key, double in_unit, std::string_view typed) {
  const bool weather = key.section == "water" || key.section == "air";
  if (weather && key.unit->dimension == Dimension::temperature && in_unit >= 41 && in_unit <= 104 &&
      typed.find("degF") == std::string_view::npos) {
    return "degF?";
  }
  const bool salinity = key.unit->dimension == Dimension::salinity;
  return salinity && in_unit > 0 && in_unit < 0.05 ? "kg/kg typed as g/kg?" : "";
}

/// The value in SI, or what is wrong with it and what is allowed.
std::variant<double, std::string> quantity_in(std::string_view text, const Unit& unit,
                                              const Range& possible) {
  const auto parsed = parse_quantity(text, unit.dimension);
  if (const auto* const error = std::get_if<QuantityError>(&parsed)) {
    const bool says_what_to_write = error->what.find("; ") != std::string::npos;
    return says_what_to_write ? error->what : error->what + "; write " + allowed_quantity(possible, unit);
  }
  const double si = std::get<double>(parsed) + 0.0;  // -0 would not survive being written
  if (si < from_unit(possible.low, unit) || si > from_unit(possible.high, unit)) {
    return shown(text) + " is outside " + range_text(possible, unit);
  }
  return si;
}

std::optional<std::string> set_number(Setup& setup, const Key& key, std::string_view text) {
  if (key.preset.kind == Preset::Kind::derived && text == "derived") {
    set_SI(setup, key, std::numeric_limits<double>::quiet_NaN());
    return std::nullopt;
  }
  auto read = quantity_in(text, *key.unit, key.possible);
  if (auto* const error = std::get_if<std::string>(&read)) {
    const auto parsed = parse_quantity(text, key.unit->dimension);
    if (const double* const si = std::get_if<double>(&parsed)) {
      const std::string_view hint = other_unit_meant(key, to_unit(*si, *key.unit), text);
      if (!hint.empty()) *error += "; " + std::string{hint};
    }
    return std::move(*error);
  }
  set_SI(setup, key, std::get<double>(read));
  return std::nullopt;
}

std::optional<std::string> set_word(Setup& setup, const Key& key, std::string_view text) {
  const auto found = std::find(key.words.begin(), key.words.end(), text);
  if (found == key.words.end()) {
    const std::string_view meant = nearest_name(key.words, text);
    const std::string guess = meant.empty() ? "" : "did you mean " + std::string{meant} + "? ";
    return '"' + shown(text) + "\" is not a word known here; " + guess + "write " + allowed_text(key);
  }
  key.write_word(setup, static_cast<int>(found - key.words.begin()));
  return std::nullopt;
}

/// The cells of "[[a, b], [c, d]]", or nothing when the text has another form.
std::optional<std::vector<std::vector<std::string>>> cells_of(std::string_view text) {
  std::vector<std::vector<std::string>> rows;
  if (text.size() < 2 || text.front() != '[' || text.back() != ']') return std::nullopt;
  std::string_view rest = trimmed(text.substr(1, text.size() - 2), blanks);
  while (!rest.empty()) {
    if (!rows.empty()) {
      if (rest.front() != ',') return std::nullopt;
      rest = trimmed(rest.substr(1), blanks);
    }
    const std::size_t end = rest.find(']');
    if (!rest.starts_with('[') || end == std::string_view::npos) return std::nullopt;
    std::string_view row = rest.substr(1, end - 1);
    rows.emplace_back();
    for (std::size_t comma = 0; comma != std::string_view::npos;) {
      comma = row.find(',');
      rows.back().emplace_back(trimmed(row.substr(0, comma), blanks));
      if (comma != std::string_view::npos) row.remove_prefix(comma + 1);
    }
    rest = trimmed(rest.substr(end + 1), blanks);
  }
  return rows;
}

std::optional<std::string> set_table(Setup& setup, const Key& key, std::string_view text) {
  const auto cells = cells_of(text);
  if (!cells) return '"' + shown(text) + "\" is not a table; write " + allowed_text(key);
  const std::vector<CellError> errors = set_from_cells(setup, key, *cells);
  if (errors.empty()) return std::nullopt;
  const CellError& first = errors.front();
  return (first.row == CellError::whole ? "" : "row " + std::to_string(first.row + 1) + ": ") + first.what;
}

/// Exact on the way back: in the unit if that is possible, else in the SI unit, whose factor is 1.
std::string exact_text(double si, const Unit& unit) {
  const auto reads_back = [&](const std::string& text) {
    const auto parsed = parse_quantity(text, unit.dimension);
    const double* const value = std::get_if<double>(&parsed);
    return value != nullptr && *value == si;
  };
  std::string text = format_quantity(si, unit);
  if (reads_back(text)) return text;
  for (const Unit& other : all_units()) {
    if (other.dimension == unit.dimension && other.factor == 1 && other.offset == 0) {
      return shortest(si) + unit_suffix(other);
    }
  }
  return text;
}

}  // namespace

std::optional<std::string> set_from_text(Setup& setup, const Key& key, std::string_view text) {
  const std::string_view content = trimmed(text, blanks);
  if (key.kind == KeyKind::number) return set_number(setup, key, content);
  return key.kind == KeyKind::choice ? set_word(setup, key, content) : set_table(setup, key, content);
}

std::vector<CellError> set_from_cells(Setup& setup, const Key& key,
                                      std::span<const std::vector<std::string>> cells) {
  std::vector<CellError> errors;
  TableRows rows;
  const bool back_to_none = cells.empty();
  if (!back_to_none && (cells.size() < key.least_rows || cells.size() > key.most_rows)) {
    errors.push_back({CellError::whole, CellError::whole,
                      std::to_string(cells.size()) + (cells.size() == 1 ? " row" : " rows") + "; write " +
                          allowed_text(key)});
  }
  for (std::size_t i = 0; i < std::min(cells.size(), key.most_rows); ++i) {
    if (cells[i].size() != key.columns.size()) {
      errors.push_back({i, CellError::whole,
                        std::to_string(cells[i].size()) + (cells[i].size() == 1 ? " value" : " values") +
                            " in a row; write " + allowed_text(key)});
      continue;
    }
    std::vector<double> row;
    for (std::size_t j = 0; j < key.columns.size(); ++j) {
      const KeyColumn& column = key.columns[j];
      const auto value = quantity_in(cells[i][j], *column.unit, column.possible);
      if (const auto* const error = std::get_if<std::string>(&value)) {
        errors.push_back({i, j, std::string{column.name} + ": " + *error});
      }
      row.push_back(std::holds_alternative<double>(value) ? std::get<double>(value)
                                                          : std::numeric_limits<double>::quiet_NaN());
    }
    if (!rows.empty() && row.front() <= rows.back().front()) {
      errors.push_back(
          {i, 0,
           std::string{key.columns.front().name} + ": " + shown(cells[i].front()) +
               " does not rise above the row before; the first column must rise from row to row"});
    }
    rows.push_back(std::move(row));
  }
  if (errors.empty()) key.write_table(setup, std::move(rows));
  return errors;
}

std::string text_of(const Setup& setup, const Key& key) {
  if (key.kind == KeyKind::choice)
    return std::string{key.words[static_cast<std::size_t>(key.read_word(setup))]};
  if (key.kind == KeyKind::number) {
    if (has_value(setup, key)) return exact_text(get_SI(setup, key), *key.unit);
    return key.preset.kind == Preset::Kind::derived ? "derived" : "required";
  }
  std::string text = "[";
  for (const std::vector<double>& row : key.read_table(setup)) {
    text += text.size() == 1 ? "[" : ", [";
    const std::vector<std::string> cells = cell_texts(key, row);
    for (std::size_t i = 0; i < cells.size(); ++i) text += (i == 0 ? "" : ", ") + cells[i];
    text += "]";
  }
  return text + "]";
}

std::vector<std::string> cell_texts(const Key& key, std::span<const double> row) {
  std::vector<std::string> texts;
  for (std::size_t i = 0; i < row.size(); ++i) texts.push_back(exact_text(row[i], *key.columns.at(i).unit));
  return texts;
}

std::string allowed_text(const Key& key) {
  if (key.kind == KeyKind::number) return allowed_quantity(key.possible, *key.unit);
  const bool words = key.kind == KeyKind::choice;
  std::string list;
  const auto add = [&list](const std::string& item) { list += (list.empty() ? "" : ", ") + item; };
  for (const std::string_view word : key.words) add(std::string{word});
  for (const KeyColumn& column : key.columns) {
    const std::string suffix = unit_suffix(*column.unit);
    add(std::string{column.name} + (suffix.empty() ? "" : " in" + suffix));
  }
  if (words) return "one of " + list;
  return "a table of " + std::to_string(key.least_rows) + " to " + std::to_string(key.most_rows) + " rows [" +
         list + "]";
}

std::optional<std::string> doubt_about(const Setup& setup, const Key& key, std::string_view typed) {
  if (key.kind != KeyKind::number || !has_value(setup, key)) return std::nullopt;
  const double value = get_SI(setup, key);
  const std::string hint{other_unit_meant(key, get_in_unit(setup, key), typed)};
  const bool usual =
      value >= from_unit(key.usual.low, *key.unit) && value <= from_unit(key.usual.high, *key.unit);
  if (usual && hint.empty()) return std::nullopt;
  const std::string doubt = usual
                                ? shown(typed) + " is unusual"
                                : shown(typed) + " is outside the usual " + range_text(key.usual, *key.unit);
  return hint.empty() ? doubt : doubt + "; " + hint;
}

}  // namespace bowrise
