// A result depends on its setup alone: not on what was worked out before it, beside it or on which thread.
#include <catch2/catch.hpp>
#include <numeric>
#include <random>

#include "sim/study/executor.hpp"
#include "sim/study/sweep.hpp"
#include "tests/support/random_craft.hpp"

namespace bowrise {
namespace {

/// Fisher & Yates by hand, so that the order is the same on every machine.
std::vector<std::size_t> shuffled(std::size_t count, std::uint64_t seed) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), 0);
  std::mt19937_64 generator(seed);
  for (std::size_t left = count; left > 1; --left) std::swap(order[left - 1], order[generator() % left]);
  return order;
}

bool same(const Outcome& a, const Outcome& b) {
  return a.values == b.values && a.failure == b.failure && a.limited_s == b.limited_s;
}

}  // namespace

TEST_CASE("craft of all kinds give the same results in any order and on any number of threads") {
  std::vector<Setup> setups;
  for (std::uint64_t i = 0; setups.size() < 60; ++i)
    if (const Setup setup = test::random_craft(i, 0.2); check(setup).empty()) setups.push_back(setup);
  std::vector<Outcome> in_order;
  for (const Setup& setup : setups) in_order.push_back(outcome_of(setup));
  for (const unsigned threads : {1U, 2U, 4U}) {
    const std::vector<std::size_t> order = shuffled(setups.size(), threads);
    std::vector<Outcome> outcomes(setups.size());
    for_each_index(setups.size(), threads,
                   [&](std::size_t i) { outcomes[order[i]] = outcome_of(setups[order[i]]); });
    for (std::size_t i = 0; i < setups.size(); ++i) {
      INFO("craft " << i << ", " << threads << " threads");
      CHECK(same(outcomes[i], in_order[i]));
    }
  }
}

TEST_CASE("points of a sweep give the same rows one by one, in shuffled order") {
  SweepAxis pitch, nozzle;
  pitch.key = find_key("impeller.pitch_trailing");
  pitch.values = {24.0, 25.0, 26.0};
  nozzle.key = find_key("nozzle.exit_diameter");
  nozzle.values = {82.0, 84.0, 86.0, 88.0, 170.0};  // the last exceeds the bore
  const SweepPlan plan(test::shipped("supercharged_three_seat"), {pitch, nozzle}, 0, 1);
  const std::size_t count = plan.count().value();
  std::vector<SweepRow> whole, one_by_one(count);
  run_sweep(plan, 0, count, {true, 2},
            [&](std::span<const SweepRow> rows) { whole.insert(whole.end(), rows.begin(), rows.end()); });
  REQUIRE(whole.size() == count);
  for (const std::size_t i : shuffled(count, 7))
    run_sweep(plan, i, i + 1, {true, 1},
              [&](std::span<const SweepRow> rows) { one_by_one[i] = rows.front(); });
  for (std::size_t i = 0; i < count; ++i) {
    INFO("point " << i);
    CHECK(one_by_one[i].point.purposes == whole[i].point.purposes);
    CHECK(same(one_by_one[i].outcome, whole[i].outcome));
  }
}

}  // namespace bowrise
