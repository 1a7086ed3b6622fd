#include "sim/study/report_fit.hpp"

#include <Eigen/Core>
#include <cmath>

#include "sim/study/fit_trace.hpp"

namespace bowrise {
namespace {

Eigen::VectorXd parameters_of(const LoggedCraft& craft, const Fit& fit) {
  Eigen::VectorXd at = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(craft.parameters()));
  for (std::size_t i = 0; i < craft.keys().size(); ++i)
    for (std::size_t k = 0; k < fit.posterior.keys.size(); ++k)
      if (fit.posterior.keys[k] == craft.keys()[i]) at[static_cast<Eigen::Index>(i)] = fit.posterior.at[k];
  for (std::size_t i = 0; i < craft.nuisances().size(); ++i) {
    const LoggingNuisance& prior = craft.nuisances()[i];
    for (const FittedNuisance& fitted : fit.nuisances)
      if (fitted.kind == prior.kind && fitted.run == prior.run)
        at[static_cast<Eigen::Index>(craft.keys().size() + i)] =
            (fitted.value - prior.middle) / prior.scatter;
  }
  return at;
}

/// Hands out observations in their order, which is that of the samples; a sample that was not taken has none.
class Taken {
 public:
  Taken(const LoggedCraft& craft, const std::vector<double>& predicted)
      : craft_(craft), predicted_(predicted) {}

  void next(std::size_t run, std::string_view quantity, double time_s, double logged, LoggedAgainstFit& out) {
    const auto& observations = craft_.observations();
    if (at_ == observations.size() || observations[at_].group >= craft_.group_names().size()) return;
    const Observation& observation = observations[at_];
    if (observation.series != run || observation.value != logged) return;
    if (!craft_.group_names()[observation.group].starts_with(quantity)) return;
    out.time_s.push_back(time_s);
    out.logged.push_back(logged);
    out.fitted.push_back(predicted_[at_++]);
  }

 private:
  const LoggedCraft& craft_;
  const std::vector<double>& predicted_;
  std::size_t at_ = 0;
};

void to_shaft_speeds(LoggedAgainstFit& logarithms) {
  for (auto* values : {&logarithms.logged, &logarithms.fitted})
    for (double& value : *values) value = std::exp(value);
}

}  // namespace

std::vector<FittedRun> fitted_runs(const Setup& setup, std::span<const LoggedRun> runs, const Fit& fit) {
  if (runs.empty()) return {};
  const LoggedCraft craft(with_stated_limiter(setup), runs, {});
  const auto predicted = craft.predict(parameters_of(craft, fit));
  if (!predicted) return {};
  std::vector<FittedRun> out(runs.size());
  Taken taken(craft, *predicted);
  for (std::size_t run = 0; run < runs.size(); ++run) {
    for (const LoggedSample& sample : runs[run].samples)
      if (sample.speed_m_s) taken.next(run, "speed", sample.time_s, *sample.speed_m_s, out[run].speed_m_s);
    for (const LoggedSample& sample : runs[run].samples)
      if (sample.time_s > runs[run].start_s && sample.shaft_speed_rad_s.value_or(0.0) > 0.0)
        taken.next(run, "rpm", sample.time_s, std::log(*sample.shaft_speed_rad_s),
                   out[run].shaft_speed_rad_s);
    to_shaft_speeds(out[run].shaft_speed_rad_s);
  }
  return out;
}

}  // namespace bowrise
