// What tests ask of the problems that a check found.
#pragma once

#include <algorithm>
#include <string>

#include "models/problem.hpp"

namespace bowrise::test {

inline bool complains(const Problems& problems, const std::string& key) {
  return std::any_of(problems.begin(), problems.end(),
                     [&](const Problem& problem) { return problem.key == key; });
}

}  // namespace bowrise::test
