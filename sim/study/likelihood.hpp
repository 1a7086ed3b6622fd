// How likely numbers are that a rider has read off, when a fault shifts what the sound craft shows.
#pragma once

#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "sim/study/rider_numbers.hpp"

namespace bowrise {

/// What an explanation makes of each number seen: a shift on the scale of `on_scale`; empty: not reached.
using Shifts = std::vector<std::optional<double>>;

/// Logarithm of the likelihood of what cannot be.
inline constexpr double never = -std::numeric_limits<double>::infinity();

class Likelihood {
 public:
  /// @param base  must hold every result that was seen with a value
  Likelihood(const Baseline& base, std::span<const Seen> seen);

  struct Fit {
    double log_likelihood;  ///< minus infinity where a number was seen of what is not reached
    double misfit;          ///< chi-square of the numbers seen with a value
  };
  [[nodiscard]] Fit of(const Shifts& shifts) const;

  /// Logarithm of the likelihood when all that is known is that something large happened.
  [[nodiscard]] double of_anything() const;

  /// Standard deviations by which a shift stands out of what scatter and doubt about the sound craft hide, in
  /// all numbers seen with a value taken together; infinite where one of them is not reached.
  [[nodiscard]] double stands_out(const Shifts& shifts) const;

  /// Whether a misfit is one that an explanation that holds would exceed less than once in a hundred.
  [[nodiscard]] bool bearable(double misfit) const;

 private:
  /// Those of the numbers seen with a value; nothing where one of them is not reached.
  [[nodiscard]] std::optional<Eigen::VectorXd> of_values(const Shifts& shifts) const;
  [[nodiscard]] Fit normal(const Eigen::VectorXd& shift, double extra_deviation) const;

  std::vector<std::optional<std::size_t>> numbers_;  ///< by number seen: its place among those with a value
  Eigen::VectorXd residual_;                         ///< seen less sound
  Eigen::MatrixXd covariance_;
};

/// Error of the model in what it says a change does, a share of the change: sign safe, size within a quarter
/// [engineering judgement].
inline constexpr double change_error = 0.25;

}  // namespace bowrise
