// Fit: which values of the uncertain inputs make the model agree with the craft in the water, and how well
// they are known then.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "models/setup.hpp"
#include "sim/logged_run.hpp"
#include "sim/posterior.hpp"
#include "sim/study/band.hpp"
#include "sim/study/fit_trace.hpp"

namespace bowrise {

/// The data say something of an input when they leave less than this of its spread.
inline constexpr double identified_below = 0.8;

/// An input of the craft, in the unit of its row.
struct FittedInput {
  const Key* key;
  double before, value;  ///< as the scenario has it, and fitted
  double low, high;      ///< 5-95 % after the fit
  double prior_low, prior_high;
  double left;  ///< standard deviation after the fit over that before, of the normal quantile

  [[nodiscard]] bool told() const { return left < identified_below; }
};

struct FittedNuisance {
  LoggingNuisance::Kind kind;
  std::size_t run;
  double value, deviation;  ///< SI
  double left;              ///< as for an input

  [[nodiscard]] bool told() const { return left < identified_below; }
};

/// How far fit and observations agree.
struct FitAgreement {
  std::string name;             ///< begins with "speed" or "rpm"
  std::size_t count, outliers;  ///< outliers: beyond four standard deviations
  double rms;                   ///< m/s; of rpm relative
  double mean;                  ///< observed less fitted, the outliers left out; as rms
  double scatter;               ///< robust standard deviation
  double correlation;           ///< of neighbours; much above 0: the model misses something smooth
};

/// Residuals whose neighbours agree by more than this are smooth: the model misses something.
inline constexpr double smooth_above = 0.5;

struct SeenAgreement {
  std::size_t result;
  double seen, fitted, scatter;
};

struct Fit {
  Setup setup;                      ///< fitted, with the limiter as a number
  Posterior posterior;              ///< of the inputs on which what was observed depends
  std::vector<FittedInput> inputs;  ///< by what is left of their spread, rising
  std::vector<FittedNuisance> nuisances;
  std::vector<FitAgreement> agreement;
  std::vector<SeenAgreement> seen;
  Bands before, after;  ///< of every result
  Outcome nominal;      ///< of the fitted setup
  std::size_t steps;
  bool settled;
  std::size_t runs;
  bool one_course;  ///< every run the same way: a current hides in the speed
};

/// @param options.draws  of the bands before and after; the seed serves these alone
/// @param runs, seen  at least one of them; every seen number has a value above 0
/// @throws std::runtime_error when the craft as described gives no launch, or none with the seen results
[[nodiscard]] Fit fit(const Setup& setup, std::span<const LoggedRun> runs, std::span<const Seen> seen,
                      const BandOptions& options);

/// Which of what was logged the fitted craft stays so far from that another craft, or another unit, was
/// logged; null when there is none.
[[nodiscard]] const FitAgreement* hopeless(const Fit& fit);

}  // namespace bowrise
