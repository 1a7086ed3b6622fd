// Engine: rating standards, friction, torque on the day, default shapes, limiter, air
// path, idle, and its checks.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "models/air.hpp"
#include "models/engine.hpp"
#include "models/water.hpp"
#include "tests/support/published.hpp"
#include "tests/support/units.hpp"
#include "tests/support/whole_setup.hpp"

using namespace bowrise;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using test::Known;
using test::rpm;

namespace {

constexpr double peak_speed = 7700 * rpm, peak_power_W = 186425.0;
constexpr EngineDay rating_day{99e3, 298.15, 298.15};

Engine rated_engine(Charger charger) {
  Engine engine{};
  test::set_presets(engine, engine_parameters);
  engine.charger = charger;
  engine.peak_power_W = peak_power_W;
  engine.peak_speed_rad_s = peak_speed;
  return engine;
}

Engine tabled_engine() {
  Engine engine{};
  test::set_presets(engine, engine_parameters);
  engine.charger = Charger::aspirated;
  for (const auto& [speed_rpm, torque_Nm] : {std::array{1500.0, 120.0},
                                             {3000.0, 150.0},
                                             {4500.0, 190.0},
                                             {6000.0, 222.0},
                                             {7000.0, 232.0},
                                             {7750.0, 229.0},
                                             {8250.0, 215.0}})
    engine.torque_table.push_back({speed_rpm * rpm, torque_Nm});
  return engine;
}

double friction_at(const PreparedEngine& engine, double speed_rad_s) {
  return -engine_point(engine, speed_rad_s, 0.0, 1.0, 0.0).brake_torque_Nm;
}

/// Indicated torque on a day over that on the rating day, at three quarters of the prepared range: a point of
/// the prepared curve, so that no interpolation comes in.
double indicated_ratio(const Engine& engine, const EngineDay& day) {
  const PreparedEngine on_day = prepare_engine({engine, day}), rated = prepare_engine({engine, rating_day});
  const double speed = 0.75 * rated.full_torque_Nm.high(), friction = friction_at(rated, speed);
  return (on_day.full_torque_Nm(speed) + friction) / (rated.full_torque_Nm(speed) + friction);
}

}  // namespace

// SAE J1349: 1.180 (99/pd) sqrt(T/298) - 0.18, kPa and K, read on several pages; the value computed.
TEST_CASE("engine: SAE J1349 factor", "[published]") {
  test::check_published({"engine: correction, 95 kPa, 303 K", "SAE J1349", Known::second_hand}, 1.059957,
                        sae_j1349_factor(95e3, 303.0), test::within_abs(1e-6));
  CHECK_THAT(sae_j1349_factor(99e3, 298.0), WithinAbs(1.0, 1e-6));
}

// ISO 1585 and UN R85, spark ignition: (99/pd)^1.2 (T/298)^0.6, exponents from memory and a public script.
TEST_CASE("engine: ISO 1585 factor", "[published]") {
  test::check_published({"engine: correction, 95 kPa, 303 K", "ISO 1585, UN R85", Known::from_memory},
                        1.061279, iso_1585_factor(95e3, 303.0), test::within_abs(1e-6));
  CHECK_THAT(iso_1585_factor(99e3, 298.0), WithinAbs(1.0, 1e-6));
}

// ISO 3046-1 / ISO 15550, spark ignition, aspirated (a = 1, m = 1, n = 0.5, q = 0;
// exponents from memory), mechanical efficiency 0.80, reference 100 kPa, 298 K, relative
// humidity 0.30. The standard counts 0 degC as 273 K.
TEST_CASE("engine: ISO 3046 adjustment", "[published]") {
  const auto dry = [](double pressure_Pa, double temperature_K, double humidity) {
    return pressure_Pa - humidity * saturation_pressure_Pa(temperature_K - 273.0 + zero_celsius_K);
  };
  const double reference = dry(100e3, 298.0, 0.30);
  const double k = indicated_factor(dry(84.556e3, 303.0, 0.4), 303.0, reference, 298.0);
  test::check_published({"engine: adjustment, 84.6 kPa, 303 K", "ISO 3046-1", Known::from_memory}, 0.79978,
                        iso_3046_adjustment(k, 0.80), test::within_abs(2e-4));
  CHECK_THAT(iso_3046_adjustment(indicated_factor(reference, 298.0, reference, 298.0), 0.80),
             WithinAbs(1.0, 2e-4));
}

