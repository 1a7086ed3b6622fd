// The stiff stepper where nothing happens: it may keep its Jacobian and must lose nothing by it.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "sim/rosenbrock.hpp"

namespace bowrise {
namespace {

using Two = std::array<double, 2>;

struct Run {
  double largest_error;
  StepperCounters counters;
};

// y0 = 1 + exp(-t) and, after its stiff start, a pulse about t = 30 that nothing announces; y1 follows y0^2
// with 2000 1/s: y1' = 2 y0 y0' - 2000 (y1 - y0^2), y1 = y0^2.
double pulse(double t) { return std::exp(-(t - 30.0) * (t - 30.0)); }
double exact(double t) { return 1.0 + std::exp(-t) + pulse(t); }

Run solve(double calm_share) {
  constexpr double tolerance = 1e-6, longest = 0.25;
  RosenbrockSettings<2> settings;
  settings.relative_tolerance = tolerance;
  settings.absolute_tolerance.fill(tolerance);
  settings.calm_share = calm_share;
  Rosenbrock4DenseOutput<2> stepper(settings);
  const auto rates = [](const Two& y, Two& dydt, double t) {
    dydt[0] = -(y[0] - 1.0 - pulse(t)) - 2.0 * (t - 30.0) * pulse(t);
    dydt[1] = 2.0 * y[0] * dydt[0] - 2000.0 * (y[1] - y[0] * y[0]);
  };
  Run run{};
  stepper.initialize({exact(0), exact(0) * exact(0)}, 0, 1e-3);
  while (stepper.current_time() < 60.0) {
    stepper.limit_step(longest);
    stepper.do_step(rates);
    const double y = exact(stepper.current_time());
    run.largest_error = std::max({run.largest_error, std::abs(stepper.current_state()[0] - y),
                                  std::abs(stepper.current_state()[1] - y * y)});
  }
  run.counters = stepper.counters();
  return run;
}

TEST_CASE("rosenbrock: in calm water the Jacobian is kept, without loss", "[rosenbrock]") {
  const Run always = solve(0.0), calm = solve(3e-3);
  CHECK(always.counters.jacobians == always.counters.steps);
  CHECK(10 * calm.counters.jacobians < 8 * calm.counters.steps);
  CHECK(10 * calm.counters.steps < 11 * always.counters.steps);
  CHECK(always.largest_error < 2e-5);
  CHECK(calm.largest_error < 1.5 * always.largest_error);
}

// A system with columns is told the point they belong to; whatever is rejected or kept on the way, a column's
// point differs from the last one named in that component alone.
TEST_CASE("rosenbrock: columns are asked about the base last named", "[rosenbrock]") {
  struct WithColumns {
    Two base_point{};
    double base_time = -1.0;
    std::size_t columns = 0, refused = 0;
    bool always_about_base = true;

    void operator()(const Two& y, Two& dydt, double t) {
      dydt[0] = -(y[0] - 1.0 - pulse(t)) - 2.0 * (t - 30.0) * pulse(t);
      dydt[1] = 2.0 * y[0] * dydt[0] - 2000.0 * (y[1] - y[0] * y[0]);
    }
    void base(const Two& y, Two& dydt, double t) {
      base_point = y;
      base_time = t;
      (*this)(y, dydt, t);
      // once, at the end of a step that all else accepts
      if (t > 20.0 && refused == 0) {
        ++refused;
        dydt[1] = std::nan("");
      }
    }
    void beside(const Two& y, Two& dydt, double t, std::size_t j) {
      ++columns;
      always_about_base = always_about_base && t == base_time && y[1 - j] == base_point[1 - j];
      (*this)(y, dydt, t);
    }
  } system;
  RosenbrockSettings<2> settings;
  settings.relative_tolerance = 1e-6;
  settings.absolute_tolerance.fill(1e-6);
  settings.calm_share = 3e-3;
  Rosenbrock4DenseOutput<2> stepper(settings);
  stepper.initialize({exact(0), exact(0) * exact(0)}, 0, 1e-3);
  while (stepper.current_time() < 60.0) {
    stepper.limit_step(0.25);
    stepper.do_step(system);
  }
  CHECK(system.refused == 1);
  CHECK(system.columns > 100);
  CHECK(system.always_about_base);
  CHECK(stepper.current_state()[0] == Approx(exact(stepper.current_time())).epsilon(1e-5));
}

TEST_CASE("rosenbrock: a rejected step is tried again with a new Jacobian", "[rosenbrock]") {
  // y' = -k y with a rate k that jumps at t = 10, when y has long been at rest about 1: only a new Jacobian
  // knows it.
  RosenbrockSettings<1> settings;
  settings.calm_share = 1e-2;
  Rosenbrock4DenseOutput<1> stepper(settings);
  std::size_t jacobians_before = 0, jacobians_at_reject = 0;
  const auto rates = [](const std::array<double, 1>& y, std::array<double, 1>& dydt, double t) {
    dydt[0] = t < 10.1 ? -(y[0] - 1.0) : -5e3 * (y[0] - 2.0);
  };
  stepper.initialize({1.0}, 0, 0.1);
  while (stepper.current_time() < 12.0) {
    stepper.limit_step(0.25);
    const auto before = stepper.counters();
    stepper.do_step(rates);
    const auto& now = stepper.counters();
    if (now.rejected_steps == before.rejected_steps || jacobians_at_reject > 0) continue;
    jacobians_before = before.jacobians;
    jacobians_at_reject = now.jacobians;
  }
  CHECK(jacobians_at_reject > jacobians_before);
  CHECK(stepper.current_state()[0] == Approx(2.0).epsilon(1e-5));
}

}  // namespace
}  // namespace bowrise
