// Studies as text for a terminal: one sentence a result, in the units of the trade.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/study/band.hpp"
#include "sim/study/break_even.hpp"
#include "sim/study/compare.hpp"
#include "sim/study/diagnose.hpp"
#include "sim/study/fit.hpp"
#include "sim/study/limit_costs.hpp"
#include "sim/study/match.hpp"
#include "sim/study/throttle_plans.hpp"
#include "sim/study/wear_life.hpp"

namespace bowrise {

/// Lines for `run`: what each limit costs, then how sure the results are.
[[nodiscard]] std::string limit_costs_text(const std::vector<LimitCost>& costs);
[[nodiscard]] std::string bands_text(const Bands& bands, const Outcome& nominal);

[[nodiscard]] std::string comparison_text(const Comparison& comparison);

/// @param first, second  names of the two setups
[[nodiscard]] std::string over_text(const OverStudy& study, const std::string& first,
                                    const std::string& second);

[[nodiscard]] std::string match_text(const Match& match);

/// @param runs  names of the runs, in their order; @param notes  what the reading of the logs put right
[[nodiscard]] std::string fit_text(const Fit& fit, const std::vector<std::string>& runs,
                                   const std::vector<std::string>& notes = {});

/// Why a fit is none, where the log stays far from all that the scenario can do; nothing where it does not.
[[nodiscard]] std::optional<std::string> hopeless_text(const Fit& fit, const std::string& scenario);

/// Tables of all plans, case by case, and what to make of them.
[[nodiscard]] std::string throttle_text(const std::vector<ThrottleCase>& cases);
[[nodiscard]] std::string wear_text(const std::vector<WearLife>& lives, const WearOptions& options);

/// What explains the numbers seen, most likely first, and what to do next.
[[nodiscard]] std::string diagnosis_text(const Diagnosis& answer);

}  // namespace bowrise
