// Trace and curves as comma-separated text (RFC 4180): header row, SI unit suffixes, shortest round-trip
// numbers.
#pragma once

#include <string>

#include "sim/craft.hpp"
#include "sim/curves.hpp"
#include "sim/launch.hpp"

namespace bowrise {

/// @throws std::runtime_error naming column and time if a value is not finite: nothing of the kind reaches a
/// file
[[nodiscard]] std::string trace_csv(const Craft& craft, const Launch& launch);
[[nodiscard]] std::string curve_csv(const CurveTable& table);

}  // namespace bowrise
