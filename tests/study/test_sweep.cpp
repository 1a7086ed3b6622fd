#include "sim/study/sweep.hpp"

#include <catch2/catch.hpp>

#include "tests/support/scenarios.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

SweepPlan small_plan() {
  SweepAxis exits;
  exits.key = find_key("nozzle.exit_diameter");
  for (int i = 0; i < 20; ++i) exits.values.push_back(80.0 + 5.0 * i);  // the last ones exceed the bore
  exits.price = 100.0;
  SweepAxis pitches;
  pitches.key = find_key("impeller.pitch_trailing");
  for (int i = 0; i < 8; ++i) pitches.values.push_back(24.0 + 0.4 * i);
  return {test::shipped("supercharged_three_seat", {{"run.duration", "3 s"}}), {exits, pitches}, 0, 1};
}

std::vector<SweepRow> rows_of(const SweepPlan& plan, std::size_t begin, std::size_t end, unsigned threads) {
  std::vector<SweepRow> all;
  run_sweep(plan, begin, end, {false, threads},
            [&](std::span<const SweepRow> rows) { all.insert(all.end(), rows.begin(), rows.end()); });
  return all;
}

void check_same(const SweepRow& a, const SweepRow& b) {
  CHECK(a.point.index == b.point.index);
  CHECK(a.point.values == b.point.values);
  CHECK(a.point.purposes == b.point.purposes);
  CHECK(a.outcome.values == b.outcome.values);
  CHECK(a.outcome.failure == b.outcome.failure);
}

}  // namespace

TEST_CASE("rows come in order and depend neither on threads nor on the share") {
  const SweepPlan plan = small_plan();
  const std::size_t count = plan.count().value();
  const std::vector<SweepRow> one = rows_of(plan, 0, count, 1), four = rows_of(plan, 0, count, 4);
  REQUIRE(one.size() == count);
  REQUIRE(four.size() == count);
  std::vector<SweepRow> shares;
  for (std::size_t part = 1; part <= 3; ++part) {
    const Share share{part, 3};
    for (SweepRow& row : rows_of(plan, share.begin(count), share.end(count), 2)) shares.push_back(row);
  }
  REQUIRE(shares.size() == count);
  for (std::size_t i = 0; i < count; ++i) {
    CHECK(one[i].point.index == i);
    check_same(one[i], four[i]);
    check_same(one[i], shares[i]);
  }
}

TEST_CASE("a point is the launch of its setup; one that cannot be is a row with the reason") {
  const SweepPlan plan = small_plan();
  const std::vector<SweepRow> rows = rows_of(plan, 0, plan.count().value(), 2);
  std::size_t refused = 0;
  for (const SweepRow& row : rows) {
    const Setup setup = with_values(plan.setup(), plan.axes(), row.point.values.data());
    const bool sound = check(setup).empty();
    CHECK(row.outcome.failed() == !sound);
    refused += sound ? 0 : 1;
    if (sound) CHECK(row.outcome.values == outcome_of(setup).values);
  }
  CHECK(refused > 0);
  CHECK(refused < rows.size());
}

TEST_CASE("a point whose engine has no torque left is a row with the reason") {
  SweepAxis pressure;
  pressure.key = find_key("air.station_pressure");
  pressure.values = {50.0, 100.0};
  const SweepPlan plan(
      test::shipped("supercharged_three_seat",
                    {{"engine.friction_share", "1"}, {"air.temperature", "50 degC"}, {"air.humidity", "1"}}),
      {pressure}, 0, 1);
  const std::vector<SweepRow> rows = rows_of(plan, 0, 2, 2);
  CHECK(has(rows[0].outcome.failure, "no torque is left on this day"));
  CHECK_FALSE(rows[1].outcome.failed());
}

TEST_CASE("a sweep that is kept holds the same points and the first reason") {
  const SweepPlan plan = small_plan();
  const std::vector<SweepRow> rows = rows_of(plan, 0, plan.count().value(), 1);
  std::size_t told = 0;
  const KeptSweep kept = keep_sweep(plan, {false, 2}, [&](std::size_t done, std::size_t total) {
    CHECK(done > told);
    CHECK(total == rows.size());
    told = done;
  });
  CHECK(told == rows.size());
  REQUIRE(kept.points.size() == rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) CHECK(kept.points[i].purposes == rows[i].point.purposes);
  CHECK(has(kept.first_failure, "nozzle.exit_diameter"));
}

TEST_CASE("what the sink throws ends the sweep") {
  const SweepPlan plan = small_plan();
  CHECK_THROWS_AS(
      run_sweep(plan, 0, 4, {false, 2}, [](std::span<const SweepRow>) { throw std::runtime_error("full"); }),
      std::runtime_error);
}

}  // namespace bowrise
