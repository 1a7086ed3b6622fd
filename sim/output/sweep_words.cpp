#include "sim/output/sweep_words.hpp"

#include <fmt/format.h>

#include "sim/output/study_words.hpp"

namespace bowrise {
namespace {

/// A purpose's measure as a result, so that it is worded like one.
ResultRow result_of(const PurposeRow& row) {
  return {row.measure, row.unit, row.meaning, row.better, nullptr};
}

}  // namespace

std::string purpose_cell(Purpose purpose, const PurposeValues& values) {
  const auto& value = values[static_cast<std::size_t>(purpose)];
  if (purpose == Purpose::price) return value ? fmt::format("{:.2f}", *value) : "-";
  return result_cell(result_of(row_of(purpose)), value);
}

std::string axis_label(const SweepAxis& axis) {
  const std::string_view unit = axis.key->unit->name;
  return unit == "1" || unit == "count" ? axis.key->name : fmt::format("{} [{}]", axis.key->name, unit);
}

std::string axis_value(const SweepAxis& axis, double value) {
  const std::string_view unit = axis.key->unit->name;
  const std::string text = fmt::format("{} {:.5g}", axis.key->name, value);
  return unit == "1" || unit == "count" ? text : fmt::format("{} {}", text, unit);
}

}  // namespace bowrise
