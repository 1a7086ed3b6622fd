// Numbers that a rider has of a craft, and what is known of the same craft when sound: a normal distribution
// of the logarithms of its results, from draws of the uncertain inputs, sharpened by what was measured.
#pragma once

#include <Eigen/Dense>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "sim/study/outcome.hpp"

namespace bowrise {

/// A result as somebody read it off; no value: it was never reached.
struct Seen {
  std::size_t result;
  std::optional<double> value;  ///< in the unit of the result's row
};

/// Standard deviation of one number that a rider reads off, relative to its size: hand-held GPS, dash, watch
/// or phone [engineering judgement: twice `run_scatter`, that of a logger; what is judged by ear, hook-up and
/// cavitation, 15 %].
[[nodiscard]] double rider_scatter(std::size_t result, double value);

/// A result on the scale on which a fault is a shift: its logarithm. Below 0.05 of its unit nothing is told
/// apart, so that a craft that does not cavitate at all has a value too.
[[nodiscard]] double on_scale(double value);
[[nodiscard]] double off_scale(double scaled);

/// What the sound craft shows.
struct Baseline {
  std::vector<std::size_t> results;  ///< those that every usable draw has
  Eigen::VectorXd mean;              ///< on the scale
  Eigen::MatrixXd covariance;
  std::vector<std::size_t> draws;  ///< usable: those in which the sound craft has all that was asked of it

  /// Place of a result; nothing when it is not known.
  [[nodiscard]] std::optional<std::size_t> place(std::size_t result) const;
};

/// @param nominal  the sound craft; @param drawn  the same under each draw
/// @param needed  results that the sound craft must show; @param measured  its own numbers, all with a value
[[nodiscard]] Baseline baseline_of(const Outcome& nominal, std::span<const Outcome> drawn,
                                   std::span<const std::size_t> needed, std::span<const Seen> measured);

}  // namespace bowrise
