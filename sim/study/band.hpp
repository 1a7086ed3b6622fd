// Bands: how far a result spreads when the uncertain inputs do.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "models/setup.hpp"
#include "sim/posterior.hpp"
#include "sim/study/outcome.hpp"

namespace bowrise {

/// Median and 5-95 % of the draws that had an answer.
struct Band {
  double low, median, high;
  std::size_t answered, drawn;
};

/// Quantile by linear interpolation between order statistics, Hyndman & Fan 1996 definition 6: a further draw
/// falls below with just this share, however few draws there are. Definition 7, the usual one, makes bands of
/// few draws too narrow: 5-95 % of 64 draws hold 87 % of what comes next.
/// @param sorted  rising, not empty; @param share  in [0, 1], held to what 1/(n+1) from either end gives
[[nodiscard]] double quantile(std::span<const double> sorted, double share);

/// @return nothing when no value is present
[[nodiscard]] std::optional<Band> band_of(std::span<const std::optional<double>> values);

/// What a draw adds to the band of a result. A craft that still cavitates at the end has not hooked up: the
/// few miles an hour at which it is stuck are no top speed, and it counts as not having got there.
[[nodiscard]] std::optional<double> drawn_value(const Outcome& outcome, std::size_t result);

struct BandOptions {
  std::size_t draws = 0;  ///< a power of two
  std::uint64_t seed = 1;
  unsigned threads = 1;
  bool coast = false;
};

/// Bands of every result of one setup, by the order of `result_rows`.
struct Bands {
  std::size_t draws = 0, failed = 0;
  std::uint64_t seed = 1;
  std::vector<std::optional<Band>> results;
};

/// Outcomes of all setups under all draws: [draw * setups + setup]; the same draw for every setup.
/// @param posteriors  what a fit knows of each setup; one per setup, or none at all
[[nodiscard]] std::vector<Outcome> paired_outcomes(std::span<const Setup> setups, const BandOptions& options,
                                                   std::span<const Posterior> posteriors = {});

[[nodiscard]] Bands bands_of(const Setup& setup, const BandOptions& options, const Posterior& posterior = {});

}  // namespace bowrise
