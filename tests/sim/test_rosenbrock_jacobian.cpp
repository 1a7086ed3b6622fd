// The stiff stepper with a system that knows its own Jacobian.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "sim/rosenbrock.hpp"

namespace bowrise {
namespace {

using Two = std::array<double, 2>;

// y0 = 1 + exp(-t) and, after its stiff start, a pulse about t = 30 that nothing announces; y1 follows y0^2
// with 2000 1/s: y1' = 2 y0 y0' - 2000 (y1 - y0^2), y1 = y0^2.
double pulse(double t) { return std::exp(-(t - 30.0) * (t - 30.0)); }
double exact(double t) { return 1.0 + std::exp(-t) + pulse(t); }

struct Follower {
  void operator()(const Two& y, Two& dydt, double t) const {
    dydt[0] = -(y[0] - 1.0 - pulse(t)) - 2.0 * (t - 30.0) * pulse(t);
    dydt[1] = 2.0 * y[0] * dydt[0] - 2000.0 * (y[1] - y[0] * y[0]);
  }
};

// The same with slopes worked out by hand, of the base last named.
struct SlopedFollower : Follower {
  Two at{};
  double rate_0 = 0.0;
  std::size_t bases = 0, jacobians = 0, ends_to_refuse = 0, jacobians_to_refuse = 0;

  void base(const Two& y, Two& dydt, double t) {
    ++bases;
    at = y;
    (*this)(y, dydt, t);
    rate_0 = dydt[0];
    if (t > 20.0 && ends_to_refuse > 0) {  // at the end of a step that all else accepts
      --ends_to_refuse;
      dydt[1] = std::nan("");
    }
  }
  template <class Matrix>
  void jacobian(Matrix& slopes) {
    ++jacobians;
    slopes(0, 0) = -1.0;
    slopes(0, 1) = 0.0;
    slopes(1, 0) = 2.0 * rate_0 - 2.0 * at[0] + 4000.0 * at[0];
    slopes(1, 1) = -2000.0;
    if (jacobians % 10 == 0 && jacobians_to_refuse > 0) {
      --jacobians_to_refuse;
      slopes(1, 0) = std::numeric_limits<double>::infinity();
    }
  }
};

struct Solved {
  double largest_error = 0.0;
  StepperCounters counters;
};

template <class System>
Solved solve(System& system) {
  RosenbrockSettings<2> settings;
  settings.relative_tolerance.fill(1e-6);
  settings.absolute_tolerance.fill(1e-6);
  Rosenbrock4DenseOutput<2> stepper(settings);
  Solved run;
  stepper.initialize({exact(0), exact(0) * exact(0)}, 0, 1e-3);
  while (stepper.current_time() < 60.0) {
    stepper.limit_step(0.25);
    stepper.do_step(system);
    const double y = exact(stepper.current_time());
    run.largest_error = std::max({run.largest_error, std::abs(stepper.current_state()[0] - y),
                                  std::abs(stepper.current_state()[1] - y * y)});
  }
  run.counters = stepper.counters();
  return run;
}

TEST_CASE("rosenbrock: a Jacobian offered serves as well as differences and saves their calls",
          "[rosenbrock]") {
  Follower plain;
  SlopedFollower sloped;
  const Solved by_differences = solve(plain), offered = solve(sloped);
  CHECK(offered.largest_error < 2e-5);
  CHECK(offered.largest_error == Approx(by_differences.largest_error).epsilon(0.1));
  CHECK(offered.counters.jacobians == offered.counters.steps);
  CHECK(sloped.jacobians == offered.counters.jacobians);
  CHECK(sloped.bases == offered.counters.steps + 1);  // the start, and the end of every step accepted
  CHECK(offered.counters.rhs_calls + 2 * offered.counters.jacobians ==
        Approx(by_differences.counters.rhs_calls).epsilon(0.02));
}

TEST_CASE("rosenbrock: a step whose end alone has no finite rates is tried again from its own start",
          "[rosenbrock]") {
  SlopedFollower system;
  system.ends_to_refuse = 3;
  const Solved run = solve(system);
  CHECK(system.ends_to_refuse == 0);
  CHECK(run.counters.rejected_steps >= 3);
  CHECK(run.largest_error < 2e-5);
}

TEST_CASE("rosenbrock: an offered Jacobian that is not finite is replaced by differences", "[rosenbrock]") {
  SlopedFollower system;
  system.jacobians_to_refuse = 5;
  const Solved run = solve(system);
  CHECK(system.jacobians_to_refuse == 0);
  CHECK(run.largest_error < 2e-5);
}

// y' = -y^2 from 1, which is y = 1/(1 + t); with its slope -2 y.
struct Fading {
  double at = 0.0;
  void operator()(const std::array<double, 1>& y, std::array<double, 1>& dydt, double) const {
    dydt[0] = -y[0] * y[0];
  }
  void base(const std::array<double, 1>& y, std::array<double, 1>& dydt, double t) {
    at = y[0];
    (*this)(y, dydt, t);
  }
  template <class Matrix>
  void jacobian(Matrix& slopes) const {
    slopes(0, 0) = -2.0 * at;
  }
  [[nodiscard]] static bool autonomous() { return true; }
};

// Largest error inside one step, over the state that lies on the exact path through its end.
double error_inside_one_step(double step, double long_step) {
  RosenbrockSettings<1> settings;
  settings.relative_tolerance[0] = settings.absolute_tolerance[0] = 1.0;  // the step is taken as it is
  settings.long_step = long_step;
  Rosenbrock4DenseOutput<1> stepper(settings);
  Fading fading;
  stepper.initialize({1.0}, 0, step);
  stepper.do_step(fading);
  const double end_error = stepper.current_state()[0] * (1.0 + step) - 1.0;
  double largest = 0.0;
  for (int i = 1; i < 20; ++i) {
    const double t = 0.05 * i * step;
    std::array<double, 1> y{};
    stepper.calc_state(t, y);
    largest = std::max(largest, std::abs(y[0] * (1.0 + t) - 1.0));
  }
  return largest - std::abs(end_error);
}

TEST_CASE("rosenbrock: dense output of long steps has the second derivatives as well", "[rosenbrock]") {
  // Hermite's remainders, common textbook knowledge: h^4/384 of the fourth derivative, 24 at the start, and
  // h^6/46080 of the sixth, 720.
  const double step = 0.4, cubic = 24.0 / 384.0 * std::pow(step, 4),
               quintic = 720.0 / 46080.0 * std::pow(step, 6);
  const double short_error = error_inside_one_step(step, 0.5), long_error = error_inside_one_step(step, 0.3);
  INFO(short_error << " " << long_error);
  CHECK(short_error < cubic);
  CHECK(short_error > 0.1 * cubic);
  CHECK(long_error < quintic);
}

}  // namespace
}  // namespace bowrise
