// Studies as JSON: every result under its name in the unit of its row, bands as low, median, high (5, 50,
// 95 %).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/output/sweep_definition.hpp"
#include "sim/study/break_even.hpp"
#include "sim/study/compare.hpp"
#include "sim/study/diagnose.hpp"
#include "sim/study/fit.hpp"
#include "sim/study/match.hpp"
#include "sim/study/ranking.hpp"
#include "sim/study/sensitivity.hpp"
#include "sim/study/throttle_plans.hpp"
#include "sim/study/wear_life.hpp"

namespace bowrise {

[[nodiscard]] std::string comparison_json(const Comparison& comparison, const OverStudy* over);

[[nodiscard]] std::string match_json(const Match& match);

[[nodiscard]] std::string throttle_json(const std::vector<ThrottleCase>& cases);
[[nodiscard]] std::string sweep_json(const SweepDefinition& definition, const Ranking& ranking,
                                     const std::optional<Sensitivity>& sensitivity);
[[nodiscard]] std::string wear_json(const std::vector<WearLife>& lives, const WearOptions& options);
[[nodiscard]] std::string diagnosis_json(const Diagnosis& answer);

/// @param runs  names of the runs, in their order; @param notes  what the reading of the logs put right
[[nodiscard]] std::string fit_json(const Fit& fit, const std::vector<std::string>& runs,
                                   const std::vector<std::string>& notes = {});

}  // namespace bowrise
