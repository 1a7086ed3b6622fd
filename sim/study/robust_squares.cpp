#include "sim/study/robust_squares.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "sim/study/executor.hpp"

namespace bowrise {
namespace {

// Huber 1964: 95 % efficient for normal residuals.
constexpr double huber = 1.345;
constexpr double least_move = 0.05;  // in posterior standard deviations: no step shorter counts
constexpr double least_gain = 0.02;  // of the sum of squares: what a move of 0.14 standard deviations gains
constexpr std::size_t most_steps = 40, steps_a_round = 12, most_rounds = 5;

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

class Solver {
 public:
  Solver(const SquaresProblem& problem, unsigned threads)
      : problem_(problem), threads_(threads), groups_(problem.groups) {}

  std::optional<SquaresSolution> solve(const Eigen::VectorXd& start) {
    at_ = start;
    auto predicted = problem_.predict(at_);
    if (!predicted) return std::nullopt;
    predicted_ = std::move(*predicted);
    activate_all();
    bool settled = false;
    for (std::size_t round = 0; round < most_rounds && !settled; ++round) {
      const std::vector<ObservationGroup> before = groups_;
      const bool found = descend(round > 0);  // one-sided slopes will do to come near
      estimate_scatter();
      settled = found && round > 0 && alike(before, groups_);
    }
    activate_all();
    linearise(true);
    SquaresSolution solution{at_, inverse(), information_, residuals(predicted_), groups_, steps_, settled};
    return solution;
  }

 private:
  [[nodiscard]] std::vector<double> residuals(const std::vector<double>& predicted) const {
    std::vector<double> values(predicted.size());
    for (std::size_t i = 0; i < values.size(); ++i) values[i] = problem_.observations[i].value - predicted[i];
    return values;
  }

  [[nodiscard]] double scale(std::size_t observation) const {
    const ObservationGroup& group = groups_[problem_.observations[observation].group];
    return group.scale * std::sqrt((1.0 + group.correlation) / (1.0 - group.correlation));
  }
  /// Size of a residual in standard deviations of its group: what Huber's bend is measured in.
  [[nodiscard]] double size(std::size_t observation, double residual) const {
    return std::abs(residual) / groups_[problem_.observations[observation].group].scale;
  }

  [[nodiscard]] double cost(const Eigen::VectorXd& at, const std::vector<double>& predicted) const {
    double sum = at.squaredNorm();
    const std::vector<double> left = residuals(predicted);
    for (std::size_t i = 0; i < left.size(); ++i) {
      const double big = size(i, left[i]);
      const double shrink = groups_[problem_.observations[i].group].scale / scale(i);
      sum += (big <= huber ? big * big : huber * (2.0 * big - huber)) * shrink * shrink;
    }
    return sum;
  }

  /// Differences of every active parameter; one that has no answer on a side is taken from the other.
  [[nodiscard]] Eigen::MatrixXd jacobian(bool central) const {
    const double step = problem_.difference_step;
    Eigen::MatrixXd slopes = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(predicted_.size()), at_.size());
    for_each_index(active_.size(), threads_, [&](std::size_t column) {
      const Eigen::Index j = active_[column];
      Eigen::VectorXd up = at_, down = at_;
      up[j] += step;
      down[j] -= step;
      const auto above = problem_.predict(up);
      const auto below = central || !above ? problem_.predict(down) : std::nullopt;
      const double width = step * ((above ? 1.0 : 0.0) + (below ? 1.0 : 0.0));
      const std::vector<double>& high = above ? *above : predicted_;
      const std::vector<double>& low = below ? *below : predicted_;
      for (std::size_t i = 0; i < predicted_.size(); ++i)
        slopes(static_cast<Eigen::Index>(i), j) = width > 0.0 ? (high[i] - low[i]) / width : 0.0;
    });
    return slopes;
  }

  /// Curvature of half the cost and the direction down, at `at_`.
  void linearise(bool central) {
    const Eigen::MatrixXd slopes = jacobian(central);
    const std::vector<double> left = residuals(predicted_);
    Eigen::VectorXd weights(slopes.rows()), weighted(slopes.rows());
    for (std::size_t i = 0; i < left.size(); ++i) {
      const double big = size(i, left[i]), sigma = scale(i);
      const auto row = static_cast<Eigen::Index>(i);
      weights[row] = std::min(1.0, huber / std::max(big, 1e-300)) / (sigma * sigma);
      weighted[row] = weights[row] * left[i];
    }
    curvature_ = slopes.transpose() * weights.asDiagonal() * slopes;
    information_ = curvature_.diagonal();
    curvature_.diagonal().array() += 1.0;
    downhill_ = slopes.transpose() * weighted - at_;
  }

