// Lines of a logger file cut into cells, and cells read: numbers with a decimal point or comma, clock times.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bowrise {

struct LogCell {
  std::string text;
  int column;  ///< in bytes of the line, from 1
  bool quoted = false;
};

/// Cuts a line at the separator; quotes keep a separator and, doubled, a quote (RFC 4180).
[[nodiscard]] std::vector<LogCell> cells_of_line(std::string_view line, char separator);

/// A number at the beginning of a cell.
struct LogNumber {
  double value;
  std::string_view rest;     ///< behind the number: a unit, or nothing
  char decimal_mark = '\0';  ///< point or comma, if the number has one
};
/// @param comma  whether a comma may be the decimal mark
/// @return nothing where the cell does not begin with a finite number, or mixes points and commas
[[nodiscard]] std::optional<LogNumber> number_of(std::string_view text, bool comma);

/// A time of day.
struct LogClock {
  double seconds;
  double period_s;  ///< after which it begins anew: a day, or with minutes alone an hour
};
/// "14:03:12.35", "03:12.35", "2:03:12 PM", a date before it and a time zone behind it; dates are passed
/// over.
[[nodiscard]] std::optional<LogClock> clock_of(std::string_view text);

}  // namespace bowrise
