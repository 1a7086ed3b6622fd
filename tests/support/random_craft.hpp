// Craft drawn at random: a shipped one, some of whose inputs are moved anywhere within what is usual.
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <random>

#include "sim/keys.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise::test {

/// Setup number `index`, which may be one that `check` refuses. The same on every machine: no distribution of
/// the standard library takes part.
/// @param share  of the inputs that are moved
inline Setup random_craft(std::uint64_t index, double share) {
  static const std::array shipped_craft{shipped("supercharged_three_seat"), shipped("two_stage"),
                                        shipped("light_two_seat"), shipped("modified_400")};
  std::mt19937_64 generator(index);
  const auto draw = [&] { return static_cast<double>(generator() >> 11) * 0x1p-53; };
  Setup setup = shipped_craft[index % shipped_craft.size()];
  for (const Key& key : all_keys()) {
    // two ways to say the same, and what is settings of the run, stay as they are
    const bool said_otherwise = key.local_name.ends_with("_length") && key.local_name.starts_with("pitch");
    if (said_otherwise || key.section == "run" || key.section == "output" || draw() > share) continue;
    if (key.kind == KeyKind::choice) {
      key.write_word(setup, static_cast<int>(generator() % key.words.size()));
    } else if (key.kind == KeyKind::number) {
      if (key.name == "pump.stages") continue;
      const double value = key.usual.low + draw() * (key.usual.high - key.usual.low);
      set_in_unit(setup, key, key.unit->dimension == Dimension::count ? std::round(value) : value);
    }
  }
  return setup;
}

}  // namespace bowrise::test
