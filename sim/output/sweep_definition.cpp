#include "sim/output/sweep_definition.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "sim/units.hpp"

namespace bowrise {
namespace {

std::vector<std::string_view> split(std::string_view text, char at) {
  std::vector<std::string_view> parts;
  while (true) {
    const auto end = text.find(at);
    parts.push_back(text.substr(0, end));
    if (end == std::string_view::npos) return parts;
    text.remove_prefix(end + 1);
  }
}

template <class Number>
bool read_number(std::string_view text, Number& number) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  return error == std::errc{} && end == text.data() + text.size();
}

std::string one_line(std::string text) {
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20) c = ' ';
  return text;
}

std::string axis_text(const SweepAxis& axis) {
  std::string text = fmt::format("axis: {} {}", axis.key->name, axis.is_range ? "range" : "list");
  if (axis.is_range) return text + fmt::format(" {} {}\n", shortest(axis.low), shortest(axis.high));
  for (const double value : axis.values) text += " " + shortest(value);
  return text + "\n";
}

bool read_axis(const std::vector<std::string_view>& words, SweepDefinition& out) {
  if (words.size() < 3) return false;
  SweepAxis axis;
  axis.key = find_key(words[0]);
  axis.is_range = words[1] == "range";
  if (axis.key == nullptr || axis.key->kind != KeyKind::number || (!axis.is_range && words[1] != "list"))
    return false;
  for (std::size_t i = 2; i < words.size(); ++i)
    if (!read_number(words[i], axis.values.emplace_back())) return false;
  if (axis.is_range && axis.values.size() != 2) return false;
  const auto [low, high] = std::minmax_element(axis.values.begin(), axis.values.end());
  axis.low = *low;
  axis.high = *high;
  if (axis.is_range) axis.values.clear();
  out.axes.push_back(std::move(axis));
  return true;
}

bool read_price(const std::vector<std::string_view>& words, SweepDefinition& out) {
  if (words.size() != 2 || out.axes.empty() || out.axes.back().key->name != words[0]) return false;
  return read_number(words[1], out.axes.back().price.emplace());
}

bool read_weight(const std::vector<std::string_view>& words, SweepDefinition& out) {
  if (words.size() != 2) return false;
  const auto purpose = find_purpose(words[0]);
  if (!purpose) return false;
  out.weights.push_back({*purpose, 0.0});
  return read_number(words[1], out.weights.back().weight);
}

bool read_share(std::string_view text, Share& share) {
  const auto numbers = split(text, '/');
  return numbers.size() == 2 && read_number(numbers[0], share.part) && read_number(numbers[1], share.parts) &&
         share.part >= 1 && share.part <= share.parts;
}

bool read_line(std::string_view name, std::string_view value, SweepDefinition& out) {
  if (name == "version") return out.version = value, true;
  if (name == "scenario") return out.scenario_hash = value, true;
  if (name == "title") return out.title = value, true;
  if (name == "axis") return read_axis(split(value, ' '), out);
  if (name == "price") return read_price(split(value, ' '), out);
  if (name == "samples") return read_number(value, out.samples);
  if (name == "seed") return read_number(value, out.seed);
  if (name == "points") return read_number(value, out.points);
  if (name == "rank") return read_weight(split(value, ' '), out);
  if (name == "sensitivity") return read_number(value, out.sensitivity);
  return name == "part" && read_share(value, out.share);
}

}  // namespace

bool SweepDefinition::rough() const {
  return std::any_of(weights.begin(), weights.end(),
                     [](const Weight& weight) { return weight.purpose == Purpose::rough; });
}

std::string definition_text(const SweepDefinition& definition) {
  std::string text = fmt::format("version: {}\nscenario: {}\ntitle: {}\n", definition.version,
                                 definition.scenario_hash, one_line(definition.title));
  for (const SweepAxis& axis : definition.axes) {
    text += axis_text(axis);
    if (axis.price) text += fmt::format("price: {} {}\n", axis.key->name, shortest(*axis.price));
  }
  text += fmt::format("samples: {}\nseed: {}\npoints: {}\n", definition.samples, definition.seed,
                      definition.points);
  for (const Weight& weight : definition.weights)
    text += fmt::format("rank: {} {}\n", row_of(weight.purpose).name, shortest(weight.weight));
  return text + fmt::format("sensitivity: {}\npart: {}/{}\n", definition.sensitivity, definition.share.part,
                            definition.share.parts);
}

std::optional<SweepDefinition> read_definition(std::string_view text) {
  SweepDefinition out;
  for (const std::string_view line : split(text, '\n')) {
    if (line.empty()) continue;
    const auto colon = line.find(": ");
    if (colon == std::string_view::npos || !read_line(line.substr(0, colon), line.substr(colon + 2), out))
      return std::nullopt;
  }
  if (definition_text(out) != text || out.axes.empty()) return std::nullopt;  // a line lost, doubled or moved
  return out;
}

std::string first_difference(std::string_view there, std::string_view asked) {
  const auto lines_there = split(there, '\n'), lines_asked = split(asked, '\n');
  constexpr std::size_t longest = 100;
  for (std::size_t i = 0; i < std::max(lines_there.size(), lines_asked.size()); ++i) {
    const std::string_view a = i < lines_there.size() ? lines_there[i] : "";
    const std::string_view b = i < lines_asked.size() ? lines_asked[i] : "";
    if (a != b) return fmt::format("\"{}\" there, \"{}\" now", a.substr(0, longest), b.substr(0, longest));
  }
  return "";
}

}  // namespace bowrise
