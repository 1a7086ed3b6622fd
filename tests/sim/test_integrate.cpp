// Stops, guards, rows and endings of the driver on closed forms, through the stiff and the explicit stepper.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>
#include <vector>

#include "sim/integrate.hpp"
#include "tests/support/allocations.hpp"
#include "tests/support/integrate_cases.hpp"

using namespace bowrise;
using namespace bowrise::test;

// Free fall from rest: t = sqrt(2 h / g).
TEST_CASE("integrate: a distance mark is located, not rounded to a step", "[integrate]") {
  with_both<2>([](auto& stepper) {
    Guards guards{{{Crossing::rising, Then::stop}},
                  [](double, const Two& y, std::span<double> out) { out[0] = y[0] - 10.0; }};
    Recorder<2> sink;
    const std::array stops{5.0};
    const auto ending = integrate(stepper, everywhere(free_fall), Two{0, 0}, 0, stops, guards, sink);
    const double mark = std::sqrt(2 * 10.0 / gravity_m_s2);
    CHECK(ending.reason == EndReason::stopped_by_guard);
    CHECK(ending.index == 0);
    CHECK(ending.time == Approx(mark).epsilon(1e-8));
    CHECK(ending.state[1] == Approx(gravity_m_s2 * mark).epsilon(1e-8));
    REQUIRE(sink.events.size() == 1);
    CHECK(sink.events[0].time == ending.time);
    CHECK(sink.last_step == ending.time);  // the last step is cut
  });
}

// m v' = T - c v^2 from rest: v = w tanh(T t / (m w)) with w = sqrt(T / c), x = (m / c) ln cosh(T t / (m w)).
TEST_CASE("integrate: speed and distance marks of thrust against square drag", "[integrate]") {
  const double mass = 400, thrust = 3000, drag = 6, top = std::sqrt(thrust / drag),
               rate = thrust / (mass * top);
  const double speed_mark = std::atanh(15.0 / top) / rate;
  const double distance_mark = std::acosh(std::exp(100.0 * drag / mass)) / rate;
  with_both<2>([&](auto& stepper) {
    Guards guards{{{Crossing::rising, Then::record}, {Crossing::rising, Then::record}},
                  [](double, const Two& y, std::span<double> out) {
                    out[0] = y[0] - 100;
                    out[1] = y[1] - 15;
                  }};
    const auto rates = [&](const Two& y, Two& dydt, double) {
      dydt = {y[1], (thrust - drag * y[1] * y[1]) / mass};
    };
    Recorder<2> sink;
    const std::array stops{15.0};
    const auto ending = integrate(stepper, everywhere(rates), Two{0, 0}, 0, stops, guards, sink);
    CHECK(ending.reason == EndReason::reached_end);
    CHECK(ending.time == 15.0);
    REQUIRE(sink.events.size() == 2);
    CHECK(sink.events[0].guard == 1);
    CHECK(sink.events[0].time == Approx(speed_mark).epsilon(1e-7));
    CHECK(sink.events[1].time == Approx(distance_mark).epsilon(1e-7));
  });
}

TEST_CASE("integrate: guards in one step come in order of time, then of index", "[integrate]") {
  with_both<1>([](auto& stepper) {
    Guards guards{{{}, {}, {}, {}}, [](double, const One& y, std::span<double> out) {
                    for (std::size_t g = 0; g < 4; ++g) out[g] = y[0] - std::array{0.62, 0.60, 0.11, 0.60}[g];
                  }};
    const auto events = run_clock(stepper, guards, 1, 1).events;
    REQUIRE(events.size() == 4);
    const std::array<std::size_t, 4> order{2, 1, 3, 0};
    for (std::size_t i = 0; i < 4; ++i) CHECK(events[i].guard == order[i]);
    CHECK(events[0].time == Approx(0.11).epsilon(1e-12));
    CHECK(events[3].time == Approx(0.62).epsilon(1e-12));
  });
}

TEST_CASE("integrate: a guard at zero sleeps until it has left zero", "[integrate]") {
  with_both<1>([](auto& stepper) {
    // zero at the start, negative up to t = 0.5, then positive; and one that is zero throughout
    Guards guards{{{}, {}}, [](double t, const One&, std::span<double> out) {
                    out[0] = t * (t - 0.5);
                    out[1] = 0;
                  }};
    const auto events = run_clock(stepper, guards, 1, 0.3).events;
    REQUIRE(events.size() == 1);
    CHECK(events[0].guard == 0);
    CHECK(events[0].time == Approx(0.5).epsilon(1e-12));
  });
}