// Heywood 1988, eqs 2.31-2.33 (from memory): friction does not know the weather.
TEST_CASE("engine: brake torque on the day") {
  CHECK_THAT(brake_torque_on_day(170.0, 30.0, 0.83), WithinRel(136.0, 1e-9));
}

// Euler work and isentropic efficiency, cp 1005 J/(kg K), ratio of heats 1.4; separate evaluation.
TEST_CASE("engine: compressor pressure ratio") {
  CHECK_THAT(compressor_pressure_ratio(300.0, 298.15, 0.9, 0.70), WithinRel(1.834113, 1e-6));
  CHECK_THAT(compressor_pressure_ratio(300.0, 313.15, 0.9, 0.70), WithinRel(1.785650, 1e-6));
}

// Barnes-Moss form in Heywood 1988, eq. 13.6 (from memory): 0.97 + 0.15 n + 0.05 n^2 bar, n in 1000 rpm.
TEST_CASE("engine: friction mean effective pressure", "[published]") {
  test::check_published(
      {"engine: friction mean pressure, 6000 rpm, bar", "Heywood 1988, eq. 13.6", Known::from_memory}, 3.67,
      friction_mean_pressure_bar(6000.0), test::within_rel(1e-9));
  CHECK_THAT(friction_mean_pressure_bar(2000.0), WithinRel(1.47, 1e-9));
}

// Isothermal filling and emptying, 2 V_m / (eta_v V_d n); separate evaluation.
TEST_CASE("engine: manifold filling time") {
  CHECK_THAT(manifold_time_s(1.5, 1500 * rpm, 0.8), WithinRel(0.15, 1e-6));
  CHECK_THAT(manifold_time_s(1.5, 4000 * rpm, 0.9), WithinRel(0.05, 1e-6));
}

// The standard's factor is the brake form at a mechanical efficiency of 0.85 with rounded
// constants (1.18 for 1/0.85).
TEST_CASE("engine: aspirated engine on the day agrees with SAE J1349", "[published]") {
  test::WorstOf worst(test::within_abs(3e-3));
  for (const auto& [pressure_Pa, temperature_K] :
       {std::array{95e3, 303.0}, {99e3, 308.0}, {92.5e3, 290.0}, {103e3, 298.0}}) {
    const PreparedEngine engine =
        prepare_engine({rated_engine(Charger::aspirated), {pressure_Pa, temperature_K, 293.15}});
    worst.add(1.0 / sae_j1349_factor(pressure_Pa, temperature_K), engine.correction);
  }
  worst.check({"engine: torque on the day of an aspirated engine, worst of four days, share", "SAE J1349",
               Known::second_hand, test::headline});
  CHECK_THAT(prepare_engine({rated_engine(Charger::aspirated), rating_day}).correction, WithinAbs(1.0, 5e-4));
}

