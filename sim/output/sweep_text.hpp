// A sweep as text for a terminal.
#pragma once

#include <optional>
#include <string>

#include "sim/output/sweep_definition.hpp"
#include "sim/study/ranking.hpp"
#include "sim/study/sensitivity.hpp"

namespace bowrise {

[[nodiscard]] std::string sweep_text(const SweepDefinition& definition, const Ranking& ranking,
                                     const std::optional<Sensitivity>& sensitivity);

}  // namespace bowrise
