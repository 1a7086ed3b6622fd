#include "sim/scenario/range.hpp"

#include <fmt/format.h>

#include <charconv>

#include "sim/trimmed.hpp"

namespace bowrise {
namespace {

constexpr std::size_t most_values = 100'000;

// The unit behind a number, or nothing: everything after the last character a number may end with.
std::string_view unit_of(std::string_view text) {
  double ignored;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), ignored);
  if (error != std::errc{}) return {};
  return trimmed(text.substr(static_cast<std::size_t>(end - text.data())));
}

std::variant<double, QuantityError> value_of(std::string_view text, std::string_view shared_unit,
                                             Dimension dimension, Range possible) {
  std::string full(trimmed(text));
  if (unit_of(full).empty() && !shared_unit.empty()) full += " " + std::string(shared_unit);
  auto value = parse_quantity(full, dimension);
  if (const double* number = std::get_if<double>(&value);
      number && !(*number >= possible.low && *number <= possible.high)) {
    const Unit* typed = find_unit(unit_of(full));  // none behind a pure number
    const auto text_of = [typed](double limit) {
      return typed ? format_quantity(limit, *typed) : shortest(limit);
    };
    return QuantityError{
        fmt::format("{} is outside {} to {}", full, text_of(possible.low), text_of(possible.high))};
  }
  return value;
}

std::vector<std::string_view> split(std::string_view text, char at) {
  std::vector<std::string_view> parts;
  while (true) {
    const auto comma = text.find(at);
    parts.push_back(text.substr(0, comma));
    if (comma == std::string_view::npos) return parts;
    text.remove_prefix(comma + 1);
  }
}

std::variant<std::vector<double>, QuantityError> spaced(std::string_view text, std::size_t dots,
                                                        Dimension dimension, Range possible) {
  const auto colon = text.rfind(':');
  if (colon == std::string_view::npos || colon < dots)
    return QuantityError{"write LOW..HIGH:COUNT, e.g. 5..30m/s:6"};
  const std::string_view count_text = trimmed(text.substr(colon + 1));
  std::size_t count = 0;
  const auto [end, error] = std::from_chars(count_text.data(), count_text.data() + count_text.size(), count);
  if (error != std::errc{} || end != count_text.data() + count_text.size() || count < 2 ||
      count > most_values)
    return QuantityError{fmt::format("\"{}\" is not a count from 2 to {}", count_text, most_values)};
  const std::string_view high_text = trimmed(text.substr(dots + 2, colon - dots - 2));
  const auto low = value_of(text.substr(0, dots), unit_of(high_text), dimension, possible);
  const auto high = value_of(high_text, {}, dimension, possible);
  if (const auto* bad = std::get_if<QuantityError>(&high)) return *bad;
  if (const auto* bad = std::get_if<QuantityError>(&low)) return *bad;
  const double from = std::get<double>(low), to = std::get<double>(high);
  std::vector<double> values(count);
  for (std::size_t i = 0; i + 1 < count; ++i)
    values[i] = from + (to - from) * static_cast<double>(i) / static_cast<double>(count - 1);
  values.back() = to;
  return values;
}

}  // namespace

std::variant<std::vector<double>, QuantityError> parse_range(std::string_view text, Dimension dimension,
                                                             Range possible) {
  if (text.find("...") != std::string_view::npos)
    return QuantityError{"three dots can be read in two ways; write LOW..HIGH:COUNT"};
  if (const auto dots = text.find(".."); dots != std::string_view::npos)
    return spaced(text, dots, dimension, possible);
  const std::vector<std::string_view> parts = split(text, ',');
  const std::string_view shared = unit_of(trimmed(parts.back()));
  std::vector<double> values;
  for (const std::string_view part : parts) {
    const auto value = value_of(part, shared, dimension, possible);
    if (const auto* bad = std::get_if<QuantityError>(&value)) return *bad;
    values.push_back(std::get<double>(value));
  }
  return values;
}

}  // namespace bowrise
