#pragma once
/// A stiff time stepper for small systems: adaptive steps, dense output, no heap.
///
/// Method: RODASP, an L-stable and stiffly accurate Rosenbrock method with 6 stages, order 4 and an embedded
/// order 3, which keeps its order on stiff linear problems. Sources: G. Steinebach, Order-reduction of
/// ROW-methods for DAEs and method of lines applications, TH Darmstadt, preprint 1741, 1995 (the method); E.
/// Hairer and G. Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.7 (such
/// methods, transformed form (7.25)) and IV.10; coefficients as open solver libraries tabulate them, the
/// conditions they meet being tested. Why not RODAS itself: marks of the same accuracy cost a tenth more.
/// Dense output is Hermite's cubic through both ends and their rates for what is slow over the step, which is
/// nearer in long steps, and the method's own for the rest; both are of order 3. Steps called long in the
/// settings have Hermite's quintic, of order 5.
///
/// With u_i the transformed stages, h the step and W = I/(gamma h) - df/dy:
///
///     W u_i = f(t + alpha_i h, y + sum_j a_ij u_j) + (1/h) sum_j c_ij u_j + gamma_i h df/dt
///
/// The last stage u_6 is both the last increment and the error estimate. One step costs, when nothing is
/// rejected, 6 calls of the system, one for df/dt and, unless the system offers its Jacobian, one for each
/// active component.
#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>

#include "sim/floating_point.hpp"
#include "sim/rodas.hpp"
#include "sim/rosenbrock_types.hpp"
#include "sim/small_inverse.hpp"

namespace bowrise {

/// RODASP with step control and dense output, used like a dense-output stepper of Boost.Odeint:
/// `initialize`, then `do_step(system)` with `system(const State& y, State& dydt, double t)`, `calc_state`
/// inside the last step. Time runs forward only. No function allocates.
///
/// A system may also offer `bool autonomous() const`; when true the call for df/dt is saved. And it may offer
/// `base(y, dydt, t)` and `jacobian(slopes)`, together: the first is the call at the end of a step, the other
/// sets the slopes (an Eigen matrix of N rows and Read columns) of the rates there, which else are taken from
/// differences.
/// @tparam Read  rates read none but the first `Read` components: the others follow, and the equations to be
///   solved are as many as are read
template <std::size_t N, std::size_t Read = N>
class Rosenbrock4DenseOutput {
 public:
  using State = std::array<double, N>;

  /// A rate that is not finite is handled here (smaller step, then StepFailure): callers need not look.
  static constexpr bool handles_not_finite = true;

  explicit Rosenbrock4DenseOutput(const RosenbrockSettings<N>& settings = {}) : settings_(settings) {}

  /// Starts at (t, state) with first trial step dt > 0; forgets the step-size history, keeps the counters.
  void initialize(const State& state, double t, double dt) {
    assert(dt > 0);
    state_ = state;
    time_ = previous_time_ = t;
    step_ = dt;
    has_history_ = rate_known_ = false;
  }

  /// Makes one accepted step and returns its two ends.
  /// @throws StepFailure when no acceptable step exists; time and state are then those before the call.
  template <class System>
  std::pair<double, double> do_step(System&& system) {
    if (!rate_known_) {
      if (!base_rates(system, state_, time_, rate_)) fail_not_finite();
      rate_known_ = true;
    }
    differentiate_time(system);
    renew_jacobian(system);
    bool rejected = false;
    for (int trial = 0; trial < max_trials; ++trial) {
      if (time_ + step_ - time_ <= detail::few_ulps(time_)) break;
      try_step(system);
      if (error_ <= 1) {
        accept(system, rejected);
        return {previous_time_, time_};
      }
      rejected = true;
      ++counters_.rejected_steps;
      step_ /= std::isfinite(error_) ? std::max(step_divisor(error_), 1.1) : largest_divisor;
    }
    throw StepFailure(time_, worst_component_,
                      std::isfinite(error_) ? StepProblem::too_small : StepProblem::not_finite);
  }

