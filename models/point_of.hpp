// Where a function is written for a double or for Lanes (lanes.hpp), which only those who work in lanes need
// to know.
#pragma once

namespace bowrise {

/// The point among the lanes; a number is its own.
[[nodiscard]] inline double point_of(double x) noexcept { return x; }

}  // namespace bowrise
