// The stiff stepper on problems with a closed form or a published value; no craft in sight.
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstddef>
#include <type_traits>

#include "sim/rosenbrock.hpp"
#include "tests/support/not_finite.hpp"
#include "tests/support/rates.hpp"

using bowrise::Rosenbrock4DenseOutput;
using bowrise::RosenbrockSettings;
using bowrise::StepFailure;
using bowrise::StepProblem;
using bowrise::test::infinity, bowrise::test::not_a_number, bowrise::test::Rates;
using bowrise::test::One, bowrise::test::Two, bowrise::test::Three;

namespace {

template <std::size_t N>
RosenbrockSettings<N> tolerance(double relative, double absolute) {
  RosenbrockSettings<N> settings;
  settings.relative_tolerance.fill(relative);
  settings.absolute_tolerance.fill(absolute);
  return settings;
}

/// A tolerance that accepts everything turns the stepper into one of fixed steps.
template <std::size_t N>
Rosenbrock4DenseOutput<N> unchecked_stepper() {
  return Rosenbrock4DenseOutput<N>(tolerance<N>(0, 1e30));
}

template <std::size_t N>
std::array<double, N> solve(Rosenbrock4DenseOutput<N>& stepper, const std::type_identity_t<Rates<N>>& system,
                            const std::array<double, N>& y0, double end, double first_step) {
  stepper.initialize(y0, 0, first_step);
  while (stepper.current_time() < end) {
    stepper.limit_step(end - stepper.current_time());
    stepper.do_step(system);
  }
  return stepper.current_state();
}

// Nonlinear, time-dependent, closed form: y0 = 1 / (1 + t^2), y1 = exp(sin t), coupled through y0 (1 + t^2)
// = 1.
const Rates<2> smooth_rates = [](const Two& y, Two& dydt, double t) {
  dydt[0] = -2 * t * y[0] * y[0];
  dydt[1] = y[1] * std::cos(t) * y[0] * (1 + t * t);
};
Two smooth_solution(double t) { return {1 / (1 + t * t), std::exp(std::sin(t))}; }

double distance(const Two& a, const Two& b) { return std::hypot(a[0] - b[0], a[1] - b[1]); }

struct FixedStepErrors {
  double end, between;
};

/// Errors with fixed steps up to t = 1: at the end, and the largest one inside the steps.
FixedStepErrors fixed_step_errors(int steps) {
  const double h = 1.0 / steps;
  auto stepper = unchecked_stepper<2>();
  Two y = smooth_solution(0), inside{};
  double between = 0;
  for (int i = 0; i < steps; ++i) {
    stepper.initialize(y, i * h, h);
    stepper.do_step(smooth_rates);
    for (const double share : {0.25, 0.5, 0.75}) {
      const double t = (i + share) * h;
      stepper.calc_state(t, inside);
      between = std::max(between, distance(inside, smooth_solution(t)));
    }
    y = stepper.current_state();
  }
  return {distance(y, smooth_solution(1)), between};
}

}  // namespace

namespace {

using Six = Eigen::Matrix<double, 6, 6>;
using SixVector = Eigen::Matrix<double, 6, 1>;
using bowrise::detail::Rodasp;

/// The method's matrices from its transformed coefficients. Hairer & Wanner II, IV.7 (7.24): with G that of
/// gamma_ij, C = I / gamma - G^-1 and A = alpha G^-1.
struct Untransformed {
  Six alpha, gamma;
};
Untransformed untransformed() {
  Six a = Six::Zero(), c = Six::Zero();
  for (int i = 0; i < 6; ++i)
    for (int j = 0; j < std::min(i, 5); ++j) {
      a(i, j) = Rodasp::a[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)];
      c(i, j) = Rodasp::c[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)];
    }
  const Six gamma = (Six::Identity() / Rodasp::gamma - c).inverse();
  return {a * gamma, gamma};
}

}  // namespace

// Same place: the time terms alpha_i and gamma_i are the row sums of both.
TEST_CASE("rosenbrock: the coefficients agree with each other", "[rosenbrock]") {
  const auto [alpha, gamma] = untransformed();
  for (int i = 0; i < 6; ++i) {
    CAPTURE(i);
    CHECK(gamma.row(i).sum() == Approx(Rodasp::gamma_row[static_cast<std::size_t>(i)]).margin(1e-13));
    CHECK(alpha.row(i).sum() == Approx(Rodasp::alpha[static_cast<std::size_t>(i)]).margin(1e-13));
  }
}

