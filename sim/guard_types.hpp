#pragma once
/// What one guard asks for, and where in a step guards are looked at; the rules stand in sim/guards.hpp.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace bowrise {

enum class Crossing { rising, falling, both };
enum class Then { record, stop };

/// What is watched for in one guard, and what follows.
struct GuardRule {
  Crossing direction = Crossing::both;
  Then then = Then::record;
};

/// Where guards are looked at inside a step, besides its ends.
struct ProbeGrid {
  std::size_t interior = 0;                                  ///< at least as many
  double spacing = std::numeric_limits<double>::infinity();  ///< and none further apart than this; > 0
  double located_within = 0;  ///< a crossing is known to this time, or to rounding

  /// Parts of equal length that a step is cut into.
  [[nodiscard]] std::size_t intervals(double step) const noexcept {
    if (std::isinf(spacing)) return interior + 1;
    return std::max(interior + 1, static_cast<std::size_t>(std::ceil(step / spacing)));
  }
};

}  // namespace bowrise
