// The tables behind `curves`: which axes there are, and what each kind takes and gives.
#include <array>

#include "sim/curves.hpp"

namespace bowrise {
namespace {

// clang-format off
constexpr std::array axes{
    AxisRow{Axis::speed, "speed", Dimension::speed, {0, 120}, "m/s", "craft speed through the water"},
    AxisRow{Axis::thrust, "thrust", Dimension::force, {-1e7, 1e7}, "N", "force on the hull's single thrust line"},
    AxisRow{Axis::trim, "trim", Dimension::angle, {-0.2, 0.5}, "deg", "trim of the keel, bow up"},
    AxisRow{Axis::flow, "flow", Dimension::flow, {-10, 200}, "m3/s", "flow through the pump"},
    AxisRow{Axis::shaft_speed, "shaft_speed", Dimension::angular_speed, {1, 3000}, "rpm", "impeller shaft speed"},
    AxisRow{Axis::shaft_power, "shaft_power", Dimension::power, {1, 1e8}, "kW", "power at the impeller shaft"},
    AxisRow{Axis::throttle, "throttle", Dimension::dimensionless, {0, 1}, "1", "throttle lever"},
    AxisRow{Axis::temperature, "temperature", Dimension::temperature, {273.15, 323.15}, "degC", "of the water, or of the air with --of air and engine"},
    AxisRow{Axis::salinity, "salinity", Dimension::salinity, {0, 42}, "g/kg", "absolute salinity of the water"},
    AxisRow{Axis::altitude, "altitude", Dimension::length, {-430, 4500}, "m", "geopotential altitude, as standard-atmosphere tables give it"}};
// clang-format on
static_assert(axes.size() == static_cast<std::size_t>(Axis::count));

}  // namespace

std::span<const AxisRow> axis_rows() { return axes; }

std::span<const CurveRow> curve_rows() {
  static const std::vector<std::array<Axis, 2>> one_drive{{Axis::shaft_power, Axis::shaft_speed},
                                                          {Axis::shaft_power, Axis::throttle},
                                                          {Axis::shaft_speed, Axis::throttle}};
  // clang-format off
  static const std::vector<CurveRow> rows{
      {CurveKind::water, "water", "properties of the water", {Axis::temperature, Axis::salinity}, {}, {},
       {"temperature_degC", "salinity_g_kg", "density_kg_m3", "viscosity_Pa_s", "vapour_pressure_Pa"}},
      {CurveKind::air, "air", "standard atmosphere against altitude; humid air of the day against temperature",
       {Axis::altitude, Axis::temperature}, {}, {},
       {"altitude_m", "pressure_Pa", "temperature_degC", "density_kg_m3", "available_head_m"}},
      {CurveKind::engine, "engine", "torque on the day at the impeller shaft, limiter included",
       {Axis::shaft_speed, Axis::throttle, Axis::temperature, Axis::altitude}, {Axis::shaft_speed}, {},
       {"shaft_rpm", "torque_Nm", "power_W", "correction"}},
      {CurveKind::hull, "hull", "drag, trim and wetted lengths; thrust imposed, or the jet at full throttle, or what holds the speed",
       {Axis::speed, Axis::thrust, Axis::trim, Axis::throttle}, {Axis::speed},
       {{Axis::thrust, Axis::throttle}, {Axis::trim, Axis::throttle}},
       {"speed_m_s", "thrust_N", "trim_deg", "wetted_keel_m", "wetted_chine_m", "wetted_length_beams", "mean_bottom_speed_m_s", "centre_rise_m",
        "pressure_drag_N", "friction_drag_N", "spray_drag_N", "plate_drag_N", "appendage_drag_N", "air_drag_N", "spill_drag_N",
        "drag_N", "effective_power_W", "pitch_moment_Nm", "bottom_lift_N", "plate_lift_N", "thrust_lift_N", "flags"}},
      {CurveKind::pump, "pump", "the pump on a test stand, without cavitation", {Axis::flow, Axis::shaft_speed},
       {Axis::flow, Axis::shaft_speed}, {},
       {"flow_m3_s", "shaft_rpm", "flow_coefficient", "head_coefficient", "head_m", "shaft_power_W", "efficiency", "npsh_3_m",
        "npsh_breakdown_m", "stage_1_work_share"}},
      {CurveKind::intake, "intake", "ram, loss and spill of the intake, the unit held level at a speed",
       {Axis::speed, Axis::flow, Axis::shaft_speed, Axis::shaft_power, Axis::throttle}, {Axis::speed}, one_drive,
       {"speed_m_s", "flow_m3_s", "inlet_velocity_ratio", "inflow_speed_m_s", "duct_speed_m_s", "inlet_loss_m", "npsh_available_m",
        "spill_drag_N", "stern_lift_N", "void_fraction"}},
      {CurveKind::cavitation, "cavitation", "suction head available and required, the unit held level at a speed",
       {Axis::speed, Axis::flow, Axis::shaft_speed, Axis::shaft_power, Axis::throttle}, {Axis::speed}, one_drive,
       {"speed_m_s", "shaft_rpm", "flow_m3_s", "npsh_available_m", "npsh_3_m", "npsh_breakdown_m", "npsh_margin",
        "suction_specific_speed", "cavitation", "cavitation_stage_2"}},
      {CurveKind::thrust, "thrust", "thrust of the jet unit held level at a speed, for a shaft power, shaft speed or throttle",
       {Axis::speed, Axis::shaft_power, Axis::shaft_speed, Axis::throttle}, {Axis::speed}, one_drive,
       {"speed_m_s", "shaft_power_W", "shaft_rpm", "flow_m3_s", "thrust_N", "jet_speed_m_s", "inlet_velocity_ratio",
        "npsh_available_m", "cavitation", "jet_velocity_ratio", "nozzle_velocity_ratio"}},
      {CurveKind::cruise, "cruise", "rpm and throttle that hold a speed", {Axis::speed}, {Axis::speed}, {},
       {"speed_m_s", "shaft_rpm", "throttle", "shaft_power_W", "thrust_N", "trim_deg", "inlet_velocity_ratio", "cavitation"}}};
  // clang-format on
  return rows;
}

Range axis_range(CurveKind kind, Axis axis) {
  constexpr Range liquid{273.15, 313.15};  // of the water's formulae
  if (kind == CurveKind::water && axis == Axis::temperature) return liquid;
  return axes[static_cast<std::size_t>(axis)].possible;
}

}  // namespace bowrise
