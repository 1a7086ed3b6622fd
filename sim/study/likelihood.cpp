#include "sim/study/likelihood.hpp"

#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <limits>

#include "models/constants.hpp"
#include "sim/study/doubles_alone.hpp"

namespace bowrise {
namespace {

constexpr double mistaken = 0.02;  // share of "never reached" that is wrong, engineering judgement
constexpr double anything = 0.3;   // relative change of a number when all that is known is that it changed

}  // namespace

Likelihood::Likelihood(const Baseline& base, std::span<const Seen> seen) {
  std::vector<Eigen::Index> places;
  std::vector<Seen> valued;
  for (const Seen& one : seen) {
    numbers_.push_back(one.value ? std::optional(valued.size()) : std::nullopt);
    if (!one.value) continue;
    valued.push_back(one);
    places.push_back(static_cast<Eigen::Index>(base.place(one.result).value()));
  }
  residual_ = Eigen::VectorXd(static_cast<Eigen::Index>(valued.size()));
  covariance_ = base.covariance(places, places);
  for (Eigen::Index i = 0; i < residual_.size(); ++i) {
    const Seen& one = valued[static_cast<std::size_t>(i)];
    residual_(i) = on_scale(*one.value) - base.mean(places[static_cast<std::size_t>(i)]);
    covariance_(i, i) += std::pow(rider_scatter(one.result, *one.value), 2);
  }
}

Likelihood::Fit Likelihood::normal(const Eigen::VectorXd& shift, double extra_deviation) const {
  if (residual_.size() == 0) return {0.0, 0.0};
  Eigen::MatrixXd covariance = covariance_;
  covariance.diagonal() += (change_error * shift).array().square().matrix();
  covariance.diagonal().array() += extra_deviation * extra_deviation;
  const Eigen::LLT<Eigen::MatrixXd> root(covariance);
  const Eigen::VectorXd white = root.matrixL().solve(residual_ - shift);
  const Eigen::MatrixXd lower = root.matrixL();
  const double misfit = white.squaredNorm();
  const double size = static_cast<double>(white.size());
  return {-0.5 * misfit - lower.diagonal().array().log().sum() - 0.5 * size * std::log(2.0 * pi), misfit};
}

std::optional<Eigen::VectorXd> Likelihood::of_values(const Shifts& shifts) const {
  Eigen::VectorXd shift(residual_.size());
  for (std::size_t i = 0; i < numbers_.size(); ++i) {
    if (!numbers_[i]) continue;
    if (!shifts[i]) return std::nullopt;
    shift(static_cast<Eigen::Index>(*numbers_[i])) = *shifts[i];
  }
  return shift;
}

Likelihood::Fit Likelihood::of(const Shifts& shifts) const {
  const auto shift = of_values(shifts);
  if (!shift) return {never, std::numeric_limits<double>::infinity()};
  double of_marks = 0.0;
  for (std::size_t i = 0; i < numbers_.size(); ++i)
    if (!numbers_[i]) of_marks += std::log(shifts[i] ? mistaken : 1.0 - mistaken);
  Fit fit = normal(*shift, 0.0);
  fit.log_likelihood += of_marks;
  return fit;
}

double Likelihood::of_anything() const {
  const double marks = static_cast<double>(numbers_.size()) - static_cast<double>(residual_.size());
  return normal(Eigen::VectorXd::Zero(residual_.size()), anything).log_likelihood + marks * std::log(0.5);
}

double Likelihood::stands_out(const Shifts& shifts) const {
  const auto shift = of_values(shifts);
  // marks missed say yes or no
  if (!shift || shift->size() == 0) return std::numeric_limits<double>::infinity();
  const Eigen::LLT<Eigen::MatrixXd> root(covariance_);
  return root.matrixL().solve(*shift).norm();
}

bool Likelihood::bearable(double misfit) const {
  if (residual_.size() == 0) return true;
  const boost::math::chi_squared_distribution<double, DoublesAlone> distribution(
      static_cast<double>(residual_.size()));
  return misfit <= quantile(distribution, 0.99);
}

}  // namespace bowrise
