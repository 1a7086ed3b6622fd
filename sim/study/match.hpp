// Match: which value of an input makes a result what the user wants it to be; several inputs side by side.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "sim/keys.hpp"
#include "sim/study/outcome.hpp"

namespace bowrise {

struct Target {
  std::size_t result;
  double value;  ///< in the unit of the result's row
};

/// An input that may be changed, and the sizes it comes in; without sizes any value of its usual range
/// (widened to hold the present value), whole numbers for counts.
struct Adjustable {
  const Key* key;
  std::vector<double> sizes;  ///< in the unit of the key's row
};

/// What changing one input alone can do.
struct Remedy {
  const Key* key;
  double present;               ///< the input as it is
  std::optional<double> value;  ///< the input that meets the target; of several the nearest to `present`
  bool exact;                   ///< met within 0.1 %; false for the nearest of a list of sizes
  double nearest;               ///< the input that comes nearest to the target where none meets it
  Outcome outcome;              ///< with `value`, or with `nearest`
};

struct Match {
  Target target;
  Outcome as_it_is;
  std::vector<Remedy> remedies;  ///< in the order asked for
};

/// A target counts as met within this share of its value.
inline constexpr double target_tolerance = 1e-3;

/// Looks over each input's range at evenly spaced values, then refines every place where the result passes
/// the target by root finding. A jump over the target is not a solution: the nearest value is given then.
[[nodiscard]] Match match(const Setup& setup, const Target& target, std::span<const Adjustable> inputs,
                          unsigned threads);

}  // namespace bowrise