// Separate evaluation from 99 kPa, 25 degC, cooler effectiveness 0.7, tip speed 300 m/s;
// rounded to 0.1 % or 1 %.
TEST_CASE("engine: a blower on the day") {
  const Engine blown = rated_engine(Charger::blower);
  const double air = rating_day.air_temperature_K, water = rating_day.water_temperature_K;
  CHECK(indicated_ratio(blown, rating_day) == 1.0);
  CHECK_THAT(indicated_ratio(blown, {99e3, air + 15, water}), WithinAbs(1 - 0.040, 5e-4));
  CHECK_THAT(indicated_ratio(blown, {99e3, air, water + 10}), WithinAbs(1 - 0.021, 5e-4));
  CHECK_THAT(indicated_ratio(blown, {99e3, air + 15, water + 15}), WithinAbs(1 - 0.070, 5e-4));
  CHECK_THAT(indicated_ratio(blown, {0.9 * 99e3, air, water}), WithinAbs(0.9, 1e-12));
  const EngineDay high{standard_atmosphere_pressure_Pa(2000.0), standard_atmosphere_temperature_K(2000.0),
                       288.15};
  CHECK_THAT(indicated_ratio(blown, high), WithinAbs(1 - 0.12, 5e-3));
  CHECK_THAT(indicated_ratio(rated_engine(Charger::aspirated), high), WithinAbs(1 - 0.16, 5e-3));
}

TEST_CASE("engine: a turbo holds its torque once boosted, and starts without it") {
  const Engine turbo = rated_engine(Charger::turbo);
  CHECK(indicated_ratio(turbo, {80e3, 310.0, 300.0}) == 1.0);
  const PreparedEngine engine = prepare_engine({turbo, rating_day});
  const double speed = 5000 * rpm;
  const EnginePoint before = engine_point(engine, speed, 1.0, 0.0, 1.0),
                    after = engine_point(engine, speed, 1.0, 1.0, 1.0);
  CHECK_THAT(before.brake_torque_Nm / after.brake_torque_Nm, WithinRel(0.55, 1e-9));
  CHECK(before.boost_rate_1_s > 1.0);
  CHECK(std::abs(after.boost_rate_1_s) <
        0.2 * before.boost_rate_1_s);  // at 0.65 of peak speed boost is nearly whole
  CHECK(engine_point(engine, 1500 * rpm, 1.0, 0.0, 1.0).boost_rate_1_s == 0.0);  // too slow to build any
  CHECK(engine_point(prepare_engine({rated_engine(Charger::blower), rating_day}), speed, 1.0, 0.0, 1.0)
            .boost_rate_1_s == 0.0);
}

TEST_CASE("engine: default shapes have their peak where the rating says") {
  for (const Charger charger : {Charger::aspirated, Charger::blower, Charger::turbo}) {
    INFO("charger " << charger_words[static_cast<std::size_t>(charger)]);
    const PreparedEngine engine = prepare_engine({rated_engine(charger), rating_day});
    double highest_W = 0.0, at_rad_s = 0.0;
    for (double speed = 0.2 * peak_speed; speed <= 1.1 * peak_speed; speed += rpm) {
      const double power_W = speed * engine.full_torque_Nm(speed);
      if (power_W > highest_W) highest_W = power_W, at_rad_s = speed;
    }
    CHECK_THAT(highest_W, WithinRel(peak_power_W, 5e-3));
    CHECK_THAT(at_rad_s, WithinRel(peak_speed, 0.025));
    CHECK_THAT(peak_speed * engine.full_torque_Nm(peak_speed), WithinRel(peak_power_W, 1e-3));
    CHECK(engine.peak_power_W == peak_power_W);
    CHECK(engine.peak_speed_rad_s == peak_speed);
  }
}

