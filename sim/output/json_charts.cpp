#include "sim/output/chart.hpp"
#include "sim/output/json_value.hpp"

namespace bowrise {
namespace {

/// Rounded, so that the page stays small; null for a value that is not there.
Json rounded(double value, int decimals) {
  if (std::isnan(value)) return nullptr;
  const double scale = std::pow(10.0, decimals);
  const double whole = std::round(value * scale);
  return number(decimals == 0 || whole == 0.0 ? whole + 0.0 : whole / scale);
}

Json rounded(const std::vector<double>& values, int decimals) {
  Json out = Json::array();
  for (const double value : values) out.push_back(rounded(value, decimals));
  return out;
}

Json second_json(const SecondUnit& second) {
  return {{"unit", second.unit}, {"factor", number(second.factor)}};
}

std::string_view weight_word(LineWeight weight) {
  switch (weight) {
    case LineWeight::thin:
      return "thin";
    case LineWeight::dots:
      return "dots";
    case LineWeight::thick:
      break;
  }
  return "thick";
}

Json chart_json(const Chart& chart) {
  Json lines = Json::array(), spans = Json::array(), levels = Json::array(), points = Json::array();
  for (const ChartLine& line : chart.lines)
    lines.push_back({{"name", line.name},
                     {"setup", line.setup},
                     {"weight", weight_word(line.weight)},
                     {"values", rounded(line.values, chart.decimals)}});
  for (const ChartSpan& span : chart.spans)
    spans.push_back({{"from", rounded(span.from, 3)}, {"to", rounded(span.to, 3)}, {"setup", span.setup}});
  for (const ChartLevel& level : chart.levels)
    levels.push_back(
        {{"value", rounded(level.value, chart.decimals)}, {"setup", level.setup}, {"label", level.label}});
  for (const ChartPoint& point : chart.points)
    points.push_back({{"x", rounded(point.x, 3)},
                      {"y", rounded(point.y, chart.decimals)},
                      {"setup", point.setup},
                      {"label", point.label}});
  const Ordinate ordinate = ordinate_of(chart);
  return {{"id", chart.id},
          {"grid", chart.grid},
          {"unit", chart.unit},
          {"decimals", chart.decimals},
          {"second", second_json(chart.second)},
          {"low", number(ordinate.low)},
          {"high", number(ordinate.high)},
          {"lines", lines},
          {"spans", spans},
          {"levels", levels},
          {"points", points}};
}

}  // namespace

std::string charts_json(const Charts& charts) {
  Json out;
  out["styles"] = Json::array();
  for (std::size_t i = 0; i < most_overlaid; ++i) {
    const LineStyle& style = line_style(i);
    out["styles"].push_back({{"letter", style.letter}, {"colour", style.colour}, {"dashes", style.dashes}});
  }
  for (const auto& [name, grid] : charts.grids)
    out["grids"][name] = {{"label", grid.label},
                          {"unit", grid.unit},
                          {"decimals", grid.decimals},
                          {"second", second_json(grid.second)},
                          {"values", rounded(grid.values, 3)}};
  out["charts"] = Json::array();
  for (const Chart& chart : charts.charts) out["charts"].push_back(chart_json(chart));
  std::string text;
  for (const char c : out.dump()) text += c == '<' ? std::string("\\u003c") : std::string(1, c);
  return text;
}

}  // namespace bowrise