// Hairer & Wanner II, IV.7, table 7.1: conditions of order for weights b, with beta = alpha + gamma, written
// here with gamma on the diagonal of beta. Stiffly accurate: b is the last row of beta, the embedded method's
// the one before, which is also the last row of alpha. The last ones keep the order on stiff linear problems
// (Ostermann and Roche 1993; Steinebach 1995): b beta^j (2 beta^2 e - alpha^2) = 0.
TEST_CASE("rosenbrock: the coefficients meet the conditions of order four, of three, and of stiffness",
          "[rosenbrock]") {
  const auto [alpha, gamma] = untransformed();
  const Six beta = alpha + gamma;
  const SixVector one = SixVector::Ones(), sums = beta * one, nodes = alpha * one,
                  squares = nodes.cwiseAbs2();
  CHECK((alpha.row(5) - beta.row(4)).norm() < 1e-13);
  const auto meets_order_three = [&](const SixVector& b) {
    CHECK(b.sum() == Approx(1.0).margin(1e-13));
    CHECK(b.dot(sums) == Approx(1.0 / 2.0).margin(1e-13));
    CHECK(b.dot(squares) == Approx(1.0 / 3.0).margin(1e-13));
    CHECK(b.dot(beta * sums) == Approx(1.0 / 6.0).margin(1e-13));
  };
  const SixVector b = beta.row(5);
  meets_order_three(b);
  meets_order_three(beta.row(4));
  CHECK(b.dot(nodes.cwiseProduct(squares)) == Approx(1.0 / 4.0).margin(1e-13));
  CHECK(b.dot(nodes.cwiseProduct(alpha * sums)) == Approx(1.0 / 8.0).margin(1e-13));
  CHECK(b.dot(beta * squares) == Approx(1.0 / 12.0).margin(1e-13));
  CHECK(b.dot(beta * (beta * sums)) == Approx(1.0 / 24.0).margin(1e-13));
  SixVector rest = 2.0 * beta * sums - squares;
  for (int power = 0; power < 6; ++power) {
    CAPTURE(power);
    CHECK(std::abs(b.dot(rest)) < 1e-13);
    rest = (beta * rest).eval();
  }
}

// Hairer & Wanner II, IV.7: order 4. Halving the step must divide the error by about 2^4.
// Below 1e-10 the differences taken for df/dt, exact to 1e-8, add an error of first order: no shorter steps
// here.
TEST_CASE("rosenbrock: steps converge with order four", "[rosenbrock]") {
  for (const int steps : {16, 32}) {
    const double ratio = fixed_step_errors(steps).end / fixed_step_errors(2 * steps).end;
    CAPTURE(steps);
    CHECK(ratio > 13);
    CHECK(ratio < 20);
  }
}

// The same without time in the rates: it is a third component (a floor is left from the Jacobian, some
// 1e-12).
TEST_CASE("rosenbrock: order four on an autonomous equation", "[rosenbrock]") {
  const Rates<3> rates = [](const Three& y, Three& dydt, double) {
    Two smooth{};
    smooth_rates({y[0], y[1]}, smooth, y[2]);
    dydt = {smooth[0], smooth[1], 1.0};
  };
  const auto error = [&](int steps) {
    auto stepper = unchecked_stepper<3>();
    const Two start = smooth_solution(0);
    Three y{start[0], start[1], 0};
    for (int i = 0; i < steps; ++i) {
      stepper.initialize(y, 0, 1.0 / steps);
      stepper.do_step(rates);
      y = stepper.current_state();
    }
    return distance({y[0], y[1]}, smooth_solution(1));
  };
  for (const int steps : {16, 32, 64}) CHECK(error(steps) / error(2 * steps) == Approx(16).epsilon(0.1));
}

// Same place: dense output of order 3, so at least 2^3; global steps of order 4 do not spoil it.
TEST_CASE("rosenbrock: dense output converges with order three or better", "[rosenbrock]") {
  for (const int steps : {16, 32, 64}) {
    CAPTURE(steps);
    CHECK(fixed_step_errors(steps).between / fixed_step_errors(2 * steps).between > 7);
  }
}

TEST_CASE("rosenbrock: dense output meets both ends of the step", "[rosenbrock]") {
  auto stepper = unchecked_stepper<2>();
  stepper.initialize(smooth_solution(0.5), 0.5, 0.25);
  const auto [from, to] = stepper.do_step(smooth_rates);
  CHECK(from == 0.5);
  CHECK(to == 0.75);
  Two y{};
  stepper.calc_state(from, y);
  CHECK(y == stepper.previous_state());
  stepper.calc_state(to, y);
  CHECK(y == stepper.current_state());
}

