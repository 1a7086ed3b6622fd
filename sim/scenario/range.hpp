// Ranges as a user types them: "5..30 m/s:6", "25 m/s", "1,2,5 mm". A unit at the end serves every number
// before it.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "models/parameter.hpp"
#include "sim/units.hpp"

namespace bowrise {

/// @param possible  SI; a value outside is an error
/// @return values in SI, in order; LOW..HIGH:COUNT gives COUNT >= 2 equally spaced values, at most 100 000
[[nodiscard]] std::variant<std::vector<double>, QuantityError> parse_range(std::string_view text,
                                                                           Dimension dimension,
                                                                           Range possible);

}  // namespace bowrise
