#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <stdexcept>

#include "sim/evaluate.hpp"
#include "sim/stepper_settings.hpp"
#include "tools/bench/marks.hpp"

namespace bowrise::bench {
namespace {

struct Problem {
  const Craft* craft;
  const LeverSegment* lever;
  StateArray relative_tolerance;
};

StateArray values_of(N_Vector vector) {
  StateArray values;
  std::copy_n(N_VGetArrayPointer(vector), state_size, values.begin());
  return values;
}

void set_values(N_Vector vector, const StateArray& values) {
  std::copy(values.begin(), values.end(), N_VGetArrayPointer(vector));
}

int rates_for_cvode(double t, N_Vector y, N_Vector dydt, void* data) {
  const auto& problem = *static_cast<const Problem*>(data);
  set_values(dydt, to_array(rates(*problem.craft, *problem.lever, t, to_state(values_of(y)))));
  return 0;
}

int weights_for_cvode(N_Vector y, N_Vector weights, void* data) {
  const auto& problem = *static_cast<const Problem*>(data);
  const StateArray values = values_of(y), sizes = to_array(typical_state);
  StateArray result;
  for (std::size_t i = 0; i < state_size; ++i)
    result[i] = 1.0 / (problem.relative_tolerance[i] * (sizes[i] + std::abs(values[i])));
  set_values(weights, result);
  return 0;
}

int marks_for_cvode(double, N_Vector y, double* out, void*) {
  const auto past = past_marks(to_state(values_of(y)));
  std::copy(past.begin(), past.end(), out);
  return 0;
}

/// CVODE's objects for one solution; its calls answer below zero when they fail.
class CvodeSolver {
 public:
  CvodeSolver(const Craft& craft, Multistep method, ErrorWeights weights, double tolerance)
      : problem_{&craft, &craft.lever.front(), {}} {
    problem_.relative_tolerance.fill(tolerance);
    if (weights == ErrorWeights::shared)
      problem_.relative_tolerance = rosenbrock_settings(craft, tolerance).relative_tolerance;
    require(SUNContext_Create(nullptr, &context_));
    state_ = N_VNew_Serial(state_size, context_);
    set_values(state_, to_array(craft.start));
    memory_ = CVodeCreate(method == Multistep::bdf ? CV_BDF : CV_ADAMS, context_);
    require(CVodeInit(memory_, rates_for_cvode, 0.0, state_));
    require(CVodeSetUserData(memory_, &problem_));
    require(CVodeWFtolerances(memory_, weights_for_cvode));
    matrix_ = SUNDenseMatrix(state_size, state_size, context_);
    linear_ = SUNLinSol_Dense(state_, matrix_, context_);
    require(CVodeSetLinearSolver(memory_, linear_, matrix_));
    require(CVodeSetMaxNumSteps(memory_, 1'000'000));
    require(CVodeRootInit(memory_, mark_count, marks_for_cvode));
    const std::array<int, mark_count> rising{1, 1, 1, 1};
    require(CVodeSetRootDirection(memory_, const_cast<int*>(rising.data())));
    require(CVodeSetNoInactiveRootWarn(memory_));
  }
  CvodeSolver(const CvodeSolver&) = delete;
  CvodeSolver& operator=(const CvodeSolver&) = delete;
  ~CvodeSolver() {
    CVodeFree(&memory_);
    SUNLinSolFree(linear_);
    SUNMatDestroy(matrix_);
    N_VDestroy(state_);
    SUNContext_Free(&context_);
  }

  Solved solve() {
    const std::vector<LeverSegment>& lever = problem_.craft->lever;
    Solved solved;
    double t = 0.0;
    for (std::size_t segment = 0; segment < lever.size(); ++segment) {
      problem_.lever = &lever[segment];
      const double stop = segment + 1 < lever.size() ? lever[segment + 1].start_s : duration_s;
      if (segment > 0) restart(t, solved);
      require(CVodeSetStopTime(memory_, stop));
      while (t < stop) advance(stop, t, solved);
    }
    count(solved);
    solved.end = to_state(values_of(state_));
    return solved;
  }

 private:
  static void require(int answer) {
    if (answer < 0) throw std::runtime_error("CVODE gave up with " + std::to_string(answer));
  }

  void restart(double t, Solved& solved) {
    count(solved);
    require(CVodeReInit(memory_, t, state_));
  }

  void advance(double stop, double& t, Solved& solved) {
    const int answer = CVode(memory_, stop, state_, &t, CV_NORMAL);
    require(answer);
    if (answer != CV_ROOT_RETURN) return;
    std::array<int, mark_count> found{};
    require(CVodeGetRootInfo(memory_, found.data()));
    for (std::size_t i = 0; i < mark_count; ++i)
      if (found[i] != 0) solved.mark_s[i] = t;
  }

  void count(Solved& solved) const {
    long steps = 0, calls = 0, jacobian_calls = 0;
    require(CVodeGetNumSteps(memory_, &steps));
    require(CVodeGetNumRhsEvals(memory_, &calls));
    require(CVodeGetNumLinRhsEvals(memory_, &jacobian_calls));
    solved.steps += static_cast<std::size_t>(steps);
    solved.rhs_calls += static_cast<std::size_t>(calls + jacobian_calls);
  }

  Problem problem_;
  SUNContext context_ = nullptr;
  N_Vector state_ = nullptr;
  void* memory_ = nullptr;
  SUNMatrix matrix_ = nullptr;
  SUNLinearSolver linear_ = nullptr;
};

}  // namespace

Solved solve_with_cvode(const Craft& craft, Multistep method, ErrorWeights weights, double tolerance) {
  return CvodeSolver(craft, method, weights, tolerance).solve();
}

}  // namespace bowrise::bench
