// How a run ends that cannot go on: rates, states and guards that are not finite, blow-up, noise, caps, and
// stops or options that make no sense.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <stdexcept>
#include <vector>

#include "sim/integrate.hpp"
#include "tests/support/integrate_cases.hpp"

using namespace bowrise;
using namespace bowrise::test;

namespace {

/// Ends within a budget of calls far below the cap, hands out finite values only, and says why.
template <class Stepper>
EndingAt<One> run_to_failure(Stepper& stepper, const Rates<1>& rates, const IntegrateOptions& options = {}) {
  Guards<1> none;
  Recorder<1> sink;
  const std::array stops{2.0};
  const auto ending = integrate(stepper, everywhere(rates), One{1}, 0, stops, none, sink, options);
  CHECK(ending.failed());
  CHECK(ending.counters.rhs_calls < 200'000);
  CHECK(sink.all_finite);
  CHECK(std::isfinite(ending.state[0]));
  CHECK(sink.last_step <= ending.time);
  return ending;
}

}  // namespace

TEST_CASE("integrate: a rate that is not finite ends the run at the last good time", "[integrate]") {
  for (const double bad : {not_a_number, infinity, -infinity}) {
    with_both<1>([bad](auto& stepper) {
      const auto late = run_to_failure(
          stepper, [bad](const One& y, One& dydt, double t) { dydt[0] = t > 0.5 ? bad : -y[0]; });
      CHECK(late.reason == EndReason::failed_not_finite);
      CHECK(late.index == 0);
      CHECK(late.time == Approx(0.5).epsilon(1e-9));
      CHECK(late.state[0] == Approx(std::exp(-0.5)).epsilon(1e-7));
      const auto at_once = run_to_failure(stepper, [bad](const One&, One& dydt, double) { dydt[0] = bad; });
      CHECK(at_once.reason == EndReason::failed_not_finite);
      CHECK(at_once.time == 0);
      CHECK(at_once.counters.steps == 0);
    });
  }
}

// y' = y^2 from 1: y = 1 / (1 - t).
TEST_CASE("integrate: finite-time blow-up ends with a reason", "[integrate]") {
  with_both<1>([](auto& stepper) {
    const auto ending =
        run_to_failure(stepper, [](const One& y, One& dydt, double) { dydt[0] = y[0] * y[0]; });
    CHECK(
        (ending.reason == EndReason::failed_step_too_small || ending.reason == EndReason::failed_not_finite));
    CHECK(ending.time == Approx(1.0).epsilon(1e-6));
  });
}

TEST_CASE("integrate: rates that are noise end with a reason", "[integrate]") {
  with_both<1>([](auto& stepper) {
    // from t = 0.5 on, values without any smoothness: a multiplicative congruential sequence (MINSTD)
    std::uint32_t seed = 1;
    const auto ending = run_to_failure(
        stepper,
        [&seed](const One& y, One& dydt, double t) {
          seed = static_cast<std::uint32_t>(std::uint64_t{seed} * 48271u % 2147483647u);
          dydt[0] = -y[0] + (t > 0.5 ? 1e12 * (static_cast<double>(seed) / 2147483647.0 - 0.5) : 0.0);
        },
        {.max_steps = 10'000});
    CHECK((ending.reason == EndReason::failed_step_too_small ||
           ending.reason == EndReason::failed_too_many_steps));
    CHECK(ending.time == Approx(0.5).margin(1e-3));
  });
}

TEST_CASE("integrate: steps and calls are capped", "[integrate]") {
  with_both<1>([](auto& stepper) {
    const auto decay = [](const One& y, One& dydt, double) { dydt[0] = -y[0]; };
    const auto steps = run_to_failure(stepper, decay, {.max_steps = 3});
    CHECK(steps.reason == EndReason::failed_too_many_steps);
    CHECK(steps.counters.steps == 3);
    const auto calls = run_to_failure(stepper, decay, {.max_rhs_calls = 50});
    CHECK(calls.reason == EndReason::failed_too_many_steps);
    CHECK(calls.counters.rhs_calls == 50);
  });
}

TEST_CASE("integrate: a start or a guard that is not finite", "[integrate]") {
  with_both<2>([](auto& stepper) {
    Guards<2> none;
    Recorder<2> sink;
    const std::array stops{1.0};
    const auto start = integrate(stepper, everywhere(free_fall), Two{0, not_a_number}, 0, stops, none, sink,
                                 {.output_step = 0.1});
    CHECK(start.reason == EndReason::failed_not_finite);
    CHECK(start.index == 1);
    CHECK(sink.order.empty());
    Guards guards{{{}, {}}, [](double t, const Two&, std::span<double> out) {
                    out[0] = t - 0.7;
                    out[1] = t < 0.5 ? 1 : not_a_number;
                  }};
    const auto guarded = integrate(stepper, everywhere(free_fall), Two{0, 0}, 0, stops, guards, sink);
    CHECK(guarded.reason == EndReason::failed_guard_not_finite);
    CHECK(guarded.index == 1);
    CHECK(guarded.time < 0.5);
    CHECK(sink.events.empty());
  });
}

TEST_CASE("integrate: senseless stops and options are refused", "[integrate]") {
  auto stepper = stiff_stepper<1>();
  Guards<1> none;
  Recorder<1> sink;
  const auto run = [&](std::vector<double> stops, IntegrateOptions options) {
    return integrate(stepper, everywhere(clock_rates), One{0}, 1, stops, none, sink, options);
  };
  CHECK_THROWS_AS(run({}, {}), std::invalid_argument);
  CHECK_THROWS_AS(run({0.5}, {}), std::invalid_argument);
  CHECK_THROWS_AS(run({2, 1.5}, {}), std::invalid_argument);
  CHECK_THROWS_AS(run({infinity}, {}), std::invalid_argument);
  CHECK_THROWS_AS(run({2}, {.initial_step = 0}), std::invalid_argument);
  CHECK_THROWS_AS(run({2}, {.max_step = not_a_number}), std::invalid_argument);
  CHECK(run({1}, {}).time == 1);  // nothing to do is not an error
}
