// Rows of a sweep as comma-separated text (RFC 4180): index, axes, every result, what purposes need, and why
// there is no result. A unit stands at the end of a column's name; numbers read back to the same bits.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/output/sweep_definition.hpp"
#include "sim/study/ranking.hpp"
#include "sim/study/sweep.hpp"

namespace bowrise {

[[nodiscard]] std::string sweep_header(const std::vector<SweepAxis>& axes);

/// @throws std::runtime_error naming point and column if a value is not finite
[[nodiscard]] std::string sweep_line(const SweepRow& row);

/// The part of a line that ranking needs. @return nothing for what is not a line of a sweep with these axes
[[nodiscard]] std::optional<SweepPoint> read_sweep_line(std::string_view line, std::size_t axes);

/// The best and the Pareto set, a row each.
[[nodiscard]] std::string ranking_csv(const std::vector<SweepAxis>& axes, const Ranking& ranking);

}  // namespace bowrise
