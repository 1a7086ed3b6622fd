#include "sim/curves.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <stdexcept>

#include "models/constants.hpp"
#include "sim/steady.hpp"

namespace bowrise {
namespace {

/// What the user imposed at one point.
struct Point {
  std::array<std::optional<double>, static_cast<std::size_t>(Axis::count)> value;
  [[nodiscard]] std::optional<double> at(Axis axis) const { return value[static_cast<std::size_t>(axis)]; }
  [[nodiscard]] double or_else(Axis axis, double otherwise) const { return at(axis).value_or(otherwise); }
};

using Cells = std::vector<Cell>;
using RowFunction = std::function<std::optional<Cells>(const Point&)>;

double celsius(double kelvin) { return kelvin - zero_celsius_K; }

std::string flag_names(FlagSet flags) {
  std::string names;
  for (const FlagText& text : flag_texts)
    if (flags.has(text.flag)) names += (names.empty() ? "" : " ") + std::string(text.name);
  return names;
}

RowFunction water_rows(const Setup& setup) {
  return [setup](const Point& point) -> std::optional<Cells> {
    const double temperature = point.or_else(Axis::temperature, setup.water.temperature_K);
    const double salinity = point.or_else(Axis::salinity, setup.water.salinity_g_kg);
    const WaterState water = water_state(temperature, salinity);
    return Cells{celsius(temperature), salinity, water.density_kg_m3, water.viscosity_Pa_s,
                 water.vapour_pressure_Pa};
  };
}

RowFunction air_rows(const Setup& setup) {
  return [setup](const Point& point) -> std::optional<Cells> {
    const Surroundings day = surroundings(setup);
    const auto altitude = point.at(Axis::altitude), given = point.at(Axis::temperature);
    const double pressure = altitude ? standard_atmosphere_pressure_Pa(*altitude) : day.ambient_pressure_Pa;
    const double standard = standard_atmosphere_temperature_K(altitude.value_or(setup.site.altitude_m));
    const bool standard_air = altitude && !given;  // the tables' own temperature, dry
    const double temperature = standard_air ? standard : given.value_or(setup.air.temperature_K);
    const double density = standard_air ? standard_atmosphere_density_kg_m3(*altitude)
                                        : humid_air_density_kg_m3(temperature, pressure, setup.air.humidity);
    return Cells{altitude.value_or(setup.site.altitude_m), pressure, celsius(temperature), density,
                 available_head_m(pressure, day.water)};
  };
}

RowFunction engine_rows(const Setup& setup) {
  return [setup](const Point& point) -> std::optional<Cells> {
    Setup day = setup;
    day.air.temperature_K = point.or_else(Axis::temperature, setup.air.temperature_K);
    day.site.altitude_m = point.or_else(Axis::altitude, setup.site.altitude_m);
    const PreparedEngine engine = prepare_engine(engine_basis(day, surroundings(day)));
    const double speed = point.or_else(Axis::shaft_speed, engine.peak_speed_rad_s);
    const double throttle = point.or_else(Axis::throttle, 1.0);
    const double torque = engine_point(engine, speed, throttle, 1.0, throttle).torque_Nm;
    return Cells{speed * rpm_per_rad_s, torque, torque * speed, engine.correction};
  };
}

/// What acts on a hull besides itself.
struct HullCompany {
  double thrust_N, thrust_lift_N, bow_up_moment_Nm;  ///< the moment is that of all forces
  double spill_N = 0.0, grate_N = 0.0;
};

/// A hull and its height at rest.
struct FloatingHull {
  PreparedHull hull;
  double resting_height_m;
};

Cells hull_cells(double speed, double trim_rad, const HullForces& forces, const HullCompany& company,
                 double centre_rise_m) {
  const double spill_N = company.spill_N, grate_N = company.grate_N;
  const double drag = forces.drag_N + spill_N + grate_N;
  return {speed,
          company.thrust_N,
          trim_rad / radians_per_degree,
          forces.wetted_keel_m,
          forces.wetted_chine_m,
          forces.wetted_length_beams,
          forces.mean_bottom_speed_m_s,
          centre_rise_m,
          forces.pressure_drag_N,
          forces.friction_drag_N,
          forces.spray_drag_N,
          forces.plate_drag_N,
          forces.appendage_drag_N + grate_N,
          forces.air_drag_N,
          spill_N,
          drag,
          drag * speed,
          company.bow_up_moment_Nm,
          forces.bottom_lift_N,
          forces.plate_lift_N,
          company.thrust_lift_N,
          flag_names(forces.flags)};
}

// A thrust along the hull's single line; its moment counts as far as the craft planes.
Cells single_line_cells(const FloatingHull& floating, double speed, double trim_rad, double thrust_N) {
  const PreparedHull& hull = floating.hull;
  const double lift = thrust_N * std::sin(trim_rad + hull.thrust_line_angle_rad);
  const HullForces forces = hull_forces(hull, speed, trim_rad, lift);
  const double moment = forces.bow_up_moment_Nm + forces.planing_weight * thrust_N * hull.thrust_line_depth_m;
  return hull_cells(speed, trim_rad, forces, {thrust_N, lift, moment},
                    centre_rise_m(hull, floating.resting_height_m, trim_rad, forces));
}

// A thrust on the hull's single line, or the one that holds the speed.
RowFunction test_hull_rows(const Setup& setup) {
  FloatingHull floating{prepare_hull(hull_basis(setup, surroundings(setup))), 0.0};
  floating.resting_height_m = resting_centre_height_m(setup.hull, floating.hull);
  return [floating](const Point& point) -> std::optional<Cells> {
    const PreparedHull& hull = floating.hull;
    const double speed = *point.at(Axis::speed);
    const auto thrust = point.at(Axis::thrust), trim = point.at(Axis::trim);
    if (trim)
      return single_line_cells(floating, speed, *trim,
                               thrust ? *thrust : holding_thrust_N(hull, speed, *trim));
    if (thrust) {
      const auto settled_trim = equilibrium_trim(hull, speed, *thrust);
      if (!settled_trim) return std::nullopt;
      return single_line_cells(floating, speed, *settled_trim, *thrust);
    }
    const auto found = steady_hull(hull, speed);
    if (!found) return std::nullopt;
    return single_line_cells(floating, speed, found->trim_rad, found->thrust_N);
  };
}

Pinned pinned_at(const Point& point) {
  Pinned pinned;
  pinned.speed_m_s = point.at(Axis::speed);
  pinned.trim_rad = point.at(Axis::trim);
  pinned.shaft_speed_rad_s = point.at(Axis::shaft_speed);
  pinned.shaft_power_W = point.at(Axis::shaft_power);
  pinned.flow_m3_s = point.at(Axis::flow);
  pinned.lever = point.or_else(Axis::throttle, 1.0);
  return pinned;
}

// The craft held at a speed, everything else settled: what pulls and what brakes.
std::optional<Steady> settled(const Craft& craft, Pinned pinned) {
  pinned.lever = std::max(pinned.lever, craft.idle_air_path);  // a shut lever idles
  if (!pinned.speed_m_s) return top_speed(craft, pinned.lever, planing_guess(craft, 20.0));
  if (const auto found = steady(craft, pinned, planing_guess(craft, *pinned.speed_m_s))) return found;
  State slow = craft.start;
  slow.air_path = pinned.lever;
  return steady(craft, pinned, slow);
}

RowFunction coupled_hull_rows(const Setup& setup) {
  const auto craft = std::make_shared<const Craft>(prepare(setup));
  const double resting = resting_centre_height_m(setup.hull, *craft->hull);
  return [craft, resting](const Point& point) -> std::optional<Cells> {
    const auto found = settled(*craft, pinned_at(point));
    if (!found) return std::nullopt;
    const Instant& now = found->now;
    return hull_cells(found->state.speed_m_s, found->state.trim_rad, now.hull,
                      {now.thrust_N, now.jet_lift_N + now.spill.lift_N, now.bow_up_moment_Nm,
                       now.spill.drag_N, now.grate_drag_N},
                      centre_rise_m(*craft->hull, resting, found->state.trim_rad, now.hull));
  };
}

RowFunction hull_rows(const Setup& setup, const std::vector<AxisValues>& imposed) {
  return hull_stands_alone(setup, imposed) ? test_hull_rows(setup) : coupled_hull_rows(setup);
}

RowFunction pump_rows(const Setup& setup) {
  const WaterState water = surroundings(setup).water;
  const WornPump worn = worn_pump(setup.wear, setup.pump, setup.cavitation);
  return [setup, worn, water](const Point& point) -> std::optional<Cells> {
    const PumpCurveRow row =
        pump_curve_row(worn.pump, setup.impeller, setup.stage_2, worn.cavitation, water.density_kg_m3,
                       water.kinematic_viscosity_m2_s, *point.at(Axis::flow), *point.at(Axis::shaft_speed));
    return Cells{row.flow_m3_s,        row.shaft_speed_rad_s * rpm_per_rad_s,
                 row.flow_coefficient, row.head_coefficient,
                 row.head_m,           row.shaft_power_W,
                 row.efficiency,       row.npsh_3_m,
                 row.npsh_breakdown_m, row.first_stage_share};
  };
}

// The jet unit held by a rope in front of a hull that plays no part: level, no thrust deduction. What a pump
// scenario leaves open about hull and engine is filled with values that do not enter.
Setup jet_unit_alone(const Setup& setup) {
  Setup unit = setup;
  const auto fill = [](double& field, double value) {
    if (!std::isfinite(field)) field = value;
  };
  fill(unit.craft.mass_kg, 400.0);
  fill(unit.hull.beam_m, 1.0);
  fill(unit.hull.length_m, 3.0);
  fill(unit.hull.deadrise_rad, 20.0 * radians_per_degree);
  fill(unit.hull.load_centre_m, 1.0);
  if (unit.engine.torque_table.empty()) {
    fill(unit.engine.peak_speed_rad_s, 120.0 / unit.pump.bore_m);  // 60 m/s at the blade tip
    fill(unit.engine.peak_power_W, 1e9 * unit.pump.bore_m * unit.pump.bore_m);
    unit.start.shaft_speed_rad_s = 0.2 * unit.engine.peak_speed_rad_s;
  }
  unit.start.rolling_speed_m_s = 0.0;
  unit.hull.thrust_deduction = 0.0;
  if (!std::isfinite(unit.nozzle.exit_diameter_m))
    throw std::runtime_error("nozzle.exit_diameter: missing; a jet unit needs it");
  return unit;
}

std::shared_ptr<const Craft> jet_unit(const Setup& setup) {
  return std::make_shared<const Craft>(prepare(jet_unit_alone(setup)));
}

std::optional<Steady> held_level(const Craft& unit, const Point& point) {
  Pinned pinned = pinned_at(point);
  pinned.trim_rad = 0.0;
  return settled(unit, pinned);
}

RowFunction thrust_rows(const Setup& setup) {
  return [unit = jet_unit(setup)](const Point& point) -> std::optional<Cells> {
    const auto found = held_level(*unit, point);
    if (!found) return std::nullopt;
    const Instant& now = found->now;
    return Cells{found->state.speed_m_s,
                 now.pump_torque_Nm * found->state.shaft_speed_rad_s,
                 found->state.shaft_speed_rad_s * rpm_per_rad_s,
                 found->state.flow_m3_s,
                 now.thrust_N,
                 now.jet_speed_m_s,
                 now.inlet_velocity_ratio,
                 now.npsh_available_J_kg / gravity_m_s2,
                 1.0 - now.head_factor,
                 jet_velocity_ratio(found->state, now),
                 nozzle_velocity_ratio(found->state, now)};
  };
}

RowFunction cavitation_rows(const Setup& setup) {
  return [unit = jet_unit(setup)](const Point& point) -> std::optional<Cells> {
    const auto found = held_level(*unit, point);
    if (!found) return std::nullopt;
    const Instant& now = found->now;
    const StagePoint& first = now.pump.stage[0];
    return Cells{found->state.speed_m_s,
                 found->state.shaft_speed_rad_s * rpm_per_rad_s,
                 found->state.flow_m3_s,
                 now.npsh_available_J_kg / gravity_m_s2,
                 first.energy_onset_J_kg / gravity_m_s2,
                 first.energy_breakdown_J_kg / gravity_m_s2,
                 npsh_margin(now),
                 suction_specific_speed(found->state, now),
                 found->state.cavity_1,
                 found->state.cavity_2};
  };
}

RowFunction intake_rows(const Setup& setup) {
  return [unit = jet_unit(setup)](const Point& point) -> std::optional<Cells> {
    const auto found = held_level(*unit, point);
    if (!found) return std::nullopt;
    const Instant& now = found->now;
    return Cells{found->state.speed_m_s,
                 found->state.flow_m3_s,
                 now.inlet_velocity_ratio,
                 now.inflow.inflow_speed_m_s,
                 now.inflow.duct_speed_m_s,
                 now.inflow.loss_J_kg / gravity_m_s2,
                 now.npsh_available_J_kg / gravity_m_s2,
                 now.spill.drag_N,
                 now.spill.lift_N,
                 found->state.void_fraction};
  };
}

RowFunction cruise_rows(const Setup& setup) {
  const auto craft = std::make_shared<const Craft>(prepare(setup));
  return [craft](const Point& point) -> std::optional<Cells> {
    const auto found = cruise(*craft, *point.at(Axis::speed));
    if (!found) return std::nullopt;
    const Instant& now = found->now;
    return Cells{found->state.speed_m_s,
                 found->state.shaft_speed_rad_s * rpm_per_rad_s,
                 now.command,
                 now.pump_torque_Nm * found->state.shaft_speed_rad_s,
                 now.thrust_N,
                 found->state.trim_rad / radians_per_degree,
                 now.inlet_velocity_ratio,
                 1.0 - now.head_factor};
  };
}

RowFunction rows_for(const Setup& setup, CurveKind kind, const std::vector<AxisValues>& imposed) {
  switch (kind) {
    case CurveKind::water:
      return water_rows(setup);
    case CurveKind::air:
      return air_rows(setup);
    case CurveKind::engine:
      return engine_rows(setup);
    case CurveKind::hull:
      return hull_rows(setup, imposed);
    case CurveKind::pump:
      return pump_rows(setup);
    case CurveKind::intake:
      return intake_rows(setup);
    case CurveKind::cavitation:
      return cavitation_rows(setup);
    case CurveKind::thrust:
      return thrust_rows(setup);
    case CurveKind::cruise:
      break;
  }
  return cruise_rows(setup);
}

std::string describe(const Point& point) {
  std::string text;
  for (const AxisRow& axis : axis_rows())
    if (const auto value = point.at(axis.axis))
      text += fmt::format("{}{} = {}", text.empty() ? "" : ", ", axis.name,
                          format_quantity(*value, *find_unit(axis.unit)));
  return text;
}

void visit_points(const std::vector<AxisValues>& imposed, std::size_t depth, Point& point,
                  const std::function<void(const Point&)>& visit) {
  if (depth == imposed.size()) return visit(point);
  for (const double value : imposed[depth].values) {
    point.value[static_cast<std::size_t>(imposed[depth].axis)] = value;
    visit_points(imposed, depth + 1, point, visit);
  }
}

}  // namespace

bool hull_stands_alone(const Setup& setup, const std::vector<AxisValues>& axes) {
  const auto puts_on_line = [](const AxisValues& axis) {
    return axis.axis == Axis::thrust || axis.axis == Axis::trim;
  };
  return setup.hull.thrust_line == ThrustLine::single || std::any_of(axes.begin(), axes.end(), puts_on_line);
}

CurveTable curve_table(const Setup& setup, CurveKind kind, const std::vector<AxisValues>& imposed) {
  CurveTable table;
  table.columns = curve_rows()[static_cast<std::size_t>(kind)].columns;
  const RowFunction row = rows_for(setup, kind, imposed);
  Point point;
  visit_points(imposed, 0, point, [&](const Point& here) {
    if (auto cells = row(here))
      table.rows.push_back(std::move(*cells));
    else
      table.missing.push_back(describe(here));
  });
  return table;
}

}  // namespace bowrise
