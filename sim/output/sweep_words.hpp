// Words that text and page of a sweep share.
#pragma once

#include <string>

#include "sim/study/axes.hpp"
#include "sim/study/purpose.hpp"

namespace bowrise {

/// The value of a purpose as a result is written; the price in the user's money; "-" without a price.
[[nodiscard]] std::string purpose_cell(Purpose purpose, const PurposeValues& values);

/// "nozzle.exit_diameter [mm]"
[[nodiscard]] std::string axis_label(const SweepAxis& axis);

/// "nozzle.exit_diameter 82 mm"
[[nodiscard]] std::string axis_value(const SweepAxis& axis, double value);

}  // namespace bowrise
