// Complaints as values: the models say what is wrong by key; only the scenario reader knows file, line and
// column.
#pragma once

#include <string>
#include <vector>

namespace bowrise {

/// One reason why a setup cannot be used.
struct Problem {
  std::string key;      ///< "nozzle.exit_diameter"
  std::string what;     ///< "larger than the bore"
  std::string allowed;  ///< what would be accepted
};
using Problems = std::vector<Problem>;

/// A computation that could not be done although each input was acceptable.
struct Failure {
  std::string component, what, where;
};

}  // namespace bowrise
