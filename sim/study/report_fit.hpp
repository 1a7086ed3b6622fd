// What a page about a fit shows besides its numbers: each logged run with the fitted craft's launch laid over
// it.
#pragma once

#include <span>
#include <vector>

#include "sim/logged_run.hpp"
#include "sim/study/fit.hpp"

namespace bowrise {

/// One quantity of one run, sample by sample as the fit took it.
struct LoggedAgainstFit {
  std::vector<double> time_s;  ///< on the clock of the log
  std::vector<double> logged, fitted;
};

struct FittedRun {
  LoggedAgainstFit speed_m_s, shaft_speed_rad_s;  ///< the latter empty where none was logged
};

/// By run; what the logger adds (latency, current, start) is as fitted. Empty where the fitted craft gives no
/// launch.
/// @param setup  as before the fit; @param runs  those that were fitted
[[nodiscard]] std::vector<FittedRun> fitted_runs(const Setup& setup, std::span<const LoggedRun> runs,
                                                 const Fit& fit);

}  // namespace bowrise
