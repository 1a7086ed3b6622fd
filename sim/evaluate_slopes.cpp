// Slopes of the rates. States that meet in all parts of the craft are worked out side by side, each beside
// the point in a lane of its own; engine, pump and hull, which have few arguments and cost most, in lanes of
// their own, of which the others are made.
#include <algorithm>
#include <array>
#include <cmath>

#include "models/lanes.hpp"
#include "sim/evaluate.hpp"
#include "sim/work_out.hpp"

namespace bowrise {
namespace {

constexpr std::size_t in_lanes = 7;  // components of a state; air path and boost meet the engine alone

constexpr int lane_of(StateIndex component) { return static_cast<int>(component) + 1; }
constexpr int speed_lane = lane_of(StateIndex::speed), shaft_lane = lane_of(StateIndex::shaft_speed),
              flow_lane = lane_of(StateIndex::flow);
static_assert(shaft_lane == 3 && flow_lane == 4, "what spreads engine and pump goes by this");

double step_of(double value, double State::*component) {
  return relative_lane_step * std::max(std::abs(value), typical_state.*component);
}

// In its own lane each component lies beside the point.
StateOf<StateLanes> state_beside(const State& state) {
  const auto beside = [&](double State::*component, StateIndex index) {
    const double value = state.*component;
    return StateLanes::beside(value, lane_of(index), step_of(value, component));
  };
  return {.speed_m_s = beside(&State::speed_m_s, StateIndex::speed),
          .trim_rad = beside(&State::trim_rad, StateIndex::trim),
          .shaft_speed_rad_s = beside(&State::shaft_speed_rad_s, StateIndex::shaft_speed),
          .flow_m3_s = beside(&State::flow_m3_s, StateIndex::flow),
          .cavity_1 = beside(&State::cavity_1, StateIndex::cavity_1),
          .cavity_2 = beside(&State::cavity_2, StateIndex::cavity_2),
          .void_fraction = beside(&State::void_fraction, StateIndex::void_fraction),
          .air_path = state.air_path,
          .boost = state.boost,
          .distance_m = state.distance_m};
}

// The engine, and beside it another shaft speed, air path and boost.
constexpr int engine_shaft_lane = 1, engine_air_path_lane = 2, engine_boost_lane = 3;
struct EngineBeside {
  PartLanes air_path, boost;
  EnginePointOf<PartLanes> point;
};

EngineBeside engine_beside(const Craft& craft, const State& state, const StateLanes& shaft_speed,
                           double command) {
  const PartLanes air_path =
      PartLanes::beside(state.air_path, engine_air_path_lane, step_of(state.air_path, &State::air_path));
  const PartLanes boost =
      PartLanes::beside(state.boost, engine_boost_lane, step_of(state.boost, &State::boost));
  return {air_path, boost,
          engine_point<PartLanes>(*craft.engine, PartLanes::gathered<shaft_lane, 0, 0>(shaft_speed), air_path,
                                  boost, command)};
}

EnginePointOf<StateLanes> spread(const EnginePointOf<PartLanes>& engine) {
  const auto lanes = [](const PartLanes& part) {
    return StateLanes::gathered<0, 0, engine_shaft_lane, 0, 0, 0, 0>(part);
  };
  return {.torque_Nm = lanes(engine.torque_Nm),
          .brake_torque_Nm = lanes(engine.brake_torque_Nm),
          .limiter_fade = lanes(engine.limiter_fade),
          .air_path_rate_1_s = lanes(engine.air_path_rate_1_s),
          .boost_rate_1_s = lanes(engine.boost_rate_1_s)};
}

// The pump, and beside it another shaft speed and flow.
constexpr int pump_shaft_lane = 1, pump_flow_lane = 2;
PumpPointOf<StateLanes> spread(const PumpPointOf<PartLanes>& pump) {
  const auto lanes = [](const PartLanes& part) {
    return StateLanes::gathered<0, 0, pump_shaft_lane, pump_flow_lane, 0, 0, 0>(part);
  };
  PumpPointOf<StateLanes> out;
  for (std::size_t i = 0; i < pump.stage.size(); ++i)
    out.stage[i] = {.energy_J_kg = lanes(pump.stage[i].energy_J_kg),
                    .torque_Nm = lanes(pump.stage[i].torque_Nm),
                    .energy_onset_J_kg = lanes(pump.stage[i].energy_onset_J_kg),
                    .energy_breakdown_J_kg = lanes(pump.stage[i].energy_breakdown_J_kg)};
  out.flow_coefficient = lanes(pump.flow_coefficient);
  out.flags = pump.flags;
  return out;
}

struct ComponentsBeside {
  const Craft& craft;
  EngineBeside& engine_lanes;  // kept for the slopes over air path and boost
  const State& at;