// L-stable and stiffly accurate (Hairer & Wanner II, IV.7): on y' = -k (y - cos t) with h k = 1e5 a start far
// off the slow solution is damped at once, by R(infinity) = 0, and no later step swings about it.
TEST_CASE("rosenbrock: a stiff rate is damped without oscillation", "[rosenbrock]") {
  const double k = 1e6, h = 0.1;
  const Rates<1> rates = [k](const One& y, One& dydt, double t) { dydt[0] = -k * (y[0] - std::cos(t)); };
  auto stepper = unchecked_stepper<1>();
  One y{100.0};
  for (int i = 0; i < 20; ++i) {
    stepper.initialize(y, i * h, h);
    stepper.do_step(rates);
    y = stepper.current_state();
    // R(z) ~ c / z: a hundred is reduced by at least 1e-3 in the first step, and again after it.
    CHECK(std::abs(y[0] - std::cos((i + 1) * h)) < (i == 0 ? 0.1 : 1e-4));
  }
}

// What RODASP is for (Steinebach 1995; Hairer & Wanner II, IV.15 for the equation, Prothero and Robinson
// 1974): a quick component that follows a slow one, y0' = -k (y0 - sin y1) + cos y1, with h k from 250 up.
// Its error falls with the cube of the step; RODAS loses all but the first power here (measured: 2.2 a
// halving, 270 to 6000 times the error).
TEST_CASE("rosenbrock: what follows a slow component keeps order three", "[rosenbrock]") {
  const double k = 1e4;
  const Rates<2> rates = [k](const Two& y, Two& dydt, double) {
    dydt = {-k * (y[0] - std::sin(y[1])) + std::cos(y[1]), 1.0};
  };
  const auto largest_error = [&](int steps) {
    const double h = 1.0 / steps;
    auto stepper = unchecked_stepper<2>();
    Two y{std::sin(0.3), 0.3};
    double largest = 0;
    for (int i = 0; i < steps; ++i) {
      stepper.initialize(y, i * h, h);
      stepper.do_step(rates);
      y = stepper.current_state();
      largest = std::max(largest, std::abs(y[0] - std::sin(y[1])));
    }
    return largest;
  };
  for (const int steps : {5, 10, 20}) {
    CAPTURE(steps);
    CHECK(largest_error(steps) / largest_error(2 * steps) > 7);
  }
}

TEST_CASE("rosenbrock: a stiff rate does not limit the step", "[rosenbrock]") {
  // An explicit method is held to h k < 3, so to more than 600 000 steps.
  const Rates<1> rates = [](const One& y, One& dydt, double t) { dydt[0] = -1e6 * (y[0] - std::cos(t)); };
  Rosenbrock4DenseOutput<1> stepper(tolerance<1>(1e-6, 1e-6));
  const One y = solve(stepper, rates, One{0.0}, 2.0, 1e-7);
  CHECK(y[0] == Approx(std::cos(2.0)).margin(1e-5));
  CHECK(stepper.counters().steps < 100);
}

namespace {

void robertson(const Three& y, Three& dydt, double) {
  const double slow = 0.04 * y[0] - 1e4 * y[1] * y[2], fast = 3e7 * y[1] * y[1];
  dydt = {-slow, slow - fast, fast};
}

}  // namespace

// Robertson's kinetics, rates 0.04, 1e4, 3e7 (Hairer & Wanner II, IV.1 (1.4); the problem of CVODE's root
// example). At t = 40: 0.71582706, 9.1855e-6, as computed with SUNDIALS CVODE 6.4.1 and Boost.Odeint 1.74;
// digits cut, hence 1e-8.
TEST_CASE("rosenbrock: Robertson's problem", "[rosenbrock]") {
  auto settings = tolerance<3>(1e-10, 1e-12);
  settings.absolute_tolerance[1] = 1e-16;
  settings.typical_size = {1, 1e-5, 1};
  Rosenbrock4DenseOutput<3> stepper(settings);
  const Three y = solve(stepper, robertson, Three{1, 0, 0}, 40.0, 1e-6);
  CHECK(std::abs(y[0] - 0.71582706) < 1e-8);
  CHECK(std::abs(y[1] - 9.1855e-6) < 5e-11);
  CHECK(y[0] + y[1] + y[2] == Approx(1.0).epsilon(1e-12));  // mass is kept
}

