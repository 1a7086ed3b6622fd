// What a sweep is: written beside its rows, so that a later run knows whether it goes on with the same one.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/scenario/read.hpp"
#include "sim/study/axes.hpp"
#include "sim/study/ranking.hpp"

namespace bowrise {

struct SweepDefinition {
  std::string version, scenario_hash, title;
  std::vector<SweepAxis> axes;
  std::size_t samples = 0;  ///< 0: a grid
  std::uint64_t seed = 1;
  std::size_t points = 0;
  std::vector<Weight> weights;
  std::size_t sensitivity = 0;  ///< base points for the indices; 0: not asked for
  Share share;

  /// Whether the launch in chop is made: when `rough` is among the weights.
  [[nodiscard]] bool rough() const;
};

/// "name: value" lines, a fixed set in a fixed order: equal definitions have equal texts.
[[nodiscard]] std::string definition_text(const SweepDefinition& definition);

/// The way back. @return nothing for a text that is not a definition
[[nodiscard]] std::optional<SweepDefinition> read_definition(std::string_view text);

/// The first line in which two definitions differ, as `"here" there, "asked" now`; empty when none does.
[[nodiscard]] std::string first_difference(std::string_view there, std::string_view asked);

}  // namespace bowrise
