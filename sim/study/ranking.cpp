#include "sim/study/ranking.hpp"

#include <algorithm>

namespace bowrise {
namespace {

const std::optional<double>& value_of(const SweepPoint& point, Purpose purpose) {
  return point.purposes[static_cast<std::size_t>(purpose)];
}

/// Rising with how good a value is.
double merit(Purpose purpose, double value) {
  return row_of(purpose).better == Better::high ? value : -value;
}

/// @return whether `one` is as good as `other` in all and better in one
bool beats(const SweepPoint& one, const SweepPoint& other, const std::vector<Purpose>& purposes) {
  bool better = false;
  for (const Purpose purpose : purposes) {
    const double here = merit(purpose, *value_of(one, purpose));
    const double there = merit(purpose, *value_of(other, purpose));
    if (here < there) return false;
    better = better || here > there;
  }
  return better;
}

bool is_complete(const SweepPoint& point, const std::vector<Purpose>& purposes) {
  return std::all_of(purposes.begin(), purposes.end(),
                     [&](Purpose purpose) { return value_of(point, purpose).has_value(); });
}

/// Best and worst of each purpose, while the points go by.
class Extremes {
 public:
  explicit Extremes(const std::vector<Purpose>& purposes) {
    for (const Purpose purpose : purposes) best_.push_back({purpose, std::nullopt, 0.0});
    worst_.resize(purposes.size());
  }

  void see(const SweepPoint& point) {
    for (std::size_t i = 0; i < best_.size(); ++i) {
      PurposeBest& best = best_[i];
      const auto& value = value_of(point, best.purpose);
      if (!value) continue;
      const double now = merit(best.purpose, *value);
      worst_[i] = std::min(worst_[i].value_or(now), now);
      if (!best.point || now > merit(best.purpose, *value_of(*best.point, best.purpose))) best.point = point;
    }
  }

  [[nodiscard]] std::vector<PurposeBest> best() const {
    std::vector<PurposeBest> found = best_;
    for (std::size_t i = 0; i < found.size(); ++i)
      if (found[i].point)
        found[i].spread = merit(found[i].purpose, *value_of(*found[i].point, found[i].purpose)) - *worst_[i];
    return found;
  }

 private:
  std::vector<PurposeBest> best_;
  std::vector<std::optional<double>> worst_;
};

double score_of(const SweepPoint& point, const Ranking& ranking) {
  double score = 0.0;
  for (std::size_t i = 0; i < ranking.weights.size(); ++i) {
    const auto& [purpose, best, spread] = ranking.purposes[i];
    if (spread > 0.0)
      score += ranking.weights[i].weight *
               (merit(purpose, *value_of(point, purpose)) - merit(purpose, *value_of(*best, purpose))) /
               spread;
  }
  return score;
}

bool ranks_before(const RankedPoint& a, const RankedPoint& b) {
  return a.score != b.score ? a.score > b.score : a.point.index < b.point.index;
}

void keep_best(std::vector<RankedPoint>& best, RankedPoint candidate) {
  best.insert(std::upper_bound(best.begin(), best.end(), candidate, ranks_before), std::move(candidate));
  if (best.size() > best_kept) best.pop_back();
}

}  // namespace

void ParetoArchive::offer(const SweepPoint& point) {
  for (const SweepPoint& kept : points_)
    if (beats(kept, point, purposes_)) return;
  std::erase_if(points_, [&](const SweepPoint& kept) { return beats(point, kept, purposes_); });
  points_.push_back(point);
}

Ranking rank(const Points& points, const std::vector<Weight>& weights) {
  Ranking ranking;
  ranking.weights = weights;
  std::vector<Purpose> purposes;
  for (const Weight& weight : weights) purposes.push_back(weight.purpose);
  Extremes extremes(purposes);
  ParetoArchive archive(purposes);
  points([&](const SweepPoint& point) {
    ++ranking.points;
    if (!is_complete(point, purposes)) return;
    ++ranking.ranked;
    extremes.see(point);
    archive.offer(point);
  });
  ranking.purposes = extremes.best();
  points([&](const SweepPoint& point) {
    if (is_complete(point, purposes)) keep_best(ranking.best, {point, score_of(point, ranking)});
  });
  for (const SweepPoint& point : archive.points())
    ranking.pareto.push_back({point, score_of(point, ranking)});
  return ranking;
}

}  // namespace bowrise
