// What must hold of any craft within the usual ranges: it is refused with a reason or runs to an end with
// one, no number is lost, what was summed up agrees with the rates, and the preset tolerance is enough.
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>
#include <string>

#include "models/setup.hpp"
#include "sim/craft.hpp"
#include "sim/floating_point.hpp"
#include "sim/launch.hpp"
#include "sim/results.hpp"
#include "tests/support/random_craft.hpp"

namespace bowrise {
namespace {

struct Tried {
  std::size_t ran = 0, refused = 0, cannot_start = 0;
};

/// Calls use(setup, craft) for every craft of the first `count` that passes its checks and can start.
template <class Use>
Tried for_random_craft(std::size_t count, const Use& use) {
  Tried tally;
  for (std::size_t i = 0; i < count; ++i) {
    const Setup setup = test::random_craft(i, i % 2 == 0 ? 0.1 : 0.3);
    if (const Problems problems = check(setup); !problems.empty()) {
      ++tally.refused;
      if (problems.front().what.empty() || problems.front().key.empty()) FAIL("refused without a reason");
      continue;
    }
    std::optional<Craft> craft;
    try {
      craft = prepare(setup);
    } catch (const std::runtime_error& reason) {  // such as: no throttle holds the rolling speed
      ++tally.cannot_start;
      if (std::string(reason.what()).empty()) FAIL("refused without a reason");
      continue;
    }
    ++tally.ran;
    INFO("craft " << i);
    use(setup, *craft);
  }
  return tally;
}

void runs_to_an_end(const Setup& setup, const Craft& craft) {
  const Launch run = launch(craft, setup.run, launch_options(setup, false));
  if (run.end == LaunchEnd::failed) FAIL(run.failure);
  bool finite = detail::all_finite(to_array(run.end_state));
  const Summary summary = summarise(craft, run);
  for (const ResultRow& row : result_rows()) {
    const std::optional<double> value = row.get(summary);
    finite = finite && (!value || std::isfinite(*value));
  }
  if (!finite) FAIL("a number is not finite");
}

void every_one_ends(std::size_t count) {
  const Tried tally = for_random_craft(count, runs_to_an_end);
  INFO(tally.ran << " ran, " << tally.refused << " refused, " << tally.cannot_start << " cannot start");
  CHECK(tally.ran > count / 4);
  CHECK(tally.cannot_start < count / 20);
}

// Rates of the trace, summed by trapezia between rows, against the states they led to.
void balances_close(const Setup& setup, const Craft& craft) {
  LaunchOptions options = launch_options(setup, true);
  options.row_step_s = 2e-3;
  const Launch run = launch(craft, setup.run, options);
  double speed = run.rows.front().state.speed_m_s, distance = 0.0, fastest = 0.0, jump = 0.0;
  for (std::size_t i = 1; i < run.rows.size(); ++i) {
    const TraceRow &a = run.rows[i - 1], &b = run.rows[i];
    const double span = b.time_s - a.time_s;
    speed += 0.5 * (a.now.rate.speed_m_s + b.now.rate.speed_m_s) * span;
    distance += 0.5 * (a.state.speed_m_s + b.state.speed_m_s) * span;
    fastest = std::max(fastest, std::abs(b.state.speed_m_s));
    const double surge = b.now.effective_mass_kg * b.now.rate.speed_m_s - (b.now.thrust_N - b.now.drag_N);
    jump = std::max(jump, std::abs(surge) / (1.0 + std::abs(b.now.thrust_N) + b.now.drag_N));
  }
  CHECK(speed == Approx(run.end_state.speed_m_s).margin(2e-3 * fastest));
  CHECK(distance ==
        Approx(run.end_state.distance_m).margin(1e-3 + 1e-4 * std::abs(run.end_state.distance_m)));
  CHECK(jump < 1e-9);
}

// The largest relative error of a mark at the preset tolerance.
double mark_error(const Setup& setup, const Craft& craft) {
  LaunchOptions options = launch_options(setup, false);
  options.stop_at_top_speed = false;
  const Launch usual = launch(craft, setup.run, options);
  options.tolerance = 1e-10;
  const Summary tight = summarise(craft, launch(craft, setup.run, options)), got = summarise(craft, usual);
  double worst = 0.0;
  for (std::size_t i = 0; i < got.marks.size(); ++i) {
    INFO(got.marks[i].name);
    REQUIRE(got.marks[i].time_s.has_value() == tight.marks[i].time_s.has_value());
    if (got.marks[i].time_s)
      worst = std::max(worst, std::abs(*got.marks[i].time_s / *tight.marks[i].time_s - 1.0));
  }
  return worst;
}

// A ten-thousandth is asked. A craft that hangs for seconds on the brink of hooking up magnifies any error,
// and so does a rider whose decision falls one instant later: one in a thousand, which must stay within a
// thousandth.
void tolerance_is_enough(std::size_t count, std::size_t least) {
  std::size_t over = 0;
  const Tried tally = for_random_craft(count, [&](const Setup& setup, const Craft& craft) {
    const double error = mark_error(setup, craft);
    CHECK(error < 1e-3);
    over += error > 1e-4 ? 1 : 0;
  });
  INFO(over << " of " << tally.ran << " over a ten-thousandth");
  CHECK(tally.ran > least);
  CHECK(static_cast<double>(over) <= 0.001 * static_cast<double>(tally.ran));
}

TEST_CASE("random craft: every run ends with a reason and finite numbers", "[long]") {
  every_one_ends(5'000);
}

TEST_CASE("a hundred thousand random craft: every run ends with a reason and finite numbers", "[.proof]") {
  every_one_ends(100'000);
}

TEST_CASE("random craft: rates add up to the states, thrust less drag to the acceleration", "[long]") {
  for_random_craft(200, balances_close);
}

TEST_CASE("random craft: marks at the preset tolerance agree with a tight run", "[long]") {
  tolerance_is_enough(150, 50);
}

TEST_CASE("a thousand random craft: marks at the preset tolerance agree with a tight run", "[.proof]") {
  tolerance_is_enough(2'200, 1'000);
}

}  // namespace
}  // namespace bowrise
