#pragma once
/// Drives a dense-output stepper over known stops, locates guards, and hands rows and events to a sink.
///
/// It knows no model. The stepper is ours (sim/rosenbrock.hpp) or one of Boost.Odeint's `make_dense_output`.
///
/// Stops.  Known times at which the right-hand side changes its law; the last one is the end. Segment k runs
///   up to stop k, which is hit exactly, and the right-hand side is told its segment: it never compares t
///   with a stop. Stops may be known beforehand or named one by one, each from the state at the last.
/// Guards. See sim/guards.hpp. One that jumps at a stop (its law may change there) fires at the stop.
/// Rows.   At start + k * output_step from dense output, and at the ending time; output never changes the
///   steps. A row or event at a stop belongs to the segment that ends there.
/// Order.  Rows and events reach the sink in order of time (a row before an event of the same time), then
///   the step.
#include <algorithm>
#include <array>
#include <boost/numeric/odeint/util/odeint_error.hpp>
#include <cassert>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <limits>
#include <optional>
#include <span>
#include <stdexcept>

#include "sim/floating_point.hpp"
#include "sim/guards.hpp"
#include "sim/integrate_types.hpp"
#include "sim/rosenbrock.hpp"
#include "sim/watched_rates.hpp"

namespace bowrise {

/// Receives the run. `event` may answer Then::stop to end it. Optional members: `step(t, state)` after each
/// accepted step (the last one cut at the ending time) and `begin_segment(std::size_t)`. It never sees a
/// value not finite.
template <class Sink, class State>
concept RunSink = requires(Sink& sink, double t, const State& state, std::size_t guard) {
  sink.row(t, state);
  { sink.event(guard, t, state) } -> std::same_as<Then>;
};

namespace detail {

/// One run; see the head of this file. Functions returning bool say whether the run goes on.
template <class Stepper, class RatesForSegment, std::size_t N, class Guards, class Sink>
class Integration {
 public:
  using State = std::array<double, N>;

  Integration(Stepper& stepper, RatesForSegment& rates_for_segment, const State& y0, double t0,
              Guards& guards, Sink& sink, const IntegrateOptions& options)
      : stepper_(stepper),
        rates_for_segment_(rates_for_segment),
        guards_(guards),
        sink_(sink),
        options_(options),
        watch_(guards, options.probes),
        start_(t0),
        time_(t0),
        state_(y0) {}

  template <class NextStop>
  EndingAt<State> run(NextStop& next_stop) {
    const StepperCounters before = stepper_counters();
    if (all_finite(state_)) {
      run_segments(next_stop);
    } else {
      fail(EndReason::failed_not_finite, first_not_finite(state_));
    }
    const StepperCounters after = stepper_counters();
    counters_.rejected_steps += after.rejected_steps - before.rejected_steps;
    counters_.jacobians = after.jacobians - before.jacobians;
    counters_.guard_probes = watch_.probes();
    return {{reason_, time_, index_, counters_}, state_};
  }

 private:
  template <class NextStop>
  void run_segments(NextStop& next_stop) {
    try {
      for (std::size_t segment = 0;; ++segment) {
        const std::optional<double> stop = next_stop(segment, time_, state_);
        if (!stop || !enter(segment) || !run_segment(segment, *stop)) break;
      }
    } catch (const GuardNotFinite& not_finite) {
      fail(EndReason::failed_guard_not_finite, not_finite.guard);
    }
    if (rows_wanted() && time_ - last_row_time_ > few_ulps(time_)) emit_row(time_, state_);
  }

  bool enter(std::size_t segment) {
    if constexpr (requires { sink_.begin_segment(segment); }) sink_.begin_segment(segment);
    if constexpr (requires { guards_.begin_segment(segment); }) guards_.begin_segment(segment);
    if (segment == 0 && rows_wanted()) emit_row(start_, state_);
    for (const LocatedGuard& jump : watch_.enter(time_, state_)) {
      if (!emit_event(jump, state_)) return false;
    }
    return true;
  }

  bool run_segment(std::size_t segment, double stop) {
    auto rates = rates_for_segment_(segment);
    const WatchedRates<Stepper, decltype(rates)> watched(rates, counters_.rhs_calls, options_.max_rhs_calls);
    if (stop - time_ > few_ulps(stop)) {
      const double resumed = options_.restart_step > 0 ? options_.restart_step : wanted_step_;
      const double first = segment > 0 && resumed > 0 ? resumed : options_.initial_step;
      stepper_.initialize(state_, time_, std::min({first, options_.max_step, stop - time_}));
    }
    while (stop - time_ > few_ulps(stop)) {
      limit_next_step(stop - time_);
      if (!step(watched) || !deliver(stop)) return false;
    }
    time_ = stop;
    return true;
  }

