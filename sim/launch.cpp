#include "sim/launch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>

#include "models/constants.hpp"
#include "sim/instants.hpp"
#include "sim/integrate.hpp"
#include "sim/lever_plan.hpp"
#include "sim/stepper_settings.hpp"

namespace bowrise {
namespace {

constexpr double steady_for_s = 0.5;  // top speed: this long without acceleration
constexpr double stalled_rad_s = 300.0 * pi / 30.0;
constexpr double least_top_speed_m_s = 3.0;  // a craft still at rest has not reached its top speed
constexpr double probe_spacing_s = 0.35;     // events closer together may be lost
static_assert(probe_spacing_s < steady_for_s,
              "the end is looked for at a probe after the one that sees its cause");

bool is_mark(EventKind kind) { return kind == EventKind::speed_mark || kind == EventKind::distance_mark; }

/// Guards, sums and rows of one run; the integrator sees it as guard set and sink.
class Watch {
 public:
  Watch(const Craft& craft, const Run& run, const LaunchOptions& options, const LeverPlan& plan,
        Instants& instants, Launch& out)
      : craft_(craft), options_(options), plan_(plan), instants_(instants), out_(out) {
    out_.event_rows = launch_events(run);
    for (const EventRow& row : out_.event_rows) {
      rules_.push_back({row.direction, Then::record});
      mark_ahead_.push_back(is_mark(row.kind));
    }
    steady_end_ = rules_.size();
    rules_.push_back({Crossing::rising, options.stop_at_top_speed ? Then::stop : Then::record});
    stalled_ = rules_.size();
    rules_.push_back({Crossing::falling, options.stop_when_stalled ? Then::stop : Then::record});
    rest_ = rules_.size();
    rules_.push_back({Crossing::falling, Then::stop});
  }

  void begin_segment(std::size_t segment) { segment_ = segment; }
  [[nodiscard]] double longest_step() const {
    const bool any_ahead = std::find(mark_ahead_.begin(), mark_ahead_.end(), true) != mark_ahead_.end();
    return any_ahead ? longest_step_to_a_mark_s : longest_step_s;
  }
  [[nodiscard]] std::span<const GuardRule> rules() const { return rules_; }
  [[nodiscard]] LaunchEnd end_at(std::size_t guard) const {
    return guard == stalled_ ? LaunchEnd::engine_stalled
           : guard == rest_  ? LaunchEnd::at_rest
                             : LaunchEnd::top_speed;
  }

  void guard_values(double t, const StateArray& values, std::span<double> out) {
    const State state = to_state(values);
    const Instant& now = instants_.at(segment_, t, values);
    const WatchedValues watched = watched_values(state, now);
    for (std::size_t i = 0; i < steady_end_; ++i) out[i] = out_.event_rows[i].over_threshold(watched);
    for (std::size_t i = steady_end_; i < out.size(); ++i) out[i] = own_value(i, t, state);
    if (t >= tallied_until_) tally(t, state, now);
  }

  /// The search for an event asks for one value many times: no need to evaluate all the physics.
  double guard_value(std::size_t guard, double t, const StateArray& values) {
    const State state = to_state(values);
    if (guard >= steady_end_) return own_value(guard, t, state);
    const EventRow& row = out_.event_rows[guard];
    return row.over_threshold(
        watched_values(state, instants_.read_by(reads_of(row.watched), segment_, t, values)));
  }

  void row(double t, const StateArray& values) {
    const State state = to_state(values);
    out_.rows.push_back({t, state, instants_.at(segment_, t, values), false});
  }

  Then event(std::size_t guard, double t, const StateArray& values) {
    if (guard >= steady_end_) return Then::record;
    mark_ahead_[guard] = false;
    const State state = to_state(values);
    const EventRow& row = out_.event_rows[guard];
    if (options_.row_step_s > 0.0) out_.rows.push_back({t, state, instants_.at(segment_, t, values), true});
    if (is_mark(row.kind)) {  // changes nothing, so the physics there need not be known
      out_.events.push_back({guard, t, true, state, limit_before()});
      return Then::record;
    }
    const Instant& now = instants_.at(segment_, t, values);
    const bool rising = row.direction == Crossing::both
                            ? row.over_threshold(watched_values(state, now)) >= 0.0
                            : row.direction == Crossing::rising;
    out_.events.push_back({guard, t, rising, state, now.limited_by});
    if (row.kind == EventKind::steady_speed) note_steady(t, state, rising);
    return Then::record;
  }

