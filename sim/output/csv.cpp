#include "sim/output/csv.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "sim/trace.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

template <class Items, class Text>
void add_line(std::string& out, const Items& items, const Text& text) {
  bool first = true;
  for (const auto& item : items) {
    if (!first) out += ',';
    out += text(item);
    first = false;
  }
  out += '\n';
}

std::string finite_text(double value, std::string_view column, double time_s) {
  if (!std::isfinite(value))
    throw std::runtime_error(fmt::format("column {} is not finite at t = {} s", column, shortest(time_s)));
  return shortest(value);
}

std::string cell_text(const Cell& cell) {
  if (const auto* number = std::get_if<double>(&cell)) return finite_text(*number, "of a curve", 0.0);
  return std::get<std::string>(cell);
}

}  // namespace

std::string trace_csv(const Craft& craft, const Launch& launch) {
  std::string out;
  const auto columns = trace_columns();
  add_line(out, columns, [](const TraceColumn& column) { return column.name; });
  for (const TraceRow& row : launch.rows)
    add_line(out, columns, [&](const TraceColumn& column) {
      return column.word ? std::string(column.word(craft, row))
                         : finite_text(column.number(craft, row), column.name, row.time_s);
    });
  return out;
}

std::string curve_csv(const CurveTable& table) {
  std::string out;
  add_line(out, table.columns, [](std::string_view name) { return name; });
  for (const auto& row : table.rows) add_line(out, row, cell_text);
  return out;
}

}  // namespace bowrise
