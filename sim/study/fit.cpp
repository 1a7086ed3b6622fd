#include "sim/study/fit.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "sim/study/sample.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

// Less information than this shrinks a spread by under 0.5 %: the input stays as it was.
constexpr double least_information = 0.01;
constexpr double outlier = 4.0;

/// Sum of squares in units of the scatter to begin with.
double misfit(const LoggedCraft& craft, const Eigen::VectorXd& at, std::size_t run) {
  const auto predicted = craft.predict(at);
  if (!predicted) return 1e300;
  double sum = 0.0;
  for (std::size_t i = 0; i < predicted->size(); ++i) {
    const Observation& seen = craft.observations()[i];
    if (seen.series != run) continue;
    sum += std::min(std::abs(seen.value - (*predicted)[i]) / craft.groups()[seen.group].scale, 10.0);
  }
  return sum;
}

/// The limiter where the logs' rpm stays, if that fits better.
void try_plateau(const LoggedCraft& craft, Eigen::VectorXd& at) {
  static const Key* const limiter = find_key("engine.limiter");
  const auto found = std::find(craft.keys().begin(), craft.keys().end(), limiter);
  if (found == craft.keys().end()) return;
  const double stated = get_in_unit(craft.setup_at(at), *limiter);
  const double factor = to_unit(craft.shaft_plateau_rad_s(), *limiter->unit) / stated;
  constexpr double edge = 1e-3;
  Eigen::VectorXd moved_there = at;
  moved_there[found - craft.keys().begin()] =
      normal_quantile(std::clamp(share_at(limiter->spread, factor), edge, 1.0 - edge));
  double stays = 0.0, moves = 0.0;
  for (std::size_t run = 0; run < craft.runs(); ++run) {
    stays += misfit(craft, at, run);
    moves += misfit(craft, moved_there, run);
  }
  if (moves < stays) at = moved_there;
}

/// All inputs in the middle of their spreads; the start of each run where it fits best then.
Eigen::VectorXd start_of(const LoggedCraft& craft) {
  Eigen::VectorXd at = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(craft.parameters()));
  for (std::size_t i = 0; i < craft.nuisances().size(); ++i) {
    if (craft.nuisances()[i].kind != LoggingNuisance::Kind::start) continue;
    const auto place = static_cast<Eigen::Index>(craft.keys().size() + i);
    double best = 1e301, best_at = 0.0;
    for (int step = -8; step <= 8; ++step) {
      at[place] = 0.25 * step;
      const double sum = misfit(craft, at, craft.nuisances()[i].run);
      if (sum < best) {
        best = sum;
        best_at = at[place];
      }
    }
    at[place] = best_at;
  }
  try_plateau(craft, at);
  return at;
}

/// Whether an input is fitted: something depends on it. A setting is known, so the data must tell it.
bool kept(const Key& key, double information, double left) {
  if (key.spread.shape == Shape::setting) return left < identified_below;
  return information >= least_information;
}

/// Marginal distribution of the inputs that are fitted.
Posterior posterior_of(const LoggedCraft& craft, const SquaresSolution& solution) {
  Posterior posterior;
  std::vector<Eigen::Index> places;
  for (std::size_t i = 0; i < craft.keys().size(); ++i) {
    const auto place = static_cast<Eigen::Index>(i);
    const double left = std::sqrt(solution.covariance(place, place));
    if (!kept(*craft.keys()[i], solution.information[place], left)) continue;
    places.push_back(place);
    posterior.keys.push_back(craft.keys()[i]);
    posterior.at.push_back(solution.at[place]);
  }
  const auto size = static_cast<Eigen::Index>(places.size());
  Eigen::MatrixXd covariance(size, size);
  for (Eigen::Index i = 0; i < size; ++i)
    for (Eigen::Index j = 0; j < size; ++j)
      covariance(i, j) =
          solution.covariance(places[static_cast<std::size_t>(i)], places[static_cast<std::size_t>(j)]);
  const Eigen::MatrixXd factor = covariance.llt().matrixL();
  for (Eigen::Index i = 0; i < size; ++i) {
    auto& row = posterior.factor.emplace_back();
    for (Eigen::Index j = 0; j <= i; ++j) row.push_back(factor(i, j));
  }
  return posterior;
}

/// Six significant digits: finer than any fit, and fit to be read.
double readable(double value) {
  if (value == 0.0) return value;
  const double grain = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 5.0);
  return grain < 1.0 ? std::round(value / grain) / std::round(1.0 / grain)
                     : std::round(value / grain) * grain;
}

std::vector<FittedInput> inputs_of(const Setup& before, const Setup& fitted, const Posterior& posterior) {
  constexpr double ninety_five = 1.6448536269514722;
  std::vector<FittedInput> inputs;
  for (std::size_t i = 0; i < posterior.keys.size(); ++i) {
    const Key& key = *posterior.keys[i];
    double variance = 0.0;
    for (const double factor : posterior.factor[i]) variance += factor * factor;
    const double left = std::sqrt(variance), was = get_in_unit(before, key), is = get_in_unit(fitted, key);
    const double centre = at_share(key.spread, normal_share(posterior.at[i]));
    const auto after = [&](double way) {
      return moved(key, is, centre, normal_share(posterior.at[i] + way * left));
    };
    const auto prior = [&](double share) { return moved(key, was, unfitted_centre(key), share); };
    inputs.push_back(
        {&key, was, is, after(-ninety_five), after(ninety_five), prior(0.05), prior(0.95), left});
  }
  std::stable_sort(inputs.begin(), inputs.end(),
                   [](const FittedInput& a, const FittedInput& b) { return a.left < b.left; });
  return inputs;
}

