#include "sim/study/compare.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "sim/study/break_even.hpp"
#include "sim/study/limit_costs.hpp"
#include "sim/study/run_scatter.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

BandOptions compare_options(std::size_t draws) {
  BandOptions out;
  out.draws = draws;
  out.threads = 2;
  return out;
}

Contender contender(const std::string& name, const test::Changes& changes = {}) {
  return {name, test::shipped(name, changes)};
}

const Difference& difference(const Comparison& comparison, std::string_view result) {
  return comparison.differences[1][result_index(result)];
}

}  // namespace

// Cohen 1988, Statistical Power Analysis, table 2.4.1, from memory: two-sided 5 %, power 0.80, sample size
// per group d 0.50: 64, 0.80: 26, 1.00: 17
TEST_CASE("runs that show a difference, against the published table") {
  CHECK(runs_to_show(0.5, 1.0) == 64);
  CHECK(runs_to_show(-0.8, 1.0) == 26);
  CHECK(runs_to_show(2.0, 2.0) == 17);
  CHECK(runs_to_show(100.0, 1.0) == 2);
  CHECK_FALSE(runs_to_show(0.001, 1.0).has_value());
}

TEST_CASE("a setup against itself is the same in every draw") {
  const Comparison same = compare(
      {contender("supercharged_three_seat"), contender("supercharged_three_seat")}, compare_options(4));
  for (std::size_t i = 0; i < result_rows().size(); ++i) {
    const Difference& difference = same.differences[1][i];
    if (!difference.nominal) continue;
    CHECK(*difference.nominal == 0.0);
    CHECK(difference.band->low == 0.0);
    CHECK(difference.band->high == 0.0);
    CHECK(difference.verdict == Verdict::same);
  }
}

TEST_CASE("what two setups have in common cancels in their difference") {
  const Comparison pair =
      compare({contender("supercharged_three_seat"), contender("smaller_nozzle")}, compare_options(32));
  const std::size_t top_rpm = result_index("top_rpm");
  const Band alone = *pair.bands[0][top_rpm], paired = *difference(pair, "top_rpm").band;
  CHECK(paired.high - paired.low < 0.5 * (alone.high - alone.low));
  CHECK(paired.high < 0.0);  // common practice, no source: a smaller nozzle loads the engine more
  CHECK(difference(pair, "top_rpm").verdict == Verdict::differs);
}

TEST_CASE("more power is better, a worn ring worse") {
  const Comparison power =
      compare({contender("supercharged_three_seat"), contender("supercharged_300")}, compare_options(16));
  CHECK(difference(power, "top_speed").verdict == Verdict::better);
  const Comparison worn =
      compare({contender("supercharged_three_seat"), contender("worn_ring")}, compare_options(16));
  CHECK(difference(worn, "time_to_30_mph").verdict == Verdict::worse);
}

TEST_CASE("a small difference whose band is wide is undecided, not nil") {
  const Comparison stages =
      compare({contender("supercharged_three_seat"), contender("two_stage")}, compare_options(32));
  const Difference& mark = difference(stages, "time_to_100_m");
  CHECK(std::abs(*mark.nominal) < 0.05);
  CHECK(mark.band->low < -0.3);
  CHECK(mark.verdict == Verdict::undecided);
}

TEST_CASE("a hair's breadth is no difference, a mark that is missed no answer") {
  const Comparison tiny = compare({contender("supercharged_three_seat"),
                                   contender("supercharged_three_seat", {{"fuel.mass", "20.5 kg"}})},
                                  compare_options(0));
  CHECK(difference(tiny, "time_to_30_mph").nominal != 0.0);
  CHECK(difference(tiny, "time_to_30_mph").verdict == Verdict::same);
  CHECK_FALSE(difference(tiny, "time_to_30_mph").band.has_value());
  const Comparison slow =
      compare({contender("supercharged_three_seat"), contender("light_two_seat")}, compare_options(0));
  CHECK(difference(slow, "time_to_60_mph").verdict == Verdict::no_answer);
}