// Van der Pol's equation with eps = 1e-6, y(0) = (2, 0): y(2) = (1.706167732170469, -0.8928097010248125).
// Test Set for IVP Solvers (Mazzia and Magherini, University of Bari), problem VDPOL [initial values and
// reference read].
TEST_CASE("rosenbrock: Van der Pol's relaxation oscillation", "[rosenbrock]") {
  const Rates<2> rates = [](const Two& y, Two& dydt, double) {
    dydt = {y[1], ((1 - y[0] * y[0]) * y[1] - y[0]) / 1e-6};
  };
  Rosenbrock4DenseOutput<2> stepper(tolerance<2>(1e-9, 1e-9));
  const Two y = solve(stepper, rates, Two{2, 0}, 2.0, 1e-6);
  CHECK(y[0] == Approx(1.706167732170469).epsilon(1e-9));
  CHECK(y[1] == Approx(-0.8928097010248125).epsilon(1e-9));
}

TEST_CASE("rosenbrock: the error follows the tolerance", "[rosenbrock]") {
  double last = 1;
  for (const double asked : {1e-4, 1e-6, 1e-8, 1e-10}) {
    Rosenbrock4DenseOutput<2> stepper(tolerance<2>(asked, asked));
    const double error =
        distance(solve(stepper, smooth_rates, smooth_solution(0), 3.0, 1e-3), smooth_solution(3));
    CAPTURE(asked, error);
    CHECK(error <
          10 * asked);  // about twenty steps whose errors add up, on a solution that does not magnify them
    CHECK(error < last / 10);
    last = error;
  }
}

TEST_CASE("rosenbrock: counters agree with the calls and rejects repeat no linearisation", "[rosenbrock]") {
  std::size_t calls = 0;
  const Rates<3> rates = [&calls](const Three& y, Three& dydt, double t) {
    ++calls;
    robertson(y, dydt, t);
  };
  Rosenbrock4DenseOutput<3> stepper(tolerance<3>(1e-6, 1e-9));
  solve(stepper, rates, Three{1, 0, 0}, 40.0, 10.0);  // a first step far too long
  const auto& counters = stepper.counters();
  CHECK(counters.rejected_steps > 0);
  CHECK(counters.rhs_calls == calls);
  CHECK(counters.jacobians == counters.steps);
  // at the start; per step: three columns, df/dt and its end; per trial: stages two to six
  CHECK(calls == 1 + counters.steps * 5 + (counters.steps + counters.rejected_steps) * 5);
}

TEST_CASE("rosenbrock: an inactive component costs no column and changes nothing", "[rosenbrock]") {
  // y1 is a distance: no rate depends on it.
  const Rates<2> rates = [](const Two& y, Two& dydt, double) { dydt = {1 - y[0] * y[0], y[0]}; };
  auto settings = tolerance<2>(1e-8, 1e-8);
  Rosenbrock4DenseOutput<2> full(settings);
  settings.active[1] = false;
  Rosenbrock4DenseOutput<2> reduced(settings);
  const Two a = solve(full, rates, Two{0, 0}, 3.0, 1e-3), b = solve(reduced, rates, Two{0, 0}, 3.0, 1e-3);
  CHECK(a == b);
  CHECK(b[1] == Approx(std::log(std::cosh(3.0))).epsilon(1e-7));  // v' = 1 - v^2: v = tanh t, x = ln cosh t
  CHECK(full.counters().rhs_calls - reduced.counters().rhs_calls == full.counters().steps);
}

TEST_CASE("rosenbrock: components that no rate reads may stand last and be left out of the equations",
          "[rosenbrock]") {
  // y1 and y2 follow y0: a distance, and a sum that knows time as well.
  const Rates<3> rates = [](const Three& y, Three& dydt, double t) {
    dydt = {1 - y[0] * y[0], y[0], y[0] * std::cos(t)};
  };
  auto settings = tolerance<3>(0, 1e30);
  settings.active = {true, false, false};
  Rosenbrock4DenseOutput<3> full(settings);
  Rosenbrock4DenseOutput<3, 1> reduced(settings);
  Three a{0, 0, 0}, b = a;
  for (int i = 0; i < 60; ++i) {
    full.initialize(a, 0.05 * i, 0.05);
    reduced.initialize(b, 0.05 * i, 0.05);
    full.do_step(rates);
    reduced.do_step(rates);
    a = full.current_state();
    b = reduced.current_state();
    for (std::size_t k = 0; k < 3; ++k) CHECK(b[k] == Approx(a[k]).epsilon(1e-12));
  }
  CHECK(reduced.counters().rhs_calls == full.counters().rhs_calls);
  CHECK(b[1] == Approx(std::log(std::cosh(3.0))).epsilon(1e-6));  // v' = 1 - v^2: v = tanh t, x = ln cosh t
}

