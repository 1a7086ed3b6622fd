// Tables of many setups, each worked out once: what a study hands to the launches of setups that differ
// elsewhere.
#pragma once

#include <span>

#include "models/setup.hpp"
#include "sim/craft.hpp"

namespace bowrise {

/// Hulls, pumps and engines that these setups need, without repetition. Setups that fail `check` and what
/// cannot be computed are left out: their launches tell why.
/// @param before  taken over where they serve; what no setup needs is dropped, so memory does not grow
[[nodiscard]] Tables tables_for(std::span<const Setup> setups, const Tables& before = {},
                                unsigned threads = 1);

/// The same for one setup.
[[nodiscard]] Tables tables_for(const Setup& setup);

}  // namespace bowrise
