#include "sim/output/page_bars.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace bowrise {
namespace {

HtmlCell drawn_cell(std::string_view html, const std::string& drawing) {
  return {fmt::format("{}<svg class=\"bar\" aria-hidden=\"true\">{}</svg>", html, drawing), "drawn"};
}

}  // namespace

HtmlCell bar_cell(std::string_view text, double share) {
  return drawn_cell(escaped(text),
                    fmt::format("<rect class=\"strong\" y=\"2\" width=\"{:.1f}%\" height=\"10\"/>",
                                100.0 * std::clamp(share, 0.0, 1.0)));
}

double BarScale::per_cent(double value) const {
  return high > low ? std::clamp(100.0 * (value - low) / (high - low), 0.0, 100.0) : 50.0;
}

BarScale scale_of(const std::vector<double>& values) {
  const auto [least, greatest] = std::minmax_element(values.begin(), values.end());
  const double air = 0.04 * (*greatest - *least);
  return {*least - air, *greatest + air};
}

HtmlCell range_cell(std::string_view html, const BarScale& scale, const std::vector<BarRange>& ranges,
                    const std::optional<double>& line, const std::optional<double>& dot) {
  std::string drawing = "<line class=\"rail\" x1=\"0\" x2=\"100%\" y1=\"7\" y2=\"7\"/>";
  for (const BarRange& range : ranges) {
    const double from = scale.per_cent(range.low), wide = scale.per_cent(range.high) - from;
    drawing += fmt::format("<rect class=\"{}\" x=\"{:.1f}%\" y=\"{}\" width=\"{:.1f}%\" height=\"{}\"/>",
                           range.strong ? "strong" : "outline", from, range.strong ? 4 : 1,
                           std::max(wide, 0.7), range.strong ? 6 : 12);
  }
  if (line)
    drawing += fmt::format("<line class=\"seen\" x1=\"{0:.1f}%\" x2=\"{0:.1f}%\" y1=\"0\" y2=\"14\"/>",
                           scale.per_cent(*line));
  if (dot) drawing += fmt::format("<circle cx=\"{:.1f}%\" cy=\"7\" r=\"4.5\"/>", scale.per_cent(*dot));
  return drawn_cell(html, drawing);
}

}  // namespace bowrise
