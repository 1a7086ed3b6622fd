// Mean effects and the sample that a page about a sweep draws: against sums by hand.
#include "sim/study/report_sweep.hpp"
#include "tests/support/sweep_points.hpp"

#include <catch2/catch.hpp>

namespace bowrise {
namespace {

using test::holeshot, test::top, test::stream;

SweepPoint point(std::size_t index, double value, std::optional<double> time_s) {
  SweepPoint made;
  made.index = index;
  made.values = {value};
  made.purposes[holeshot] = time_s;
  return made;
}

SweepAxis axis_of(std::vector<double> values) {
  SweepAxis axis;
  axis.values = std::move(values);
  return axis;
}

SweepAxis range_of(double low, double high) {
  SweepAxis axis;
  axis.low = low;
  axis.high = high;
  axis.is_range = true;
  return axis;
}

}  // namespace

TEST_CASE("mean effect of a listed value is over its own points that have a result") {
  const std::vector<SweepPoint> points{point(0, 84, 2.0), point(1, 86, 3.0), point(2, 84, 2.5),
                                       point(3, 84, {}), point(4, 88, {})};
  const SweepOverview overview = overview_of(stream(points), points.size(), {axis_of({88, 84, 86, 90})});
  CHECK(overview.points == 5);
  CHECK(overview.sample.size() == 5);
  REQUIRE(overview.levels.size() == 1);
  const std::vector<AxisLevel>& levels = overview.levels[0];
  REQUIRE(levels.size() == 3);  // rising; nobody has 90
  CHECK(levels[0].low == 84);
  CHECK(levels[0].high == 84);
  CHECK(levels[0].points == 3);
  CHECK(*levels[0].mean[holeshot] == Approx(2.25));
  CHECK_FALSE(levels[0].mean[top].has_value());
  CHECK(*levels[1].mean[holeshot] == Approx(3.0));
  CHECK(levels[2].points == 1);
  CHECK_FALSE(levels[2].mean[holeshot].has_value());
}

TEST_CASE("a range, and a list of many values, are cut into tenths that hold every point once") {
  std::vector<SweepPoint> points;
  std::vector<double> many;
  for (std::size_t i = 0; i < 1000; ++i) {
    many.push_back(static_cast<double>(i) / 100.0);
    points.push_back(point(i, many.back(), static_cast<double>(i)));
  }
  for (const SweepAxis& axis : {range_of(0.0, 10.0), axis_of(many)}) {
    const std::vector<AxisLevel> levels = overview_of(stream(points), points.size(), {axis}).levels[0];
    REQUIRE(levels.size() == most_levels);
    std::size_t held = 0;
    double sum = 0.0, last = -1.0;
    for (const AxisLevel& level : levels) {
      held += level.points;
      sum += *level.mean[holeshot] * static_cast<double>(level.points);
      CHECK(level.high == Approx(level.low + (axis.is_range ? 1.0 : 0.999)));
      CHECK(*level.mean[holeshot] > last);
      last = *level.mean[holeshot];
    }
    CHECK(held == points.size());
    CHECK(sum == Approx(999.0 * 1000.0 / 2.0));
  }
}

TEST_CASE("of very many points a page draws an even sample") {
  std::vector<SweepPoint> points;
  for (std::size_t i = 0; i < 3 * most_sampled + 1; ++i) points.push_back(point(i, 1.0, 2.0));
  const SweepOverview overview = overview_of(stream(points), points.size(), {axis_of({1.0})});
  CHECK(overview.points == points.size());
  CHECK(overview.sample.size() <= most_sampled);
  CHECK(overview.sample.size() > most_sampled / 2);
  for (std::size_t i = 2; i < overview.sample.size(); ++i)
    CHECK(overview.sample[i].index - overview.sample[i - 1].index ==
          overview.sample[1].index - overview.sample[0].index);
}

}  // namespace bowrise