std::vector<FittedNuisance> nuisances_of(const LoggedCraft& craft, const SquaresSolution& solution) {
  std::vector<FittedNuisance> found;
  for (std::size_t i = 0; i < craft.nuisances().size(); ++i) {
    const LoggingNuisance& prior = craft.nuisances()[i];
    const auto place = static_cast<Eigen::Index>(craft.keys().size() + i);
    const double left = std::sqrt(solution.covariance(place, place));
    const double value = craft.nuisance_at(i, solution.at);
    found.push_back({prior.kind, prior.run, value, left * prior.scatter, left});
  }
  return found;
}

/// An input that nothing depends on goes back to where the scenario has it.
Setup fitted_setup(const LoggedCraft& craft, const Setup& setup, const SquaresSolution& solution,
                   const Posterior& posterior) {
  const Setup all = craft.setup_at(solution.at);
  Setup fitted = setup;
  for (const Key* key : posterior.keys) set_in_unit(fitted, *key, readable(get_in_unit(all, *key)));
  return fitted;
}

std::vector<FitAgreement> agreement_of(const LoggedCraft& craft, const SquaresSolution& solution) {
  std::vector<FitAgreement> all;
  for (std::size_t group = 0; group < craft.first_seen_group(); ++group) {
    const ObservationGroup& found = solution.groups[group];
    FitAgreement agreement{craft.group_names()[group], 0, 0, 0.0, 0.0, found.scale, found.correlation};
    for (std::size_t i = 0; i < solution.residuals.size(); ++i) {
      if (craft.observations()[i].group != group) continue;
      ++agreement.count;
      agreement.rms += solution.residuals[i] * solution.residuals[i];
      const bool far = std::abs(solution.residuals[i]) > outlier * found.scale;
      agreement.outliers += far ? 1 : 0;
      agreement.mean += far ? 0.0 : solution.residuals[i];
    }
    agreement.mean /= static_cast<double>(std::max<std::size_t>(agreement.count - agreement.outliers, 1));
    agreement.rms = std::sqrt(agreement.rms / static_cast<double>(agreement.count));
    all.push_back(agreement);
  }
  return all;
}

bool all_one_way(std::span<const LoggedRun> runs) {
  return std::none_of(runs.begin(), runs.end(), [](const LoggedRun& run) { return run.course < -0.5; });
}

}  // namespace

Fit fit(const Setup& described, std::span<const LoggedRun> runs, std::span<const Seen> seen,
        const BandOptions& options) {
  const Setup setup = with_stated_limiter(described);
  const LoggedCraft craft(setup, runs, seen);
  SquaresProblem problem{craft.parameters(), craft.observations(), craft.groups(),
                         [&craft](const Eigen::VectorXd& at) { return craft.predict(at); }};
  const auto solution = solve_squares(problem, start_of(craft), options.threads);
  if (!solution)
    throw std::runtime_error("the craft as described gives no launch to lay beside what was seen");
  Fit out{};
  out.posterior = posterior_of(craft, *solution);
  out.nuisances = nuisances_of(craft, *solution);
  out.setup = fitted_setup(craft, setup, *solution, out.posterior);
  out.inputs = inputs_of(setup, out.setup, out.posterior);
  out.agreement = agreement_of(craft, *solution);
  for (std::size_t i = 0; i < seen.size(); ++i) {
    const std::size_t observation = solution->residuals.size() - seen.size() + i;
    out.seen.push_back({seen[i].result, *seen[i].value, *seen[i].value - solution->residuals[observation],
                        craft.groups()[craft.first_seen_group() + i].scale});
  }
  BandOptions draws = options;
  draws.coast = std::any_of(seen.begin(), seen.end(), [](const Seen& number) {
    return number.result == result_index("coast_down_distance");
  });
  out.before = bands_of(setup, draws);
  out.after = bands_of(out.setup, draws, out.posterior);
  out.nominal = outcome_of(out.setup, draws.coast);
  out.steps = solution->steps;
  out.settled = solution->settled;
  out.runs = runs.size();
  out.one_course = all_one_way(runs);
  return out;
}

const FitAgreement* hopeless(const Fit& fit) {
  // no spread of the model's inputs moves top speed or rpm that far [engineering judgement]
  constexpr double share = 0.08;
  const auto top_speed = fit.nominal.values[result_index("top_speed")];
  for (const FitAgreement& agreement : fit.agreement) {
    const bool relative = agreement.name.starts_with("rpm");
    if (!relative && (agreement.name != "speed near the top" || !top_speed)) continue;
    if (std::abs(agreement.mean) > share * (relative ? 1.0 : *top_speed)) return &agreement;
  }
  return nullptr;
}

}  // namespace bowrise