  /// Keeps a step within the stop and the longest step allowed; Odeint's steppers must be
  /// started anew for that.
  void limit_next_step(double remaining) {
    double longest = std::min(options_.max_step, remaining);
    if constexpr (requires { guards_.longest_step(); }) longest = std::min(longest, guards_.longest_step());
    wanted_step_ = stepper_.current_time_step();
    if (stepper_.current_time_step() <= longest) return;
    if constexpr (requires { stepper_.limit_step(longest); }) {
      stepper_.limit_step(longest);
    } else {
      stepper_.initialize(state_, time_, longest);
    }
  }

  template <class Watched>
  bool step(const Watched& rates) {
    if (counters_.steps >= options_.max_steps) return fail(EndReason::failed_too_many_steps);
    while (true) {
      try {
        stepper_.do_step(rates);
        return true;
      } catch (const StepFailure& failure) {
        const bool not_finite = failure.reason == StepProblem::not_finite;
        return fail(not_finite ? EndReason::failed_not_finite : EndReason::failed_step_too_small,
                    failure.component_index);
      } catch (const RateNotFinite& not_finite) {
        if (!retry_shorter()) return fail(EndReason::failed_not_finite, not_finite.component);
      } catch (const TooManyCalls&) {
        return fail(EndReason::failed_too_many_steps);
      } catch (const boost::numeric::odeint::step_adjustment_error&) {
        return fail(EndReason::failed_step_too_small);
      }
    }
  }

  /// After a rate that is not finite inside a trial of a stepper that does not handle it.
  bool retry_shorter() {
    ++counters_.rejected_steps;
    const double shorter = stepper_.current_time_step() / 8;
    if (shorter <= few_ulps(time_)) return false;
    stepper_.initialize(state_, time_, shorter);
    return true;
  }

  /// Checks the step just made and hands on what lies in it.
  bool deliver(double stop) {
    const double t1 =
        std::abs(stepper_.current_time() - stop) <= few_ulps(stop) ? stop : stepper_.current_time();
    if (t1 != stop && t1 - time_ <= few_ulps(t1)) return fail(EndReason::failed_step_too_small);
    if (const std::size_t i = first_not_finite(stepper_.current_state()); i < N) {
      return fail(EndReason::failed_not_finite, i);
    }
    ++counters_.steps;
    const auto state_inside = [this](double t) { return state_at(t); };
    const auto passed = [this](const LocatedGuard& found) {
      emit_rows_through(found.time);
      const State state = state_at(found.time);
      if (emit_event(found, state)) return true;
      finish_step(found.time, state);
      return false;
    };
    if (!watch_.look(time_, t1, state_inside, passed)) return false;
    emit_rows_through(t1);
    finish_step(t1, stepper_.current_state());
    return true;
  }

  /// State inside the last step, which is the only place where dense output holds.
  [[nodiscard]] State state_at(double t) {
    assert(t >= stepper_.previous_time());
    if (t >= stepper_.current_time()) return stepper_.current_state();
    State state;
    stepper_.calc_state(t, state);
    return state;
  }

  void finish_step(double t, const State& state) {
    time_ = t;
    state_ = state;
    if constexpr (requires { sink_.step(t, state); }) sink_.step(time_, state_);
  }

  [[nodiscard]] bool rows_wanted() const noexcept { return options_.output_step > 0; }

  void emit_rows_through(double t) {
    if (!rows_wanted()) return;
    while (true) {
      const double grid_time = start_ + static_cast<double>(next_row_) * options_.output_step;
      if (grid_time > t) return;
      emit_row(grid_time, state_at(grid_time));
    }
  }

  void emit_row(double t, const State& state) {
    ++next_row_;
    ++counters_.rows;
    last_row_time_ = t;
    sink_.row(t, state);
  }

  bool emit_event(const LocatedGuard& found, const State& state) {
    const Then answer = sink_.event(found.guard, found.time, state);
    if (answer == Then::record && watch_.then(found.guard) == Then::record) return true;
    reason_ = EndReason::stopped_by_guard;
    index_ = found.guard;
    return false;
  }

  bool fail(EndReason reason, std::size_t index = Ending::no_index) {
    reason_ = reason;
    index_ = index;
    return false;
  }

