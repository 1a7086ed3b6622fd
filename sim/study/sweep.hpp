// Sweep: many setups tried, one row each, in the order of the plan.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "sim/study/axes.hpp"
#include "sim/study/purpose.hpp"

namespace bowrise {

/// What is kept of one point of a sweep.
struct SweepPoint {
  std::size_t index = 0;
  std::vector<double> values;  ///< of the axes
  PurposeValues purposes;
};

/// A point with every result; the outcome's failure says why there are none.
struct SweepRow {
  SweepPoint point;
  Outcome outcome;
};

/// Called with the rows of a few hundred points at a time, in order of their index, on the calling thread.
using SweepSink = std::function<void(std::span<const SweepRow>)>;

struct SweepOptions {
  bool rough = false;  ///< also launch every setup in chop
  unsigned threads = 1;
};

/// Tries the points from `begin` to before `end`. Rows depend neither on threads nor on where it began.
/// @throws what the sink throws
void run_sweep(const SweepPlan& plan, std::size_t begin, std::size_t end, const SweepOptions& options,
               const SweepSink& sink);

/// Told how many points of how many are done.
using Progress = std::function<void(std::size_t done, std::size_t total)>;

/// All points of a sweep that is small enough to be kept.
struct KeptSweep {
  std::vector<SweepPoint> points;
  std::string first_failure;  ///< of the point of lowest index without results, "point 3: ..."
};
[[nodiscard]] KeptSweep keep_sweep(const SweepPlan& plan, const SweepOptions& options,
                                   const Progress& progress);

}  // namespace bowrise
