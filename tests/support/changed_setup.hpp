// A setup with some of its inputs changed by their keys: faults put in behind the back of the diagnosis.
#pragma once

#include <vector>

#include "sim/keys.hpp"

namespace bowrise::test {

struct Change {
  const char* key;
  double factor, more;  ///< in the unit of the key; factor 0: whatever it was
};
using Changed = std::vector<Change>;

inline Setup changed(Setup setup, const Changed& changes) {
  for (const Change& change : changes) {
    const Key& key = *find_key(change.key);
    const double kept = change.factor == 0.0 ? 0.0 : change.factor * get_in_unit(setup, key);
    set_in_unit(setup, key, kept + change.more);
  }
  return setup;
}

}  // namespace bowrise::test