TEST_CASE("integrate: the interval is open at its start, closed at its end", "[integrate]") {
  with_both<1>([](auto& stepper) {
    // Exact zeros at both ends of the run and at an inner stop (steps of 1/4 are exact).
    Guards guards{{{}, {}, {}}, [](double t, const One&, std::span<double> out) {
                    out[0] = t;
                    out[1] = t - 0.5;
                    out[2] = t - 1.0;
                  }};
    const auto events = run_clock(stepper, guards, 1, 0.25).events;
    REQUIRE(events.size() == 2);
    CHECK(events[0].guard == 1);
    CHECK(events[0].time == 0.5);
    CHECK(events[1].guard == 2);
    CHECK(events[1].time == 1.0);
  });
}

TEST_CASE("integrate: direction is respected", "[integrate]") {
  with_both<1>([](auto& stepper) {
    Guards guards{{{Crossing::rising}, {Crossing::falling}, {Crossing::both}},
                  [](double t, const One&, std::span<double> out) {
                    std::fill(out.begin(), out.end(), std::sin(2 * std::numbers::pi * t + 1));
                  }};
    std::array<std::vector<double>, 3> times;
    for (const auto& event : run_clock(stepper, guards, 2, 0.2).events)
      times[event.guard].push_back(event.time);
    const double first_fall = 0.5 - 1 / (2 * std::numbers::pi);
    CHECK(times[1].size() == 2);
    CHECK(times[0].size() == 2);
    CHECK(times[2].size() == 4);
    CHECK(times[1].at(0) == Approx(first_fall).epsilon(1e-12));
    CHECK(times[0].at(0) == Approx(first_fall + 0.5).epsilon(1e-12));
  });
}

TEST_CASE("integrate: interior probes catch a double crossing inside one step", "[integrate]") {
  with_both<1>([](auto& stepper) {
    Guards guards{{{}},
                  [](double t, const One&, std::span<double> out) { out[0] = (t - 0.55) * (t - 0.65); }};
    const auto events = run_clock(stepper, guards, 1, 1).events;  // probes at 0.2, 0.4, 0.6, 0.8
    REQUIRE(events.size() == 2);
    CHECK(events[0].time == Approx(0.55).epsilon(1e-12));
    CHECK(events[1].time == Approx(0.65).epsilon(1e-12));
    // What the probes are for: without them one step of 1 sees nothing, shorter steps do.
    CHECK(run_clock(stepper, guards, 1, 1, 0).events.empty());
    CHECK(run_clock(stepper, guards, 1, 0.3, 0).events.size() == 2);
  });
}

TEST_CASE("integrate: a guard that touches zero at a probe is reported once", "[integrate]") {
  with_both<1>([](auto& stepper) {
    Guards guards{{{}}, [](double t, const One&, std::span<double> out) { out[0] = (t - 0.5) * (t - 0.5); }};
    const auto events = run_clock(stepper, guards, 1, 0.25).events;
    REQUIRE(events.size() == 1);
    CHECK(events[0].time == 0.5);
  });
}

TEST_CASE("integrate: the sink may end the run at an event", "[integrate]") {
  with_both<1>([](auto& stepper) {
    Guards guards{{{}, {}}, [](double t, const One&, std::span<double> out) {
                    out[0] = t - 0.3;
                    out[1] = t - 0.4;
                  }};
    Recorder<1> sink;
    sink.stop_at = 0;
    const std::array stops{1.0};
    const auto ending = integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, guards, sink,
                                  {.initial_step = 1, .output_step = 0.25});
    CHECK(ending.reason == EndReason::stopped_by_guard);
    CHECK(ending.index == 0);
    CHECK(ending.state[0] == Approx(0.3).epsilon(1e-12));
    CHECK(sink.events.size() == 1);
    REQUIRE(sink.rows.size() == 3);  // 0, 0.25 and the ending
    CHECK(sink.rows[2] == ending.time);
  });
}

