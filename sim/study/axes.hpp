// Axes of a sweep and the plan of its points: the n-th setup of a grid, or of Sobol points over ranges. The
// plan keeps nothing that grows with the number of points.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "models/setup.hpp"
#include "sim/keys.hpp"

namespace bowrise {

/// One input that is varied: over values of a list, or anywhere from low to high. All in the unit of the
/// key's row.
struct SweepAxis {
  const Key* key = nullptr;
  std::vector<double> values;  ///< of a list, or of a grid over a range; empty: a range to draw from
  double low = 0.0, high = 0.0;
  bool is_range = false;
  std::optional<double> price = {};  ///< of any value but the one the scenario has
};

/// The value at `share` of an axis, in [0, 1): evenly over a range, whole numbers for counts, every value of
/// a list alike.
[[nodiscard]] double at_share(const SweepAxis& axis, double share);

/// Sets an input in the unit of its row; what says the same in another way goes back to its preset, as it
/// does when a scenario file is laid over another.
void set_instead(Setup& setup, const Key& key, double value);

/// Whether one of two inputs says the same as the other in another way.
[[nodiscard]] bool says_the_same(const Key& one, const Key& other);

/// The setup with the axes at these values.
[[nodiscard]] Setup with_values(const Setup& setup, const std::vector<SweepAxis>& axes, const double* values);

/// Sum of the prices of all axes whose value differs from that of the setup.
[[nodiscard]] double price_of(const Setup& setup, const std::vector<SweepAxis>& axes, const double* values);

inline constexpr std::size_t most_points = 1'000'000'000;

/// Points of a sweep, the last axis fastest.
class SweepPlan {
 public:
  /// @param samples  0: the grid of all values; else so many Sobol points
  SweepPlan(Setup setup, std::vector<SweepAxis> axes, std::size_t samples, std::uint64_t seed);

  [[nodiscard]] const Setup& setup() const { return setup_; }
  [[nodiscard]] const std::vector<SweepAxis>& axes() const { return axes_; }
  /// Nothing when there would be more than `most_points`.
  [[nodiscard]] std::optional<std::size_t> count() const { return count_; }

  /// Values of the points from `first`, a row of axes each; only these are made.
  [[nodiscard]] std::vector<double> values(std::size_t first, std::size_t count) const;

 private:
  [[nodiscard]] std::vector<double> grid_values(std::size_t first, std::size_t count) const;

  Setup setup_;
  std::vector<SweepAxis> axes_;
  std::size_t samples_;
  std::uint64_t seed_;
  std::optional<std::size_t> count_;
};

/// The K-th of N shares of the points, next to one another.
struct Share {
  std::size_t part = 1, parts = 1;  ///< part from 1
  [[nodiscard]] std::size_t begin(std::size_t count) const { return edge(part - 1, count); }
  [[nodiscard]] std::size_t end(std::size_t count) const { return edge(part, count); }

 private:
  /// Earlier shares have one more where it does not come out even; no product that could overflow.
  [[nodiscard]] std::size_t edge(std::size_t shares, std::size_t count) const {
    return shares * (count / parts) + (shares < count % parts ? shares : count % parts);
  }
};

}  // namespace bowrise
