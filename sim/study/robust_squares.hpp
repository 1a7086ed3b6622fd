// Robust least squares with standard normal priors: observations in groups of unknown scatter, parameters
// scaled so that each is normal about 0 with standard deviation 1 before anything is seen.
//
// Gauss-Newton with Levenberg's damping on the normal equations (Eigen LDLT), weights after Huber 1964. The
// prior keeps the equations definite whatever the data say of a parameter, which is what an orthogonal
// factorisation would be needed for otherwise; a solver that owned the loop could neither reweight nor call
// the model from several threads.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

namespace bowrise {

/// Observations of one kind, with one scatter.
struct ObservationGroup {
  double scale;        ///< standard deviation of one observation; where it is estimated, that to start with
  double least_scale;  ///< no estimate goes below; equal to `scale`: the scatter is known
  /// How far neighbours agree, lag-1 correlation of the residuals: what is smooth, a logger's filter or a
  /// model that misses, is no independent news. Their variance counts (1 + r)/(1 - r)-fold.
  double correlation = 0.0;
};

struct Observation {
  double value;
  std::size_t group;
  std::size_t series;  ///< neighbours in the list that belong to the same group and series follow in time
};

struct SquaresProblem {
  std::size_t parameters;
  std::vector<Observation> observations;
  std::vector<ObservationGroup> groups;
  /// What the model says of each observation; nothing where it has no answer. Called from several threads.
  std::function<std::optional<std::vector<double>>(const Eigen::VectorXd&)> predict;
  double difference_step = 0.1;  ///< of the central differences, in prior standard deviations
};

struct SquaresSolution {
  Eigen::VectorXd at;
  Eigen::MatrixXd covariance;   ///< of the parameters, by the linearised model (Laplace)
  Eigen::VectorXd information;  ///< on each parameter alone, from the observations; 0: nothing depends on it
  std::vector<double> residuals;  ///< observed less predicted
  std::vector<ObservationGroup> groups;
  std::size_t steps;
  bool settled;  ///< false: stopped at the largest number of steps
};

/// @return nothing where the model has no answer at `start`
[[nodiscard]] std::optional<SquaresSolution> solve_squares(const SquaresProblem& problem,
                                                           const Eigen::VectorXd& start, unsigned threads);

}  // namespace bowrise
