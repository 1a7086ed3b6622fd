#include "sim/evaluate.hpp"

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "models/sine_cosine.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

constexpr double tow_full_speed_m_s = 1.0;  // a slack rope at rest
// Thresholds of `limited_by`
constexpr double limiter_seen = 0.05, head_loss_seen = 0.03, lever_short = 0.98, air_path_behind = 0.02;
constexpr double hull_bound_acceleration_m_s2 = 0.05;
constexpr double stuffing_share_of_drag = 0.05;

void engine_and_command(const Craft& craft, const LeverSegment& segment, double time_s, const State& state,
                        Instant& now) {
  now.lever = segment.lever(time_s);
  const double capped = craft.idle_air_path +
                        (now.lever - craft.idle_air_path) * speed_cap_share(craft.engine, state.speed_m_s);
  now.command = capped;
  now.engine = engine_point(craft.engine, state.shaft_speed_rad_s, state.air_path, state.boost, now.command);
  now.rate.air_path = now.engine.air_path_rate_1_s;
  now.rate.boost = now.engine.boost_rate_1_s;
}

// Head delivered and torque taken, with what cavities and air leave of each stage.
void delivery(const Craft& craft, const State& state, Instant& now) {
  now.air_factor = air_factor(craft.intake, state.void_fraction);
  const std::array cavity{state.cavity_1, state.cavity_2};
  double clean_energy = 0.0, energy = 0.0, torque = 0.0;
  for (std::size_t i = 0; i < cavity.size(); ++i) {
    const StagePoint& stage = now.pump.stage[i];
    clean_energy += stage.energy_J_kg;
    energy += stage.energy_J_kg * (1.0 - cavity[i]);
    torque += stage.torque_Nm * (1.0 - craft.torque_share * cavity[i]);
  }
  now.pump_energy_J_kg = energy * now.air_factor;
  now.pump_torque_Nm = torque * now.air_factor;
  now.head_factor = craft.two_stages && clean_energy > 0.0 ? energy / clean_energy : 1.0 - state.cavity_1;
}

// The jet in keel axes and in the water's. One sine and cosine of trim serve the whole instant.
void point_jet(const Craft& craft, const State& state, Instant& now) {
  const bool scheduled = craft.nozzle_angle_rad.varies();
  const double angle = scheduled ? craft.nozzle_angle_rad(state.speed_m_s) : 0.0;
  now.jet_along_N = now.jet_force_N * (scheduled ? std::cos(angle) : craft.nozzle_cosine);
  now.jet_normal_N = now.jet_force_N * (scheduled ? std::sin(angle) : craft.nozzle_sine);
  const SineCosine trim = sine_cosine(state.trim_rad);
  now.trim_cosine = trim.cosine;
  now.trim_sine = trim.sine;
  now.jet_surge_N = now.jet_along_N * now.trim_cosine - now.jet_normal_N * now.trim_sine;
  now.jet_lift_N = now.jet_along_N * now.trim_sine + now.jet_normal_N * now.trim_cosine;
}

void water_path(const Craft& craft, const State& state, Instant& now) {
  const double flow = state.flow_m3_s;
  now.inflow = inflow(craft.intake, flow, state.speed_m_s);
  now.jet_speed_m_s = flow * craft.passage.inverse_jet_area_1_m2;
  const double jet_head = 0.5 * now.jet_speed_m_s * std::abs(now.jet_speed_m_s);
  const double ram_head = 0.5 * now.inflow.inflow_speed_m_s * std::abs(now.inflow.inflow_speed_m_s);
  now.passage_loss_J_kg = craft.passage.loss_coefficient * jet_head;
  now.needed_energy_J_kg = jet_head + now.passage_loss_J_kg - ram_head + now.inflow.loss_J_kg;
  const double mass_flow = craft.water.density_kg_m3 * flow * (1.0 - state.void_fraction);
  now.jet_force_N = mass_flow * now.jet_speed_m_s;
  now.intake_force_N = mass_flow * now.inflow.inflow_speed_m_s;
  now.inlet_velocity_ratio = inlet_velocity_ratio(craft.intake, flow, state.speed_m_s);
}

double other_lift_N(const Instant& now) { return now.jet_lift_N + now.spill.lift_N; }

// The hull where neither speed nor trim but only the lift of jet and spill has changed, by little.
void answer_to_lift(const LiftSlopes& slopes, double lift_before_N, Instant& now) {
  const double gained_N = other_lift_N(now) - lift_before_N;
  now.hull.drag_N += slopes.drag_per_lift * gained_N;
  now.hull.bow_up_moment_Nm += slopes.moment_per_lift_m * gained_N;
}

