#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sim/output/chart.hpp"
#include "sim/output/html.hpp"

namespace bowrise {
namespace {

// Units of the drawing: about a pixel on a phone, so that letters stay readable there.
constexpr double width = 400.0, height = 250.0;
// Margins.
constexpr double at_left = 46.0, at_right_plain = 10.0, at_right_second = 46.0, at_top = 18.0,
                 at_bottom = 36.0;
constexpr double lane_height = 7.0;

struct Frame {
  double x_low, x_high, y_low, y_high, right;
  [[nodiscard]] double x(double value) const {
    return at_left + (value - x_low) / (x_high - x_low) * (right - at_left);
  }
  [[nodiscard]] double y(double value) const {
    return height - at_bottom - (value - y_low) / (y_high - y_low) * (height - at_bottom - at_top);
  }
};

Frame frame_of(const Chart& chart, const ChartGrid& grid) {
  const Ordinate ordinate = ordinate_of(chart);
  const double last =
      grid.values.back() > grid.values.front() ? grid.values.back() : grid.values.front() + 1.0;
  return {grid.values.front(), last, ordinate.low, ordinate.high,
          width - (chart.second.factor > 0.0 ? at_right_second : at_right_plain)};
}

std::string line(double x1, double y1, double x2, double y2, std::string_view css) {
  return fmt::format("<line class=\"{}\" x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\"/>", css, x1,
                     y1, x2, y2);
}

std::string text(double x, double y, std::string_view anchor, std::string_view words) {
  return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>", x, y, anchor,
                     escaped(words));
}

std::string axes(const Chart& chart, const ChartGrid& grid, const Frame& frame) {
  std::string out;
  for (const double tick : ticks(frame.y_low, frame.y_high, 5)) {
    out += line(at_left, frame.y(tick), frame.right, frame.y(tick), "grid");
    out += text(at_left - 5.0, frame.y(tick) + 4.0, "end", tick_text(tick));
    if (chart.second.factor > 0.0)
      out += text(frame.right + 5.0, frame.y(tick) + 4.0, "start",
                  fmt::format("{:.{}f}", tick * chart.second.factor,
                              chart.second.factor * (frame.y_high - frame.y_low) > 20.0 ? 0 : 1));
  }
  for (const double tick : ticks(frame.x_low, frame.x_high, 6)) {
    out += line(frame.x(tick), at_top, frame.x(tick), height - at_bottom, "grid");
    out += text(frame.x(tick), height - at_bottom + 15.0, "middle", tick_text(tick));
  }
  out += fmt::format("<rect class=\"frame\" x=\"{}\" y=\"{}\" width=\"{:.1f}\" height=\"{:.1f}\"/>", at_left,
                     at_top, frame.right - at_left, height - at_bottom - at_top);
  out += text(at_left, at_top - 6.0, "start", chart.unit);
  if (chart.second.factor > 0.0) out += text(frame.right, at_top - 6.0, "end", chart.second.unit);
  return out + text((at_left + frame.right) / 2.0, height - 5.0, "middle",
                    grid.label + (grid.unit.empty() ? "" : ", " + grid.unit));
}

// The baseline's spans over the full height, and a lane of its own for each setup.
std::string spans(const Chart& chart, const Frame& frame) {
  std::string out;
  for (const ChartSpan& span : chart.spans) {
    const double x = frame.x(span.from), wide = frame.x(span.to) - x;
    if (span.setup == 0)
      out += fmt::format("<rect class=\"span\" x=\"{:.1f}\" y=\"{}\" width=\"{:.1f}\" height=\"{:.1f}\"/>", x,
                         at_top, wide, height - at_bottom - at_top);
    const double y = height - at_bottom - lane_height * static_cast<double>(span.setup + 1);
    out += fmt::format("<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"{}\"/>", x,
                       y, wide, lane_height - 1.5, line_style(span.setup).colour);
  }
  return out;
}

std::string dots_of(const ChartLine& drawn, const ChartGrid& grid, const Frame& frame) {
  std::string out = fmt::format("<g fill=\"{}\">", line_style(drawn.setup).colour);
  for (std::size_t i = 0; i < drawn.values.size(); ++i)
    if (!std::isnan(drawn.values[i]))
      out += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"1.6\"/>", frame.x(grid.values[i]),
                         frame.y(std::clamp(drawn.values[i], frame.y_low, frame.y_high)));
  return out + "</g>";
}

// Points without a value are bridged.
std::string polyline(const ChartLine& drawn, const ChartGrid& grid, const Frame& frame) {
  if (drawn.weight == LineWeight::dots) return dots_of(drawn, grid, frame);
  const LineStyle& style = line_style(drawn.setup);
  const std::string dashes = dash_text(style);
  std::string points;
  for (std::size_t i = 0; i < drawn.values.size(); ++i)
    if (!std::isnan(drawn.values[i]))
      points += fmt::format("{}{:.1f},{:.1f}", points.empty() ? "" : " ", frame.x(grid.values[i]),
                            frame.y(std::clamp(drawn.values[i], frame.y_low, frame.y_high)));
  return fmt::format("<polyline fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{} points=\"{}\"/>",
                     style.colour, drawn.weight == LineWeight::thin ? "1.2" : "2.4",
                     dashes.empty() ? "" : " stroke-dasharray=\"" + dashes + "\"", points);
}