// v' = 1 up to t = 1, -v after it: v(2) = exp(-1). Stepping across the jump costs rejects and accuracy.
TEST_CASE("integrate: a jump of the rates at a stop costs neither calls nor accuracy", "[integrate]") {
  with_both<1>([](auto& stepper) {
    double stopped_error = 0, crossed_error = 0;  // of several, since one step over a jump may be lucky
    for (const double jump : {0.8, 0.9, 1.0, 1.1, 1.2}) {
      const auto told = [](std::size_t segment) {
        return [segment](const One& y, One& dydt, double) { dydt[0] = segment == 0 ? 1.0 : -y[0]; };
      };
      const auto asks = [jump](const One& y, One& dydt, double t) { dydt[0] = t < jump ? 1.0 : -y[0]; };
      Guards<1> none;
      Recorder<1> stopping, crossing;
      const std::array<double, 2> both{jump, 2};
      const std::array<double, 1> end{2};
      const auto stopped = integrate(stepper, told, One{0}, 0, both, none, stopping);
      const auto crossed = integrate(stepper, everywhere(asks), One{0}, 0, end, none, crossing);
      const double exact = jump * std::exp(jump - 2.0);
      stopped_error = std::max(stopped_error, std::abs(stopped.state[0] - exact));
      crossed_error = std::max(crossed_error, std::abs(crossed.state[0] - exact));
      CHECK(stopped.time == 2.0);
      CHECK(stopped.counters.rhs_calls < crossed.counters.rhs_calls);
      CHECK(std::count(stopping.order.begin(), stopping.order.end(), jump) == 1);  // the stop is hit exactly
      CHECK(stopping.last_segment == 1);
    }
    CHECK(stopped_error < 1e-8);
    CHECK(stopped_error < crossed_error);
  });
}

TEST_CASE("integrate: the right-hand side never sees a time beyond its stop by a stage", "[integrate]") {
  auto stepper = explicit_stepper<1>();
  const std::array stops{0.1, 0.1, 0.3};  // an empty segment in between
  double latest = 0;
  const auto rates = [&](std::size_t segment) {
    return [&, segment](const One&, One& dydt, double t) {
      if (segment == 0) latest = std::max(latest, t);
      CHECK(segment != 1);
      dydt[0] = 1;
    };
  };
  Guards<1> none;
  Recorder<1> sink;
  const auto ending = integrate(stepper, rates, One{0}, 0, stops, none, sink);
  CHECK(ending.state[0] == Approx(0.3).epsilon(1e-12));
  CHECK(latest <= 0.1 * (1 + 1e-15));
}

TEST_CASE("integrate: a guard whose law changes at a stop fires at the stop", "[integrate]") {
  struct Switching {
    GuardRule rule{Crossing::rising, Then::record};
    std::size_t segment = 0;
    [[nodiscard]] std::span<const GuardRule> rules() const { return {&rule, 1}; }
    void begin_segment(std::size_t now) { segment = now; }
    void guard_values(double, const One&, std::span<double> out) const { out[0] = segment == 0 ? -1 : 1; }
  };
  with_both<1>([](auto& stepper) {
    Switching guards;
    Recorder<1> sink;
    const std::array stops{0.5, 1.0};
    const auto ending = integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, guards, sink);
    CHECK(ending.reason == EndReason::reached_end);
    REQUIRE(sink.events.size() == 1);
    CHECK(sink.events[0].time == 0.5);
  });
}

TEST_CASE("integrate: rows lie on exact multiples and interleave with events in order", "[integrate]") {
  with_both<2>([](auto& stepper) {
    Guards guards{{{}}, [](double, const Two& y, std::span<double> out) { out[0] = y[0] - 10; }};
    Recorder<2> sink;
    const std::array stops{1.0, 2.005};
    const auto ending =
        integrate(stepper, everywhere(free_fall), Two{0, 0}, 0, stops, guards, sink, {.output_step = 0.01});
    REQUIRE(sink.rows.size() == 202);  // 0, 0.01 ... 2.00 and the end
    CHECK(ending.counters.rows == sink.rows.size());
    CHECK(sink.rows.back() == 2.005);
    for (std::size_t k = 0; k <= 200; ++k) {
      const double t = static_cast<double>(k) * 0.01;
      CHECK(sink.rows[k] == t);  // to the bit
      CHECK(sink.values[k] == Approx(gravity_m_s2 * t * t / 2).margin(1e-8));
    }
    CHECK(std::is_sorted(sink.order.begin(), sink.order.end()));
  });
}

TEST_CASE("integrate: no output step, no rows; a whole number of steps, no double last row", "[integrate]") {
  auto stepper = stiff_stepper<1>();
  Guards<1> none;
  Recorder<1> quiet, whole;
  const std::array stops{1.0};
  CHECK(integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, none, quiet).counters.rows == 0);
  CHECK(quiet.rows.empty());
  const IntegrateOptions options{.output_step = 0.1};
  CHECK(integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, none, whole, options).counters.rows ==
        11);
}

