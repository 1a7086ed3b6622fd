// Which input matters: each moved alone, and shares of the variance over all of them together.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "sim/study/axes.hpp"
#include "sim/study/purpose.hpp"

namespace bowrise {

/// Several outputs of a point of the unit cube; one without an answer is empty. Must be callable from several
/// threads at once.
using UnitFunction = std::function<std::vector<std::optional<double>>(std::span<const double>)>;

/// Shares of the variance of one output that an input brings alone (first) and with all others (total).
struct SobolIndices {
  std::vector<double> first, total;  ///< by input
  std::size_t used = 0;              ///< base points of which every evaluation had an answer
};

/// First-order indices by Saltelli et al. 2010 (Computer Physics Communications 181, table 2 (b), with the
/// mean taken off), total ones by Jansen 1999 (ibid. (f)), from samples x (dimensions + 2) evaluations at
/// Sobol points.
/// @param samples  a power of two
/// @return by output; nothing where it does not vary or fewer than two base points have an answer
[[nodiscard]] std::vector<std::optional<SobolIndices>> sobol_indices(const UnitFunction& function,
                                                                     std::size_t dimensions,
                                                                     std::size_t outputs, std::size_t samples,
                                                                     std::uint64_t seed, unsigned threads);

/// One input at the ends of its axis, all others as in the scenario.
struct EndsOfAxis {
  double low, high;  ///< in the unit of the key's row
  PurposeValues at_low, at_high;
};

/// What each axis does to each purpose but the price.
struct Sensitivity {
  std::size_t samples = 0;
  PurposeValues as_it_is;                            ///< of the scenario itself
  std::vector<EndsOfAxis> ends;                      ///< by axis
  std::vector<std::optional<SobolIndices>> indices;  ///< by purpose, the price's empty
};

/// @param rough  also in chop
[[nodiscard]] Sensitivity sensitivity_of(const SweepPlan& plan, std::size_t samples, std::uint64_t seed,
                                         bool rough, unsigned threads);

}  // namespace bowrise
