#include "sim/study/break_even.hpp"

#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "sim/study/axes.hpp"
#include "sim/study/executor.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {
namespace {

struct NoAnswer {};  // thrown out of the root finder where one setup has no such result

Setup with(const Setup& setup, const Key& key, double value) {
  Setup changed = setup;
  set_instead(changed, key, value);
  return changed;
}

bool decides(const ResultRow& row) { return row.better != Better::neither; }

/// Second less first.
std::optional<double> difference(const Outcome& first, const Outcome& second, std::size_t result) {
  if (!first.values[result] || !second.values[result]) return std::nullopt;
  return *second.values[result] - *first.values[result];
}

bool changes_sign(double left, double right) {
  return (left < 0.0 && right >= 0.0) || (left > 0.0 && right <= 0.0);
}

class Root {
 public:
  Root(const Contender& first, const Contender& second, const Tables& tables, const Key& key,
       std::size_t result)
      : first_(first), second_(second), tables_(tables), key_(key), result_(result) {}

  /// Where the difference vanishes between two values at which its signs differ; nothing when a launch
  /// between them has no such result.
  [[nodiscard]] std::optional<double> between(double low, double at_low, double high, double at_high) const {
    const double enough = 1e-4 * (high - low);
    std::uintmax_t calls = 60;
    try {
      const auto [left, right] = boost::math::tools::toms748_solve(
          [this](double value) { return difference_at(value); }, low, high, at_low, at_high,
          [enough](double a, double b) { return std::abs(b - a) <= enough; }, calls);
      return 0.5 * (left + right);
    } catch (const NoAnswer&) {
      return std::nullopt;
    }
  }

 private:
  [[nodiscard]] double difference_at(double value) const {
    const auto outcome = [&](const Contender& contender) {
      return outcome_of(with(contender.setup, key_, value), false, tables_);
    };
    const auto found = difference(outcome(first_), outcome(second_), result_);
    if (!found) throw NoAnswer{};
    return *found;
  }

  const Contender& first_;
  const Contender& second_;
  const Tables& tables_;
  const Key& key_;
  std::size_t result_;
};

struct Bracket {
  std::size_t result, left;  ///< between points left and left + 1
};

std::vector<Bracket> brackets_in(const std::vector<OverPoint>& points) {
  std::vector<Bracket> found;
  for (std::size_t result = 0; result < result_rows().size(); ++result) {
    if (!decides(result_rows()[result])) continue;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
      const auto left = difference(points[i].first, points[i].second, result);
      const auto right = difference(points[i + 1].first, points[i + 1].second, result);
      if (left && right && changes_sign(*left, *right)) found.push_back({result, i});
    }
  }
  return found;
}

std::vector<std::optional<BreakEven>> refine(const Contender& first, const Contender& second,
                                             const Tables& tables, const Key& key,
                                             const std::vector<OverPoint>& points, unsigned threads) {
  const std::vector<Bracket> brackets = brackets_in(points);
  std::vector<std::optional<BreakEven>> break_evens(brackets.size());
  for_each_index(brackets.size(), threads, [&](std::size_t i) {
    const auto [result, at] = brackets[i];
    const OverPoint &left = points[at], &right = points[at + 1];
    const double at_left = *difference(left.first, left.second, result);
    const double at_right = *difference(right.first, right.second, result);
    const auto root = Root(first, second, tables, key, result).between(left.at, at_left, right.at, at_right);
    const bool low_is_better = result_rows()[result].better == Better::low;
    if (root) break_evens[i] = BreakEven{result, *root, (at_right < at_left) == low_is_better, std::nullopt};
  });
  return break_evens;
}

/// Place of the only break-even of one result in one draw, by straight interpolation between the values
/// studied.
std::optional<double> single_break_even(const std::vector<OverPoint>& points,
                                        const std::vector<std::optional<double>>& differences) {
  std::optional<double> found;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const auto &left = differences[i], &right = differences[i + 1];
    if (!left || !right || !changes_sign(*left, *right)) continue;
    if (found) return std::nullopt;
    found = points[i].at + (points[i + 1].at - points[i].at) * *left / (*left - *right);
  }
  return found;
}

void add_bands(const std::vector<Outcome>& drawn, std::size_t draws, OverStudy& study) {
  const std::size_t points = study.points.size();
  for (OverPoint& point : study.points) point.bands.resize(result_rows().size());
  for (std::size_t result = 0; result < result_rows().size(); ++result) {
    std::vector<std::optional<double>> places;
    std::vector<std::vector<std::optional<double>>> by_point(points);
    for (std::size_t draw = 0; draw < draws; ++draw) {
      std::vector<std::optional<double>> differences;
      for (std::size_t point = 0; point < points; ++point) {
        const Outcome* pair = &drawn[2 * (draw * points + point)];
        differences.push_back(difference(pair[0], pair[1], result));
        by_point[point].push_back(differences.back());
      }
      places.push_back(single_break_even(study.points, differences));
    }
    for (std::size_t point = 0; point < points; ++point)
      study.points[point].bands[result] = band_of(by_point[point]);
    for (BreakEven& break_even : study.break_evens)
      if (break_even.result == result) break_even.band = band_of(places);
  }
}

}  // namespace

OverStudy compare_over(const Contender& first, const Contender& second, const Key& key,
                       const std::vector<double>& values, const BandOptions& options) {
  OverStudy study{&key, {}, {}};
  std::vector<Setup> setups;
  std::vector<Posterior> posteriors;
  for (const double value : values) {
    posteriors.push_back(first.posterior);
    posteriors.push_back(second.posterior);
    study.points.push_back({value, {}, {}, {}});
    setups.push_back(with(first.setup, key, value));
    setups.push_back(with(second.setup, key, value));
  }
  const Tables tables = tables_for(setups, {}, options.threads);
  for_each_index(setups.size(), options.threads, [&](std::size_t i) {
    OverPoint& point = study.points[i / 2];
    (i % 2 == 0 ? point.first : point.second) = outcome_of(setups[i], options.coast, tables);
  });
  for (auto& break_even : refine(first, second, tables, key, study.points, options.threads))
    if (break_even) study.break_evens.push_back(*break_even);
  if (options.draws > 0) add_bands(paired_outcomes(setups, options, posteriors), options.draws, study);
  return study;
}

}  // namespace bowrise
