// Units in which the sources of tests state their values, in SI; written out here so that no test leans on
// the program's own table of units.
#pragma once

#include "models/constants.hpp"

namespace bowrise::test {

inline constexpr double degree = radians_per_degree, rpm = pi / 30.0;
inline constexpr double foot_m = 0.3048,
                        pound_N = 4.4482216152605;  // exact: feet, and avoirdupois pounds of force
inline constexpr double horsepower_W = 550.0 * pound_N * foot_m;
inline constexpr double mph_m_s = 0.44704, knot_m_s = 1852.0 / 3600.0;

constexpr double kelvin(double degC) { return degC + zero_celsius_K; }

}  // namespace bowrise::test