TEST_CASE("engine: a torque table gives its own peak and torque") {
  const Engine described = tabled_engine();
  const PreparedEngine engine = prepare_engine({described, rating_day});
  for (const auto& row : described.torque_table)
    CHECK_THAT(engine.full_torque_Nm(row[0]), WithinRel(row[1], 2e-3));  // resampled, 57 rpm apart
  CHECK_THAT(engine.full_torque_Nm(6500 * rpm), WithinRel(228.6620, 5e-4));
  // power is largest between 7750 rpm (185.9 kW) and 8250 rpm (185.7 kW)
  CHECK(engine.peak_speed_rad_s > 7700 * rpm);
  CHECK(engine.peak_speed_rad_s < 8250 * rpm);
  CHECK(engine.peak_power_W >= 7750 * rpm * 229.0);
  CHECK(engine.peak_power_W < 1.01 * 7750 * rpm * 229.0);
  // held below the first row, straight on and never rising beyond the last
  CHECK_THAT(engine.full_torque_Nm(700 * rpm), WithinRel(120.0, 1e-9));
  CHECK(engine.full_torque_Nm(8800 * rpm) < 215.0);
  CHECK_THAT(engine.full_torque_Nm(8900 * rpm) - engine.full_torque_Nm(8800 * rpm),
             WithinAbs(engine.full_torque_Nm(8800 * rpm) - engine.full_torque_Nm(8700 * rpm), 0.05));
  Engine rising = described;
  rising.torque_table = {{1500 * rpm, 100}, {3000 * rpm, 150}, {5000 * rpm, 200}, {6000 * rpm, 230}};
  CHECK_THAT(prepare_engine({rising, rating_day}).full_torque_Nm(7500 * rpm), WithinRel(230.0, 1e-6));
}

TEST_CASE("engine: the power factor scales torque and friction alike") {
  Engine strong = rated_engine(Charger::aspirated);
  strong.power_factor = 1.04;
  const PreparedEngine scaled = prepare_engine({strong, rating_day}),
                       plain = prepare_engine({rated_engine(Charger::aspirated), rating_day});
  CHECK_THAT(scaled.full_torque_Nm(6000 * rpm) / plain.full_torque_Nm(6000 * rpm), WithinRel(1.04, 1e-9));
  CHECK_THAT(friction_at(scaled, 6000 * rpm) / friction_at(plain, 6000 * rpm), WithinRel(1.04, 1e-9));
}

TEST_CASE("engine: the mid-range factor moves an assumed curve below its peak, a told one nowhere") {
  Engine eager = rated_engine(Charger::blower);
  const PreparedEngine plain = prepare_engine({eager, rating_day});
  eager.midrange_factor = 1.2;
  const PreparedEngine moved = prepare_engine({eager, rating_day});
  const auto factor = [&](double share) {
    return moved.full_torque_Nm(share * peak_speed) / plain.full_torque_Nm(share * peak_speed);
  };
  CHECK_THAT(factor(0.3), WithinRel(1.2, 1e-3));
  CHECK_THAT(factor(0.5), WithinRel(1.2, 1e-3));
  CHECK(factor(0.7) < factor(0.6));
  CHECK_THAT(factor(1.0), WithinRel(1.0, 1e-3));
  CHECK_THAT(factor(1.1), WithinRel(1.0, 1e-3));
  Engine table = eager;
  table.peak_power_W = table.peak_speed_rad_s = std::numeric_limits<double>::quiet_NaN();
  table.torque_table = {{1500 * rpm, 100}, {3000 * rpm, 150}, {5000 * rpm, 200}, {7000 * rpm, 190}};
  CHECK_THAT(prepare_engine({table, rating_day}).full_torque_Nm(3000 * rpm), WithinRel(150.0, 1e-3));
}

// Mechanical efficiency 0.85 at peak power: friction 0.15/0.85 = 0.176 of the brake torque.
TEST_CASE("engine: shut, it brakes with its friction") {
  const PreparedEngine engine = prepare_engine({rated_engine(Charger::aspirated), rating_day});
  CHECK_THAT(friction_at(engine, peak_speed), WithinRel(0.176 * peak_power_W / peak_speed, 1e-9));
  CHECK_THAT(friction_at(engine, 2000 * rpm) / friction_at(engine, 6000 * rpm), WithinRel(1.47 / 3.67, 1e-9));
  const EnginePoint half = engine_point(engine, 4000 * rpm, 0.5, 1.0, 0.5);
  const double full = engine.full_torque_Nm(4000 * rpm), friction = friction_at(engine, 4000 * rpm);
  CHECK_THAT(half.brake_torque_Nm, WithinRel(0.5 * full - 0.5 * friction, 1e-12));
  CHECK_THAT(half.torque_Nm, WithinRel(0.99 * half.brake_torque_Nm, 1e-12));
}

