// Engine: full-throttle torque on the day, part throttle by the air path, rev limiter, speed cap, rotating
// inertia.
//
// Torque is stated at rating conditions; friction does not know the weather, so it is the indicated torque
// (brake + friction) that scales with the day (Heywood 1988, eqs 2.31-2.33, from memory).
#pragma once

#include <array>

#include "models/curve.hpp"
#include "models/parameter.hpp"
#include "models/problem.hpp"

namespace bowrise {

enum class Charger : int { aspirated, blower, turbo };

struct Engine {
  double peak_power_W, peak_speed_rad_s, limiter_rad_s, limiter_band_rad_s, inertia_kg_m2, speed_cap_m_s;
  double friction_share, drive_efficiency, manifold_volumes, boost_time_s, rating_pressure_Pa,
      rating_temperature_K;
  double charge_cooler, blower_tip_speed_m_s, off_boost_share, power_factor, midrange_factor, air_path_factor;
  Charger charger;
  TableRows torque_table;  ///< [rad/s, N m]
};

// clang-format off
inline constexpr std::array engine_parameters{
    Parameter<Engine>{"peak_power", &Engine::peak_power_W, "hp", derived, {1, 20000}, {50, 450}, {},
                      "power at peak speed at rating conditions; with a torque table: from the table", "maker's rating"},
    Parameter<Engine>{"peak_speed", &Engine::peak_speed_rad_s, "rpm", derived, {100, 20000}, {5500, 9000}, {},
                      "shaft speed of peak power; with a torque table: from the table", "maker's rating"},
    Parameter<Engine>{"limiter", &Engine::limiter_rad_s, "rpm", derived, {100, 25000}, {6000, 9500}, {Shape::setting, 0.88, 1.1364},
                      "rev limiter, middle of its fade; derived: 1.05 of the peak speed", "maker's manual"},
    Parameter<Engine>{"limiter_band", &Engine::limiter_band_rad_s, "rpm", 200.0, {50, 2000}, {150, 400}, {},
                      "speeds over which the limiter fades torque out", "engineering judgement"},
    Parameter<Engine>{"inertia", &Engine::inertia_kg_m2, "kg m2", 0.045, {0.001, 5000}, {0.03, 0.08}, {},
                      "all that turns, referred to the impeller shaft", "engineering judgement from part masses"},
    Parameter<Engine>{"speed_cap", &Engine::speed_cap_m_s, "mph", derived, {5, 300}, {30, 100}, {},
                      "electronic limit on craft speed; derived: none", "maker's manual"},
    Parameter<Engine>{"friction_share", &Engine::friction_share, "1", 0.176, {0.02, 1}, {0.10, 0.25}, {},
                      "friction and pumping torque over brake torque at peak power", "mechanical efficiency 0.85, engineering judgement"},
    Parameter<Engine>{"drive_efficiency", &Engine::drive_efficiency, "1", 0.99, {0.5, 1}, {0.97, 1}, {},
                      "shaft bearings and any gear between engine and impeller", "engineering judgement"},
    Parameter<Engine>{"manifold_volumes", &Engine::manifold_volumes, "1", derived, {0.1, 20}, {1, 4}, {},
                      "intake plumbing volume over displacement; derived: 1.5, with a blower or turbo 3", "engineering judgement"},
    Parameter<Engine>{"boost_time", &Engine::boost_time_s, "s", 0.35, {0.01, 5}, {0.2, 0.6}, {},
                      "time in which a turbo builds boost at peak speed", "engineering judgement"},
    Parameter<Engine>{"rating_pressure", &Engine::rating_pressure_Pa, "kPa", 99.0, {60, 110}, {95, 102}, {},
                      "dry air pressure of the rating", "SAE J1349, ISO 1585: 99 kPa"},
    Parameter<Engine>{"rating_temperature", &Engine::rating_temperature_K, "degC", 25.0, {-30, 60}, {15, 30}, {},
                      "air temperature of the rating", "SAE J1349, ISO 1585: 298 K"},
    Parameter<Engine>{"charge_cooler", &Engine::charge_cooler, "1", 0.7, {0, 1}, {0.5, 0.85}, {},
                      "effectiveness of the charge cooler on lake water", "engineering judgement"},
    Parameter<Engine>{"blower_tip_speed", &Engine::blower_tip_speed_m_s, "m/s", 300.0, {50, 600}, {200, 400}, {},
                      "blower tip speed at peak speed", "engineering judgement"},
    Parameter<Engine>{"off_boost_share", &Engine::off_boost_share, "1", 0.55, {0.1, 1}, {0.4, 0.7}, {},
                      "torque of a turbo engine before boost over its full torque", "engineering judgement"},
    Parameter<Engine>{"power_factor", &Engine::power_factor, "1", 1.0, {0.1, 3}, {0.9, 1.1}, {Shape::uniform, 0.96, 1.04},
                      "calibration: factor on the rated torque", "ratings are held to a few per cent, engineering judgement"},
    Parameter<Engine>{"midrange_factor", &Engine::midrange_factor, "1", 1.0, {0.2, 3}, {0.8, 1.25}, {Shape::log_uniform, 0.8, 1.25},
                      "calibration: factor on the torque assumed up to half the peak speed, none from the peak on; plays no part beside a torque table", "engines of one rating differ there most, engineering judgement"},
    Parameter<Engine>{"air_path_factor", &Engine::air_path_factor, "1", 1.0, {0.1, 10}, {0.5, 2}, {Shape::log_uniform, 0.7, 1.4},
                      "calibration: factor on the time in which the intake fills", "plumbing and volumetric efficiency are guessed, engineering judgement"}};
// clang-format on
inline constexpr std::array<std::string_view, 3> charger_words{"aspirated", "blower", "turbo"};
inline constexpr std::array engine_choices{choice<&Engine::charger, Engine>(
    "charger", charger_words, 0, "how the engine is charged", "maker's manual")};
inline constexpr std::array<std::string_view, 2> torque_column_names{"shaft_speed", "torque"};
inline constexpr std::array<std::string_view, 2> torque_column_units{"rpm", "N m"};
inline constexpr std::array<Range, 2> torque_column_ranges{{{50, 25000}, {0.01, 1e6}}};
inline constexpr std::array engine_tables{TableParameter<Engine>{
    "torque_table", &Engine::torque_table, torque_column_names, torque_column_units, torque_column_ranges, 4,
    40, "full-throttle brake torque at rating conditions", "dynamometer sheet"}};
static_assert(sizeof(Engine) == part_size(engine_parameters.size(), 1, 1), "a field of Engine has no row");

/// The air an engine breathes and the water that cools its charge.
struct EngineDay {
  double dry_pressure_Pa, air_temperature_K, water_temperature_K;
};

/// All that an engine is worked out from: prepare_engine sees nothing else.
struct EngineBasis {
  Engine engine;
  EngineDay day;
};
/// Whether the engines worked out from both are the same, bit by bit.
[[nodiscard]] bool same(const EngineBasis& a, const EngineBasis& b);

/// Constants of one engine on one day.
struct PreparedEngine {
  UniformCurve full_torque_Nm;  ///< brake torque on the day, full throttle, no limiter, over [rad/s]
  double friction_Nm, friction_linear_Nm_s, friction_square_Nm_s2;  ///< friction torque over shaft speed
  double limiter_low_rad_s, limiter_high_rad_s;
  double drive_efficiency, inertia_kg_m2;
  double air_path_turns_rad;  ///< air-path time times shaft speed
  double boost_turns_rad;     ///< boost time times shaft speed; 0 without a turbo
  double off_boost_share;
  double speed_cap_m_s;                   ///< infinity without a cap
  double peak_power_W, peak_speed_rad_s;  ///< at rating conditions
  double correction;                      ///< brake torque on the day over rated, at peak speed