  /// State at t in [previous_time(), current_time()], interpolated with order 3; needs a step made. The first
  /// call after a step works out what the interpolation needs: most steps are never looked into.
  void calc_state(double t, State& y) noexcept {
    if (!dense_known_) prepare_dense_output();
    const double h = time_ - previous_time_;
    assert(t >= previous_time_ - 1e-9 * h && t <= time_ + 1e-9 * h);
    const double s = (t - previous_time_) / h, r = 1 - s;
    for (std::size_t i = 0; i < N; ++i) {
      const auto k = static_cast<Eigen::Index>(i);
      y[i] = r * previous_state_[i] + s * (state_[i] + r * (dense_q_[k] + s * dense_r_[k]));
    }
    if (bent_) vector(y) += s * s * r * r * (r * bend_start_ + s * bend_end_);
  }

  [[nodiscard]] const State& current_state() const noexcept { return state_; }
  [[nodiscard]] const State& previous_state() const noexcept { return previous_state_; }
  [[nodiscard]] double current_time() const noexcept { return time_; }
  [[nodiscard]] double previous_time() const noexcept { return previous_time_; }
  /// Length of the next trial step.
  [[nodiscard]] double current_time_step() const noexcept { return step_; }
  /// Shortens the next trial step without forgetting the step-size history.
  void limit_step(double longest) noexcept { step_ = std::min(step_, longest); }
  [[nodiscard]] const StepperCounters& counters() const noexcept { return counters_; }

 private:
  static_assert(0 < Read && Read <= N);
  static constexpr auto size = static_cast<int>(N), read = static_cast<int>(Read);
  using Vector = Eigen::Matrix<double, size, 1>;
  using Matrix = Eigen::Matrix<double, size, read>;
  using ReadVector = typename detail::SmallInverse<Read>::Vector;
  using Method = detail::Rodasp;

  template <class System>
  static constexpr bool offers_jacobian = requires(System& system, const State& y, State& dydt, double t,
                                                   Matrix& slopes) {
    system.base(y, dydt, t);
    system.jacobian(slopes);
  };

  // Step-size limits and safety factor as in the authors' code: shrink to a fifth, grow sixfold at most.
  static constexpr double safety = 0.9, largest_divisor = 5.0, smallest_divisor = 1.0 / 6.0;
  static constexpr double slow_over_step = 1.0;  // |step * d(rate)/dy| of what Hermite's cubic reads
  static constexpr int max_trials = 60;

  static Eigen::Map<const Vector> vector(const State& y) { return Eigen::Map<const Vector>(y.data()); }
  static Eigen::Map<Vector> vector(State& y) { return Eigen::Map<Vector>(y.data()); }

  /// Calls the system unless the state has left the numbers; if either has, false and the component noted.
  template <class System>
  bool rates(System& system, const State& y, double t, State& dydt) {
    return checked(y, dydt, [&] { system(y, dydt, t); });
  }

  template <class Call>
  bool checked(const State& y, const State& dydt, const Call& call) {
    if (!detail::all_finite(y)) {
      worst_component_ = detail::first_not_finite(y);
      return false;
    }
    ++counters_.rhs_calls;
    call();
    if (detail::all_finite(dydt)) return true;
    worst_component_ = detail::first_not_finite(dydt);
    return false;
  }

  /// Rates at the end of a step, about which the Jacobian will be asked for next.
  template <class System>
  bool base_rates(System& system, const State& y, double t, State& dydt) {
    if constexpr (offers_jacobian<System>) {
      return checked(y, dydt, [&] { system.base(y, dydt, t); });
    } else {
      return rates(system, y, t, dydt);
    }
  }

  template <class System>
  void renew_jacobian(System& system) {
    if (!jacobian_offered(system)) {
      jacobian_.setZero();
      for (std::size_t j = 0; j < Read; ++j) {
        if (settings_.active[j]) differentiate(system, j);
      }
    }
    ++counters_.jacobians;
  }

  /// Whether the system has set a Jacobian that can be used.
  template <class System>
  bool jacobian_offered(System& system) {
    if constexpr (offers_jacobian<System>) {
      system.jacobian(jacobian_);
      return jacobian_.allFinite();
    } else {
      return false;
    }
  }

  /// Column j by a forward difference, by a backward one where the forward point has no finite rates.
  template <class System>
  void differentiate(System& system, std::size_t j) {
    const double increment = root_epsilon() * std::max(std::abs(state_[j]), settings_.typical_size[j]);
    stage_state_ = state_;
    for (const double signed_increment : {increment, -increment}) {
      stage_state_[j] = state_[j] + signed_increment;
      if (!rates(system, stage_state_, time_, stage_rate_)) continue;
      const double difference = stage_state_[j] - state_[j];  // as rounded
      jacobian_.col(static_cast<Eigen::Index>(j)) = (vector(stage_rate_) - vector(rate_)) / difference;
      return;
    }
    fail_not_finite();
  }