TEST_CASE("a break-even is verified from both sides") {
  const Contender one = contender("supercharged_three_seat"), two = contender("two_stage");
  const Key& power = *find_key("engine.peak_power");
  const OverStudy study = compare_over(one, two, power, {150, 200, 250, 300, 350}, compare_options(0));
  const std::size_t mark = result_index("time_to_30_mph");
  const auto found = std::find_if(study.break_evens.begin(), study.break_evens.end(),
                                  [mark](const BreakEven& b) { return b.result == mark; });
  REQUIRE(found != study.break_evens.end());
  CHECK(found->second_wins_above);
  const auto lead = [&](double at) {
    Setup first = one.setup, second = two.setup;
    set_in_unit(first, power, at);
    set_in_unit(second, power, at);
    return *outcome_of(second).values[mark] - *outcome_of(first).values[mark];
  };
  CHECK(lead(found->at - 0.5) > 0.0);
  CHECK(lead(found->at + 0.5) < 0.0);
  CHECK(std::abs(lead(found->at)) < 1e-3);
}

TEST_CASE("break-evens get a band of their own, and none where one setup always wins") {
  const Key& power = *find_key("engine.peak_power");
  const OverStudy stages = compare_over(contender("supercharged_three_seat"), contender("two_stage"), power,
                                        {150, 200, 250, 300, 350, 400}, compare_options(8));
  REQUIRE_FALSE(stages.break_evens.empty());
  CHECK(stages.break_evens.front().band.has_value());
  CHECK(stages.points.front().bands[result_index("top_speed")].has_value());
  const OverStudy plain = compare_over(contender("supercharged_three_seat"),
                                       contender("supercharged_three_seat", {{"engine.power_factor", "1.1"}}),
                                       power, {200, 250}, compare_options(0));
  for (const BreakEven& found : plain.break_evens) CHECK(found.result != result_index("top_speed"));
}

TEST_CASE("compare tells limits, their costs and the rough-water purpose of every setup") {
  const Comparison pair =
      compare({contender("supercharged_three_seat"), contender("air_leak")}, compare_options(0));
  REQUIRE(pair.costs.size() == 2);
  CHECK(pair.costs[1].size() == pair.costs[0].size() + 1);  // the leak is a limit that can be lifted
  const auto air = static_cast<std::size_t>(Limit::air);
  CHECK(pair.nominal[0].limited_s[air] == 0.0);
  CHECK(pair.nominal[1].limited_s[air] > 0.1);
  const auto rough = static_cast<std::size_t>(Purpose::rough);
  const auto calm = pair.nominal[0].values[result_index("time_to_100_m")];
  CHECK(pair.purposes[0][rough].value() > calm.value());
}

TEST_CASE("what a worn ring costs is the launch with it less the launch without") {
  const Setup worn = test::shipped("worn_ring"), sound = test::shipped("supercharged_three_seat");
  const Outcome with_gap = outcome_of(worn), without = outcome_of(sound);
  const auto costs = limit_costs(worn, with_gap, 2);
  const auto ring =
      std::find_if(costs.begin(), costs.end(), [](const LimitCost& c) { return c.name == "ring_gap"; });
  REQUIRE(ring != costs.end());
  const std::size_t mark = result_index("time_to_30_mph");
  CHECK(*ring->time_to_30_mph_s == Approx(*with_gap.values[mark] - *without.values[mark]).margin(1e-9));
}

TEST_CASE("limits that are not there cost nothing and are not listed") {
  const Setup calm = test::shipped("supercharged_three_seat");
  for (const LimitCost& cost : limit_costs(calm, outcome_of(calm), 1)) {
    CHECK(cost.name != "air");
    CHECK(cost.name != "ring_gap");
    if (cost.name == "cavitation") CHECK(*cost.time_to_30_mph_s > 0.1);
    if (cost.name == "power") CHECK(*cost.top_speed_m_s > 0.5);
    if (cost.name == "hull_drag") CHECK(*cost.top_speed_m_s > 0.5);
  }
}

}  // namespace bowrise
