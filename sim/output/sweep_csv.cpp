#include "sim/output/sweep_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <stdexcept>

#include "sim/units.hpp"

namespace bowrise {
namespace {

/// "top_speed_m_s"; nothing is added to a pure number, nor twice to "top_rpm".
std::string column_name(std::string_view name, std::string_view unit) {
  if (unit == "1" || unit == "count") return std::string(name);
  std::string ending = "_" + std::string(unit);
  std::replace_if(
      ending.begin(), ending.end(), [](char c) { return c == '/' || c == ' '; }, '_');
  return name.ends_with(ending) ? std::string(name) : std::string(name) + ending;
}

std::string axis_columns(const std::vector<SweepAxis>& axes) {
  std::string text;
  for (const SweepAxis& axis : axes) text += "," + column_name(axis.key->name, axis.key->unit->name);
  return text;
}

std::string cell(const std::optional<double>& value, std::size_t index, std::string_view column) {
  if (!value) return ",";
  if (!std::isfinite(*value))
    throw std::runtime_error(fmt::format("{} of point {} is not finite", column, index));
  return "," + shortest(*value);
}

std::string values_text(const SweepPoint& point) {
  std::string text;
  for (const double value : point.values) text += cell(value, point.index, "an axis");
  return text;
}

std::string quoted(const std::string& text) {
  if (text.empty()) return "";
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"') out += '"';
    out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
  }
  return out + "\"";
}

/// Takes the text up to the next comma off the front; nothing at the end of the line.
std::optional<std::string_view> next_cell(std::string_view& rest) {
  const auto comma = rest.find(',');
  if (comma == std::string_view::npos) return std::nullopt;
  const std::string_view found = rest.substr(0, comma);
  rest.remove_prefix(comma + 1);
  return found;
}

/// @return whether the next cell is a number of this kind
template <class Number>
bool take(std::string_view& rest, Number& number) {
  const auto text = next_cell(rest);
  if (!text) return false;
  const auto [end, error] = std::from_chars(text->data(), text->data() + text->size(), number);
  return error == std::errc{} && end == text->data() + text->size();
}

bool take(std::string_view& rest, std::optional<double>& number) {
  if (!rest.starts_with(',')) return take(rest, number.emplace());
  rest.remove_prefix(1);
  return true;
}

std::string ranking_line(std::string_view list, std::size_t place, const RankedPoint& ranked,
                         const std::vector<Weight>& weights) {
  std::string text = fmt::format("{},{},{}{}", list, place, ranked.point.index, values_text(ranked.point));
  for (const Weight& weight : weights)
    text += cell(ranked.point.purposes[static_cast<std::size_t>(weight.purpose)], ranked.point.index,
                 row_of(weight.purpose).measure);
  return text + "," + shortest(ranked.score) + "\n";
}

}  // namespace

std::string sweep_header(const std::vector<SweepAxis>& axes) {
  std::string text = "index" + axis_columns(axes);
  for (const ResultRow& row : result_rows()) text += "," + column_name(row.name, row.unit);
  for (const Purpose purpose : {Purpose::rough, Purpose::price})
    text += "," + column_name(row_of(purpose).measure, row_of(purpose).unit);
  return text + ",reason\n";
}

std::string sweep_line(const SweepRow& row) {
  const SweepPoint& point = row.point;
  std::string text = std::to_string(point.index) + values_text(point);
  for (std::size_t i = 0; i < result_rows().size(); ++i)
    text += cell(row.outcome.values[i], point.index, result_rows()[i].name);
  for (const Purpose purpose : {Purpose::rough, Purpose::price})
    text += cell(point.purposes[static_cast<std::size_t>(purpose)], point.index, row_of(purpose).measure);
  return text + "," + quoted(row.outcome.failure) + "\n";
}

std::optional<SweepPoint> read_sweep_line(std::string_view line, std::size_t axes) {
  SweepPoint point;
  if (!take(line, point.index)) return std::nullopt;
  point.values.resize(axes);
  for (double& value : point.values)
    if (!take(line, value)) return std::nullopt;
  for (const ResultRow& row : result_rows()) {
    std::optional<double> value;
    if (!take(line, value)) return std::nullopt;
    for (std::size_t i = 0; i < purpose_count; ++i)
      if (purpose_rows()[i].measure == row.name) point.purposes[i] = value;
  }
  for (const Purpose purpose : {Purpose::rough, Purpose::price})
    if (!take(line, point.purposes[static_cast<std::size_t>(purpose)])) return std::nullopt;
  return point;
}

std::string ranking_csv(const std::vector<SweepAxis>& axes, const Ranking& ranking) {
  std::string text = "list,place,index" + axis_columns(axes);
  for (const Weight& weight : ranking.weights)
    text += "," + column_name(row_of(weight.purpose).measure, row_of(weight.purpose).unit);
  text += ",score\n";
  for (std::size_t i = 0; i < ranking.best.size(); ++i)
    text += ranking_line("best", i + 1, ranking.best[i], ranking.weights);
  for (std::size_t i = 0; i < ranking.pareto.size(); ++i)
    text += ranking_line("pareto", i + 1, ranking.pareto[i], ranking.weights);
  return text;
}

}  // namespace bowrise
