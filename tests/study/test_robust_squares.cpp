#include "sim/study/robust_squares.hpp"

#include <Eigen/LU>
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/support/synthetic_log.hpp"

namespace bowrise {
namespace {

/// y = a + b x at x = 0, 1, ... with known scatter.
SquaresProblem line(const std::vector<double>& values, ObservationGroup group) {
  SquaresProblem problem{2, {}, {group}, {}, 0.1};
  for (const double value : values) problem.observations.push_back({value, 0, 0});
  problem.predict = [count = values.size()](const Eigen::VectorXd& at) {
    std::vector<double> predicted;
    for (std::size_t i = 0; i < count; ++i) predicted.push_back(at[0] + at[1] * static_cast<double>(i));
    return std::optional(predicted);
  };
  return problem;
}

}  // namespace

// Closed form, e.g. Bishop 2006 (3.50)-(3.51): with prior N(0, 1) and known scatter s the posterior has
// covariance (1 + X'X/s^2)^-1 and mean that times X'y/s^2. Residuals are kept under Huber's bend.
TEST_CASE("a line with a prior, against the closed form") {
  const std::vector<double> values{0.3, 0.9, 1.2, 2.1};
  const double scatter = 0.5;
  const auto found = solve_squares(line(values, {scatter, scatter}), Eigen::Vector2d::Zero(), 1);
  REQUIRE(found.has_value());
  Eigen::MatrixXd x(4, 2);
  x << 1, 0, 1, 1, 1, 2, 1, 3;
  const Eigen::Vector4d y(0.3, 0.9, 1.2, 2.1);
  const Eigen::Matrix2d covariance =
      (Eigen::Matrix2d::Identity() + x.transpose() * x / (scatter * scatter)).inverse();
  const Eigen::Vector2d mean = covariance * x.transpose() * y / (scatter * scatter);
  for (int i = 0; i < 2; ++i) {
    CHECK(found->at[i] == Approx(mean[i]).epsilon(1e-4));
    for (int j = 0; j < 2; ++j) CHECK(found->covariance(i, j) == Approx(covariance(i, j)).epsilon(1e-6));
  }
  CHECK(found->settled);
}

// Huber 1964: an outlier pulls no harder however far it lies
TEST_CASE("an outlier pulls no harder however far it lies") {
  std::vector<double> values;
  test::Noise noise(5);
  for (int i = 0; i < 60; ++i) values.push_back(0.5 + 0.02 * i + 0.05 * noise());
  std::vector<double> near = values, far = values;
  near[20] += 5.0;
  far[20] += 5000.0;
  const ObservationGroup unknown{1.0, 1e-4};
  const auto clean = solve_squares(line(values, unknown), Eigen::Vector2d::Zero(), 1);
  const auto a = solve_squares(line(near, unknown), Eigen::Vector2d::Zero(), 1);
  const auto b = solve_squares(line(far, unknown), Eigen::Vector2d::Zero(), 1);
  // the search stops when it would move by less than 0.05 standard deviations, on either side
  CHECK(a->at[0] == Approx(b->at[0]).margin(0.1 * std::sqrt(a->covariance(0, 0))));
  CHECK(std::abs(a->at[0] - clean->at[0]) < 2.0 * std::sqrt(clean->covariance(0, 0)));
}

TEST_CASE("scatter is estimated, and what is smooth is no independent news") {
  test::Noise noise(11);
  std::vector<double> white, smooth;
  double last = 0.0;
  for (int i = 0; i < 400; ++i) {
    white.push_back(0.3 * noise());
    last = 0.9 * last + std::sqrt(1.0 - 0.81) * 0.3 * noise();
    smooth.push_back(last);
  }
  const ObservationGroup unknown{1.0, 1e-4};
  const auto a = solve_squares(line(white, unknown), Eigen::Vector2d::Zero(), 1);
  const auto b = solve_squares(line(smooth, unknown), Eigen::Vector2d::Zero(), 1);
  // the median of 400 sizes has a standard error of 6 %
  CHECK(a->groups[0].scale == Approx(0.3).epsilon(0.18));
  CHECK(a->groups[0].correlation == 0.0);
  CHECK(b->groups[0].correlation == Approx(0.9).margin(0.1));
  // (1 + r)/(1 - r) = 19: the standard deviation of what is found is over three times as large
  CHECK(b->covariance(0, 0) > 9.0 * a->covariance(0, 0));
}

TEST_CASE("a parameter on which nothing depends keeps its prior") {
  SquaresProblem problem = line({1, 2, 3}, {0.5, 0.5});
  problem.parameters = 3;
  const auto found = solve_squares(problem, Eigen::Vector3d::Zero(), 2);
  CHECK(found->at[2] == 0.0);
  CHECK(found->information[2] == 0.0);
  CHECK(found->covariance(2, 2) == Approx(1.0));
}

TEST_CASE("no answer at the start is no solution, none on one side of a step is borne") {
  SquaresProblem problem = line({1, 2, 3}, {0.5, 0.5});
  problem.predict = [](const Eigen::VectorXd&) { return std::optional<std::vector<double>>(); };
  CHECK_FALSE(solve_squares(problem, Eigen::Vector2d::Zero(), 1).has_value());

  problem = line({1, 2, 3}, {0.5, 0.5});
  const auto whole = problem.predict;
  problem.predict = [whole](const Eigen::VectorXd& at) {
    return at[1] > 0.6 ? std::nullopt : whole(at);  // the line wants a slope of 0.9
  };
  const auto found = solve_squares(problem, Eigen::Vector2d::Zero(), 1);
  REQUIRE(found.has_value());
  CHECK(found->at[1] <= 0.6);
}

}  // namespace bowrise