// Drag of hull, grate, spill and tow, and the bow-up moment of all forces about the centre of gravity.
void drag_and_moment(const Craft& craft, const State& state, Instant& now) {
  const double speed = state.speed_m_s, density = craft.water.density_kg_m3;
  now.grate_drag_N = 0.5 * density * craft.intake.grate_drag_area_m2 * speed * std::abs(speed);
  now.tow_N = craft.tow_load_N * smoothstep(0.0, tow_full_speed_m_s, speed);
  now.drag_N = now.hull.drag_N + now.grate_drag_N + now.spill.drag_N + now.tow_N;

  const double jet_moment = now.jet_along_N * craft.nozzle_depth_m - now.jet_normal_N * craft.nozzle_arm_m;
  const double intake_moment =
      -now.intake_force_N * (now.trim_cosine * craft.intake_depth_m + now.trim_sine * craft.lip_arm_m);
  const double lip_moment =
      -now.spill.lift_N * craft.lip_arm_m - (now.spill.drag_N + now.grate_drag_N) * craft.keel_depth_m;
  now.bow_up_moment_Nm =
      now.hull.bow_up_moment_Nm + jet_moment + intake_moment + lip_moment - craft.rider_shift_Nm(speed);
  now.rate.trim_rad = trim_rate(*craft.hull, speed, state.trim_rad, now.hull, now.bow_up_moment_Nm);
}

// Craft and water column share the column's momentum: two linear equations for dV/dt and dQ/dt.
void acceleration(const Craft& craft, const State& state, Instant& now) {
  const double kept = 1.0 - thrust_deduction(*craft.hull, state.speed_m_s);
  const double steady_thrust = kept * (now.jet_surge_N - now.intake_force_N);
  now.effective_mass_kg =
      craft.mass_kg + craft.water_mass_kg + surge_added_mass_kg(*craft.hull, state.speed_m_s);

  const double column_kg_m2 = craft.water.density_kg_m3 * craft.column_length_m;
  const double force = steady_thrust - now.drag_N;
  const double energy = now.pump_energy_J_kg - now.needed_energy_J_kg;
  const double determinant =
      now.effective_mass_kg * craft.total_inertance_1_m - column_kg_m2 * craft.column_length_m;
  const double per_determinant = 1.0 / determinant;
  now.rate.speed_m_s = (force * craft.total_inertance_1_m + column_kg_m2 * energy) * per_determinant;
  now.rate.flow_m3_s = (now.effective_mass_kg * energy + craft.column_length_m * force) * per_determinant;
  now.rate.distance_m = state.speed_m_s;
  now.thrust_N = steady_thrust + column_kg_m2 * now.rate.flow_m3_s;
}

void cavitation(const Craft& craft, const State& state, Instant& now) {
  const double ram_head = 0.5 * now.inflow.inflow_speed_m_s * std::abs(now.inflow.inflow_speed_m_s);
  now.npsh_available_J_kg = craft.static_suction_J_kg + ram_head - now.inflow.loss_J_kg -
                            craft.suction_inertance_1_m * now.rate.flow_m3_s +
                            craft.suction_length_m * now.rate.speed_m_s;
  const StagePoint &first = now.pump.stage[0], &second = now.pump.stage[1];
  const double target_1 =
      1.0 - head_factor_target(now.npsh_available_J_kg, first.energy_onset_J_kg, first.energy_breakdown_J_kg);
  now.rate.cavity_1 = (target_1 - state.cavity_1) * craft.cavity_rate_1_s;
  now.npsh_required_J_kg = first.energy_onset_J_kg;
  if (craft.two_stages) {
    // the second stage drinks what the first still delivers
    const double between = smooth_positive(first.energy_J_kg * (1.0 - state.cavity_1) * now.air_factor, 5.0);
    const double target_2 = 1.0 - head_factor_target(now.npsh_available_J_kg + between,
                                                     second.energy_onset_J_kg, second.energy_breakdown_J_kg);
    now.rate.cavity_2 = (target_2 - state.cavity_2) * craft.cavity_rate_1_s;
    now.npsh_required_J_kg = std::max(first.energy_onset_J_kg, second.energy_onset_J_kg - between);
  }
  const double suction_static_J_kg =
      now.npsh_available_J_kg - 0.5 * now.inflow.duct_speed_m_s * now.inflow.duct_speed_m_s;
  const double suction_pressure = craft.cavity_pressure_Pa + craft.water.density_kg_m3 * suction_static_J_kg;
  now.rate.void_fraction = void_rate(craft.intake, state.void_fraction, state.flow_m3_s, state.speed_m_s,
                                     suction_pressure, craft.ambient_pressure_Pa);
}

