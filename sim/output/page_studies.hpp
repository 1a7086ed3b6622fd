// Pages of the studies: each a study's result as one HTML file in the frame that all pages share.
#pragma once

#include <string>
#include <vector>

#include "sim/output/sweep_definition.hpp"
#include "sim/scenario/read.hpp"
#include "sim/study/diagnose.hpp"
#include "sim/study/fit.hpp"
#include "sim/study/ranking.hpp"
#include "sim/study/report_fit.hpp"
#include "sim/study/report_sweep.hpp"
#include "sim/study/report_throttle.hpp"
#include "sim/study/sensitivity.hpp"
#include "sim/study/throttle_plans.hpp"
#include "sim/study/wear_life.hpp"

namespace bowrise {

/// Lever, speed, shaft speed against time of the plans worth a look, then every plan: times, wear, errors.
/// @param traces  `plan_traces` of the same cases
[[nodiscard]] std::string throttle_page(const Scenario& scenario, const std::vector<ThrottleCase>& cases,
                                        const std::vector<std::vector<PlanTrace>>& traces);

/// Gap, marks and cavitating time against launches; life with its bands; ways of driving against each other.
/// @param scenarios  that the lives were made from; @param lives  1 to `most_overlaid`, the first with points
[[nodiscard]] std::string wear_page(const std::vector<Scenario>& scenarios,
                                    const std::vector<WearLife>& lives, const WearOptions& options);

/// The best, Pareto scatters of every two purposes, mean effect of each input, sensitivity where it was asked
/// for.
/// @param ranking  with at least one ranked point
[[nodiscard]] std::string sweep_page(const SweepDefinition& definition, const Ranking& ranking,
                                     const SweepOverview& overview,
                                     const std::optional<Sensitivity>& sensitivity);

/// Suspects by probability, what each would show against what was seen, what to read off next, how to prove
/// it.
/// @param answer  without a failure
[[nodiscard]] std::string diagnosis_page(const Scenario& scenario, const Diagnosis& answer);

/// Each log against the fitted trace with what is left over, what the data tell of each input, bands before
/// and after.
/// @param runs  names of the runs, in their order; @param traces  `fitted_runs` of the same fit
[[nodiscard]] std::string fit_page(const Scenario& scenario, const Fit& fit,
                                   const std::vector<std::string>& runs,
                                   const std::vector<FittedRun>& traces);

}  // namespace bowrise
