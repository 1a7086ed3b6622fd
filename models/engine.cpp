#include "models/engine.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "models/constants.hpp"
#include "models/lanes.hpp"
#include "models/same_inputs.hpp"
#include "models/smooth.hpp"

namespace bowrise {
namespace {

constexpr double rpm = 2.0 * pi / 60.0;
constexpr double volumetric_efficiency = 0.85;  // engineering judgement, sets only the air-path time
constexpr double air_path_fastest_s = 0.02, air_path_slowest_s = 0.25;
constexpr double boost_fastest_s = 0.15, boost_slowest_s = 1.0;
constexpr double hardly_turning_rad_s =
    20.0;  // far below any idle; slower, dry friction fades and breathing stops
constexpr double blower_work_coefficient = 0.9, blower_efficiency = 0.70;
constexpr double air_heat_capacity_J_kgK = 1005.0, air_heat_ratio = 1.4;

// Full-throttle torque over torque at peak power, against shaft speed over its speed. Engineering judgement:
// what an engine of this class looks like when only its rating is known. Around 1 torque falls about as fast
// as speed rises, so that power has its peak there and not at the limiter.
constexpr std::array shape_speed{0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 1.0, 1.05, 1.1};
constexpr std::array aspirated_shape{0.62, 0.73, 0.83, 0.91, 0.97, 1.03, 1.06, 1.05, 1.03, 1.00, 0.95, 0.90};
constexpr std::array blower_shape{0.45, 0.50, 0.58, 0.66, 0.75, 0.84, 0.92, 0.98, 1.01, 1.00, 0.945, 0.87};
constexpr double limiter_over_peak_speed = 1.05;  // engineering judgement

struct RatedTorque {
  std::vector<double> speed_rad_s, torque_Nm;
  double peak_speed_rad_s, peak_power_W;
};

RatedTorque from_table(const TableRows& rows) {
  RatedTorque rated{};
  for (const auto& row : rows) {
    rated.speed_rad_s.push_back(row[0]);
    rated.torque_Nm.push_back(row[1]);
  }
  const Curve torque(rated.speed_rad_s, rated.torque_Nm);
  constexpr int samples = 400;
  for (int i = 0; i <= samples; ++i) {
    const double speed = torque.low() + (torque.high() - torque.low()) * i / samples;
    if (speed * torque(speed) > rated.peak_power_W) {
      rated.peak_power_W = speed * torque(speed);
      rated.peak_speed_rad_s = speed;
    }
  }
  return rated;
}

// How much of `midrange_factor` acts: all of it up to half the peak speed, none at the peak, which is rated.
double midrange_share(double speed_over_peak) {
  const double below_peak = std::clamp((1.0 - speed_over_peak) / 0.5, 0.0, 1.0);
  return below_peak * below_peak;
}

RatedTorque from_rating(const Engine& engine) {
  const auto& shape = engine.charger == Charger::blower ? blower_shape : aspirated_shape;
  const double peak_torque = engine.peak_power_W / engine.peak_speed_rad_s;
  RatedTorque rated{{}, {}, engine.peak_speed_rad_s, engine.peak_power_W};
  for (std::size_t i = 0; i < shape.size(); ++i) {
    rated.speed_rad_s.push_back(shape_speed[i] * engine.peak_speed_rad_s);
    const double factor = 1.0 + (engine.midrange_factor - 1.0) * midrange_share(shape_speed[i]);
    rated.torque_Nm.push_back(shape[i] * factor * peak_torque);
  }
  return rated;
}

RatedTorque rated_torque(const Engine& engine) {
  return engine.torque_table.empty() ? from_rating(engine) : from_table(engine.torque_table);
}

double limiter_speed(const Engine& engine, const RatedTorque& rated) {
  return std::isfinite(engine.limiter_rad_s) ? engine.limiter_rad_s
                                             : limiter_over_peak_speed * rated.peak_speed_rad_s;
}

// Held below the first row, never rising beyond the last: a fitted cubic says nothing there.
double rated_torque_at(const Curve& curve, double speed_rad_s) {
  if (speed_rad_s <= curve.low()) return curve(curve.low());
  if (speed_rad_s <= curve.high()) return curve(speed_rad_s);
  return curve(curve.high()) + std::min(curve.slope(curve.high()), 0.0) * (speed_rad_s - curve.high());
}

// Density of the charge after blower and cooler, up to a constant.
double charge_density(const Engine& engine, double pressure_Pa, double air_K, double water_K) {
  const double ratio = compressor_pressure_ratio(engine.blower_tip_speed_m_s, air_K, blower_work_coefficient,
                                                 blower_efficiency);
  const double hot_K = air_K + blower_work_coefficient * engine.blower_tip_speed_m_s *
                                   engine.blower_tip_speed_m_s / air_heat_capacity_J_kgK;
  const double charge_K = hot_K - engine.charge_cooler * (hot_K - water_K);
  return ratio * pressure_Pa / charge_K;
}

double day_factor(const Engine& engine, const EngineDay& day) {
  switch (engine.charger) {
    case Charger::blower:
      return charge_density(engine, day.dry_pressure_Pa, day.air_temperature_K, day.water_temperature_K) /
             charge_density(engine, engine.rating_pressure_Pa, engine.rating_temperature_K,
                            engine.rating_temperature_K);
    case Charger::turbo:
      return 1.0;  // a wastegate holds absolute manifold pressure
    case Charger::aspirated:
      break;
  }
  return indicated_factor(day.dry_pressure_Pa, day.air_temperature_K, engine.rating_pressure_Pa,
                          engine.rating_temperature_K);
}

template <class Number>
Number friction_torque(const PreparedEngine& engine, Number speed_rad_s) noexcept {
  // dry friction turns with the direction of rotation: rounded near standstill, so that a stopping engine
  // comes to rest
  const Number share = std::clamp(speed_rad_s / hardly_turning_rad_s, Number(-1.0), Number(1.0));
  const Number direction = share * (1.5 - 0.5 * share * share);
  return direction * engine.friction_Nm +
         speed_rad_s * (engine.friction_linear_Nm_s + speed_rad_s * engine.friction_square_Nm_s2);
}

template <class Number>
Number boosted_torque(const PreparedEngine& engine, Number speed_rad_s, Number boost) noexcept {
  return engine.full_torque_Nm(speed_rad_s) *
         (engine.off_boost_share + (1.0 - engine.off_boost_share) * boost);
}

template <class Number>
Number limited_time(Number time_s, double fastest_s, double slowest_s) noexcept {
  return rounded_max(rounded_min(time_s, slowest_s, 0.1 * slowest_s), fastest_s, 0.1 * fastest_s);
}

}  // namespace

Problems check(const Engine& engine) {
  Problems problems;
  const bool has_table = !engine.torque_table.empty();
  const bool has_rating = std::isfinite(engine.peak_power_W) && std::isfinite(engine.peak_speed_rad_s);
  if (!has_table && !has_rating)
    problems.push_back({"engine.peak_power", "no engine is described",
                        "give engine.peak_power and engine.peak_speed, or engine.torque_table"});
  if (has_table && (std::isfinite(engine.peak_power_W) || std::isfinite(engine.peak_speed_rad_s)))
    problems.push_back({"engine.torque_table", "stands beside engine.peak_power or engine.peak_speed",
                        "give one of the two descriptions"});
  if (engine.limiter_band_rad_s >= limiter_speed_rad_s(engine))
    problems.push_back(
        {"engine.limiter_band", "wider than the limiter speed", "150 rpm to 400 rpm is usual"});
  return problems;
}

double limiter_speed_rad_s(const Engine& engine) { return limiter_speed(engine, rated_torque(engine)); }

double peak_speed_rad_s(const Engine& engine) { return rated_torque(engine).peak_speed_rad_s; }

bool same(const EngineBasis& a, const EngineBasis& b) {
  const auto& [engine, day] = a;  // a member more does not compile
  return same_inputs(engine, b.engine, engine_parameters, engine_choices, engine_tables) &&
         same_bits(day, b.day);
}

PreparedEngine prepare_engine(const EngineBasis& basis) {
  const auto& [engine, day] = basis;
  const RatedTorque rated = rated_torque(engine);
  const Curve curve(rated.speed_rad_s, rated.torque_Nm);
  PreparedEngine out{};
  out.basis = basis;
  out.peak_speed_rad_s = rated.peak_speed_rad_s;
  out.peak_power_W = rated.peak_power_W * engine.power_factor;

  // Friction keeps the shape of the Barnes-Moss mean pressure; its size follows from the
  // mechanical efficiency.
  const double peak_torque = out.peak_power_W / out.peak_speed_rad_s;
  const double scale =
      engine.friction_share * peak_torque / friction_mean_pressure_bar(out.peak_speed_rad_s / rpm);
  out.friction_Nm = 0.97 * scale;
  out.friction_linear_Nm_s = 0.15 * scale / (1000.0 * rpm);
  out.friction_square_Nm_s2 = 0.05 * scale / (1e6 * rpm * rpm);

  const double limiter = limiter_speed(engine, rated);
  out.limiter_low_rad_s = limiter - 0.5 * engine.limiter_band_rad_s;
  out.limiter_high_rad_s = limiter + 0.5 * engine.limiter_band_rad_s;

  const double factor = day_factor(engine, day);
  const double top_speed = 1.3 * std::max(limiter, curve.high());
  constexpr std::size_t samples = 193;
  std::vector<double> torque(samples);
  for (std::size_t i = 0; i < samples; ++i) {
    const double speed = top_speed * static_cast<double>(i) / static_cast<double>(samples - 1);
    const double friction = friction_torque(out, speed);
    const double reference = std::max(rated_torque_at(curve, speed) * engine.power_factor, -friction);
    torque[i] = brake_torque_on_day(reference, friction, factor);
  }
  out.full_torque_Nm = UniformCurve(0.0, top_speed, torque);
  if (out.full_torque_Nm(out.peak_speed_rad_s) <= 0.0)
    throw std::runtime_error("engine: no torque is left on this day; check air pressure and friction share");

  out.drive_efficiency = engine.drive_efficiency;
  out.inertia_kg_m2 = engine.inertia_kg_m2;
  const bool charged = engine.charger != Charger::aspirated;
  const double volumes =
      std::isfinite(engine.manifold_volumes) ? engine.manifold_volumes : (charged ? 3.0 : 1.5);
  out.air_path_turns_rad = engine.air_path_factor * manifold_time_s(volumes, 1.0, volumetric_efficiency);
  const bool turbo = engine.charger == Charger::turbo;
  out.boost_turns_rad = turbo ? engine.boost_time_s * out.peak_speed_rad_s : 0.0;
  out.off_boost_share =
      turbo ? std::min(1.0, engine.off_boost_share *
                                indicated_factor(day.dry_pressure_Pa, day.air_temperature_K,
                                                 engine.rating_pressure_Pa, engine.rating_temperature_K))
            : 1.0;
  out.speed_cap_m_s =
      std::isfinite(engine.speed_cap_m_s) ? engine.speed_cap_m_s : std::numeric_limits<double>::infinity();
  out.correction = out.full_torque_Nm(out.peak_speed_rad_s) / peak_torque;
  return out;
}

template <class Number>
Number limiter_fade(const PreparedEngine& engine, Number speed_rad_s) noexcept {
  return smoothstep(engine.limiter_low_rad_s, engine.limiter_high_rad_s, speed_rad_s);
}

template <class Number>
EnginePointOf<Number> engine_point(const PreparedEngine& engine, Number speed_rad_s, Number air_path,
                                   Number boost, Number command) noexcept {
  const Number friction = friction_torque(engine, speed_rad_s);
  const Number full = boosted_torque(engine, speed_rad_s, boost);
  EnginePointOf<Number> point{};
  point.limiter_fade = limiter_fade(engine, speed_rad_s);
  point.brake_torque_Nm = air_path * (full + friction) * (1.0 - point.limiter_fade) - friction;
  point.torque_Nm = point.brake_torque_Nm * engine.drive_efficiency;
  const Number turning = std::max(speed_rad_s, Number(hardly_turning_rad_s));
  const Number air_path_time =
      limited_time<Number>(engine.air_path_turns_rad / turning, air_path_fastest_s, air_path_slowest_s);
  point.air_path_rate_1_s = (command - air_path) / air_path_time;
  if (engine.boost_turns_rad > 0.0) {
    const Number target = air_path * smoothstep<Number>(0.3, 0.6, speed_rad_s / engine.peak_speed_rad_s);
    point.boost_rate_1_s = (target - boost) / limited_time<Number>(engine.boost_turns_rad / turning,
                                                                   boost_fastest_s, boost_slowest_s);
  }
  return point;
}

template <class Number>
Number speed_cap_share(const PreparedEngine& engine, Number craft_speed_m_s) noexcept {
  if (craft_speed_m_s <= engine.speed_cap_m_s) return 1.0;
  return 1.0 - smoothstep(engine.speed_cap_m_s, engine.speed_cap_m_s + 1.0, craft_speed_m_s);
}

template double limiter_fade(const PreparedEngine&, double) noexcept;
template EnginePoint engine_point(const PreparedEngine&, double, double, double, double) noexcept;
template EnginePointOf<PartLanes> engine_point(const PreparedEngine&, PartLanes, PartLanes, PartLanes,
                                               PartLanes) noexcept;
template double speed_cap_share(const PreparedEngine&, double) noexcept;
template StateLanes speed_cap_share(const PreparedEngine&, StateLanes) noexcept;

double air_path_for_torque(const PreparedEngine& engine, double speed_rad_s, double torque_Nm,
                           double boost) noexcept {
  const double friction = friction_torque(engine, speed_rad_s);
  const double state = engine.boost_turns_rad > 0.0 ? boost : 1.0;
  return (torque_Nm / engine.drive_efficiency + friction) /
         (boosted_torque(engine, speed_rad_s, state) + friction);
}

double sae_j1349_factor(double dry_pressure_Pa, double temperature_K) noexcept {
  return 1.180 * (99e3 / dry_pressure_Pa) * std::sqrt(temperature_K / 298.0) - 0.18;
}

double iso_1585_factor(double dry_pressure_Pa, double temperature_K) noexcept {
  return std::pow(99e3 / dry_pressure_Pa, 1.2) * std::pow(temperature_K / 298.0, 0.6);
}

double iso_3046_adjustment(double factor, double mechanical_efficiency) noexcept {
  return factor - 0.7 * (1.0 - factor) * (1.0 / mechanical_efficiency - 1.0);
}

double indicated_factor(double dry_pressure_Pa, double temperature_K, double reference_pressure_Pa,
                        double reference_temperature_K) noexcept {
  return dry_pressure_Pa / reference_pressure_Pa * std::sqrt(reference_temperature_K / temperature_K);
}

double brake_torque_on_day(double reference_torque_Nm, double friction_Nm, double factor) noexcept {
  return (reference_torque_Nm + friction_Nm) * factor - friction_Nm;
}

double compressor_pressure_ratio(double tip_speed_m_s, double inlet_temperature_K, double work_coefficient,
                                 double efficiency) noexcept {
  const double work = work_coefficient * tip_speed_m_s * tip_speed_m_s;
  return std::pow(1.0 + efficiency * work / (air_heat_capacity_J_kgK * inlet_temperature_K),
                  air_heat_ratio / (air_heat_ratio - 1.0));
}

double friction_mean_pressure_bar(double speed_rpm) noexcept {
  const double thousands = speed_rpm / 1000.0;
  return 0.97 + 0.15 * thousands + 0.05 * thousands * thousands;
}

double manifold_time_s(double volume_ratio, double speed_rad_s, double filling_efficiency) noexcept {
  return 2.0 * volume_ratio / (filling_efficiency * speed_rad_s / (2.0 * pi));
}

}  // namespace bowrise
