#include "sim/study/ranking.hpp"
#include "tests/support/sweep_points.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

namespace bowrise {
namespace {

using test::holeshot, test::top, test::rough, test::life, test::price, test::stream;

/// Points on a coarse lattice, so that ties and equal points occur; some without a value.
std::vector<SweepPoint> random_points(std::size_t count, unsigned seed, int levels) {
  std::mt19937 generator(seed);
  std::vector<SweepPoint> points(count);
  for (std::size_t i = 0; i < count; ++i) {
    points[i].index = i;
    points[i].values = {static_cast<double>(i)};
    for (auto& value : points[i].purposes)
      if (generator() % 20 != 0) value = static_cast<double>(generator() % static_cast<unsigned>(levels));
  }
  return points;
}

std::vector<std::size_t> indices(const std::vector<RankedPoint>& ranked) {
  std::vector<std::size_t> found;
  for (const RankedPoint& one : ranked) found.push_back(one.point.index);
  return found;
}

bool complete(const SweepPoint& point) {
  return point.purposes[holeshot] && point.purposes[top] && point.purposes[price];
}

/// Larger is better: times and prices turned round.
std::array<double, 3> merits(const SweepPoint& p) {
  return {-*p.purposes[holeshot], *p.purposes[top], -*p.purposes[price]};
}

const std::vector<Weight> three_weights{{Purpose::holeshot, 2.0}, {Purpose::top, 1.0}, {Purpose::price, 0.0}};

}  // namespace

// design formula by hand: sum of weight x (best - value)/(spread), the difference negative
TEST_CASE("score of three points worked out by hand") {
  std::vector<SweepPoint> points(3);
  const double times[] = {2.0, 1.5, 1.0}, speeds[] = {32.0, 31.0, 28.0};
  for (std::size_t i = 0; i < 3; ++i) {
    points[i].index = i;
    points[i].purposes[holeshot] = times[i];
    points[i].purposes[top] = speeds[i];
  }
  const Ranking ranking = rank(stream(points), {{Purpose::holeshot, 2.0}, {Purpose::top, 1.0}});
  REQUIRE(ranking.best.size() == 3);
  // 2 x (1 - 2)/1 = -2;  2 x (1 - 1.5)/1 + (31 - 32)/4 = -1.25;  (28 - 32)/4 = -1
  CHECK(indices(ranking.best) == std::vector<std::size_t>{2, 1, 0});
  CHECK(ranking.best[0].score == Approx(-1.0));
  CHECK(ranking.best[1].score == Approx(-1.25));
  CHECK(ranking.best[2].score == Approx(-2.0));
  CHECK(indices(ranking.pareto) == std::vector<std::size_t>{0, 1, 2});
  CHECK(ranking.purposes[0].point->index == 2);
  CHECK(ranking.purposes[1].point->index == 0);
  CHECK(ranking.purposes[1].spread == 4.0);
}

TEST_CASE("the undominated set is that of brute force") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const std::vector<SweepPoint> points = random_points(300, seed, seed % 2 == 0 ? 6 : 1000);
    std::vector<std::size_t> expected;
    for (const SweepPoint& one : points) {
      if (!complete(one)) continue;
      const bool dominated = std::any_of(points.begin(), points.end(), [&](const SweepPoint& other) {
        if (!complete(other)) return false;
        const auto a = merits(one), b = merits(other);
        return b != a && b[0] >= a[0] && b[1] >= a[1] && b[2] >= a[2];
      });
      if (!dominated) expected.push_back(one.index);
    }
    INFO("seed " << seed);
    CHECK(indices(rank(stream(points), three_weights).pareto) == expected);
  }
}

TEST_CASE("the best ten are those of a full sort") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const std::vector<SweepPoint> points = random_points(200, seed, seed % 2 == 0 ? 5 : 1000);
    std::vector<SweepPoint> sound;
    std::copy_if(points.begin(), points.end(), std::back_inserter(sound), complete);
    const auto by = [&](std::size_t i) {
      return [i](const SweepPoint& a, const SweepPoint& b) { return merits(a)[i] < merits(b)[i]; };
    };
    std::array<double, 2> best{}, worst{};
    for (std::size_t i = 0; i < 2; ++i) {
      best[i] = merits(*std::max_element(sound.begin(), sound.end(), by(i)))[i];
      worst[i] = merits(*std::min_element(sound.begin(), sound.end(), by(i)))[i];
    }
    const auto score = [&](const SweepPoint& p) {
      return 2.0 * (merits(p)[0] - best[0]) / (best[0] - worst[0]) +
             1.0 * (merits(p)[1] - best[1]) / (best[1] - worst[1]);
    };
    std::stable_sort(sound.begin(), sound.end(),
                     [&](const SweepPoint& a, const SweepPoint& b) { return score(a) > score(b); });
    const Ranking ranking = rank(stream(points), three_weights);
    CHECK(ranking.points == points.size());
    CHECK(ranking.ranked == sound.size());
    REQUIRE(ranking.best.size() == best_kept);
    for (std::size_t i = 0; i < best_kept; ++i) {
      INFO("seed " << seed << ", place " << i);
      CHECK(ranking.best[i].score == Approx(score(sound[i])).margin(1e-12));
      CHECK(ranking.best[i].score <= 0.0);
    }
  }
}

TEST_CASE("a purpose without spread adds nothing, no point at all is no ranking") {
  std::vector<SweepPoint> points(2);
  for (std::size_t i = 0; i < 2; ++i) {
    points[i].index = i;
    points[i].purposes[life] = 0.5;
    points[i].purposes[rough] = 7.0 - static_cast<double>(i);
  }
  const Ranking ranking = rank(stream(points), {{Purpose::rough, 1.0}, {Purpose::life, 1.0}});
  CHECK(ranking.best[0].point.index == 1);
  CHECK(ranking.best[0].score == 0.0);
  CHECK(ranking.best[1].score == -1.0);
  const Ranking nothing = rank(stream(points), {{Purpose::top, 1.0}});
  CHECK(nothing.points == 2);
  CHECK(nothing.ranked == 0);
  CHECK(nothing.best.empty());
  CHECK(nothing.pareto.empty());
}

}  // namespace bowrise
