// What a log can hold and how loggers spell it: names of columns, units, the words for "no reading".
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/logged_run.hpp"
#include "sim/units.hpp"

namespace bowrise {

/// A quantity of a log.
struct LogQuantity {
  std::string_view name;
  Dimension dimension;
  std::string_view assumed_unit;        ///< empty: the unit must be told
  std::vector<std::string_view> names;  ///< lower case, "_" for blanks; those before are preferred
  std::string_view example;             ///< of --column
  double least, most;                   ///< SI; what lies outside is no reading
  std::string_view limits;
  std::optional<double> LoggedSample::*field;  ///< null for time
};

/// Time first, then speed, which a log must hold.
[[nodiscard]] const std::vector<LogQuantity>& log_quantity_table();

/// A unit as loggers and users spell it, capitals or not: "MPH", "km/h", "U/min", "%"; null when it is none
/// of this dimension.
[[nodiscard]] const Unit* log_unit(std::string_view text, Dimension dimension);

/// A header cell as it is compared: lower case, blanks and marks as one "_"; in brackets behind it a unit.
struct HeaderName {
  std::string name, unit;
};
[[nodiscard]] HeaderName header_name(std::string_view cell);

/// How a header cell names a quantity.
struct HeaderMatch {
  std::size_t rank;  ///< place among the names of the quantity
  std::string unit;  ///< as written; empty: none
};
/// @param told  the user's name for the column of this quantity, if any: the cell, or its name, must be that
[[nodiscard]] std::optional<HeaderMatch> header_match(const LogQuantity& quantity, std::string_view cell,
                                                      const std::string* told);

/// "", "nan", "n/a", "-" and the like: the logger had nothing to tell.
[[nodiscard]] bool is_no_reading(std::string_view text);

}  // namespace bowrise