  template <class System>
  static bool is_autonomous(System& system) {
    if constexpr (requires { system.autonomous(); }) return system.autonomous();
    return false;
  }

  template <class System>
  void differentiate_time(System& system) {
    time_derivative_.setZero();
    if (is_autonomous(system)) return;
    const double increment = root_epsilon() * std::max(std::abs(time_), step_);
    for (const double signed_increment : {increment, -increment}) {
      const double t = time_ + signed_increment;
      if (!rates(system, state_, t, stage_rate_)) continue;
      time_derivative_ = (vector(stage_rate_) - vector(rate_)) / (t - time_);
      return;
    }
    fail_not_finite();
  }

  /// One trial of length step_: sets stages, new state and error_ (not finite when anything on the way was).
  template <class System>
  void try_step(System& system) {
    const double h = step_;
    error_ = std::numeric_limits<double>::quiet_NaN();
    invert(h);
// unrolled, so that the coefficients are constants: a quarter of the algebra
#pragma GCC unroll 6
    for (int i = 0; i < Method::stages; ++i) {
      stage_state_ = state_;
      const bool first = i == 0;
      accumulate_stage(i, h);
      if (!first && !rates(system, stage_state_, time_ + Method::alpha[row(i)] * h, stage_rate_)) return;
      stages_[row(i)] += vector(first ? rate_ : stage_rate_);
      solve(stages_[row(i)], h);
    }
    vector(stage_state_) += stages_[5];
    measure_error();
    if (error_ <= 1 && !base_rates(system, stage_state_, time_ + h, end_rate_))
      error_ = std::numeric_limits<double>::quiet_NaN();
  }

  void invert(double h) {
    shifted_ = -jacobian_.template topRows<read>();
    shifted_.diagonal().array() += 1 / (Method::gamma * h);
    inverse_.invert(shifted_);
  }

  /// Solves W u = b in place: first what is read, then what follows from it.
  void solve(Vector& b, double h) const {
    const ReadVector head = inverse_.solve(b.template head<read>());
    if constexpr (read < size) {
      b.template tail<size - read>() += jacobian_.template bottomRows<size - read>() * head;
      b.template tail<size - read>() *= Method::gamma * h;
    }
    b.template head<read>() = head;
  }

  /// Adds the a-sum to the stage state and starts the stage with its c-sum and time term.
  void accumulate_stage(int i, double h) {
    Vector a_sum = Vector::Zero(), c_sum = Vector::Zero();
#pragma GCC unroll 5
    for (int j = 0; j < i; ++j) {
      a_sum += Method::a[row(i)][row(j)] * stages_[row(j)];
      c_sum += Method::c[row(i)][row(j)] * stages_[row(j)];
    }
    vector(stage_state_) += a_sum;
    stages_[row(i)] = c_sum * (1 / h) + Method::gamma_row[row(i)] * h * time_derivative_;
  }

  /// Root mean square of error over tolerance.
  void measure_error() {
    const auto larger = vector(state_).cwiseAbs().cwiseMax(vector(stage_state_).cwiseAbs());
    const Vector ratio = stages_[5].cwiseQuotient(vector(settings_.absolute_tolerance) +
                                                  vector(settings_.relative_tolerance).cwiseProduct(larger));
    error_ = std::sqrt(ratio.squaredNorm() / static_cast<double>(N));
    if (error_ > 1) ratio.cwiseAbs().maxCoeff(&worst_component_);
    if (!detail::all_finite(stage_state_)) error_ = std::numeric_limits<double>::quiet_NaN();
  }

  /// Divisor of the step that would just meet the tolerance, with safety; the estimate is of order 3.
  static double step_divisor(double error) {
    return std::clamp(std::sqrt(std::sqrt(error)) / safety, smallest_divisor, largest_divisor);
  }

