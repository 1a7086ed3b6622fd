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

struct Run {
  double largest_error = 0.0;
  StepperCounters counters;
};

template <class System>
Run solve(System& system) {
  RosenbrockSettings<2> settings;
  settings.relative_tolerance = 1e-6;
  settings.absolute_tolerance.fill(1e-6);
  Rosenbrock4DenseOutput<2> stepper(settings);
  Run run;
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
  const Run by_differences = solve(plain), offered = solve(sloped);
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
  const Run run = solve(system);
  CHECK(system.ends_to_refuse == 0);
  CHECK(run.counters.rejected_steps >= 3);
  CHECK(run.largest_error < 2e-5);
}

TEST_CASE("rosenbrock: an offered Jacobian that is not finite is replaced by differences", "[rosenbrock]") {
  SlopedFollower system;
  system.jacobians_to_refuse = 5;
  const Run run = solve(system);
  CHECK(system.jacobians_to_refuse == 0);
  CHECK(run.largest_error < 2e-5);
}

}  // namespace
}  // namespace bowrise