  /// The last probes may lie beyond a stop found inside their step: what they added there is taken back.
  void close(double end_s) {
    Tally& sum = out_.tally;
    const double beyond = std::max(tallied_until_ - end_s, 0.0);
    sum.wear.erosion_index_s = std::max(sum.wear.erosion_index_s - last_rate_.erosion_index_s * beyond, 0.0);
    sum.wear.grit_index_s = std::max(sum.wear.grit_index_s - last_rate_.grit_index_s * beyond, 0.0);
    for (std::size_t i = 0; i < flag_count; ++i)
      if (last_flags_.has(static_cast<Flag>(i)))
        sum.flag_time_s[i] = std::max(sum.flag_time_s[i] - beyond, 0.0);
  }

 private:
  // Of the guards behind the table.
  [[nodiscard]] double own_value(std::size_t guard, double t, const State& state) const {
    if (guard == steady_end_) return slow_since_ ? t - *slow_since_ - steady_for_s : -steady_for_s;
    if (guard == stalled_) return state.shaft_speed_rad_s - stalled_rad_s;
    return options_.rest_speed_m_s > 0.0 ? state.speed_m_s - options_.rest_speed_m_s : 1.0;
  }

  [[nodiscard]] Limit limit_before() const {
    return out_.events.empty() ? out_.first_limit : out_.events.back().limit_after;
  }

  void note_steady(double t, const State& state, bool accelerating) {
    slow_since_.reset();
    if (!accelerating && plan_.is_last(segment_) && state.speed_m_s > least_top_speed_m_s) slow_since_ = t;
  }

  void tally(double t, const State& state, const Instant& now) {
    Tally& sum = out_.tally;
    const auto peak = [t](double value, double& best, double& when) {
      if (value > best) {
        best = value;
        when = t;
      }
    };
    peak(now.rate.speed_m_s, sum.peak_acceleration_m_s2, sum.peak_acceleration_time_s);
    peak(now.thrust_N, sum.peak_thrust_N, sum.peak_thrust_time_s);
    peak(state.shaft_speed_rad_s, sum.peak_shaft_speed_rad_s, sum.peak_shaft_speed_time_s);
    peak(state.trim_rad, sum.peak_trim_rad, sum.peak_trim_time_s);
    sum.peak_jet_speed_m_s = std::max(sum.peak_jet_speed_m_s, now.jet_speed_m_s);

    const double tip_speed = 0.5 * craft_.bore_m * state.shaft_speed_rad_s;
    const WearExposure rate = exposure_rate(craft_.wear, 1.0 - now.head_factor, tip_speed);
    const double span = t - tallied_until_;
    sum.wear.erosion_index_s += 0.5 * (rate.erosion_index_s + last_rate_.erosion_index_s) * span;
    sum.wear.grit_index_s += 0.5 * (rate.grit_index_s + last_rate_.grit_index_s) * span;
    FlagSet raised = now.flags;
    raised |= last_flags_;
    for (std::size_t i = 0; i < flag_count && !raised.none(); ++i) {
      const auto flag = static_cast<Flag>(i);
      const int ends_raised = (now.flags.has(flag) ? 1 : 0) + (last_flags_.has(flag) ? 1 : 0);
      sum.flag_time_s[i] += 0.5 * ends_raised * span;
    }
    last_flags_ = now.flags;
    last_rate_ = rate;
    tallied_until_ = t;
  }

