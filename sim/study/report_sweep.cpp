#include "sim/study/report_sweep.hpp"

#include <algorithm>
#include <set>

namespace bowrise {
namespace {

/// Sums of one level, while the points go by.
struct Sums {
  std::size_t points = 0;
  std::array<double, purpose_count> sum{};
  std::array<std::size_t, purpose_count> count{};

  void add(const SweepPoint& point) {
    ++points;
    for (std::size_t i = 0; i < purpose_count; ++i) {
      if (!point.purposes[i]) continue;
      sum[i] += *point.purposes[i];
      ++count[i];
    }
  }
};

/// The levels of one axis: its values where they are few, else tenths from its least to its greatest.
class Levels {
 public:
  explicit Levels(const SweepAxis& axis) {
    const std::set<double> values(axis.values.begin(), axis.values.end());
    if (!values.empty() && values.size() <= most_levels) {
      for (const double value : values) edges_.push_back({value, value});
    } else {
      const double low = values.empty() ? axis.low : *values.begin(),
                   high = values.empty() ? axis.high : *values.rbegin();
      for (std::size_t i = 0; i < most_levels; ++i)
        edges_.push_back({at(low, high, i), at(low, high, i + 1)});
    }
    sums_.resize(edges_.size());
  }

  void add(double value, const SweepPoint& point) {
    std::size_t level = 0;
    while (level + 1 < edges_.size() && value > middle(level)) ++level;
    sums_[level].add(point);
  }

  [[nodiscard]] std::vector<AxisLevel> levels() const {
    std::vector<AxisLevel> out;
    for (std::size_t i = 0; i < edges_.size(); ++i) {
      if (sums_[i].points == 0) continue;
      AxisLevel level{edges_[i].low, edges_[i].high, sums_[i].points, {}};
      for (std::size_t k = 0; k < purpose_count; ++k)
        if (sums_[i].count[k] > 0) level.mean[k] = sums_[i].sum[k] / static_cast<double>(sums_[i].count[k]);
      out.push_back(level);
    }
    return out;
  }

 private:
  struct Edges {
    double low, high;
  };
  static double at(double low, double high, std::size_t tenth) {
    return low + (high - low) * static_cast<double>(tenth) / static_cast<double>(most_levels);
  }
  /// Above it begins the next level; for single values half way to the next.
  [[nodiscard]] double middle(std::size_t level) const {
    return 0.5 * (edges_[level].high + edges_[level + 1].low);
  }

  std::vector<Edges> edges_;
  std::vector<Sums> sums_;
};

}  // namespace

SweepOverview overview_of(const Points& points, std::size_t count, const std::vector<SweepAxis>& axes) {
  SweepOverview out;
  std::vector<Levels> levels(axes.begin(), axes.end());
  const std::size_t stride = (count + most_sampled - 1) / most_sampled;
  points([&](const SweepPoint& point) {
    if (out.points++ % std::max<std::size_t>(stride, 1) == 0) out.sample.push_back(point);
    for (std::size_t axis = 0; axis < levels.size(); ++axis) levels[axis].add(point.values[axis], point);
  });
  for (const Levels& axis : levels) out.levels.push_back(axis.levels());
  return out;
}

}  // namespace bowrise
