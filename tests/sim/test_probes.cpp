// Where guards are looked at and how closely a crossing is searched for; steps that go on behind a stop.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <span>
#include <stdexcept>
#include <vector>

#include "tests/support/integrate_cases.hpp"

namespace bowrise::test {
namespace {

// Runs y' = 1 from 0 to `end` in one step.
template <class GuardSet>
Recorder<1> one_step(GuardSet& guards, double end, const ProbeGrid& probes) {
  auto stepper = stiff_stepper<1>();
  Recorder<1> sink;
  const std::array stops{end};
  const IntegrateOptions options{.initial_step = end, .max_step = end, .probes = probes};
  const auto ending = integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, guards, sink, options);
  CHECK(ending.counters.steps == 1);
  return sink;
}

TEST_CASE("integrate: probes stand no further apart than their spacing", "[integrate]") {
  std::vector<double> times;
  Guards guards{{{}}, [&times](double t, const One&, std::span<double> out) {
                  times.push_back(t);
                  out[0] = std::cos(5.0 * t);  // zero every 0.2 pi
                }};
  CHECK(one_step(guards, 2.0, {.interior = 0}).events.size() <= 1);
  times.clear();
  const auto sink = one_step(guards, 2.0, {.interior = 0, .spacing = 0.15});
  REQUIRE(sink.events.size() == 3);
  for (std::size_t i = 0; i < sink.events.size(); ++i)
    CHECK(sink.events[i].time ==
          Approx((0.1 + 0.2 * static_cast<double>(i)) * std::acos(-1.0)).epsilon(1e-12));
  std::sort(times.begin(), times.end());
  for (std::size_t i = 1; i < times.size(); ++i) CHECK(times[i] - times[i - 1] < 0.15 + 1e-12);
}

TEST_CASE("integrate: a crossing is known to the time that was asked for", "[integrate]") {
  std::size_t probes = 0;
  Guards guards{{{}}, [&probes](double t, const One&, std::span<double> out) {
                  ++probes;
                  out[0] = std::exp(t) - 2.0;
                }};
  double to_rounding = 0;
  for (const double within : {0.0, 1e-3}) {
    probes = 0;
    const auto sink = one_step(guards, 1.0, {.interior = 0, .located_within = within});
    REQUIRE(sink.events.size() == 1);
    const double late = sink.events.front().time - std::log(2.0);
    CHECK(late >= -1e-15);  // the far side: there it has crossed
    CHECK(late <= within + 1e-14);
    if (within == 0.0) to_rounding = static_cast<double>(probes);
  }
  CHECK(static_cast<double>(probes) < to_rounding);
}

// Two guards, of which the search asks one alone.
struct AskedAlone {
  std::array<GuardRule, 2> list{};
  std::size_t together = 0, alone = 0;
  [[nodiscard]] std::span<const GuardRule> rules() const { return list; }
  static double value(std::size_t guard, double t) { return guard == 0 ? std::exp(t) - 2.0 : t * t - 0.5; }
  void guard_values(double t, const One&, std::span<double> out) {
    ++together;
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = value(i, t);
  }
  double guard_value(std::size_t guard, double t, const One&) {
    ++alone;
    return value(guard, t);
  }
};

TEST_CASE("integrate: the search for a crossing asks for its guard alone", "[integrate]") {
  AskedAlone guards;
  const auto sink = one_step(guards, 1.0, {.interior = 0});
  REQUIRE(sink.events.size() == 2);
  CHECK(sink.events[0].time == Approx(std::log(2.0)).epsilon(1e-14));
  CHECK(sink.events[1].time == Approx(std::sqrt(0.5)).epsilon(1e-14));
  CHECK(guards.together == 2);  // the ends of the step
  CHECK(guards.alone > 4);
}

TEST_CASE("integrate: behind a stop steps go on as long as they were", "[integrate]") {
  with_both<1>([](auto& stepper) {
    Guards<1> none;
    struct Times : Recorder<1> {
      void step(double t, const One&) { at.push_back(t); }
      std::vector<double> at;
    } sink;
    const std::array stops{0.5, 100.0};
    const auto run = [&](double restart_step) {
      sink.at.clear();
      const auto ending = integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, none, sink,
                                    {.initial_step = 0.01, .restart_step = restart_step});
      CHECK(ending.state[0] == Approx(100.0).epsilon(1e-12));
      return *std::upper_bound(sink.at.begin(), sink.at.end(), 0.5) - 0.5;  // the first step behind the stop
    };
    CHECK(run(0) > 0.5);  // steps grow from 0.01 by five at most; the last before the stop was about 0.2
    CHECK(run(0.02) == Approx(0.02).epsilon(1e-9));
  });
}

TEST_CASE("integrate: a spacing of probes asks for a longest step", "[integrate]") {
  Guards<1> none;
  Recorder<1> sink;
  const std::array stops{1.0};
  auto stepper = stiff_stepper<1>();
  const auto run = [&](const IntegrateOptions& options) {
    return integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, none, sink, options).time;
  };
  CHECK_THROWS_AS(run({.probes = {.spacing = 0.1}}), std::invalid_argument);
  CHECK_THROWS_AS(run({.max_step = 1, .probes = {.spacing = 0}}), std::invalid_argument);
  CHECK(run({.max_step = 1, .probes = {.spacing = 0.1}}) == 1);
}

// Stops half a second after the clock has passed 1.2 s, which it learns from its own event.
struct Alarm {
  std::array<GuardRule, 2> all_rules{{{Crossing::rising, Then::record}, {Crossing::rising, Then::stop}}};
  double set_at = -1, longest = 10;

  [[nodiscard]] std::span<const GuardRule> rules() const { return all_rules; }
  [[nodiscard]] double longest_step() const { return longest; }
  void guard_values(double t, const One& y, std::span<double> out) const {
    out[0] = y[0] - 1.2;
    out[1] = set_at < 0 ? -1 : t - set_at - 0.5;
  }
  void row(double, const One&) {}
  Then event(std::size_t guard, double t, const One&) {
    if (guard == 0) set_at = t;
    return Then::record;
  }
};

TEST_CASE("integrate: a probe sees what an event before it has set, in the same step too", "[integrate]") {
  Alarm alarm;
  const std::array stops{10.0};
  auto stepper = stiff_stepper<1>();
  const auto ending = integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, alarm, alarm,
                                {.initial_step = 10, .max_step = 10, .probes = {.spacing = 0.3}});
  CHECK(ending.counters.steps == 1);
  CHECK(ending.reason == EndReason::stopped_by_guard);
  CHECK(ending.time == Approx(1.7).epsilon(1e-9));
}

TEST_CASE("integrate: guards may bound the next step", "[integrate]") {
  Alarm alarm;
  alarm.longest = 0.25;
  const std::array stops{1.0};
  auto stepper = stiff_stepper<1>();
  const auto ending = integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, alarm, alarm,
                                {.initial_step = 1, .max_step = 0.5});
  CHECK(ending.counters.steps == 4);
}

}  // namespace
}  // namespace bowrise::test
