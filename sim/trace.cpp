#include "sim/trace.hpp"

#include "models/constants.hpp"

namespace bowrise {
namespace {

using RowNumber = double (*)(const Craft&, const TraceRow&);

constexpr double degrees(double rad) { return rad / radians_per_degree; }
constexpr double metres(double energy_J_kg) { return energy_J_kg / gravity_m_s2; }

constexpr TraceColumn number(std::string_view name, std::string_view meaning, RowNumber get) {
  return {name, meaning, get, nullptr};
}

std::string_view limit_of(const Craft&, const TraceRow& row) {
  return limit_words[static_cast<std::size_t>(row.now.limited_by)];
}

constexpr std::array columns{
    number("time_s", "time since the throttle plan started",
           [](const Craft&, const TraceRow& r) { return r.time_s; }),
    number("distance_m", "distance run", [](const Craft&, const TraceRow& r) { return r.state.distance_m; }),
    number("speed_m_s", "speed through the water",
           [](const Craft&, const TraceRow& r) { return r.state.speed_m_s; }),
    number("acceleration_m_s2", "forward acceleration",
           [](const Craft&, const TraceRow& r) { return r.now.rate.speed_m_s; }),
    number("trim_deg", "trim of the keel, bow up",
           [](const Craft&, const TraceRow& r) { return degrees(r.state.trim_rad); }),
    number("throttle", "throttle command: lever, idle floor and speed cap together",
           [](const Craft&, const TraceRow& r) { return r.now.command; }),
    number("air_path", "manifold pressure fraction that follows the command",
           [](const Craft&, const TraceRow& r) { return r.state.air_path; }),
    number("boost", "turbo state; 1 without a turbo",
           [](const Craft&, const TraceRow& r) { return r.state.boost; }),
    number("engine_torque_Nm", "engine torque at the impeller shaft",
           [](const Craft&, const TraceRow& r) { return r.now.engine.torque_Nm; }),
    number("pump_torque_Nm", "torque that the pump takes",
           [](const Craft&, const TraceRow& r) { return r.now.pump_torque_Nm; }),
    number("shaft_rpm", "impeller shaft speed",
           [](const Craft&, const TraceRow& r) { return r.state.shaft_speed_rad_s * rpm_per_rad_s; }),
    number("flow_m3_s", "flow through the pump",
           [](const Craft&, const TraceRow& r) { return r.state.flow_m3_s; }),
    number("pump_head_m", "head the pump delivers",
           [](const Craft&, const TraceRow& r) { return metres(r.now.pump_energy_J_kg); }),
    number("jet_speed_m_s", "jet speed at the nozzle, relative to the craft",
           [](const Craft&, const TraceRow& r) { return r.now.jet_speed_m_s; }),
    number("thrust_N",
           "net propulsive force, after thrust deduction, with the acceleration of the water column",
           [](const Craft&, const TraceRow& r) { return r.now.thrust_N; }),
    number("drag_N", "all resistance: water, air, grate, spill, tow",
           [](const Craft&, const TraceRow& r) { return r.now.drag_N; }),
    number("effective_mass_kg", "craft, water carried and added mass",
           [](const Craft&, const TraceRow& r) { return r.now.effective_mass_kg; }),
    number("pitch_moment_Nm", "bow-up moment about the centre of gravity",
           [](const Craft&, const TraceRow& r) { return r.now.bow_up_moment_Nm; }),
    number("inlet_velocity_ratio", "flow over throat area and craft speed; 0 below 1 m/s",
           [](const Craft&, const TraceRow& r) { return r.now.inlet_velocity_ratio; }),
    number("npsh_available_m", "suction head ahead of the impeller",
           [](const Craft&, const TraceRow& r) { return metres(r.now.npsh_available_J_kg); }),
    number("npsh_required_m", "suction head at which 3 % of the head is lost",
           [](const Craft&, const TraceRow& r) { return metres(r.now.npsh_required_J_kg); }),
    number("cavitation", "share of the pump head lost to cavitation",
           [](const Craft&, const TraceRow& r) { return 1.0 - r.now.head_factor; }),
    number("cavitation_stage_2", "share of the second stage's head lost to cavitation",
           [](const Craft&, const TraceRow& r) { return r.state.cavity_2; }),
    number("void_fraction", "air in the water at the impeller",
           [](const Craft&, const TraceRow& r) { return r.state.void_fraction; }),
    TraceColumn{"limited_by", "what holds the craft back", nullptr, limit_of},
    number("suction_specific_speed", "shaft speed and flow over suction head available, dimensionless",
           [](const Craft&, const TraceRow& r) { return suction_specific_speed(r.state, r.now); }),
    number("npsh_margin", "suction head available over that at which 3 % of the head is lost",
           [](const Craft&, const TraceRow& r) { return npsh_margin(r.now); })};

}  // namespace

std::span<const TraceColumn> trace_columns() { return columns; }

}  // namespace bowrise