  EngineBasis basis;  ///< what all this was worked out from
};

/// Torque at the impeller shaft and what becomes of the air path.
template <class Number>
struct EnginePointOf {
  Number torque_Nm;        ///< at the impeller shaft, after the drive
  Number brake_torque_Nm;  ///< at the crank
  Number limiter_fade;     ///< 0 free .. 1 cut
  Number air_path_rate_1_s, boost_rate_1_s;
};
using EnginePoint = EnginePointOf<double>;

[[nodiscard]] Problems check(const Engine& engine);

/// Middle of the rev limiter's fade, derived or given [rad/s]; NaN when neither a rating nor a table nor the
/// limiter is.
[[nodiscard]] double limiter_speed_rad_s(const Engine& engine);

/// Shaft speed of peak power at rating conditions: as stated, or where the torque table has it.
[[nodiscard]] double peak_speed_rad_s(const Engine& engine);

/// @throws std::runtime_error when the torque on the day is nowhere positive
[[nodiscard]] PreparedEngine prepare_engine(const EngineBasis& basis);

/// Rev limiter fade [0..1] at shaft speed [rad/s].
template <class Number>
[[nodiscard]] Number limiter_fade(const PreparedEngine& engine, Number speed_rad_s) noexcept;

/// @param speed_rad_s  shaft speed, > 0;  @param air_path  manifold pressure fraction, 0 braking .. 1 full
/// @param boost  turbo state 0..1;  @param command  air path asked for by the lever, cap and idle floor
/// included. Number: a double, or PartLanes.
template <class Number>
[[nodiscard]] EnginePointOf<Number> engine_point(const PreparedEngine& engine, Number speed_rad_s,
                                                 Number air_path, Number boost, Number command) noexcept;

/// Share of the lever that a craft-speed cap lets through: 1 below the cap, 0 from 1 m/s above it. C1.
template <class Number>
[[nodiscard]] Number speed_cap_share(const PreparedEngine& engine, Number craft_speed_m_s) noexcept;

/// Air path at which the shaft torque equals `torque_Nm` at this speed with the limiter free: idle in
/// balance.
/// @param boost  state of a turbo; without one it plays no part
[[nodiscard]] double air_path_for_torque(const PreparedEngine& engine, double speed_rad_s, double torque_Nm,
                                         double boost = 0.0) noexcept;

/// Power factors of the rating standards for a naturally aspirated engine; dry pressure [Pa], temperature
/// [K].
[[nodiscard]] double sae_j1349_factor(double dry_pressure_Pa, double temperature_K) noexcept;
[[nodiscard]] double iso_1585_factor(double dry_pressure_Pa, double temperature_K) noexcept;
/// ISO 3046-1 / ISO 15550 adjustment (a = 1, m = 1, n = 0.5, q = 0): alpha from the indicated factor k.
[[nodiscard]] double iso_3046_adjustment(double indicated_factor, double mechanical_efficiency) noexcept;
/// Indicated-torque factor of the day: (p/p_ref) sqrt(T_ref/T).
[[nodiscard]] double indicated_factor(double dry_pressure_Pa, double temperature_K,
                                      double reference_pressure_Pa, double reference_temperature_K) noexcept;
/// Brake torque on the day: (T_ref + T_f) k - T_f.
[[nodiscard]] double brake_torque_on_day(double reference_torque_Nm, double friction_Nm,
                                         double factor) noexcept;
/// Pressure ratio of a centrifugal compressor: Euler work psi U^2 at isentropic efficiency eta.
[[nodiscard]] double compressor_pressure_ratio(double tip_speed_m_s, double inlet_temperature_K,
                                               double work_coefficient, double efficiency) noexcept;
/// Total motored friction mean effective pressure [bar] (Barnes-Moss form in Heywood 1988 eq. 13.6, from
/// memory).
[[nodiscard]] double friction_mean_pressure_bar(double speed_rpm) noexcept;
/// Manifold filling time constant [s]: 2 V_m/(eta_v V_d n).
[[nodiscard]] double manifold_time_s(double volume_ratio, double speed_rad_s,
                                     double volumetric_efficiency) noexcept;

}  // namespace bowrise
