#include "sim/craft.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "models/constants.hpp"
#include "sim/lever_plan.hpp"
#include "sim/steady.hpp"

namespace bowrise {
namespace {

double station_pressure_Pa(const Setup& setup) {
  if (std::isfinite(setup.air.station_pressure_Pa)) return setup.air.station_pressure_Pa;
  return standard_atmosphere_pressure_Pa(geopotential_altitude_m(setup.site.altitude_m));
}

void place_components(const Setup& setup, Craft& craft) {
  const double forward = craft.load_centre_m, height = setup.hull.centre_height_m;
  craft.nozzle_angle_rad = Schedule(setup.nozzle.angle_schedule, setup.nozzle.angle_rad);
  craft.nozzle_cosine = std::cos(setup.nozzle.angle_rad);
  craft.nozzle_sine = std::sin(setup.nozzle.angle_rad);
  TableRows shift = setup.rider.position_schedule;
  for (auto& row : shift) row[1] = (row[1] - setup.rider.position_m) * setup.rider.mass_kg * gravity_m_s2;
  craft.rider_shift_Nm = Schedule(shift, 0.0);
  craft.nozzle_arm_m = forward + setup.nozzle.overhang_m;
  craft.nozzle_depth_m = height - setup.nozzle.height_m;
  craft.intake_depth_m = height + setup.intake.capture_depth_m;
  craft.lip_arm_m = forward - setup.intake.lip_position_m;
  craft.keel_depth_m = height;
}

void fill_water_path(const Setup& setup, const Surroundings& around, Craft& craft) {
  craft.cavity_pressure_Pa = around.water.vapour_pressure_Pa + setup.water.gas_pressure_Pa;
  craft.static_suction_J_kg =
      (around.ambient_pressure_Pa - craft.cavity_pressure_Pa) / around.water.density_kg_m3 +
      gravity_m_s2 * setup.pump.depth_m;
  craft.suction_inertance_1_m = setup.intake.suction_inertance_1_m;
  craft.total_inertance_1_m = setup.intake.suction_inertance_1_m + setup.pump.discharge_inertance_1_m;
  craft.suction_length_m = setup.intake.suction_length_m;
  craft.column_length_m = setup.pump.column_length_m;
  craft.water_mass_kg = setup.intake.water_mass_kg;
  craft.cavity_rate_1_s = 1.0 / setup.cavitation.lag_s;
  craft.torque_share = setup.cavitation.torque_share;
}

template <class Basis, class Prepared>
std::shared_ptr<const Prepared> made_from(const Basis& basis,
                                          const std::vector<std::shared_ptr<const Prepared>>& offered,
                                          Prepared (*prepare)(const Basis&)) {
  const auto found = std::find_if(offered.begin(), offered.end(),
                                  [&](const auto& prepared) { return same(prepared->basis, basis); });
  return found == offered.end() ? std::make_shared<const Prepared>(prepare(basis)) : *found;
}

constexpr double strange_pressure = 0.05, noticed_area_rise = 0.01;

std::vector<std::string> advice_on(const Setup& setup, const Craft& craft) {
  std::vector<std::string> advice;
  const auto beat = [&](const Rotor& rotor, std::string_view key) {
    if (!setup.pump.curve.empty() || !blades_beat_with_vanes(setup.pump, rotor)) return;
    advice.push_back(fmt::format("{}.blades and pump.stator_vanes share a factor: expect vibration", key));
  };
  beat(setup.impeller, "impeller");
  if (craft.two_stages) beat(setup.stage_2, "stage_2");
  if (craft.passage.area_rise > noticed_area_rise)
    advice.push_back(
        fmt::format("the passage widens by {:.0f} % between stator and nozzle: flow may separate; a longer "
                    "or fuller cone closes it",
                    100.0 * craft.passage.area_rise));
  const double standard = standard_atmosphere_pressure_Pa(geopotential_altitude_m(setup.site.altitude_m));
  if (std::abs(craft.ambient_pressure_Pa / standard - 1.0) > strange_pressure)
    advice.push_back(
        "air.station_pressure is over 5 % off the standard one at site.altitude: is it reduced to sea "
        "level?");
  return advice;
}

}  // namespace

Surroundings surroundings(const Setup& setup) {
  const double pressure = station_pressure_Pa(setup);
  const AirState air = air_state(setup.air.temperature_K, pressure, setup.air.humidity);
  Surroundings out{};
  out.water = water_state(setup.water.temperature_K, setup.water.salinity_g_kg);
  out.ambient_pressure_Pa = pressure;
  out.air_density_kg_m3 = air.density_kg_m3;
  out.engine_day = {dry_air_pressure_Pa(setup.air.temperature_K, pressure, setup.air.humidity),
                    setup.air.temperature_K, setup.water.temperature_K};
  return out;
}

HullBasis hull_basis(const Setup& setup, const Surroundings& around) {
  const double still = setup.craft.mass_kg + setup.fuel.mass_kg;
  const double total = still + setup.rider.mass_kg;
  const double centre =
      (still * setup.hull.load_centre_m + setup.rider.mass_kg * setup.rider.position_m) / total;
  return {setup.hull,
          setup.plate,
          {total, centre + setup.hull.load_centre_shift_m, around.air_density_kg_m3, around.water}};
}

PumpBasis pump_basis(const Setup& setup, const Surroundings& around) {
  WornPump worn = worn_pump(setup.wear, setup.pump, behind_blockage(setup.grate, setup.cavitation));
  return {std::move(worn.pump),
          setup.impeller,
          setup.stage_2,
          worn.cavitation,
          peak_speed_rad_s(setup.engine),
          around.water.density_kg_m3,
          around.water.kinematic_viscosity_m2_s};
}

EngineBasis engine_basis(const Setup& setup, const Surroundings& around) {
  return {setup.engine, around.engine_day};
}

std::shared_ptr<const PreparedHull> hull_of(const HullBasis& basis, const Tables& offered) {
  return made_from(basis, offered.hulls, prepare_hull);
}

std::shared_ptr<const PreparedPump> pump_of(const PumpBasis& basis, const Tables& offered) {
  return made_from(basis, offered.pumps, prepare_pump);
}

std::shared_ptr<const PreparedEngine> engine_of(const EngineBasis& basis, const Tables& offered) {
  return made_from(basis, offered.engines, prepare_engine);
}

void set_throttle(Craft& craft, const Throttle& throttle) {
  craft.throttle = throttle;
  craft.lever = lever_segments(throttle, craft.idle_air_path);
  if (throttle.plan == Plan::rider && !craft.normal_shaft_speed_rad_s.varies())
    craft.normal_shaft_speed_rad_s = normal_shaft_speed(craft);
}

Craft prepare(const Setup& setup, const Tables& offered) {
  const Surroundings around = surroundings(setup);
  Craft craft{};
  craft.water = around.water;
  craft.ambient_pressure_Pa = around.ambient_pressure_Pa;
  craft.air_density_kg_m3 = around.air_density_kg_m3;
  craft.engine = engine_of(engine_basis(setup, around), offered);
  craft.hull = hull_of(hull_basis(setup, around), offered);
  craft.pump = pump_of(pump_basis(setup, around), offered);
  const HullLoading& loading = craft.hull->basis.loading;
  craft.mass_kg = loading.mass_kg;
  craft.load_centre_m = loading.load_centre_m - setup.hull.load_centre_shift_m;
  craft.volume_m3 = loading.mass_kg / around.water.density_kg_m3;
  craft.tow_load_N = setup.craft.tow_load_N;
  craft.wear = setup.wear;
  craft.worn = wear_state(setup);
  craft.standing_flags.raise(Flag::wear_held, wear_held(craft.wear, craft.worn));
  craft.two_stages = setup.pump.stages > 1.0;
  craft.bore_m = setup.pump.bore_m;
  craft.passage = prepare_passage(setup.cone, setup.nozzle, setup.pump, last_rotor(setup));
  craft.intake = prepare_intake(setup.intake, setup.grate,
                                {.plate_angle_rad = setup.plate.angle_rad,
                                 .bore_m = setup.pump.bore_m,
                                 .hull_length_m = setup.hull.length_m,
                                 .chop_height_m = setup.water.chop_height_m,
                                 .air_density_kg_m3 = around.air_density_kg_m3,
                                 .kinematic_viscosity_m2_s = around.water.kinematic_viscosity_m2_s,
                                 .weight_N = loading.mass_kg * gravity_m_s2});
  fill_water_path(setup, around, craft);
  place_components(setup, craft);
  craft.start = start_state(craft, setup.start, setup.hull.static_trim_rad, craft.idle_air_path);
  craft.limiter_rad_s = limiter_speed_rad_s(setup.engine);
  set_throttle(craft, setup.throttle);
  craft.advice = advice_on(setup, craft);
  return craft;
}

}  // namespace bowrise
