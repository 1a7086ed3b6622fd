#include "sim/output/study_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/units.hpp"

namespace bowrise {
namespace {

bool is_time_mark(const ResultRow& row) { return row.name.starts_with("time_to_"); }

/// The size of a difference, without its sign.
std::string size_text(const ResultRow& row, double difference) {
  const double size = std::abs(difference);
  if (row.unit == "m/s")
    return fmt::format("{:.1f} mph, {:.1f} km/h", in_unit(size, "mph"), in_unit(size, "km/h"));
  if (row.unit == "s") return fmt::format("{:.2f} s", size);
  if (row.unit == "rpm") return fmt::format("{:.0f} rpm", size);
  return fmt::format("{:.3g} {}", size, row.unit);
}

}  // namespace

std::string result_label(const ResultRow& row) {
  std::string label(row.name);
  std::replace(label.begin(), label.end(), '_', ' ');
  return label;
}

std::string result_value_text(const ResultRow& row, double value) {
  if (row.unit == "m/s")
    return fmt::format("{:.1f} mph, {:.1f} km/h", in_unit(value, "mph"), in_unit(value, "km/h"));
  if (row.unit == "s") return fmt::format("{:.2f} s", value);
  if (row.unit == "rpm") return fmt::format("{:.0f} rpm", value);
  return fmt::format("{:.3g} {}", value, row.unit);
}

std::string result_cell(const ResultRow& row, const std::optional<double>& value) {
  return value ? result_value_text(row, *value) : "not reached";
}

Direction direction_of(const ResultRow& row) {
  if (is_time_mark(row)) return {"quicker", "slower"};
  if (row.name == "top_speed") return {"slower", "faster"};
  if (row.name == "hook_up_time") return {"sooner", "later"};
  return {"less", "more"};
}

std::string directed(const ResultRow& row, double difference) {
  const Direction words = direction_of(row);
  return fmt::format("{} by {}", difference < 0.0 ? words.down : words.up, size_text(row, difference));
}

std::string short_size(const ResultRow& row, double difference) {
  if (row.unit == "m/s") return fmt::format("{:.1f}", in_unit(std::abs(difference), "mph"));
  if (row.unit == "s") return fmt::format("{:.2f}", std::abs(difference));
  if (row.unit == "rpm") return fmt::format("{:.0f}", std::abs(difference));
  return fmt::format("{:.3g}", std::abs(difference));
}

std::string input_text(const Key& key, double value) {
  if (!std::isfinite(value)) return key.preset.kind == Preset::Kind::derived ? "derived" : "required";
  return key.unit->name == "1" || key.unit->name == "count" ? fmt::format("{:.5g}", value)
                                                            : fmt::format("{:.5g} {}", value, key.unit->name);
}

double hundredths(double value) noexcept { return std::round(100.0 * value) / 100.0 + 0.0; }

std::string meaning_of(const Suspect& suspect) {
  return suspect.fault == nullptr ? "nothing wrong that these numbers show"
                                  : std::string(suspect.fault->meaning);
}

std::string aligned(const std::vector<std::vector<std::string>>& lines) {
  std::string text;
  for (const auto& line : lines) {
    for (std::size_t i = 0; i < line.size(); ++i) {
      std::size_t width = 0;
      for (const auto& other : lines)
        if (i < other.size()) width = std::max(width, other[i].size());
      text += i == 0 ? fmt::format("  {:<{}}", line[i], width) : fmt::format("  {:>{}}", line[i], width);
    }
    text += '\n';
  }
  return text;
}

std::string failures_text(std::size_t failed, std::size_t draws) {
  return failed == 0 ? "" : fmt::format("  {} of {} draws gave no launch and are left out\n", failed, draws);
}

}  // namespace bowrise
