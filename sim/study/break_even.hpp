// Two setups over a shared input: from which value on the second wins, and what it costs below.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "sim/keys.hpp"
#include "sim/study/band.hpp"
#include "sim/study/compare.hpp"

namespace bowrise {

/// A value of the input at which two setups are equal in one result.
struct BreakEven {
  std::size_t result;
  double at;  ///< in the unit of the key's row
  bool second_wins_above;
  std::optional<Band> band;  ///< of that place over the draws in which there is just one; only with draws
};

/// Differences second less first at one value of the input.
struct OverPoint {
  double at;
  Outcome first, second;
  std::vector<std::optional<Band>> bands;  ///< of the paired differences, by result; empty without draws
};

struct OverStudy {
  const Key* key;
  std::vector<OverPoint> points;
  std::vector<BreakEven> break_evens;  ///< by result, then rising
};

/// @param values  rising, in the unit of the key's row, at least two; a crossing between two neighbouring
/// values is refined by root finding to 1e-4 of their distance
/// @param key     a number key
[[nodiscard]] OverStudy compare_over(const Contender& first, const Contender& second, const Key& key,
                                     const std::vector<double>& values, const BandOptions& options);

}  // namespace bowrise