TEST_CASE("engine: the limiter fades torque over its band") {
  Engine described = rated_engine(Charger::aspirated);
  described.limiter_rad_s = 8000 * rpm;
  const PreparedEngine engine = prepare_engine({described, rating_day});
  CHECK(limiter_fade(engine, 7899 * rpm) == 0.0);
  CHECK_THAT(limiter_fade(engine, 8000 * rpm), WithinAbs(0.5, 1e-12));
  CHECK(limiter_fade(engine, 8101 * rpm) == 1.0);
  for (double speed = 7900; speed < 8100; speed += 5)
    CHECK(limiter_fade(engine, (speed + 5) * rpm) > limiter_fade(engine, speed * rpm));
  // torque = full (1 - f) - f friction
  const double full = engine.full_torque_Nm(8000 * rpm), friction = friction_at(engine, 8000 * rpm);
  const EnginePoint middle = engine_point(engine, 8000 * rpm, 1.0, 1.0, 1.0);
  CHECK_THAT(middle.brake_torque_Nm, WithinRel(0.5 * full - 0.5 * friction, 1e-9));
  CHECK(middle.limiter_fade == limiter_fade(engine, 8000 * rpm));
  CHECK_THAT(engine_point(engine, 8200 * rpm, 1.0, 1.0, 1.0).brake_torque_Nm,
             WithinRel(-friction_at(engine, 8200 * rpm), 1e-12));
  CHECK_THAT(limiter_speed_rad_s(rated_engine(Charger::aspirated)), WithinRel(1.05 * peak_speed, 1e-12));
  CHECK(limiter_speed_rad_s(described) == described.limiter_rad_s);
}

TEST_CASE("engine: the air path that balances a torque gives that torque") {
  for (const Charger charger : {Charger::aspirated, Charger::blower, Charger::turbo}) {
    const PreparedEngine engine = prepare_engine({rated_engine(charger), rating_day});
    const double boost_at_idle = charger == Charger::turbo ? 0.0 : 1.0;
    for (const double speed : {1200 * rpm, 1500 * rpm, 2500 * rpm}) {
      for (const double torque_Nm : {0.0, 4.0, 15.0}) {
        const double air_path = air_path_for_torque(engine, speed, torque_Nm);
        CHECK(air_path > 0.0);
        CHECK(air_path < 1.0);
        CHECK_THAT(engine_point(engine, speed, air_path, boost_at_idle, air_path).torque_Nm,
                   WithinAbs(torque_Nm, 1e-9));
      }
    }
  }
}

TEST_CASE("engine: the air path follows, slower at low speed, within its limits") {
  const auto time_s = [](Charger charger, double speed_rpm) {
    const PreparedEngine engine = prepare_engine({rated_engine(charger), rating_day});
    return 1.0 / engine_point(engine, speed_rpm * rpm, 0.0, 1.0, 1.0).air_path_rate_1_s;
  };
  // 2 x 1.5 / (0.85 x revolutions per second), between 0.02 s and 0.25 s
  CHECK_THAT(time_s(Charger::aspirated, 4000), WithinRel(3.0 / (0.85 * 4000 / 60), 1e-9));
  CHECK_THAT(time_s(Charger::aspirated, 1500), WithinRel(3.0 / (0.85 * 1500 / 60), 1e-9));
  CHECK_THAT(time_s(Charger::blower, 4000), WithinRel(6.0 / (0.85 * 4000 / 60), 1e-9));
  CHECK_THAT(time_s(Charger::blower, 100), WithinRel(0.25, 1e-9));
  CHECK_THAT(time_s(Charger::aspirated, 30000), WithinRel(0.02, 1e-9));
  Engine slow = rated_engine(Charger::aspirated);
  slow.air_path_factor = 1.5;
  CHECK_THAT(engine_point(prepare_engine({slow, rating_day}), 4000 * rpm, 0.0, 1.0, 1.0).air_path_rate_1_s,
             WithinRel(0.85 * 4000 / 60 / 4.5, 1e-9));
  const PreparedEngine engine = prepare_engine({rated_engine(Charger::aspirated), rating_day});
  CHECK(engine_point(engine, 4000 * rpm, 0.6, 1.0, 0.6).air_path_rate_1_s == 0.0);
  CHECK(engine_point(engine, 4000 * rpm, 0.6, 1.0, 0.1).air_path_rate_1_s < 0.0);
}

