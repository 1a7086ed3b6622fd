// How an instant is worked out, for one state or for several side by side: see evaluate.hpp, of which this is
// the inside.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

#include "models/sine_cosine.hpp"
#include "models/smooth.hpp"
#include "sim/evaluate.hpp"

namespace bowrise::detail {

using std::abs, std::cos, std::sin;  // beside those of Lanes

inline constexpr double tow_full_speed_m_s = 1.0;  // a slack rope at rest

template <class Number, class Components>
void engine_and_command(const Components& components, const Craft& craft, const LeverSegment& segment,
                        double time_s, const StateOf<Number>& state, InstantOf<Number>& now) {
  now.lever = segment.lever(time_s);
  const Number capped = craft.idle_air_path +
                        (now.lever - craft.idle_air_path) * speed_cap_share(*craft.engine, state.speed_m_s);
  now.command = capped;
  now.engine = components.engine(state, now.command);
  now.rate.air_path = now.engine.air_path_rate_1_s;
  now.rate.boost = now.engine.boost_rate_1_s;
}

// Head delivered and torque taken, with what cavities and air leave of each stage.
template <class Number>
void delivery(const Craft& craft, const StateOf<Number>& state, InstantOf<Number>& now) {
  now.air_factor = air_factor(craft.intake, state.void_fraction);
  const std::array cavity{state.cavity_1, state.cavity_2};
  Number clean_energy = 0.0, energy = 0.0, torque = 0.0;
  for (std::size_t i = 0; i < cavity.size(); ++i) {
    const StagePointOf<Number>& stage = now.pump.stage[i];
    clean_energy += stage.energy_J_kg;
    energy += stage.energy_J_kg * (1.0 - cavity[i]);
    torque += stage.torque_Nm * (1.0 - craft.torque_share * cavity[i]);
  }
  now.pump_energy_J_kg = energy * now.air_factor;
  now.pump_torque_Nm = torque * now.air_factor;
  now.head_factor =
      craft.two_stages && clean_energy > 0.0 ? Number(energy / clean_energy) : Number(1.0 - state.cavity_1);
}

// The jet in keel axes and in the water's. One sine and cosine of trim serve the whole instant.
template <class Number>
void point_jet(const Craft& craft, const StateOf<Number>& state, InstantOf<Number>& now) {
  const bool scheduled = craft.nozzle_angle_rad.varies();
  const Number angle = scheduled ? craft.nozzle_angle_rad(state.speed_m_s) : 0.0;
  now.jet_along_N = now.jet_force_N * (scheduled ? cos(angle) : craft.nozzle_cosine);
  now.jet_normal_N = now.jet_force_N * (scheduled ? sin(angle) : craft.nozzle_sine);
  const SineCosineOf<Number> trim = sine_cosine(state.trim_rad);
  now.trim_cosine = trim.cosine;
  now.trim_sine = trim.sine;
  now.jet_surge_N = now.jet_along_N * now.trim_cosine - now.jet_normal_N * now.trim_sine;
  now.jet_lift_N = now.jet_along_N * now.trim_sine + now.jet_normal_N * now.trim_cosine;
}

template <class Number>
void water_path(const Craft& craft, const StateOf<Number>& state, InstantOf<Number>& now) {
  const Number flow = state.flow_m3_s;
  now.inflow = inflow(craft.intake, flow, state.speed_m_s);
  now.jet_speed_m_s = flow * craft.passage.inverse_jet_area_1_m2;
  const Number jet_head = 0.5 * now.jet_speed_m_s * abs(now.jet_speed_m_s);
  const Number ram_head = 0.5 * now.inflow.inflow_speed_m_s * abs(now.inflow.inflow_speed_m_s);
  now.passage_loss_J_kg = craft.passage.loss_coefficient * jet_head;
  now.needed_energy_J_kg = jet_head + now.passage_loss_J_kg - ram_head + now.inflow.loss_J_kg;
  const Number mass_flow = craft.water.density_kg_m3 * flow * (1.0 - state.void_fraction);
  now.jet_force_N = mass_flow * now.jet_speed_m_s;
  now.intake_force_N = mass_flow * now.inflow.inflow_speed_m_s;
  now.inlet_velocity_ratio = inlet_velocity_ratio(craft.intake, flow, state.speed_m_s);
}

// Drag of hull, grate, spill and tow, and the bow-up moment of all forces about the centre of gravity.
template <class Number>
void drag_and_moment(const Craft& craft, const StateOf<Number>& state, const HullAnswer<Number>& hull,
                     InstantOf<Number>& now) {
  const Number speed = state.speed_m_s;
  const double density = craft.water.density_kg_m3;
  now.grate_drag_N = 0.5 * density * craft.intake.grate_drag_area_m2 * speed * abs(speed);
  now.tow_N = craft.tow_load_N * smoothstep(0.0, tow_full_speed_m_s, speed);
  now.drag_N = hull.drag_N + now.grate_drag_N + now.spill.drag_N + now.tow_N;

  const Number jet_moment = now.jet_along_N * craft.nozzle_depth_m - now.jet_normal_N * craft.nozzle_arm_m;
  const Number intake_moment =
      -now.intake_force_N * (now.trim_cosine * craft.intake_depth_m + now.trim_sine * craft.lip_arm_m);
  const Number lip_moment =
      -now.spill.lift_N * craft.lip_arm_m - (now.spill.drag_N + now.grate_drag_N) * craft.keel_depth_m;
  now.bow_up_moment_Nm =
      hull.bow_up_moment_Nm + jet_moment + intake_moment + lip_moment - craft.rider_shift_Nm(speed);
  now.rate.trim_rad = trim_rate(*craft.hull, state.trim_rad, hull, now.bow_up_moment_Nm);
}

// Craft and water column share the column's momentum: two linear equations for dV/dt and dQ/dt.
template <class Number>
void acceleration(const Craft& craft, const StateOf<Number>& state, InstantOf<Number>& now) {
  const Number kept = 1.0 - thrust_deduction(*craft.hull, state.speed_m_s);
  const Number steady_thrust = kept * (now.jet_surge_N - now.intake_force_N);
  now.effective_mass_kg =
      craft.mass_kg + craft.water_mass_kg + surge_added_mass_kg(*craft.hull, state.speed_m_s);

  const double column_kg_m2 = craft.water.density_kg_m3 * craft.column_length_m;
  const Number force = steady_thrust - now.drag_N;
  const Number energy = now.pump_energy_J_kg - now.needed_energy_J_kg;
  const Number determinant =
      now.effective_mass_kg * craft.total_inertance_1_m - column_kg_m2 * craft.column_length_m;
  const Number per_determinant = 1.0 / determinant;
  now.rate.speed_m_s = (force * craft.total_inertance_1_m + column_kg_m2 * energy) * per_determinant;
  now.rate.flow_m3_s = (now.effective_mass_kg * energy + craft.column_length_m * force) * per_determinant;
  now.rate.distance_m = state.speed_m_s;
  now.thrust_N = steady_thrust + column_kg_m2 * now.rate.flow_m3_s;
}

template <class Number>
void cavitation(const Craft& craft, const StateOf<Number>& state, InstantOf<Number>& now) {
  const Number ram_head = 0.5 * now.inflow.inflow_speed_m_s * abs(now.inflow.inflow_speed_m_s);
  now.npsh_available_J_kg = craft.static_suction_J_kg + ram_head - now.inflow.loss_J_kg -
                            craft.suction_inertance_1_m * now.rate.flow_m3_s +
                            craft.suction_length_m * now.rate.speed_m_s;
  const StagePointOf<Number>&first = now.pump.stage[0], &second = now.pump.stage[1];
  const Number target_1 =
      1.0 - head_factor_target(now.npsh_available_J_kg, first.energy_onset_J_kg, first.energy_breakdown_J_kg);
  now.rate.cavity_1 = (target_1 - state.cavity_1) * craft.cavity_rate_1_s;
  now.npsh_required_J_kg = first.energy_onset_J_kg;
  if (craft.two_stages) {
    // the second stage drinks what the first still delivers
    const Number between =
        smooth_positive<Number>(first.energy_J_kg * (1.0 - state.cavity_1) * now.air_factor, 5.0);
    const Number target_2 =
        1.0 - head_factor_target<Number>(now.npsh_available_J_kg + between, second.energy_onset_J_kg,
                                         second.energy_breakdown_J_kg);
    now.rate.cavity_2 = (target_2 - state.cavity_2) * craft.cavity_rate_1_s;
    now.npsh_required_J_kg = std::max<Number>(first.energy_onset_J_kg, second.energy_onset_J_kg - between);
  }
  const Number suction_static_J_kg =
      now.npsh_available_J_kg - 0.5 * now.inflow.duct_speed_m_s * now.inflow.duct_speed_m_s;
  const Number suction_pressure = craft.cavity_pressure_Pa + craft.water.density_kg_m3 * suction_static_J_kg;
  now.rate.void_fraction = void_rate(craft.intake, state.void_fraction, state.flow_m3_s, state.speed_m_s,
                                     suction_pressure, craft.ambient_pressure_Pa);
}

// Engine, pump and the shaft between them.
// @param components  how engine, pump and hull are asked: `engine(state, command)`, `pump(state)` and
//   `hull(state, other_lift_N, now)`, which sets now.hull
template <class Number, class Components>
void work_out_drive_train(const Components& components, const Craft& craft, const LeverSegment& segment,
                          double time_s, const StateOf<Number>& state, InstantOf<Number>& now) {
  engine_and_command(components, craft, segment, time_s, state, now);
  now.pump = components.pump(state);
  delivery(craft, state, now);
  now.rate.shaft_speed_rad_s = (now.engine.torque_Nm - now.pump_torque_Nm) / craft.engine->inertia_kg_m2;
}

// All but flags and limit, in the order in which the parts need each other.
template <class Number, class Components>
void work_out(const Components& components, const Craft& craft, const LeverSegment& segment, double time_s,
              const StateOf<Number>& state, InstantOf<Number>& now) {
  work_out_drive_train(components, craft, segment, time_s, state, now);
  water_path(craft, state, now);
  point_jet(craft, state, now);
  now.spill = spill(craft.intake, state.flow_m3_s, state.speed_m_s, craft.water.density_kg_m3);
  const HullAnswer<Number> hull = components.hull(state, now.jet_lift_N + now.spill.lift_N, now);
  drag_and_moment(craft, state, hull, now);
  acceleration(craft, state, now);
  cavitation(craft, state, now);
}

// What limits and what is flagged, of an instant worked out.
void judge(const Craft& craft, const State& state, Instant& now);

}  // namespace bowrise::detail
