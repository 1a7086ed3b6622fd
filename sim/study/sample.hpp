// Draws of the uncertain inputs: which inputs are uncertain, and the n-th draw of all of them together.
//
// Every setup of a study sees the same draw, so that what two setups have in common cancels in their
// difference. A draw moves an input about its preset, or about its fitted value, and the value that a setup
// gives moves along: by the same difference (uniform spread) or the same factor (log-uniform). A part that is
// changed on purpose thus stays changed.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "models/setup.hpp"
#include "sim/keys.hpp"
#include "sim/posterior.hpp"

namespace bowrise {

/// Number keys that declare a spread, in the order of `all_keys`.
[[nodiscard]] const std::vector<const Key*>& uncertain_keys();
/// Settings: known, and not drawn, unless a fit has found them.
[[nodiscard]] const std::vector<const Key*>& setting_keys();

/// A randomised low-discrepancy sequence over the unit cube: Sobol points, shifted modulo 1 by a vector drawn
/// from the seed. The same seed gives the same points on every machine.
class UnitPoints {
 public:
  /// @param count  how many points, a power of two for full evenness; @param dimensions  1 to 3667
  /// @param first  place of the first of them in the sequence; a long one can be made piece by piece
  UnitPoints(std::size_t count, std::size_t dimensions, std::uint64_t seed, std::size_t first = 0);

  [[nodiscard]] std::size_t count() const { return count_; }
  [[nodiscard]] std::size_t dimensions() const { return dimensions_; }
  /// Coordinate in [0, 1).
  [[nodiscard]] double at(std::size_t point, std::size_t dimension) const {
    return values_[point * dimensions_ + dimension];
  }

 private:
  std::size_t count_, dimensions_;
  std::vector<double> values_;
};

/// Draws of all uncertain inputs. The column of a key is its place in `uncertain_keys`, after them in
/// `setting_keys`, whatever the setup.
class Draws {
 public:
  Draws(std::size_t count, std::uint64_t seed);
  [[nodiscard]] std::size_t count() const { return points_.count(); }

  /// The setup with its uncertain inputs as in this draw; inputs without a value stay without.
  /// @param posterior  what a fit knows of some of them; the point's coordinates of those, as standard normal
  /// numbers, are mixed by its factor
  [[nodiscard]] Setup apply(const Setup& setup, std::size_t draw, const Posterior& posterior = {}) const;

 private:
  UnitPoints points_;
};

/// Where a spread is at `share` of its way, in [0, 1], in the unit of the row; a factor for a setting.
[[nodiscard]] double at_share(const Spread& spread, double share);
/// The way back; outside [0, 1] for what lies outside the spread.
[[nodiscard]] double share_at(const Spread& spread, double value);

/// A value drawn at `share` of its spread, given that the value stands for `centre` of the spread (a preset,
/// a fitted value): moved by the same difference or factor, held to what is possible. In the unit of the row.
[[nodiscard]] double moved(const Key& key, double value, double centre, double share);

/// What the value of a setup that nothing was fitted to stands for: the preset; of a setting, the factor 1.
[[nodiscard]] double unfitted_centre(const Key& key);

/// Standard normal distribution function and its inverse; the latter held to what 1e-12 from either end
/// gives.
[[nodiscard]] double normal_share(double quantile);
[[nodiscard]] double normal_quantile(double share);

}  // namespace bowrise
