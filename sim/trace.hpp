// Trace columns: one row each, name with SI unit. The CSV header, the docs and the tests read this table.
#pragma once

#include <array>
#include <span>
#include <string_view>

#include "sim/craft.hpp"
#include "sim/launch.hpp"

namespace bowrise {

struct TraceColumn {
  std::string_view name, meaning;
  double (*number)(const Craft&, const TraceRow&);          ///< null for a column of words
  std::string_view (*word)(const Craft&, const TraceRow&);  ///< null for a column of numbers
};

[[nodiscard]] std::span<const TraceColumn> trace_columns();

}  // namespace bowrise
