// Values that no computation should make.
#pragma once

#include <limits>

namespace bowrise::test {

inline constexpr double infinity = std::numeric_limits<double>::infinity();
inline constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

}  // namespace bowrise::test
