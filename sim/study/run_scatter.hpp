// How much real runs of one and the same craft scatter, and how many it takes to show a difference.
#pragma once

#include <cstddef>
#include <optional>

#include "sim/results.hpp"

namespace bowrise {

/// Standard deviation of single runs with a 10 Hz GPS logger, one rider, calm water, in the unit of the
/// result [engineering judgement: times 0.03 s and 2 %, speeds 0.8 %, shaft speeds 0.5 %, all else 5 %; SAE
/// J2882-2023, read second-hand, asks for top speeds that repeat within 2 %].
[[nodiscard]] double run_scatter(const ResultRow& row, double value);

/// Runs with each setup that show a difference: two-sided t-test of Welch at 5 %, power 80 %, the same number
/// of runs and the same scatter on both sides.
/// @param difference  not 0; @param scatter  standard deviation of single runs, > 0
/// @return at least 2; nothing when more than 1000 would be needed
[[nodiscard]] std::optional<std::size_t> runs_to_show(double difference, double scatter);

}  // namespace bowrise