  const Craft& craft_;
  const LaunchOptions& options_;
  const LeverPlan& plan_;
  Instants& instants_;
  Launch& out_;
  std::vector<GuardRule> rules_;
  std::vector<bool> mark_ahead_;  // of each event
  std::size_t segment_ = 0, steady_end_ = 0, stalled_ = 0, rest_ = 0;
  std::optional<double> slow_since_;
  double tallied_until_ = 0.0;
  WearExposure last_rate_;
  FlagSet last_flags_;
};

std::string describe_failure(const Ending& ending, const StateArray& values) {
  const State state = to_state(values);
  const std::string where =
      ending.index < state_size ? std::string(state_names[ending.index]) : std::string("an event");
  const auto what = [&]() -> std::string {
    switch (ending.reason) {
      case EndReason::failed_not_finite:
      case EndReason::failed_guard_not_finite:
        return where + " became non-finite";
      case EndReason::failed_step_too_small:
        return "the time step became too small, " + where + " changes too fast";
      default:
        return "too many steps";
    }
  }();
  return fmt::format("launch failed at t = {:.6f} s, speed {:.3f} m/s, {:.0f} rpm: {}", ending.time,
                     state.speed_m_s, state.shaft_speed_rad_s * rpm_per_rad_s, what);
}

template <class Stepper>
void run_with(Stepper& stepper, const Craft& craft, const Run& run, const LaunchOptions& options,
              Launch& out) {
  LeverPlan plan(craft, options.duration_s, out.lever);
  Instants instants(craft, out.lever);
  Watch watch(craft, run, options, plan, instants, out);
  IntegrateOptions settings;
  settings.initial_step = first_step_s;
  settings.max_step = longest_step_s;
  settings.probes = {.interior = 0, .spacing = probe_spacing_s, .located_within = located_within_s};
  settings.output_step = options.row_step_s;
  settings.max_steps = 200'000;
  if (is_feedback(craft.throttle.plan)) settings.restart_step = craft.throttle.decision_time_s;
  const auto rates_for = [&](std::size_t segment) { return SegmentRates(craft, instants, segment); };
  const auto ending = integrate(stepper, rates_for, to_array(craft.start), 0.0, plan, watch, watch, settings);
  watch.close(ending.time);
  out.counters = ending.counters;
  out.end_time_s = ending.time;
  out.end_state = to_state(ending.state);
  if (ending.failed()) {
    out.end = LaunchEnd::failed;
    out.failure = describe_failure(ending, ending.state);
  } else if (ending.reason == EndReason::stopped_by_guard) {
    out.end = watch.end_at(ending.index);
  } else {
    out.end = LaunchEnd::duration;
  }
}

}  // namespace

Launch launch(const Craft& craft, const Run& run, const LaunchOptions& options) {
  Launch out{};
  out.first_limit = evaluate(craft, craft.lever.front(), 0.0, craft.start).limited_by;
  if (options.method == Method::rosenbrock) {
    with_rosenbrock(craft, options.tolerance,
                    [&](auto& stepper) { run_with(stepper, craft, run, options, out); });
  } else {
    using boost::numeric::odeint::make_dense_output;
    using boost::numeric::odeint::runge_kutta_dopri5;
    auto stepper =
        make_dense_output(options.tolerance * 1e-2, options.tolerance, runge_kutta_dopri5<StateArray>());
    run_with(stepper, craft, run, options, out);
  }
  return out;
}

Launch coast_down(const Craft& craft, const Run& run, const LaunchOptions& options, const State& from) {
  constexpr double longest_coast_s = 300.0;
  Craft coasting = craft;
  coasting.start = from;
  coasting.idle_air_path = 0.0;
  const double open = from.air_path;
  const double hand_1_s = craft.throttle.hand_rate_1_s;
  coasting.throttle.plan = Plan::table;  // known beforehand
  coasting.lever = {{0.0, open, -hand_1_s}, {open / hand_1_s, 0.0, 0.0}};
  LaunchOptions to_rest = options;
  to_rest.duration_s = longest_coast_s;
  to_rest.stop_at_top_speed = to_rest.stop_when_stalled = false;
  to_rest.rest_speed_m_s = at_rest_m_s;
  return launch(coasting, run, to_rest);
}

void append(Launch& run, const Launch& coast) {
  const double start_s = run.end_time_s;
  for (TraceRow row : coast.rows) {
    row.time_s += start_s;
    if (row.time_s > run.rows.back().time_s) run.rows.push_back(row);
  }
  for (Event event : coast.events) {
    event.time_s += start_s;
    run.events.push_back(event);
  }
}

LaunchOptions launch_options(const Setup& setup, bool keep_rows) {
  LaunchOptions options;
  options.duration_s = setup.run.duration_s;
  options.tolerance = setup.run.tolerance;
  options.row_step_s = keep_rows ? setup.output.step_s : 0.0;
  return options;
}

}  // namespace bowrise
