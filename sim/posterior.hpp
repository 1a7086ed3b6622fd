// What a fit leaves of the uncertain inputs: a joint distribution that stands in for their spreads.
#pragma once

#include <vector>

#include "sim/keys.hpp"

namespace bowrise {

/// The share of its spread at which an input stands, as a standard normal quantile, is normal: `at` in the
/// middle, the covariance of all of them L L^T. A setting's spread is of the factor on its value. With `at` 0
/// and L the unit matrix that is the spread itself, uniform or log-uniform; whatever the numbers, no draw
/// leaves the spread. The setup that goes with it holds the fitted values, those at `at`. Empty: nothing was
/// fitted.
struct Posterior {
  std::vector<const Key*> keys;             ///< number keys with a spread, settings among them
  std::vector<double> at;                   ///< by key
  std::vector<std::vector<double>> factor;  ///< L: row i holds i + 1 numbers, the last above 0
};

}  // namespace bowrise
