#include "sim/evaluate.hpp"

#include <algorithm>

#include "models/constants.hpp"
#include "sim/work_out.hpp"

namespace bowrise {
namespace {

// Thresholds of `limited_by`
constexpr double limiter_seen = 0.05, head_loss_seen = 0.03, lever_short = 0.98, air_path_behind = 0.02;
constexpr double hull_bound_acceleration_m_s2 = 0.05;
constexpr double stuffing_share_of_drag = 0.05;

// The components of a craft, each asked at one state.
struct Components {
  const Craft& craft;

  [[nodiscard]] EnginePoint engine(const State& state, double command) const noexcept {
    return engine_point(*craft.engine, state.shaft_speed_rad_s, state.air_path, state.boost, command);
  }
  [[nodiscard]] PumpPoint pump(const State& state) const noexcept {
    return pump_point(*craft.pump, state.flow_m3_s, state.shaft_speed_rad_s);
  }
  [[nodiscard]] HullAnswer<double> hull(const State& state, double other_lift_N,
                                        Instant& now) const noexcept {
    now.hull = hull_forces(*craft.hull, state.speed_m_s, state.trim_rad, other_lift_N);
    return answer_of(now.hull);
  }
};

Limit what_limits(const State& state, const Instant& now) {
  const double air_loss = 1.0 - now.air_factor, cavitation_loss = 1.0 - now.head_factor;
  if (now.engine.limiter_fade > limiter_seen) return Limit::limiter;
  if (air_loss > head_loss_seen && air_loss > cavitation_loss) return Limit::air;
  if (cavitation_loss > head_loss_seen) return Limit::cavitation;
  if (now.command < lever_short || now.command - state.air_path > air_path_behind) return Limit::throttle;
  if (now.rate.speed_m_s < hull_bound_acceleration_m_s2) return Limit::hull;
  return Limit::engine;
}

}  // namespace

void detail::judge(const Craft& craft, const State& state, Instant& now) {
  now.flags = craft.standing_flags;
  now.flags |= now.hull.flags;
  now.flags |= now.pump.flags;
  now.flags.raise(Flag::cavitating, 1.0 - now.head_factor > head_loss_seen);
  now.flags.raise(Flag::air_in_pump, 1.0 - now.air_factor > head_loss_seen);
  now.flags.raise(Flag::limiter, now.engine.limiter_fade > limiter_seen);
  now.flags.raise(Flag::stuffing,
                  state.speed_m_s > 5.0 && now.spill.drag_N > stuffing_share_of_drag * now.drag_N);
  now.flags.raise(Flag::low_inlet_velocity_ratio,
                  now.inlet_velocity_ratio > 0.0 && now.inlet_velocity_ratio < craft.intake.lip_ratio);
  now.limited_by = what_limits(state, now);
}

double npsh_margin(const Instant& now) noexcept {
  return now.npsh_required_J_kg > 0.0 ? now.npsh_available_J_kg / now.npsh_required_J_kg : 0.0;
}

double suction_specific_speed(const State& state, const Instant& now) noexcept {
  const double least_J_kg = 0.1 * gravity_m_s2;
  return suction_specific_speed(state.shaft_speed_rad_s, std::max(state.flow_m3_s, 0.0),
                                std::max(now.npsh_available_J_kg, least_J_kg));
}

double jet_velocity_ratio(const State& state, const Instant& now) noexcept {
  return state.speed_m_s < least_ratio_speed_m_s ? 0.0 : now.jet_speed_m_s / state.speed_m_s;
}

double nozzle_velocity_ratio(const State& state, const Instant& now) noexcept {
  return state.speed_m_s < least_ratio_speed_m_s ? 0.0 : now.jet_speed_m_s / now.inflow.inflow_speed_m_s;
}

Instant evaluate(const Craft& craft, const LeverSegment& segment, double time_s,
                 const State& state) noexcept {
  Instant now{};
  detail::work_out(Components{craft}, craft, segment, time_s, state, now);
  detail::judge(craft, state, now);
  return now;
}

Instant drive_train(const Craft& craft, const LeverSegment& segment, double time_s,
                    const State& state) noexcept {
  Instant now{};
  detail::work_out_drive_train(Components{craft}, craft, segment, time_s, state, now);
  return now;
}

State rates(const Craft& craft, const LeverSegment& segment, double time_s, const State& state) noexcept {
  Instant now;
  now.rate = {};  // of states that do not exist: nil
  detail::work_out(Components{craft}, craft, segment, time_s, state, now);
  return now.rate;
}

}  // namespace bowrise
