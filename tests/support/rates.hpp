// Right-hand sides of small problems for the tests of stepper and driver.
#pragma once

#include <array>
#include <cstddef>
#include <functional>

namespace bowrise::test {

using One = std::array<double, 1>;
using Two = std::array<double, 2>;
using Three = std::array<double, 3>;

/// Any rates of N components. One type for all of them, so that stepper and driver, which are templates, are
/// compiled once and not for every problem.
template <std::size_t N>
using Rates = std::function<void(const std::array<double, N>& y, std::array<double, N>& dydt, double t)>;

}  // namespace bowrise::test