  [[nodiscard]] StepperCounters stepper_counters() const {
    if constexpr (requires { stepper_.counters(); }) return stepper_.counters();
    return {};
  }

  Stepper& stepper_;
  RatesForSegment& rates_for_segment_;
  Guards& guards_;
  Sink& sink_;
  const IntegrateOptions& options_;
  GuardWatch<Guards, State> watch_;
  double start_, time_;
  State state_;
  std::size_t next_row_ = 0;  // number on the grid
  double last_row_time_ = 0;
  double wanted_step_ = 0;  // what the step control would go on with if no stop were near
  IntegrationCounters counters_;
  EndReason reason_ = EndReason::reached_end;
  std::size_t index_ = Ending::no_index;
};

inline void require_sound(const IntegrateOptions& options) {
  if (!(options.initial_step > 0) || !(options.restart_step >= 0) || !(options.max_step > 0)) {
    throw std::invalid_argument("integrate: steps must be positive");
  }
  if (!(options.probes.spacing > 0) ||
      (std::isfinite(options.probes.spacing) && !std::isfinite(options.max_step))) {
    throw std::invalid_argument(
        "integrate: a spacing of probes must be positive and asks for a longest step");
  }
}

inline void require_sound(double t0, std::span<const double> stops, const IntegrateOptions& options) {
  if (stops.empty()) throw std::invalid_argument("integrate: no stop");
  double last = t0;
  for (const double stop : stops) {
    if (!(stop >= last) || !std::isfinite(stop))
      throw std::invalid_argument("integrate: stops must ascend from t0");
    last = stop;
  }
  require_sound(options);
}

}  // namespace detail

/// Integrates y from (t0, y0) through the stops to the last of them, or to a guard that
/// stops, or to a failure.
/// @param stepper  Rosenbrock4DenseOutput<N> or an Odeint dense-output stepper on std::array<double, N>
/// @param rates_for_segment  called as (std::size_t segment) -> callable (y, dydt, t), valid for that segment
/// @param stops  ascending, not before t0, at least one; equal ones make an empty segment
/// @param guards  see GuardSet; NoGuards if there are none
/// @param sink  see RunSink
/// @throws std::invalid_argument for stops or options that make no sense, before anything is done; what the
///   callbacks throw passes through. Failures of the computation are endings, not exceptions.
/// Allocates a fixed number of times before the first step if there are guards, never after.
template <class Stepper, class RatesForSegment, std::size_t N, class Guards, class Sink>
requires GuardSet<Guards, std::array<double, N>> && RunSink<Sink, std::array<double, N>>
[[nodiscard]] EndingAt<std::array<double, N>> integrate(Stepper& stepper, RatesForSegment&& rates_for_segment,
                                                        const std::array<double, N>& y0, double t0,
                                                        std::span<const double> stops, Guards& guards,
                                                        Sink& sink, const IntegrateOptions& options = {}) {
  detail::require_sound(t0, stops, options);
  const auto known = [stops](std::size_t segment, double, const std::array<double, N>&) {
    return segment < stops.size() ? std::optional(stops[segment]) : std::nullopt;
  };
  return detail::Integration<Stepper, RatesForSegment, N, Guards, Sink>(stepper, rates_for_segment, y0, t0,
                                                                        guards, sink, options)
      .run(known);
}

/// Names the stops of a run one by one: called as (segment, t, state) where the segment begins, before the
/// right-hand side and the guards are told of it; answers where it ends, not before t, or nothing when the
/// run is over.
template <class NextStop, class State>
concept StopSource = requires(NextStop& next, double t, const State& state) {
  { next(std::size_t{}, t, state) } -> std::same_as<std::optional<double>>;
};

/// The same with stops that are not known beforehand.
template <class Stepper, class RatesForSegment, std::size_t N, class NextStop, class Guards, class Sink>
requires StopSource<NextStop, std::array<double, N>> && GuardSet<Guards, std::array<double, N>> &&
    RunSink<Sink, std::array<double, N>>
[[nodiscard]] EndingAt<std::array<double, N>> integrate(Stepper& stepper, RatesForSegment&& rates_for_segment,
                                                        const std::array<double, N>& y0, double t0,
                                                        NextStop& next_stop, Guards& guards, Sink& sink,
                                                        const IntegrateOptions& options = {}) {
  detail::require_sound(options);
  return detail::Integration<Stepper, RatesForSegment, N, Guards, Sink>(stepper, rates_for_segment, y0, t0,
                                                                        guards, sink, options)
      .run(next_stop);
}

}  // namespace bowrise
