// The header of a logger file: which column holds what, in which unit.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "sim/scenario/log.hpp"
#include "sim/scenario/log_columns.hpp"

namespace bowrise {

struct LogColumn {
  const LogQuantity* quantity;
  std::size_t index;
  std::string unit_text;  ///< empty: not told
  const Unit* unit;       ///< null: not told
  int line, place;        ///< of its header cell
};

struct LogHeader {
  char separator;
  std::size_t cells;
  std::vector<LogColumn> columns;  ///< time first
};

/// What ends the reading of a log.
struct LogRefused {
  Complaint complaint;
};

/// Of a line that may be a header: the separator that makes most columns known, and how many.
[[nodiscard]] std::pair<char, std::size_t> log_separator(std::string_view line, const LogOptions& options);

/// @return the header, or what the line lacks to be one
/// @throws LogRefused when it is one that cannot be used: two columns could be meant, a unit is none
[[nodiscard]] std::variant<LogHeader, Complaint> log_header(std::string_view line, char separator,
                                                            const Place& place, const LogOptions& options);

/// Takes the units from a line under the header that holds units and nothing else: "s;km/h;1/min".
/// @return whether it is such a line
[[nodiscard]] bool take_units_line(std::string_view line, LogHeader& header);

}  // namespace bowrise