Limit what_limits(const State& state, const Instant& now) {
  const double air_loss = 1.0 - now.air_factor, cavitation_loss = 1.0 - now.head_factor;
  if (now.engine.limiter_fade > limiter_seen) return Limit::limiter;
  if (air_loss > head_loss_seen && air_loss > cavitation_loss) return Limit::air;
  if (cavitation_loss > head_loss_seen) return Limit::cavitation;
  if (now.command < lever_short || now.command - state.air_path > air_path_behind) return Limit::throttle;
  if (now.rate.speed_m_s < hull_bound_acceleration_m_s2) return Limit::hull;
  return Limit::engine;
}

void flags(const Craft& craft, const State& state, Instant& now) {
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

// The parts of the physics, in the order in which they need each other.
enum Part : unsigned {
  engine_part = 1,
  pump_part = 2,
  delivery_part = 4,
  water_part = 8,
  jet_part = 16,
  spill_part = 32,
  hull_part = 64,
  force_part = 128,
  balance_part = 256,  // of craft and water column; suction side
  every_part = 511,
  lift_part = 512  // in place of hull_part, where the hull reads nothing anew but a little lift
};

// Works out these parts and the balance of the shaft; the others stand in `now` already.
void work_out(const Craft& craft, const LeverSegment& segment, double time_s, const State& state,
              unsigned parts, Instant& now, const LiftSlopes& slopes = {}) {
  const double lift_before_N = parts & lift_part ? other_lift_N(now) : 0.0;
  if (parts & engine_part) engine_and_command(craft, segment, time_s, state, now);
  if (parts & pump_part) now.pump = pump_point(*craft.pump, state.flow_m3_s, state.shaft_speed_rad_s);
  if (parts & delivery_part) delivery(craft, state, now);
  if (parts & water_part) water_path(craft, state, now);
  if (parts & jet_part) point_jet(craft, state, now);
  if (parts & spill_part)
    now.spill = spill(craft.intake, state.flow_m3_s, state.speed_m_s, craft.water.density_kg_m3);
  if (parts & hull_part)
    now.hull = hull_forces(*craft.hull, state.speed_m_s, state.trim_rad, other_lift_N(now));
  if (parts & lift_part) answer_to_lift(slopes, lift_before_N, now);
  if (parts & force_part) drag_and_moment(craft, state, now);
  now.rate.shaft_speed_rad_s = (now.engine.torque_Nm - now.pump_torque_Nm) / craft.engine.inertia_kg_m2;
  if (parts & balance_part) {
    acceleration(craft, state, now);
    cavitation(craft, state, now);
  }
}

// The parts that read a state, at first hand or through another part.
unsigned parts_reading(StateIndex component, const Craft& craft) noexcept {
  constexpr unsigned forces = jet_part | force_part | balance_part;
  switch (component) {
    case StateIndex::distance:
      return 0;
    case StateIndex::speed:
      return water_part | spill_part | hull_part | forces |
             (std::isfinite(craft.engine.speed_cap_m_s) ? engine_part : 0U);
    case StateIndex::trim:
      return hull_part | forces;
    case StateIndex::shaft_speed:
      return engine_part | pump_part | delivery_part | balance_part;
    case StateIndex::flow:
      return pump_part | delivery_part | water_part | spill_part | lift_part | forces;
    case StateIndex::cavity_1:
    case StateIndex::cavity_2:
      return delivery_part | balance_part;
    case StateIndex::void_fraction:
      return delivery_part | water_part | lift_part | forces;
    case StateIndex::air_path:
    case StateIndex::boost:
      return engine_part;
  }
  return every_part;
}

}  // namespace

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
  work_out(craft, segment, time_s, state, every_part, now);
  flags(craft, state, now);
  return now;
}

Instant drive_train(const Craft& craft, const LeverSegment& segment, double time_s,
                    const State& state) noexcept {
  Instant now{};
  work_out(craft, segment, time_s, state, engine_part | pump_part | delivery_part, now);
  return now;
}

State rates(const Craft& craft, const LeverSegment& segment, double time_s, const State& state) noexcept {
  Instant now;
  now.rate = {};  // of states that do not exist: nil
  work_out(craft, segment, time_s, state, every_part, now);
  return now.rate;
}

RatesBeside::RatesBeside(const Craft& craft, const LeverSegment& segment, double time_s, const State& state,
                         const Instant& base) noexcept
    : craft_(&craft),
      segment_(&segment),
      time_s_(time_s),
      base_(&base),
      slopes_(lift_slopes(*craft.hull, state.speed_m_s, state.trim_rad, other_lift_N(base), base.hull)) {}

State RatesBeside::operator()(const State& state, StateIndex moved) const noexcept {
  Instant now = *base_;
  work_out(*craft_, *segment_, time_s_, state, parts_reading(moved, *craft_), now, slopes_);
  return now.rate;
}

}  // namespace bowrise
