#include "sim/scenario/log_cells.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "sim/trimmed.hpp"

namespace bowrise {
namespace {

constexpr std::string_view blanks = " \t\r";

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Takes AM or PM and a time zone off the end; half a day to add for PM.
struct Suffix {
  std::string_view clock;
  int hours_more = 0;
  bool twelve_hours = false;
};
Suffix without_suffix(std::string_view text) {
  Suffix out{text};
  if (text.size() > 2 &&
      (text.ends_with("AM") || text.ends_with("PM") || text.ends_with("am") || text.ends_with("pm"))) {
    out.twelve_hours = true;
    out.hours_more = text[text.size() - 2] == 'P' || text[text.size() - 2] == 'p' ? 12 : 0;
    out.clock = trimmed(text.substr(0, text.size() - 2), blanks);
    return out;
  }
  if (text.ends_with('Z')) text.remove_suffix(1);
  const auto zone = text.find_first_of("+-");
  if (zone != std::string_view::npos && zone > 0) text = text.substr(0, zone);
  out.clock = trimmed(text, blanks);
  return out;
}

}  // namespace

std::vector<LogCell> cells_of_line(std::string_view line, char separator) {
  std::vector<LogCell> cells(1, {"", 1});
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      cells.back().text += '"';
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
      cells.back().quoted = true;
    } else if (c == separator && !quoted) {
      cells.push_back({"", static_cast<int>(i) + 2});
    } else {
      cells.back().text += c;
    }
  }
  for (LogCell& cell : cells) cell.text = std::string{trimmed(cell.text, blanks)};
  return cells;
}

std::optional<LogNumber> number_of(std::string_view text, bool comma) {
  if (text.starts_with('+')) text.remove_prefix(1);
  std::size_t length = 0;
  while (length < text.size() &&
         (is_digit(text[length]) || std::string_view{"+-.,eE"}.find(text[length]) != std::string_view::npos))
    ++length;
  std::string digits{text.substr(0, length)};
  const auto points = std::count(digits.begin(), digits.end(), '.'),
             commas = std::count(digits.begin(), digits.end(), ',');
  if (commas > (comma ? 1 : 0) || points + commas > 1) return std::nullopt;
  std::replace(digits.begin(), digits.end(), ',', '.');
  LogNumber number{0.0, {}, commas == 1 ? ',' : points == 1 ? '.' : '\0'};
  const char* const end = digits.data() + digits.size();
  const auto [stop, error] = std::from_chars(digits.data(), end, number.value);
  if (error != std::errc{} || !std::isfinite(number.value)) return std::nullopt;
  number.rest = trimmed(text.substr(static_cast<std::size_t>(stop - digits.data())), blanks);
  return number;
}

std::optional<LogClock> clock_of(std::string_view text) {
  const auto colon = text.find(':');
  if (colon == std::string_view::npos) return std::nullopt;
  // what stands before the hour, a date, ends in a blank or a T
  const auto before = text.substr(0, colon).find_last_of(" T");
  if (before != std::string_view::npos) text.remove_prefix(before + 1);
  const Suffix suffix = without_suffix(text);
  std::array<double, 4> fields{};
  std::size_t count = 0;
  for (std::string_view rest = suffix.clock; count < fields.size();) {
    const auto end = rest.find(':');
    const std::string_view field = rest.substr(0, end);
    const auto number = number_of(field, true);
    const bool last = end == std::string_view::npos;
    if (!number || !number->rest.empty() || field.empty() || !is_digit(field.front())) return std::nullopt;
    if (!last && number->decimal_mark != '\0') return std::nullopt;
    fields[count++] = number->value;
    if (last) break;
    rest.remove_prefix(end + 1);
    if (count == fields.size()) return std::nullopt;
  }
  if (count < 2) return std::nullopt;
  if (count == 2) {
    if (fields[1] >= 61.0) return std::nullopt;
    return LogClock{60.0 * fields[0] + fields[1], 3600.0};
  }
  if (suffix.twelve_hours) fields[0] = std::fmod(fields[0], 12.0) + suffix.hours_more;
  if (fields[1] >= 60.0 || fields[2] >= 61.0 || fields[3] >= 1000.0) return std::nullopt;
  // hours, minutes, seconds and, in a fourth field, milliseconds
  return LogClock{3600.0 * fields[0] + 60.0 * fields[1] + fields[2] + 0.001 * fields[3], 86400.0};
}

}  // namespace bowrise