TEST_CASE("rosenbrock: an autonomous system saves the call for df/dt", "[rosenbrock]") {
  struct Decay {
    bool is_autonomous;
    void operator()(const One& y, One& dydt, double) const { dydt[0] = -y[0]; }
    [[nodiscard]] bool autonomous() const { return is_autonomous; }
  };
  auto plain = unchecked_stepper<1>(), saving = unchecked_stepper<1>();
  plain.initialize({1}, 0, 0.1);
  plain.do_step(Decay{false});
  saving.initialize({1}, 0, 0.1);
  saving.do_step(Decay{true});
  CHECK(plain.current_state() == saving.current_state());
  CHECK(plain.counters().rhs_calls == 9);  // start, column, df/dt, stages two to six, end
  CHECK(saving.counters().rhs_calls == 8);
}

TEST_CASE("rosenbrock: at the edge of the domain differences are taken backwards", "[rosenbrock]") {
  const Rates<1> rates = [](const One& y, One& dydt, double) { dydt[0] = y[0] <= 1 ? -y[0] : not_a_number; };
  Rosenbrock4DenseOutput<1> stepper(tolerance<1>(1e-9, 1e-9));
  CHECK(solve(stepper, rates, One{1}, 1.0, 1e-3)[0] == Approx(std::exp(-1.0)).epsilon(1e-7));
}

TEST_CASE("rosenbrock: a rate not finite inside a trial shortens the step", "[rosenbrock]") {
  std::size_t refused = 0;
  const Rates<1> rates = [&refused](const One& y, One& dydt, double t) {
    refused += t > 10;
    dydt[0] = t > 10 ? not_a_number : -y[0];
  };
  Rosenbrock4DenseOutput<1> stepper(tolerance<1>(1e-6, 1e-6));
  stepper.initialize({1}, 0, 50);
  const auto [from, to] = stepper.do_step(rates);
  CHECK(refused > 0);
  CHECK(stepper.counters().rejected_steps > 0);
  CHECK(stepper.current_state()[0] == Approx(std::exp(-(to - from))).margin(1e-5));
}

TEST_CASE("rosenbrock: gives up with time, component and reason", "[rosenbrock]") {
  Rosenbrock4DenseOutput<2> stepper(tolerance<2>(1e-6, 1e-6));
  const auto failure = [&stepper](const Rates<2>& rates) {
    stepper.initialize({1, 1}, 0, 1e-2);
    try {
      for (int i = 0; i < 10'000; ++i) stepper.do_step(rates);
    } catch (const StepFailure& caught) {
      return caught;
    }
    return StepFailure(-1, 99, StepProblem::too_small);
  };
  SECTION("a rate that is not finite from some time on") {
    for (const double bad : {not_a_number, infinity}) {
      const StepFailure got = failure([bad](const Two& y, Two& dydt, double t) {
        dydt = {-y[0], t > 0.5 ? bad : -y[1]};
      });
      CHECK(got.reason == StepProblem::not_finite);
      CHECK(got.component_index == 1);
      CHECK(got.time == Approx(0.5).epsilon(1e-9));
      CHECK(stepper.current_state()[1] == Approx(std::exp(-0.5)).epsilon(1e-5));  // the last good state
    }
  }
  SECTION("finite-time blow-up: y' = y^2 from 1 leaves the numbers at t = 1") {
    const StepFailure got = failure([](const Two& y, Two& dydt, double) { dydt = {y[0] * y[0], 0}; });
    CHECK(got.component_index == 0);
    CHECK(got.time == Approx(1.0).epsilon(1e-4));
  }
}

TEST_CASE("rosenbrock: the small inverse agrees with Eigen's and exchanges rows", "[rosenbrock]") {
  bowrise::detail::SmallInverse<3> inverse;
  Eigen::Matrix3d matrix;
  matrix << 0, 2, 1, 4, 0, 0, 1, 3, 5;  // zero pivots unless rows are exchanged
  const Eigen::Vector3d b(1, -2, 3);
  inverse.invert(matrix);
  Eigen::Vector3d x = inverse.solve(b);
  CHECK((x - matrix.fullPivLu().solve(b)).norm() < 1e-14);

  matrix.row(2) = matrix.row(0);
  inverse.invert(matrix);
  x = inverse.solve(b);
  CHECK_FALSE(x.allFinite());
}
