// Wear life: how the gap grows launch after launch, what that costs, and which way of driving slows it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "models/wear.hpp"
#include "sim/study/band.hpp"
#include "sim/study/compare.hpp"

namespace bowrise {

/// The craft after so many launches.
struct WearPoint {
  double launches;
  WearState state;
  double growth_per_launch_m;  ///< what the next launch adds to the gap
  Outcome outcome;
};

/// When a limit was met; empty: not within the launches studied.
struct WearLimits {
  std::optional<double> slower;               ///< time to 30 mph longer by `WearOptions::slower_s`, or lost
  std::optional<double> amber, red, doubled;  ///< gap of 0.5 mm, of 1.0 mm, twice that at the start
};

struct WearLife {
  std::string name;
  std::vector<WearPoint>
      points;  ///< rising in launches, first at 0, last at the end or where the study stopped
  WearLimits limits;
  bool feeds_back;      ///< the last launch wears over 2 % more than the first
  std::string failure;  ///< why it ended early, or empty
  /// Launches until `limits.slower` over the draws that met it; only with draws
  std::optional<Band> slower_band, red_band;
};

struct WearOptions {
  double launches = 500.0;  ///< a whole number, at least 1
  double slower_s = 0.2;
  BandOptions band;
};

/// Gap at which a ring deserves a look and at which it is worn out [common practice, no source; makers differ
/// by a factor of two].
inline constexpr double amber_gap_m = 0.5e-3, red_gap_m = 1.0e-3;

/// Follows each contender through its launches. The growth of one launch changes slowly, so it is integrated
/// over the number of launches (Heun's method, steps that add at most 0.02 mm or one launch) instead of
/// running every one; the error against running every one is below 1 % of the growth (tested).
[[nodiscard]] std::vector<WearLife> wear_lives(const std::vector<Contender>& contenders,
                                               const WearOptions& options);

}  // namespace bowrise
