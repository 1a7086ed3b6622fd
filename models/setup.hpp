// Setup: everything that defines one launch, as plain numbers in SI, one value of each part; and the one list
// of parts.
#pragma once

#include "models/engine.hpp"
#include "models/hull_inputs.hpp"
#include "models/passage_inputs.hpp"
#include "models/pump_inputs.hpp"
#include "models/rider.hpp"
#include "models/wear.hpp"

namespace bowrise {

struct Water {
  double temperature_K, salinity_g_kg, chop_height_m, gas_pressure_Pa;
};
// clang-format off
inline constexpr std::array water_parameters{
    Parameter<Water>{"temperature", &Water::temperature_K, "degC", 20.0, {0, 40}, {2, 32}, {}, "water temperature", "thermometer"},
    Parameter<Water>{"salinity", &Water::salinity_g_kg, "g/kg", 0.0, {0, 42}, {0, 38}, {},
                     "absolute salinity: 0 lake, 35.165 standard sea water", "TEOS-10"},
    Parameter<Water>{"chop_height", &Water::chop_height_m, "m", 0.0, {0, 1.5}, {0, 0.4}, {}, "significant height of the chop",
                     "eye"},
    Parameter<Water>{"gas_pressure", &Water::gas_pressure_Pa, "kPa", 0.0, {0, 50}, {0, 5}, {Shape::uniform, 0.0, 3.0},
                     "what air coming out of solution adds to the pressure in the cavities: 0 well-settled water, a few kPa aerated",
                     "engineering judgement: a few hundredths of the 100 kPa of saturation have time to diffuse"}};
// clang-format on
static_assert(sizeof(Water) == part_size(water_parameters.size()), "a field of Water has no row");

struct Air {
  double temperature_K, humidity, station_pressure_Pa;
};
// clang-format off
inline constexpr std::array air_parameters{
    Parameter<Air>{"temperature", &Air::temperature_K, "degC", 25.0, {0, 50}, {5, 40}, {}, "air temperature of the day",
                   "thermometer"},
    Parameter<Air>{"humidity", &Air::humidity, "1", 0.5, {0, 1}, {0.1, 1}, {}, "relative humidity", "hygrometer"},
    Parameter<Air>{"station_pressure", &Air::station_pressure_Pa, "kPa", derived, {50, 110}, {75, 104}, {},
                   "air pressure at the water, not reduced to sea level; derived: standard atmosphere at site.altitude",
                   "barometer; ISO 2533:1975"}};
// clang-format on
static_assert(sizeof(Air) == part_size(air_parameters.size()), "a field of Air has no row");

struct Site {
  double altitude_m;
};
// clang-format off
inline constexpr std::array site_parameters{
    Parameter<Site>{"altitude", &Site::altitude_m, "m", 0.0, {-430, 4500}, {0, 2500}, {}, "altitude of the water", "map"}};
// clang-format on

struct Start {
  double shaft_speed_rad_s, rolling_speed_m_s;
};
// clang-format off
inline constexpr std::array start_parameters{
    Parameter<Start>{"shaft_speed", &Start::shaft_speed_rad_s, "rpm", 1500.0, {400, 10000}, {1200, 2500}, {},
                     "idle speed before the throttle moves", "common practice, no source"},
    Parameter<Start>{"rolling_speed", &Start::rolling_speed_m_s, "mph", 0.0, {0, 60}, {0, 10}, {}, "craft speed at t = 0",
                     "definition"}};
// clang-format on
static_assert(sizeof(Start) == part_size(start_parameters.size()), "a field of Start has no row");

struct Run {
  double duration_s, tolerance, speed_mark_m_s, distance_mark_m;
};
// clang-format off
inline constexpr std::array run_parameters{
    Parameter<Run>{"duration", &Run::duration_s, "s", 15.0, {0.01, 600}, {5, 60}, {}, "longest run", "definition"},
    Parameter<Run>{"tolerance", &Run::tolerance, "1", 1e-4, {1e-13, 1e-2}, {1e-8, 5e-4}, {},
                   "relative tolerance of the integrator", "chosen so that marks are within 1e-4"},
    Parameter<Run>{"speed_mark", &Run::speed_mark_m_s, "mph", derived, {0.5, 300}, {5, 100}, {}, "own speed mark; derived: none", "definition"},
    Parameter<Run>{"distance_mark", &Run::distance_mark_m, "m", derived, {0.1, 10000}, {5, 1000}, {},
                   "own distance mark; derived: none", "definition"}};
// clang-format on
static_assert(sizeof(Run) == part_size(run_parameters.size()), "a field of Run has no row");

struct Output {
  double step_s;
};
// clang-format off
inline constexpr std::array output_parameters{
    Parameter<Output>{"step", &Output::step_s, "ms", 10.0, {0.1, 10000}, {1, 100}, {}, "time between trace rows", "definition"}};
// clang-format on

struct Setup {
  Body craft;
  Rider rider;
  Fuel fuel;
  Hull hull;
  Plate plate;
  Intake intake;
  Grate grate;
  Pump pump;
  Rotor impeller, stage_2;
  Cavitation cavitation;
  Wear wear;
  Cone cone;
  Nozzle nozzle;
  Engine engine;
  Water water;
  Air air;
  Site site;
  Throttle throttle;
  Start start;
  Run run;
  Output output;
};

/// Calls visit(section name, pointer to the part in Setup, number rows, choice rows, table rows) for every
/// part, in the order in which inputs are shown. Adding a part means one field above and one line here.
template <class Visit>
constexpr void for_each_part(Visit&& visit) {
  visit("craft", &Setup::craft, body_parameters, no_choices<Body>, no_tables<Body>);
  visit("rider", &Setup::rider, rider_parameters, no_choices<Rider>, rider_tables);
  visit("fuel", &Setup::fuel, fuel_parameters, no_choices<Fuel>, no_tables<Fuel>);
  visit("hull", &Setup::hull, hull_parameters, hull_choices, no_tables<Hull>);
  visit("plate", &Setup::plate, plate_parameters, no_choices<Plate>, no_tables<Plate>);
  visit("intake", &Setup::intake, intake_parameters, intake_choices, no_tables<Intake>);
  visit("grate", &Setup::grate, grate_parameters, no_choices<Grate>, no_tables<Grate>);
  visit("pump", &Setup::pump, pump_parameters, pump_choices, pump_tables);
  visit("impeller", &Setup::impeller, rotor_parameters, no_choices<Rotor>, rotor_tables);
  visit("stage_2", &Setup::stage_2, rotor_parameters, no_choices<Rotor>, rotor_tables);
  visit("cavitation", &Setup::cavitation, cavitation_parameters, no_choices<Cavitation>,
        no_tables<Cavitation>);
  visit("wear", &Setup::wear, wear_parameters, no_choices<Wear>, no_tables<Wear>);
  visit("cone", &Setup::cone, cone_parameters, no_choices<Cone>, no_tables<Cone>);
  visit("nozzle", &Setup::nozzle, nozzle_parameters, no_choices<Nozzle>, nozzle_tables);
  visit("engine", &Setup::engine, engine_parameters, engine_choices, engine_tables);
  visit("water", &Setup::water, water_parameters, no_choices<Water>, no_tables<Water>);
  visit("air", &Setup::air, air_parameters, no_choices<Air>, no_tables<Air>);
  visit("site", &Setup::site, site_parameters, no_choices<Site>, no_tables<Site>);
  visit("throttle", &Setup::throttle, throttle_parameters, throttle_choices, throttle_tables);
  visit("start", &Setup::start, start_parameters, no_choices<Start>, no_tables<Start>);
  visit("run", &Setup::run, run_parameters, no_choices<Run>, no_tables<Run>);
  visit("output", &Setup::output, output_parameters, no_choices<Output>, no_tables<Output>);
}

/// The rotor ahead of the last stator and the cone.
[[nodiscard]] const Rotor& last_rotor(const Setup& setup);

/// How far a setup is worn today, and the setup worn to another state: what one launch hands to the next.
[[nodiscard]] WearState wear_state(const Setup& setup) noexcept;
[[nodiscard]] Setup worn_to(Setup setup, const WearState& state);

/// Whole-craft checks: problems that no part can see alone (nozzle against bore, rider against hull, ...).
[[nodiscard]] Problems check(const Setup& setup);

}  // namespace bowrise
