// Small problems, steppers, guards and a recording sink for the tests of the driver; no craft in sight.
#pragma once

#include <array>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstddef>
#include <functional>
#include <limits>
#include <span>
#include <utility>
#include <vector>

#include "models/constants.hpp"
#include "sim/integrate.hpp"
#include "sim/rosenbrock.hpp"
#include "tests/support/not_finite.hpp"
#include "tests/support/rates.hpp"

namespace bowrise::test {

template <std::size_t N>
auto stiff_stepper(double tolerance = 1e-9) {
  RosenbrockSettings<N> settings;
  settings.relative_tolerance.fill(tolerance);
  settings.absolute_tolerance.fill(tolerance);
  return Rosenbrock4DenseOutput<N>(settings);
}

template <std::size_t N>
auto explicit_stepper(double tolerance = 1e-9) {
  using Stepper = boost::numeric::odeint::runge_kutta_dopri5<std::array<double, N>>;
  return boost::numeric::odeint::make_dense_output(tolerance, tolerance, Stepper());
}

/// Runs the check with both steppers.
template <std::size_t N, class Check>
void with_both(Check&& check, double tolerance = 1e-9) {
  {
    INFO("stiff stepper");
    auto stepper = stiff_stepper<N>(tolerance);
    check(stepper);
  }
  INFO("explicit stepper");
  auto stepper = explicit_stepper<N>(tolerance);
  check(stepper);
}

struct Event {
  std::size_t guard;
  double time;
};

/// Keeps times and first components; room is made beforehand so that the sink does not allocate in a run.
template <std::size_t N>
struct Recorder {
  using State = std::array<double, N>;

  Recorder() {
    rows.reserve(4096);
    values.reserve(4096);
    events.reserve(256);
    order.reserve(8192);
  }
  void row(double t, const State& y) {
    rows.push_back(t);
    values.push_back(y[0]);
    note(t, y);
  }
  Then event(std::size_t guard, double t, const State& y) {
    events.push_back({guard, t});
    note(t, y);
    return guard == stop_at ? Then::stop : Then::record;
  }
  void step(double t, const State& y) {
    ++steps;
    last_step = t;
    note(t, y);
  }
  void begin_segment(std::size_t segment) { last_segment = segment; }

  void note(double t, const State& y) {
    order.push_back(t);
    for (const double value : y) all_finite = all_finite && std::isfinite(value);
  }

  std::vector<double> rows, values, order;
  std::vector<Event> events;
  std::size_t steps = 0, stop_at = Ending::no_index, last_segment = Ending::no_index;
  double last_step = -1;
  bool all_finite = true;
};

template <std::size_t N>
using GuardValues = std::function<void(double t, const std::array<double, N>& y, std::span<double> out)>;

template <std::size_t N>
struct Guards {
  std::vector<GuardRule> list;
  GuardValues<N> values;
  [[nodiscard]] std::span<const GuardRule> rules() const { return list; }
  void guard_values(double t, const std::array<double, N>& y, std::span<double> out) { values(t, y, out); }
};
Guards(std::vector<GuardRule>, GuardValues<1>)->Guards<1>;
Guards(std::vector<GuardRule>, GuardValues<2>)->Guards<2>;

/// The same right-hand side in every segment.
template <std::size_t N>
struct Everywhere {
  Rates<N> rates;
  const Rates<N>& operator()(std::size_t) const { return rates; }
};
inline Everywhere<1> everywhere(Rates<1> rates) { return {std::move(rates)}; }
inline Everywhere<2> everywhere(Rates<2> rates) { return {std::move(rates)}; }

inline void free_fall(const Two& y, Two& dydt, double) { dydt = {y[1], gravity_m_s2}; }
inline void clock_rates(const One&, One& dydt, double) { dydt = {1.0}; }

/// Runs y' = 1 from 0 to `end` in steps of at most `max_step`, so that y = t, under the given guards.
template <class Stepper, class GuardSet>
Recorder<1> run_clock(Stepper& stepper, GuardSet& guards, double end, double max_step,
                      std::size_t interior = 4) {
  Recorder<1> sink;
  const std::array stops{end};
  const IntegrateOptions options{
      .initial_step = max_step, .max_step = max_step, .probes = {.interior = interior}};
  const auto ending = integrate(stepper, everywhere(clock_rates), One{0}, 0, stops, guards, sink, options);
  CHECK(ending.reason == EndReason::reached_end);
  return sink;
}

}  // namespace bowrise::test
