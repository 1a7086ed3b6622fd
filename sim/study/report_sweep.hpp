// What a page about a sweep shows besides the ranking: enough of all points to draw, and the mean effect of
// each input.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "sim/study/ranking.hpp"

namespace bowrise {

/// Points with the same value of one input, or in the same tenth of its range.
struct AxisLevel {
  double low, high;  ///< of the input, in the unit of its key's row; equal for a value of a list or grid
  std::size_t points = 0;
  PurposeValues mean;  ///< of each purpose over those that have it
};

struct SweepOverview {
  std::size_t points = 0;
  std::vector<SweepPoint> sample;              ///< all, or every so-manyth of them, `most_sampled` at most
  std::vector<std::vector<AxisLevel>> levels;  ///< by axis, rising; levels without a point left out
};

inline constexpr std::size_t most_sampled = 2000, most_levels = 10;

/// Goes through the points once. @param count  how many there are
[[nodiscard]] SweepOverview overview_of(const Points& points, std::size_t count,
                                        const std::vector<SweepAxis>& axes);

}  // namespace bowrise