  [[nodiscard]] EnginePointOf<StateLanes> engine(const StateOf<StateLanes>& state,
                                                 const StateLanes& command) const {
    engine_lanes = engine_beside(craft, at, state.shaft_speed_rad_s, command.point());
    return spread(engine_lanes.point);
  }
  [[nodiscard]] PumpPointOf<StateLanes> pump(const StateOf<StateLanes>& state) const {
    return spread(pump_point(*craft.pump, PartLanes::gathered<0, flow_lane, 0>(state.flow_m3_s),
                             PartLanes::gathered<shaft_lane, 0, 0>(state.shaft_speed_rad_s)));
  }
  [[nodiscard]] HullAnswer<StateLanes> hull(const StateOf<StateLanes>& state, const StateLanes& other_lift_N,
                                            InstantOf<StateLanes>& now) const {
    const SlopedHullForces hull =
        sloped_hull_forces(*craft.hull, at.speed_m_s, at.trim_rad, other_lift_N.point());
    now.hull = hull.forces;
    return hull.beside<StateLanes>(state.speed_m_s - at.speed_m_s, state.trim_rad - at.trim_rad,
                                   other_lift_N - other_lift_N.point());
  }
};

EnginePoint at_point(const EnginePointOf<StateLanes>& lanes) {
  return {.torque_Nm = lanes.torque_Nm.point(),
          .brake_torque_Nm = lanes.brake_torque_Nm.point(),
          .limiter_fade = lanes.limiter_fade.point(),
          .air_path_rate_1_s = lanes.air_path_rate_1_s.point(),
          .boost_rate_1_s = lanes.boost_rate_1_s.point()};
}

StagePoint at_point(const StagePointOf<StateLanes>& lanes) {
  return {.energy_J_kg = lanes.energy_J_kg.point(),
          .torque_Nm = lanes.torque_Nm.point(),
          .energy_onset_J_kg = lanes.energy_onset_J_kg.point(),
          .energy_breakdown_J_kg = lanes.energy_breakdown_J_kg.point()};
}

State at_point(const StateOf<StateLanes>& lanes) {
  const auto values = to_array(lanes);
  StateArray point;
  for (std::size_t i = 0; i < state_size; ++i) point[i] = values[i].point();
  return to_state(point);
}

// Not judged yet. A field left out here does not compile.
Instant at_point(const InstantOf<StateLanes>& lanes) {
  return {.rate = at_point(lanes.rate),
          .lever = lanes.lever,
          .command = lanes.command.point(),
          .engine = at_point(lanes.engine),
          .pump_torque_Nm = lanes.pump_torque_Nm.point(),
          .pump = {.stage = {at_point(lanes.pump.stage[0]), at_point(lanes.pump.stage[1])},
                   .flow_coefficient = lanes.pump.flow_coefficient.point(),
                   .flags = lanes.pump.flags},
          .head_factor = lanes.head_factor.point(),
          .air_factor = lanes.air_factor.point(),
          .pump_energy_J_kg = lanes.pump_energy_J_kg.point(),
          .needed_energy_J_kg = lanes.needed_energy_J_kg.point(),
          .inflow = {.inflow_speed_m_s = lanes.inflow.inflow_speed_m_s.point(),
                     .loss_J_kg = lanes.inflow.loss_J_kg.point(),
                     .duct_speed_m_s = lanes.inflow.duct_speed_m_s.point()},
          .passage_loss_J_kg = lanes.passage_loss_J_kg.point(),
          .jet_speed_m_s = lanes.jet_speed_m_s.point(),
          .jet_force_N = lanes.jet_force_N.point(),
          .intake_force_N = lanes.intake_force_N.point(),
          .jet_along_N = lanes.jet_along_N.point(),
          .jet_normal_N = lanes.jet_normal_N.point(),
          .jet_surge_N = lanes.jet_surge_N.point(),
          .jet_lift_N = lanes.jet_lift_N.point(),
          .trim_cosine = lanes.trim_cosine.point(),
          .trim_sine = lanes.trim_sine.point(),
          .npsh_available_J_kg = lanes.npsh_available_J_kg.point(),
          .npsh_required_J_kg = lanes.npsh_required_J_kg.point(),
          .inlet_velocity_ratio = lanes.inlet_velocity_ratio.point(),
          .hull = lanes.hull,
          .spill = {.drag_N = lanes.spill.drag_N.point(), .lift_N = lanes.spill.lift_N.point()},
          .grate_drag_N = lanes.grate_drag_N.point(),
          .tow_N = lanes.tow_N.point(),
          .thrust_N = lanes.thrust_N.point(),
          .drag_N = lanes.drag_N.point(),
          .effective_mass_kg = lanes.effective_mass_kg.point(),
          .bow_up_moment_Nm = lanes.bow_up_moment_Nm.point(),
          .limited_by = Limit::engine,
          .flags = {}};
}

// Slopes over the components in lanes; over the others nil.
RateSlopes slopes_in_lanes(const StateOf<StateLanes>& state, const StateOf<StateLanes>& rate) {
  const auto states = to_array(state), rates = to_array(rate);
  std::array<double, StateLanes::size> per_step{};
  for (std::size_t j = 0; j < in_lanes; ++j)
    per_step[j + 1] = 1.0 / (states[j].values()[j + 1] - states[j].point());  // as rounded
  const StateLanes all_per_step(per_step);
  RateSlopes slopes;
  for (std::size_t i = 0; i < state_size; ++i) {
    const auto row = ((rates[i] - rates[i].point()) * all_per_step).values();
    std::fill(std::copy_n(row.begin() + 1, in_lanes, slopes[i].begin()), slopes[i].end(), 0.0);
  }
  return slopes;
}

RateSlopes slopes_of(const StateOf<StateLanes>& state, const InstantOf<StateLanes>& now,
                     const EngineBeside& engine, double inertia_kg_m2) {
  RateSlopes slopes = slopes_in_lanes(state, now.rate);
  const auto slope = [&slopes](StateIndex rate, StateIndex component) -> double& {
    return slopes[static_cast<std::size_t>(rate)][static_cast<std::size_t>(component)];
  };
  const auto over_air_path = [&](const PartLanes& value) {
    return slope_in(engine_air_path_lane, value, engine.air_path);
  };
  const auto over_boost = [&](const PartLanes& value) {
    return slope_in(engine_boost_lane, value, engine.boost);
  };
  constexpr auto shaft = StateIndex::shaft_speed, air_path = StateIndex::air_path, boost = StateIndex::boost;
  slope(shaft, air_path) = over_air_path(engine.point.torque_Nm) / inertia_kg_m2;
  slope(air_path, air_path) = over_air_path(engine.point.air_path_rate_1_s);
  slope(boost, air_path) = over_air_path(engine.point.boost_rate_1_s);
  slope(shaft, boost) = over_boost(engine.point.torque_Nm) / inertia_kg_m2;
  slope(boost, boost) = over_boost(engine.point.boost_rate_1_s);
  // The air path follows its command, which a speed cap moves, as it flees its own value.
  slope(air_path, StateIndex::speed) -=
      slope(air_path, air_path) * slope_in(speed_lane, now.command, state.speed_m_s);
  return slopes;
}

}  // namespace

BOWRISE_FLATTENED SlopedInstant evaluate_with_slopes(const Craft& craft, const LeverSegment& segment,
                                                     double time_s, const State& state) noexcept {
  const StateOf<StateLanes> beside = state_beside(state);
  EngineBeside engine;
  InstantOf<StateLanes> now;
  now.rate.cavity_2 = 0.0;  // of a stage that does not exist
  detail::work_out(ComponentsBeside{craft, engine, state}, craft, segment, time_s, beside, now);
  SlopedInstant sloped{at_point(now), slopes_of(beside, now, engine, craft.engine->inertia_kg_m2)};
  detail::judge(craft, state, sloped.now);
  return sloped;
}

}  // namespace bowrise
