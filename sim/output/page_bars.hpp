// Bars inside the cells of a table: the number stands beside each, so nothing is told by the drawing alone.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "sim/output/html.hpp"

namespace bowrise {

/// A number over a bar of this share of the cell's width.
/// @param text  plain; @param share  held to 0..1
[[nodiscard]] HtmlCell bar_cell(std::string_view text, double share);

/// A stretch of a scale: strong ones are filled, others an outline.
struct BarRange {
  double low, high;
  bool strong;
};

/// What the bars of a column are drawn on.
struct BarScale {
  double low, high;
  [[nodiscard]] double per_cent(double value) const;  ///< of its length, held to 0..100
};

/// From the least to the greatest of the values, with a little air. @param values  one at least
[[nodiscard]] BarScale scale_of(const std::vector<double>& values);

/// Text over stretches of a scale. @param line  a level marked across; @param dot  a place marked by a dot
/// @param html  what stands over it, already HTML
[[nodiscard]] HtmlCell range_cell(std::string_view html, const BarScale& scale,
                                  const std::vector<BarRange>& ranges,
                                  const std::optional<double>& line = std::nullopt,
                                  const std::optional<double>& dot = std::nullopt);

}  // namespace bowrise
