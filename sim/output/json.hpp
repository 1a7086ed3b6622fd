// Results as JSON (RFC 8259): keys in a fixed order, every number finite, times and speeds in SI with unit
// suffixes.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/craft.hpp"
#include "sim/curves.hpp"
#include "sim/launch.hpp"
#include "sim/results.hpp"
#include "sim/scenario/read.hpp"
#include "sim/study/band.hpp"
#include "sim/study/limit_costs.hpp"

namespace bowrise {

/// What `run` asks beyond the launch itself.
struct RunStudies {
  std::vector<LimitCost> costs;
  std::optional<Bands> bands;  ///< only when asked for
};

/// summary.json of one run. @throws std::runtime_error if a number is not finite
[[nodiscard]] std::string summary_json(const Scenario& scenario, const Craft& craft, const Launch& launch,
                                       const Summary& summary, const RunStudies& studies);

/// Every resolved input with its origin.
[[nodiscard]] std::string setup_json(const Scenario& scenario);
[[nodiscard]] std::string curve_json(const CurveTable& table);
[[nodiscard]] std::string parameters_json();

/// What `report` wrote.
[[nodiscard]] std::string report_json(const std::string& file, std::size_t bytes,
                                      const std::vector<Scenario>& scenarios);

/// The program's version, "0.1.0".
[[nodiscard]] std::string_view version();

}  // namespace bowrise