  void activate_all() {
    active_.clear();
    for (Eigen::Index i = 0; i < at_.size(); ++i) active_.push_back(i);
  }

  /// Leaves parameters alone that nothing depends on, so that they cost no more launches.
  void drop_idle() {
    constexpr double nothing = 1e-4;
    std::erase_if(active_, [&](Eigen::Index i) { return information_[i] < nothing; });
  }

  [[nodiscard]] Eigen::MatrixXd inverse() const {
    return curvature_.ldlt().solve(Eigen::MatrixXd::Identity(curvature_.rows(), curvature_.cols()));
  }

  /// @return whether no step of note was left
  bool descend(bool central) {
    double damping = 1e-3;
    for (std::size_t step = 0; step < steps_a_round && steps_ < most_steps; ++step) {
      linearise(central);
      if (steps_++ == 0) drop_idle();
      const double before = cost(at_, predicted_);
      bool moved = false;
      for (int attempt = 0; attempt < 8 && !moved; ++attempt) {
        Eigen::MatrixXd damped = curvature_;
        damped.diagonal() *= 1.0 + damping;
        const Eigen::VectorXd move = damped.ldlt().solve(downhill_);
        if (std::sqrt(move.dot(curvature_ * move)) < least_move) return true;
        const Eigen::VectorXd trial = at_ + move;
        auto predicted = problem_.predict(trial);
        if (predicted && cost(trial, *predicted) < before) {
          const double gained = before - cost(trial, *predicted);
          at_ = trial;
          predicted_ = std::move(*predicted);
          if (gained < least_gain) return true;
          damping = std::max(damping * 0.1, 1e-6);
          moved = true;
        } else {
          damping = std::max(damping * 10.0, 1e-2);
        }
      }
      if (!moved) return true;  // no step of any length helps: rounding decides
    }
    return false;
  }

  /// Scatter from the median size of the residuals, for the numbers that the fit itself took out of them, and
  /// the agreement of neighbours.
  void estimate_scatter() {
    const std::vector<double> left = residuals(predicted_);
    const double taken = static_cast<double>(at_.size()) - inverse().trace();
    const double share = std::min(taken / static_cast<double>(left.size()), 0.5);
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      ObservationGroup& group = groups_[g];
      if (problem_.groups[g].scale == problem_.groups[g].least_scale) continue;  // known
      std::vector<double> sizes;
      for (std::size_t i = 0; i < left.size(); ++i)
        if (problem_.observations[i].group == g) sizes.push_back(std::abs(left[i]));
      if (sizes.size() < 8) continue;
      // median size of a standard normal number: 0.6745
      group.scale = std::max(median(sizes) / 0.6745 / std::sqrt(1.0 - share), group.least_scale);
      group.correlation = agreement(left, g, sizes.size());
    }
  }

  [[nodiscard]] double agreement(const std::vector<double>& left, std::size_t group,
                                 std::size_t count) const {
    double products = 0.0, squares = 0.0;
    const double most = 3.0 * groups_[group].scale;
    const auto bounded = [most](double value) { return std::clamp(value, -most, most); };
    for (std::size_t i = 0; i < left.size(); ++i) {
      const Observation& here = problem_.observations[i];
      if (here.group != group) continue;
      squares += bounded(left[i]) * bounded(left[i]);
      if (i > 0 && problem_.observations[i - 1].group == group &&
          problem_.observations[i - 1].series == here.series)
        products += bounded(left[i]) * bounded(left[i - 1]);
    }
    const double lag_1 = squares > 0.0 ? products / squares : 0.0;
    // below two standard errors of independent numbers it says nothing
    if (lag_1 < 2.0 / std::sqrt(static_cast<double>(count))) return 0.0;
    return std::min(lag_1, 0.98);
  }

  static bool alike(const std::vector<ObservationGroup>& a, const std::vector<ObservationGroup>& b) {
    for (std::size_t i = 0; i < a.size(); ++i)
      if (std::abs(a[i].scale - b[i].scale) > 0.1 * a[i].scale ||
          std::abs(a[i].correlation - b[i].correlation) > 0.1)
        return false;
    return true;
  }

  const SquaresProblem& problem_;
  unsigned threads_;
  std::vector<ObservationGroup> groups_;
  Eigen::VectorXd at_, downhill_, information_;
  Eigen::MatrixXd curvature_;
  std::vector<double> predicted_;
  std::vector<Eigen::Index> active_;
  std::size_t steps_ = 0;
};

}  // namespace

std::optional<SquaresSolution> solve_squares(const SquaresProblem& problem, const Eigen::VectorXd& start,
                                             unsigned threads) {
  return Solver(problem, threads).solve(start);
}

}  // namespace bowrise