TEST_CASE("integrate: recording changes nothing", "[integrate]") {
  with_both<2>([](auto& stepper) {
    const auto pendulum = [](const Two& y, Two& dydt, double) { dydt = {y[1], -std::sin(y[0])}; };
    Guards guards{{{}}, [](double, const Two& y, std::span<double> out) { out[0] = y[0]; }};
    Guards<2> none;
    Recorder<2> watched, bare;
    const std::array stops{20.0};
    const auto a =
        integrate(stepper, everywhere(pendulum), Two{1, 0}, 0, stops, guards, watched, {.output_step = 0.05});
    const auto b = integrate(stepper, everywhere(pendulum), Two{1, 0}, 0, stops, none, bare);
    CHECK(watched.events.size() > 4);
    CHECK(a.state == b.state);
    CHECK(a.counters.steps == b.counters.steps);
    CHECK(a.counters.rhs_calls == b.counters.rhs_calls);
  });
}

TEST_CASE("integrate: the longest step is obeyed", "[integrate]") {
  with_both<1>([](auto& stepper) {
    Guards<1> none;
    Recorder<1> sink;
    const std::array stops{1.0};
    const auto ending = integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, none, sink,
                                  {.initial_step = 1, .max_step = 0.125});
    CHECK(ending.counters.steps == 8);
    CHECK(sink.steps == 8);
  });
}

TEST_CASE("integrate: counters agree with what was called", "[integrate]") {
  with_both<2>(
      [](auto& stepper) {
        std::size_t calls = 0, probes = 0;
        const auto rates = [&calls](const Two& y, Two& dydt, double) {
          ++calls;
          dydt = {y[1], 100 * (1 - y[0] * y[0]) * y[1] - y[0]};  // Van der Pol: with rejected steps
        };
        Guards guards{{{}}, [&probes](double, const Two& y, std::span<double> out) {
                        ++probes;
                        out[0] = y[0];
                      }};
        Recorder<2> sink;
        const std::array stops{50.0, 200.0};
        for (int run = 0; run < 2; ++run) {  // a stepper used again starts its counts again
          calls = probes = sink.steps = 0;
          const auto ending = integrate(stepper, everywhere(rates), Two{2, 0}, 0, stops, guards, sink);
          CHECK(ending.counters.rhs_calls == calls);
          CHECK(ending.counters.guard_probes == probes);
          CHECK(ending.counters.steps == sink.steps);
          if constexpr (requires { stepper.counters(); }) {
            CHECK(ending.counters.jacobians == sink.steps);
            CHECK(ending.counters.rejected_steps > 0);
            CHECK(calls == stops.size() + 9 * sink.steps + 5 * ending.counters.rejected_steps);
          }
        }
        CHECK_FALSE(sink.events.empty());
      },
      1e-6);
}

TEST_CASE("integrate: no allocation per step, none at all without guards", "[integrate]") {
  with_both<2>([](auto& stepper) {
    const auto pendulum = [](const Two& y, Two& dydt, double) { dydt = {y[1], -std::sin(y[0])}; };
    Guards guards{{{}, {}}, [](double, const Two& y, std::span<double> out) {
                    out[0] = y[0];
                    out[1] = y[1];
                  }};
    NoGuards none;
    Recorder<2> sink;
    const auto count = [&](auto& watched, double end) {
      const std::array stops{end / 2, end};
      const std::size_t before = allocations();
      const auto ending =
          integrate(stepper, everywhere(pendulum), Two{1, 0}, 0, stops, watched, sink, {.output_step = 0.1});
      const std::size_t made = allocations() - before;
      CHECK(ending.counters.steps > 20);
      return made;
    };
    CHECK(count(none, 20) == 0);
    const std::size_t short_run = count(guards, 5);
    CHECK(short_run == count(guards, 50));
    CHECK(short_run <= 5);
  });
}

// A clock whose rate is set anew at every stop from the state there: y(k+1) = y(k) (1 + 0.5 h), a geometric
// row.
TEST_CASE("integrate: stops named one by one, each from the state at the last", "[integrate]") {
  with_both<1>([](auto& stepper) {
    double rate = 0.0;
    const auto next = [&](std::size_t segment, double t, const One& y) -> std::optional<double> {
      CHECK(t == Approx(0.25 * static_cast<double>(segment)));
      if (segment == 8) return std::nullopt;
      rate = 0.5 * y[0];
      return 0.25 * static_cast<double>(segment + 1);
    };
    const auto rates = [&](std::size_t) {
      return [held = rate](const One&, One& dydt, double) { dydt[0] = held; };
    };
    Guards<1> none;
    Recorder<1> sink;
    const auto ending = integrate(stepper, rates, One{1.0}, 0, next, none, sink);
    CHECK(ending.reason == EndReason::reached_end);
    CHECK(ending.time == 2.0);
    CHECK(ending.state[0] == Approx(std::pow(1.125, 8)).epsilon(1e-10));
  });
}