TEST_CASE("engine: a cap on craft speed closes the lever over 1 m/s") {
  Engine capped = rated_engine(Charger::blower);
  CHECK(speed_cap_share(prepare_engine({capped, rating_day}), 1e3) == 1.0);
  capped.speed_cap_m_s = 30.0;
  const PreparedEngine engine = prepare_engine({capped, rating_day});
  CHECK(speed_cap_share(engine, 29.0) == 1.0);
  CHECK(speed_cap_share(engine, 30.0) == 1.0);
  CHECK_THAT(speed_cap_share(engine, 30.5), WithinAbs(0.5, 1e-12));
  CHECK(speed_cap_share(engine, 31.0) == 0.0);
  CHECK(speed_cap_share(engine, 40.0) == 0.0);
}

TEST_CASE("engine: no torque left on the day is said") {
  Engine weak = rated_engine(Charger::aspirated);
  weak.friction_share = 1.0;
  CHECK_THROWS_AS(prepare_engine({weak, EngineDay{45e3, 298.15, 298.15}}), std::runtime_error);
  CHECK_NOTHROW(prepare_engine({weak, EngineDay{60e3, 298.15, 298.15}}));
}

TEST_CASE("engine: finite and without a jump at any speed") {
  for (const Charger charger : {Charger::aspirated, Charger::blower, Charger::turbo}) {
    const PreparedEngine engine = prepare_engine({rated_engine(charger), {70e3, 310.0, 303.0}});
    double before = engine_point(engine, rpm, 1.0, 1.0, 1.0).torque_Nm;
    for (double speed = 2; speed < 16000; speed += 1) {
      const EnginePoint point = engine_point(engine, speed * rpm, 1.0, 1.0, 0.0);
      REQUIRE(std::isfinite(point.torque_Nm));
      REQUIRE(std::isfinite(point.air_path_rate_1_s));
      REQUIRE(std::isfinite(point.boost_rate_1_s));
      CHECK(std::abs(point.torque_Nm - before) < 4.0);  // the limiter's steepest: 1.5 x 260 N m in 200 rpm
      before = point.torque_Nm;
    }
  }
}

TEST_CASE("engine: checks") {
  CHECK(check(rated_engine(Charger::blower)).empty());
  CHECK(check(tabled_engine()).empty());
  Engine nothing = tabled_engine();
  nothing.torque_table.clear();
  CHECK(test::complains_about(check(nothing), "engine.peak_power"));
  nothing.peak_power_W = peak_power_W;  // a power without its speed is no rating
  CHECK(test::complains_about(check(nothing), "engine.peak_power"));
  Engine both = tabled_engine();
  both.peak_power_W = peak_power_W;
  CHECK(test::complains_about(check(both), "engine.torque_table"));
  Engine wide = rated_engine(Charger::blower);
  wide.limiter_rad_s = 150 * rpm;
  CHECK(test::complains_about(check(wide), "engine.limiter_band"));
  Engine slow = rated_engine(Charger::aspirated);  // the derived limiter counts too
  slow.peak_speed_rad_s = 120 * rpm;
  CHECK(test::complains_about(check(slow), "engine.limiter_band"));
}
