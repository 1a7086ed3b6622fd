#include "sim/lever_plan.hpp"

#include <algorithm>
#include <cmath>

#include "models/cavitation.hpp"
#include "sim/steady.hpp"

namespace bowrise {
namespace {

constexpr double settled_after_s = 1.0;      // fully open for so long: the rider's hand rests
constexpr double quickest_response_s = 0.1;  // within which revs are brought to where they are wanted
constexpr double sum_time_s = 0.4, near_the_aim = 0.1;
constexpr double least_lead_s = 0.05;  // what is left of the lag of the air path
constexpr double at_the_aim = 0.97, bites_below_head_loss = 0.03;

double delay_of(const Throttle& throttle) {
  const double reaction_s = throttle.plan == Plan::rider ? throttle.reaction_time_s : 0.0;
  return std::max(0.0, reaction_s + throttle.timing_error_s);  // nobody acts before there is something to see
}

}  // namespace

LeverPlan::LeverPlan(const Craft& craft, double duration_s, std::vector<LeverSegment>& lever)
    : craft_(craft), duration_s_(duration_s), lever_(lever), feedback_(is_feedback(craft.throttle.plan)) {
  lever_ = craft.lever;
  if (!feedback_) return;
  delay_s_ = delay_of(craft.throttle);
  const auto most = static_cast<std::size_t>(duration_s / craft.throttle.decision_time_s) + 2;
  lever_.reserve(most);
  wishes_.reserve(most);
}

std::optional<double> LeverPlan::operator()(std::size_t segment, double time_s, const StateArray& state) {
  return feedback_ ? decided_stop(segment, time_s, to_state(state)) : known_stop(segment);
}

bool LeverPlan::is_last(std::size_t segment) const {
  return segment + 1 == lever_.size() && (!feedback_ || settled_);
}

std::optional<double> LeverPlan::known_stop(std::size_t segment) const {
  if (segment >= lever_.size()) return std::nullopt;
  return is_last(segment) ? duration_s_ : std::min(lever_[segment + 1].start_s, duration_s_);
}

// The lever leaves its idle stop when the hand has taken up its way to there, as in a plan known beforehand.
std::optional<double> LeverPlan::decided_stop(std::size_t segment, double time_s, const State& state) {
  const Throttle& throttle = craft_.throttle;
  const double leaves_idle_s = craft_.idle_air_path / throttle.hand_rate_1_s;
  if (segment == 0) return std::min(leaves_idle_s, duration_s_);
  if (settled_ || time_s >= duration_s_) return std::nullopt;
  decide(time_s, state);
  if (settled_) return duration_s_;
  return std::min(leaves_idle_s + static_cast<double>(segment) * throttle.decision_time_s, duration_s_);
}

void LeverPlan::decide(double time_s, const State& state) {
  const double lever = lever_.back().lever(time_s);
  wishes_.push_back({time_s, wish(time_s, state)});
  const double wanted = wish_seen_at(time_s - delay_s_);
  lever_.push_back(decided_segment(craft_.throttle, time_s, lever, wanted, craft_.idle_air_path));
  if (wanted < 1.0 || lever < 1.0) full_since_s_ = time_s;
  settled_ = time_s - full_since_s_ >= settled_after_s;
}

double LeverPlan::wish(double time_s, const State& state) {
  const Instant now = evaluate(craft_, lever_.back(), time_s, state);
  const Throttle& throttle = craft_.throttle;
  double lever = 1.0;
  if (throttle.plan == Plan::hold) {
    lever = held_revs(state, now);
  } else if (throttle.plan == Plan::ideal) {
    lever = held_head_loss(state, now);
  } else {
    const double normal = craft_.normal_shaft_speed_rad_s(state.speed_m_s);
    lever = 1.0 - throttle.ease_gain * std::max(0.0, state.shaft_speed_rad_s / normal - 1.0);
  }
  return std::clamp(lever, 0.0, 1.0);
}

// The revs are held until the pump bites at them; then the lever goes to full for good.
double LeverPlan::held_revs(const State& state, const Instant& now) {
  const double aim = craft_.throttle.hold_share * craft_.limiter_rad_s;
  released_ = released_ ||
              (state.shaft_speed_rad_s > at_the_aim * aim && 1.0 - now.head_factor < bites_below_head_loss);
  return released_ ? 1.0 : lever_towards(craft_, state, now, aim, delay_s_);
}

// The shaft speed that gives the wanted loss rises while the craft gains speed. What the revs stay behind it
// is summed up and added, as long as the lever has room.
double LeverPlan::held_head_loss(const State& state, const Instant& now) {
  const double ratio = speed_ratio_for_head_loss(now, craft_.throttle.head_loss_aim);
  const double aim = ratio * (1.0 + creep_) * state.shaft_speed_rad_s;
  const double lever = lever_towards(craft_, state, now, aim, delay_s_);
  const bool has_room = lever < 1.0 && lever > craft_.idle_air_path;
  if (has_room && std::abs(ratio - 1.0) < near_the_aim)
    creep_ += (ratio - 1.0) * craft_.throttle.decision_time_s / sum_time_s;
  return lever;
}

// Between two decisions the wish moves in a straight line; before the first was seen the rider opens up.
double LeverPlan::wish_seen_at(double time_s) const {
  if (time_s < wishes_.front().time_s) return 1.0;
  const auto after = std::find_if(wishes_.rbegin(), wishes_.rend(),
                                  [time_s](const Wish& wish) { return wish.time_s <= time_s; });
  if (after == wishes_.rbegin()) return after->lever;
  const Wish &before = *after, &next = *std::prev(after);
  const double share = (time_s - before.time_s) / (next.time_s - before.time_s);
  return before.lever + share * (next.lever - before.lever);
}

double lever_towards(const Craft& craft, const State& state, const Instant& now, double aim_rad_s,
                     double delay_s) {
  const double response_s = quickest_response_s + 2.0 * delay_s, lead_s = least_lead_s + delay_s;
  const double ratio = aim_rad_s / state.shaft_speed_rad_s;
  const double torque = now.pump_torque_Nm * ratio * ratio +
                        craft.engine->inertia_kg_m2 * (aim_rad_s - state.shaft_speed_rad_s) / response_s;
  const double air_path = air_path_for_torque(*craft.engine, state.shaft_speed_rad_s, torque, state.boost);
  const double lag_s = craft.engine->air_path_turns_rad / state.shaft_speed_rad_s;
  return air_path + (air_path - state.air_path) * lag_s / lead_s;
}

double speed_ratio_for_head_loss(const Instant& now, double aim) {
  const StagePoint& first = now.pump.stage[0];
  const auto head_loss = [&](double ratio) {
    const double square = ratio * ratio;
    const double available = now.npsh_available_J_kg + now.inflow.loss_J_kg * (1.0 - square);
    return 1.0 - head_factor_target(available, first.energy_onset_J_kg * square,
                                    first.energy_breakdown_J_kg * square);
  };
  double low = 0.1, high = 10.0;
  constexpr int halvings = 24;  // to a millionth
  for (int i = 0; i < halvings; ++i) {
    const double middle = std::sqrt(low * high);
    (head_loss(middle) > aim ? high : low) = middle;
  }
  return low;
}

Schedule normal_shaft_speed(const Craft& craft) {
  constexpr double deep_J_kg = 1e5, lowest_m_s = 1.0, highest_m_s = 45.0, step_m_s = 2.0;
  Craft submerged = craft;  // so deep that nothing cavitates
  submerged.static_suction_J_kg += deep_J_kg;
  TableRows rows;
  State guess = planing_guess(craft, highest_m_s);
  for (double speed = highest_m_s; speed >= lowest_m_s; speed -= step_m_s) {
    Pinned pinned;
    pinned.speed_m_s = guess.speed_m_s = speed;
    pinned.trim_rad = guess.trim_rad;
    const auto point = steady(submerged, pinned, guess);
    if (!point) continue;
    rows.insert(rows.begin(), {speed, point->state.shaft_speed_rad_s});
    guess = point->state;
  }
  return {rows, craft.engine->peak_speed_rad_s};
}

}  // namespace bowrise
