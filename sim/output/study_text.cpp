#include "sim/output/study_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/output/study_words.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

/// With its sign; what rounds to nil has none.
std::string signed_text(const std::optional<double>& value, std::string_view unit, int digits) {
  if (!value) return "-";
  const double shown = unit == "mph" ? in_unit(*value, "mph") : *value;
  if (std::abs(shown) < 0.5 * std::pow(10.0, -digits)) return "0";
  return fmt::format("{:+.{}f}", shown, digits);
}

}  // namespace

std::string limit_costs_text(const std::vector<LimitCost>& costs) {
  std::vector<std::vector<std::string>> lines{
      {"", "0-30 mph s", "0-60 mph s", "100 m s", "top mph", "top rpm"}};
  for (const LimitCost& cost : costs)
    lines.push_back({std::string(cost.meaning), signed_text(cost.time_to_30_mph_s, "s", 2),
                     signed_text(cost.time_to_60_mph_s, "s", 2), signed_text(cost.time_to_100_m_s, "s", 2),
                     signed_text(cost.top_speed_m_s, "mph", 1), signed_text(cost.top_rpm, "rpm", 0)});
  return "  what limits cost (seconds and speed lost; a minus is gained)\n" + aligned(lines);
}

std::string bands_text(const Bands& bands, const Outcome& nominal) {
  std::vector<std::vector<std::string>> lines{{"", "expected", "5 %", "median", "95 %", "got there"}};
  for (std::size_t i = 0; i < result_rows().size(); ++i) {
    if (!bands.results[i]) continue;
    const ResultRow& row = result_rows()[i];
    const Band& band = *bands.results[i];
    lines.push_back({result_label(row), result_cell(row, nominal.values[i]), result_value_text(row, band.low),
                     result_value_text(row, band.median), result_value_text(row, band.high),
                     fmt::format("{} of {}", band.answered, band.drawn)});
  }
  return fmt::format("  how sure: {} draws of what is uncertain, seed {}\n", bands.draws, bands.seed) +
         aligned(lines) + failures_text(bands.failed, bands.draws);
}

}  // namespace bowrise