  /// Takes the trial; next step from the predictive controller (Gustafsson 1994; Hairer & Wanner II, IV.8).
  template <class System>
  void accept(System& system, bool after_reject) {
    double divisor = step_divisor(error_);
    if (has_history_) {
      const double trend = (accepted_step_ / step_) * std::sqrt(std::sqrt(error_ * error_ / accepted_error_));
      divisor = std::max(divisor, std::clamp(trend / safety, smallest_divisor, largest_divisor));
    }
    if (after_reject) divisor = std::max(divisor, 1.0);
    has_history_ = true;
    accepted_step_ = step_;
    accepted_error_ = std::max(0.01, error_);
    ++counters_.steps;
    previous_state_ = state_;
    previous_time_ = time_;
    previous_rate_ = rate_;
    state_ = stage_state_;
    rate_ = end_rate_;
    time_ += step_;
    dense_known_ = bent_ = false;
    if constexpr (offers_jacobian<System>) {
      if (step_ > settings_.long_step && is_autonomous(system)) bend_dense_output(system);
    }
    step_ /= divisor;
  }

  /// Hermite's cubic where the component itself changes slowly over the step; a quick one lies a little off
  /// its slow path at either end, where its rate is then large, and is read from the stages.
  void prepare_dense_output() {
    dense_q_.setZero();
    dense_r_.setZero();
    for (std::size_t j = 0; j < 5; ++j) {
      dense_q_ += Method::d_q[j] * stages_[j];
      dense_r_ += Method::d_r[j] * stages_[j];
    }
    for (std::size_t i = 0; i < N; ++i) {
      const auto k = static_cast<Eigen::Index>(i);
      if (!is_slow(i)) continue;
      const double rise = state_[i] - previous_state_[i];
      dense_q_[k] = accepted_step_ * previous_rate_[i] - rise;
      dense_r_[k] = 2 * rise - accepted_step_ * (previous_rate_[i] + rate_[i]);
    }
    dense_known_ = true;
  }

  [[nodiscard]] bool is_slow(std::size_t i) const {
    const auto k = static_cast<Eigen::Index>(i);
    return i >= Read || !(std::abs(jacobian_(k, k)) * accepted_step_ > slow_over_step);
  }

  /// In a long step the cubic of what is slow is bent to the second derivatives at both ends, which are
  /// slopes times rates where time is not in the rates. Out of line, because few steps are long.
  template <class System>
  [[gnu::noinline]] void bend_dense_output(System& system) {
    prepare_dense_output();
    bend_start_.setZero();
    bend_end_.setZero();
    Matrix end_jacobian;
    system.jacobian(end_jacobian);
    const Vector start = jacobian_ * vector(previous_rate_).template head<read>();
    const Vector end = end_jacobian * vector(rate_).template head<read>();
    bent_ = start.allFinite() && end.allFinite();
    const double half_square = 0.5 * accepted_step_ * accepted_step_;
    for (std::size_t i = 0; i < N; ++i) {
      if (!is_slow(i)) continue;
      const auto k = static_cast<Eigen::Index>(i);
      const double cubic_start = dense_r_[k] - dense_q_[k];  // halves of the cubic's own second derivatives
      const double cubic_end = cubic_start - 3 * dense_r_[k];
      bend_start_[k] = half_square * start[k] - cubic_start;
      bend_end_[k] = half_square * end[k] - cubic_end;
    }
  }

  [[noreturn]] void fail_not_finite() const {
    throw StepFailure(time_, worst_component_, StepProblem::not_finite);
  }

  static double root_epsilon() { return 0x1p-26; }  // square root of the machine epsilon 2^-52
  static constexpr std::size_t row(int i) { return static_cast<std::size_t>(i); }

  RosenbrockSettings<N> settings_;
  StepperCounters counters_;
  State state_{}, previous_state_{}, rate_{}, previous_rate_{}, stage_state_{}, stage_rate_{}, end_rate_{};
  double time_ = 0, previous_time_ = 0, step_ = 0;
  double error_ = 0, accepted_error_ = 1, accepted_step_ = 0;
  bool has_history_ = false, rate_known_ = false, dense_known_ = false, bent_ = false;
  std::size_t worst_component_ = 0;
  Matrix jacobian_ = Matrix::Zero();
  typename detail::SmallInverse<Read>::Matrix shifted_;
  Vector time_derivative_, dense_q_, dense_r_, bend_start_, bend_end_;
  std::array<Vector, Method::stages> stages_;
  detail::SmallInverse<Read> inverse_;
};

}  // namespace bowrise
