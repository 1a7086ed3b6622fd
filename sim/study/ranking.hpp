// Ranking of the points of a sweep: a score from weights, the best, and the set that no other point beats in
// everything. Reads the points as a stream, twice; keeps the best and the undominated ones.
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

#include "sim/study/sweep.hpp"

namespace bowrise {

/// A purpose that counts. Weight 0: for the Pareto set only.
struct Weight {
  Purpose purpose;
  double weight;
};

/// Goes through all points in order of their index and calls the visitor with each.
using PointVisitor = std::function<void(const SweepPoint&)>;
using Points = std::function<void(const PointVisitor&)>;

struct RankedPoint {
  SweepPoint point;
  double score;  ///< 0 is the best there is in every weighted purpose; the further below, the worse
};

/// The point that is best for one purpose.
struct PurposeBest {
  Purpose purpose;
  std::optional<SweepPoint> point;  ///< of several the one of lowest index
  double spread = 0.0;              ///< between the best and the worst
};

struct Ranking {
  std::vector<Weight> weights;
  std::size_t points = 0, ranked = 0;  ///< all, and those with a value for every weighted purpose
  std::vector<PurposeBest> purposes;   ///< in the order of the weights
  std::vector<RankedPoint> best;       ///< at most `best_kept`, best first, then by index
  std::vector<RankedPoint> pareto;     ///< by index
};

inline constexpr std::size_t best_kept = 10;

/// Score = sum of weight x (shortfall from the best of the sweep)/(spread over the sweep), shortfall
/// negative: best - value where low is better, value - best where high is. A purpose without spread adds
/// nothing. A point without a value for a weighted purpose is neither ranked nor in the Pareto set.
[[nodiscard]] Ranking rank(const Points& points, const std::vector<Weight>& weights);

/// Points that no other beats: those for which none is as good in all and better in one purpose. Of equal
/// ones all stay.
class ParetoArchive {
 public:
  explicit ParetoArchive(std::vector<Purpose> purposes) : purposes_(std::move(purposes)) {}
  /// The point must have a value for each purpose.
  void offer(const SweepPoint& point);
  [[nodiscard]] const std::vector<SweepPoint>& points() const { return points_; }

 private:
  std::vector<Purpose> purposes_;
  std::vector<SweepPoint> points_;
};

}  // namespace bowrise