std::string levels(const Chart& chart, const Frame& frame) {
  std::string out;
  for (const ChartLevel& level : chart.levels) {
    out += fmt::format(
        "<line class=\"level\" stroke=\"{}\" x1=\"{}\" x2=\"{:.1f}\" y1=\"{:.1f}\" y2=\"{:.1f}\"/>",
        line_style(level.setup).colour, at_left, frame.right, frame.y(level.value), frame.y(level.value));
    out += text(frame.right - 4.0, frame.y(level.value) - 3.0, "end", level.label);
  }
  return out;
}

// A letter at each dot, and what the dots mean in the corner that such charts leave empty.
std::string points(const Chart& chart, const Frame& frame) {
  std::string out;
  double foot = height - at_bottom - 8.0 - 15.0 * static_cast<double>(chart.points.size());
  for (const ChartPoint& point : chart.points) {
    const double x = frame.x(point.x), y = frame.y(point.y);
    const bool above = point.setup % 2 == 0, to_right = point.setup % 4 < 2;
    out += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"4\" fill=\"{}\" stroke=\"#fff\"/>", x, y,
                       line_style(point.setup).colour);
    out += text(to_right ? x + 5.0 : x - 5.0, above ? y - 6.0 : y + 15.0, to_right ? "start" : "end",
                line_style(point.setup).letter);
    out += text(frame.right - 6.0, foot += 15.0, "end", point.label);
  }
  return out;
}

std::string dot(const ChartDot& drawn, const Frame& frame) {
  const double x = frame.x(drawn.x), y = frame.y(drawn.y);
  switch (drawn.shape) {
    case ChartDot::Shape::ring:
      return fmt::format("<circle class=\"ring\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"2.4\"/>", x, y);
    case ChartDot::Shape::diamond:
      return fmt::format("<path class=\"diamond\" d=\"M{:.1f} {:.1f}l5 5l-5 5l-5 -5z\"/>", x, y - 5.0);
    case ChartDot::Shape::square:
      break;
  }
  return fmt::format("<rect class=\"square\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"9\" height=\"9\"/>", x - 4.5,
                     y - 4.5);
}

// All labels after all dots, so that none is covered.
std::string dots(const Chart& chart, const Frame& frame) {
  std::string out, labels;
  for (const ChartDot& drawn : chart.dots) {
    out += dot(drawn, frame);
    if (drawn.label.empty()) continue;
    const double x = frame.x(drawn.x);
    const bool to_left = x > 0.8 * frame.right;
    labels +=
        text(to_left ? x - 7.0 : x + 7.0, frame.y(drawn.y) - 4.0, to_left ? "end" : "start", drawn.label);
  }
  return out + "<g class=\"dark\">" + labels + "</g>";
}

}  // namespace

const LineStyle& line_style(std::size_t setup) {
  static const std::array<LineStyle, most_overlaid> styles{
      LineStyle{"A", "#0b2e83", {}}, {"B", "#b8390e", {9, 4}},  {"C", "#14692f", {12, 3, 3, 3}},
      {"D", "#7a1f8a", {4, 3}},      {"E", "#6b4a00", {16, 5}}, {"F", "#00606b", {9, 3, 2, 3, 2, 3}}};
  return styles.at(setup);
}

std::string dash_text(const LineStyle& style) {
  std::string out;
  for (const int dash : style.dashes) out += (out.empty() ? "" : " ") + std::to_string(dash);
  return out;
}

std::vector<double> ticks(double low, double high, int wanted) {
  const double rough = (high - low) / wanted;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  const double share = rough / power;
  const double step = power * (share < 1.5 ? 1.0 : share < 3.5 ? 2.0 : share < 7.5 ? 5.0 : 10.0);
  std::vector<double> out;
  const auto first = static_cast<long>(std::ceil(low / step - 1e-9));
  const auto last = static_cast<long>(std::floor(high / step + 1e-9));
  for (long i = first; i <= last; ++i) out.push_back(static_cast<double>(i) * step);
  return out;
}

std::string tick_text(double value) { return fmt::format("{:.6g}", value == 0.0 ? 0.0 : value); }

Ordinate ordinate_of(const Chart& chart) {
  double low = chart.from_zero ? 0.0 : std::nan(""), high = low;
  const auto hold = [&](double value) {
    if (std::isnan(value)) return;
    low = std::isnan(low) ? value : std::min(low, value);
    high = std::isnan(high) ? value : std::max(high, value);
  };
  for (const ChartLine& drawn : chart.lines)
    for (const double value : drawn.values) hold(value);
  for (const ChartLevel& level : chart.levels) hold(level.value);
  for (const ChartDot& drawn : chart.dots) hold(drawn.y);
  if (std::isnan(low)) return {0.0, 1.0};
  high = std::min(high, chart.ceiling);
  const double air =
      high > low ? (chart.levels.empty() ? 0.06 : 0.1) * (high - low) : std::max(1.0, 0.1 * std::abs(high));
  return {chart.from_zero && low == 0.0 ? 0.0 : low - air, high + air};
}

std::string chart_svg(const Chart& chart, const ChartGrid& grid) {
  const Frame frame = frame_of(chart, grid);
  std::string out =
      fmt::format("<svg class=\"chart\" viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"{}\">", width, height,
                  escaped(chart.title + (chart.unit.empty() ? "" : ", " + chart.unit) + ", against " +
                          grid.label + (grid.unit.empty() ? "" : ", " + grid.unit)));
  out += spans(chart, frame) + axes(chart, grid, frame) + levels(chart, frame);
  for (const ChartLine& drawn : chart.lines) out += polyline(drawn, grid, frame);
  if (!chart.dots.empty()) out += dots(chart, frame);
  return out + points(chart, frame) + "</svg>";
}

}  // namespace bowrise
