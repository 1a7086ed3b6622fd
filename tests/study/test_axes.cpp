#include "sim/study/axes.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <set>

#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

SweepAxis list(const char* key, std::vector<double> values) {
  SweepAxis axis;
  axis.key = find_key(key);
  axis.values = std::move(values);
  return axis;
}

SweepAxis range(const char* key, double low, double high) {
  SweepAxis axis;
  axis.key = find_key(key);
  axis.low = low;
  axis.high = high;
  axis.is_range = true;
  return axis;
}

const char* const nozzle = "nozzle.exit_diameter";
const char* const pitch = "impeller.pitch_trailing";
const char* const blades = "impeller.blades";

std::vector<SweepAxis> three_axes() {
  return {list(nozzle, {82, 84, 86}), list(pitch, {24, 25}), list(blades, {3, 4, 5, 6})};
}

}  // namespace

TEST_CASE("a grid holds every combination once, the last axis fastest") {
  const Setup setup = test::shipped("supercharged_three_seat");
  const SweepPlan plan(setup, three_axes(), 0, 1);
  REQUIRE(plan.count() == std::size_t{24});
  const std::vector<double> values = plan.values(0, 24);
  std::size_t at = 0;
  for (const double diameter : {82, 84, 86})  // the nested loops that a grid stands for
    for (const double angle : {24, 25})
      for (const double count : {3, 4, 5, 6}) {
        CHECK(values[at++] == diameter);
        CHECK(values[at++] == angle);
        CHECK(values[at++] == count);
      }
}

TEST_CASE("points made piece by piece are those of the whole") {
  const Setup setup = test::shipped("supercharged_three_seat");
  const SweepPlan grid(setup, three_axes(), 0, 1);
  const SweepPlan samples(setup, {range(nozzle, 80, 90), range(pitch, 24, 27), list(blades, {3, 4})}, 50, 8);
  for (const SweepPlan* plan : {&grid, &samples}) {
    const std::size_t count = plan->count().value();
    const std::vector<double> whole = plan->values(0, count);
    for (std::size_t point = 0; point < count; ++point) {
      const std::vector<double> one = plan->values(point, 1);
      for (std::size_t axis = 0; axis < 3; ++axis) CHECK(one[axis] == whole[point * 3 + axis]);
    }
  }
}

// Sobol 1967: of the first 2^k points one falls in each of 2^k equal intervals, so each of two sizes gets
// half
TEST_CASE("samples fill ranges and lists evenly") {
  const Setup setup = test::shipped("supercharged_three_seat");
  const SweepPlan plan(setup, {range(nozzle, 80, 90), range(blades, 3, 6), list(pitch, {24, 27})}, 64, 5);
  const std::vector<double> values = plan.values(0, 64);
  std::map<double, int> counts, angles;
  std::set<int> cells;
  for (std::size_t point = 0; point < 64; ++point) {
    cells.insert(static_cast<int>((values[point * 3] - 80.0) / 10.0 * 64.0));
    ++counts[values[point * 3 + 1]];
    ++angles[values[point * 3 + 2]];
  }
  CHECK(cells.size() == 64);
  CHECK(*cells.begin() == 0);
  CHECK(*cells.rbegin() == 63);
  CHECK(counts == std::map<double, int>{{3, 16}, {4, 16}, {5, 16}, {6, 16}});
  CHECK(angles == std::map<double, int>{{24, 32}, {27, 32}});
}

TEST_CASE("the setup of a point differs in the axes alone") {
  const Setup setup = test::shipped("supercharged_three_seat");
  const std::vector<double> values{82, 24, 5};
  const Setup changed = with_values(setup, three_axes(), values.data());
  CHECK(changed.nozzle.exit_diameter_m == Approx(0.082));
  CHECK(changed.impeller.blades == 5.0);
  CHECK(changed.engine.peak_power_W == setup.engine.peak_power_W);
}

// the same change by --set is read by code of its own
TEST_CASE("what says the same in another way gives way, as in a scenario file") {
  const Setup setup = test::shipped("supercharged_three_seat");  // pitch as an angle
  const std::vector<SweepAxis> axes{list("impeller.pitch_trailing_length", {200})};
  const double value = 200.0;
  const Setup changed = with_values(setup, axes, &value);
  const Setup expected =
      test::shipped("supercharged_three_seat", {{"impeller.pitch_trailing_length", "200 mm"}});
  CHECK(std::isnan(changed.impeller.pitch_trailing_rad));
  for (const Key& key : all_keys())
    if (key.kind == KeyKind::number) {
      INFO(key.name);
      CHECK((get_SI(changed, key) == get_SI(expected, key) || !has_value(expected, key)));
      CHECK(has_value(changed, key) == has_value(expected, key));
    }
  CHECK(says_the_same(*find_key(pitch), *find_key("impeller.pitch_trailing_length")));
  CHECK_FALSE(says_the_same(*find_key(pitch), *find_key(blades)));
}

TEST_CASE("only parts that differ from the scenario's are paid for") {
  const Setup setup = test::shipped("supercharged_three_seat");  // nozzle 86 mm, pitch 25.4 deg
  std::vector<SweepAxis> axes{list(nozzle, {82, 86}), list(pitch, {24, 25.4}), list(blades, {3, 4})};
  axes[0].price = 120.0;
  axes[1].price = 350.0;
  const auto price = [&](std::vector<double> values) { return price_of(setup, axes, values.data()); };
  CHECK(price({86, 25.4, 4}) == 0.0);
  CHECK(price({86, 25.4, 3}) == 0.0);  // no price known
  CHECK(price({82, 25.4, 4}) == 120.0);
  CHECK(price({82, 24, 3}) == 470.0);
}

TEST_CASE("a grid of too many points is told, not counted wrong") {
  const Setup setup = test::shipped("supercharged_three_seat");
  const SweepAxis many = list(nozzle, std::vector<double>(100'000, 86.0));
  CHECK_FALSE(SweepPlan(setup, {many, many}, 0, 1).count().has_value());
  CHECK_FALSE(SweepPlan(setup, {many, many, many, many, many}, 0, 1).count().has_value());
  CHECK(SweepPlan(setup, {many, list(pitch, {24, 25})}, 0, 1).count() == std::size_t{200'000});
}

TEST_CASE("shares follow one another and leave nothing out") {
  for (const std::size_t count : {0, 1, 7, 24, 1000})
    for (const std::size_t parts : {1, 2, 3, 7, 30}) {
      std::size_t next = 0;
      for (std::size_t part = 1; part <= parts; ++part) {
        const Share share{part, parts};
        CHECK(share.begin(count) == next);
        next = share.end(count);
        CHECK(next - share.begin(count) <= count / parts + 1);
      }
      CHECK(next == count);
    }
}

}  // namespace bowrise
