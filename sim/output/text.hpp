// Results as text for a terminal: what a tuner wants first.
#pragma once

#include <string>

#include "sim/craft.hpp"
#include "sim/curves.hpp"
#include "sim/launch.hpp"
#include "sim/results.hpp"
#include "sim/scenario/read.hpp"

namespace bowrise {

/// Title of a scenario, or the name of its file.
[[nodiscard]] std::string name_of(const Scenario& scenario);

[[nodiscard]] std::string run_text(const Scenario& scenario, const Craft& craft, const Launch& launch,
                                   const Summary& summary);
/// The cautions that end every result, after an empty line.
[[nodiscard]] std::string cautions_text();
[[nodiscard]] std::string curve_text(const CurveTable& table);
[[nodiscard]] std::string parameters_text();

}  // namespace bowrise
