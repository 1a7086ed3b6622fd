// Points of sweeps as tests of their readers need them.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include "sim/study/ranking.hpp"

namespace bowrise::test {

/// Where purposes stand in SweepPoint::purposes.
inline constexpr std::size_t holeshot = 0, top = 1, rough = 2, life = 3, price = 4;

/// Points that can be gone through again and again; they must outlive it.
inline Points stream(const std::vector<SweepPoint>& points) {
  return [&points](const PointVisitor& visit) { std::for_each(points.begin(), points.end(), visit); };
}

}  // namespace bowrise::test
