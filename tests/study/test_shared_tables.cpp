// Sharing tables must change no bit of any result; every input is moved alone to see it.
#include "sim/study/shared_tables.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <limits>
#include <map>
#include <set>

#include "sim/study/axes.hpp"
#include "sim/study/outcome.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

/// SI, as `Key::write_table` takes them.
const std::map<std::string, TableRows>& tables_to_try() {
  static const std::map<std::string, TableRows> tables{
      {"rider.position_schedule", {{0.0, 0.9}, {10.0, 0.8}}},
      {"pump.curve",
       {{0.55, 2.9, 0.65, 0.3}, {0.78, 2.7, 0.85, 0.33}, {0.85, 2.4, 0.89, 0.36}, {1.0, 1.5, 0.85, 0.8}}},
      {"impeller.blade_angles", {{0.025, 0.60, 0.85}, {0.06, 0.32, 0.55}, {0.08, 0.25, 0.44}}},
      {"stage_2.blade_angles", {{0.025, 0.60, 0.90}, {0.06, 0.32, 0.60}, {0.08, 0.25, 0.48}}},
      {"nozzle.angle_schedule", {{0.0, 0.0}, {10.0, 0.05}}},
      {"engine.torque_table", {{200.0, 150.0}, {500.0, 240.0}, {800.0, 230.0}, {900.0, 180.0}}},
      {"throttle.table", {{0.0, 0.5}, {1.0, 0.5}, {1.5, 1.0}}}};
  return tables;
}

double another_value(const Setup& setup, const Key& key) {
  const double value = get_in_unit(setup, key);
  if (!std::isfinite(value)) return 0.5 * (key.usual.low + key.usual.high);
  if (key.unit->dimension == Dimension::count) return value < key.possible.high ? value + 1.0 : value - 1.0;
  const double higher = value + 0.1 * (key.usual.high - value);
  return higher != value ? higher : value + 0.1 * (key.usual.low - value);
}

/// The setup with one input changed, whatever its kind.
Setup with_another(const Setup& setup, const Key& key) {
  Setup changed = setup;
  if (key.kind == KeyKind::number) {
    set_instead(changed, key, another_value(setup, key));
  } else if (key.kind == KeyKind::choice) {
    key.write_word(changed, (key.read_word(setup) + 1) % static_cast<int>(key.words.size()));
  } else {
    for (const std::string_view name : key.instead_of)
      set_preset(changed, *find_key(std::string(key.section) + "." + std::string(name)));
    if (key.name == "engine.torque_table")
      changed.engine.peak_power_W = changed.engine.peak_speed_rad_s =
          std::numeric_limits<double>::quiet_NaN();
    key.write_table(changed, tables_to_try().at(key.name));
  }
  return changed;
}

bool same_number(const std::optional<double>& a, const std::optional<double>& b) {
  return a.has_value() == b.has_value() &&
         (!a || std::bit_cast<std::uint64_t>(*a) == std::bit_cast<std::uint64_t>(*b));
}

void check_same(const Outcome& a, const Outcome& b) {
  CHECK(a.failure == b.failure);
  CHECK(a.limited_s == b.limited_s);
  REQUIRE(a.values.size() == b.values.size());
  for (std::size_t i = 0; i < a.values.size(); ++i) {
    INFO(result_rows()[i].name);
    CHECK(same_number(a.values[i], b.values[i]));
  }
}

/// What a change of one input asks to be made anew, when the tables of the craft before are offered.
struct MadeAnew {
  std::set<std::string> hull, pump, engine, none, no_craft;
};

MadeAnew move_every_input(const Setup& setup) {
  MadeAnew anew;
  const Tables tables = tables_for(setup);
  REQUIRE(tables.hulls.size() == 1);
  REQUIRE(tables.pumps.size() == 1);
  REQUIRE(tables.engines.size() == 1);
  for (const Key& key : all_keys()) {
    INFO(key.name);
    const Setup changed = with_another(setup, key);
    if (!check(changed).empty()) {
      anew.no_craft.insert(key.name);
      continue;
    }
    check_same(outcome_of(changed, false, tables), outcome_of(changed));
    const Tables needed = tables_for({&changed, 1}, tables);
    const bool hull = needed.hulls != tables.hulls, pump = needed.pumps != tables.pumps,
               engine = needed.engines != tables.engines;
    if (hull) anew.hull.insert(key.name);
    if (pump) anew.pump.insert(key.name);
    if (engine) anew.engine.insert(key.name);
    if (!hull && !pump && !engine) anew.none.insert(key.name);
  }
  return anew;
}

bool has_all(const std::set<std::string>& names, const std::set<std::string>& some) {
  return std::includes(names.begin(), names.end(), some.begin(), some.end());
}

}  // namespace

TEST_CASE("tables taken over leave every bit of a launch as it is, whatever input differs") {
  for (const char* name : {"supercharged_three_seat", "two_stage"}) {
    INFO(name);
    const Setup setup = test::shipped(name, {{"run.duration", "3 s"}});
    const MadeAnew anew = move_every_input(setup);
    for (const std::string& key : anew.no_craft) UNSCOPED_INFO("no craft with another " << key);
    CHECK(anew.no_craft.size() < 4);
    CHECK(anew.pump.contains("pump.curve") == (setup.pump.stages == 1.0));
    CHECK(has_all(anew.hull,
                  {"hull.beam", "hull.drag_factor", "plate.angle", "rider.mass", "water.temperature"}));
    CHECK(has_all(anew.pump,
                  {"pump.clearance", "impeller.pitch_trailing", "impeller.blade_angles",
                   "cavitation.blade_factor", "grate.blockage", "engine.torque_table", "water.salinity"}));
    CHECK(has_all(anew.engine, {"engine.peak_power", "engine.inertia", "engine.charger",
                                "engine.torque_table", "air.temperature", "site.altitude"}));
    CHECK(has_all(anew.none, {"nozzle.exit_diameter", "throttle.plan", "start.shaft_speed",
                              "water.chop_height", "wear.grit", "intake.leak_area"}));
  }
}

TEST_CASE("worn edges ask for a pump of their own") {
  Setup setup = test::shipped("supercharged_three_seat");
  setup.wear.edge_loss_m = 0.5e-3;
  const Tables tables = tables_for(setup);
  setup.wear.edge_roughness_1_m *= 1.5;
  const Tables rougher = tables_for({&setup, 1}, tables);
  CHECK(rougher.hulls == tables.hulls);
  CHECK(rougher.pumps != tables.pumps);
  check_same(outcome_of(setup, false, tables), outcome_of(setup));
}

TEST_CASE("each table is worked out once, and only what is needed is kept") {
  const Setup setup = test::shipped("supercharged_three_seat");
  std::vector<Setup> setups(6, setup);
  setups[1].nozzle.exit_diameter_m *= 1.01;
  setups[2].pump.clearance_m *= 2.0;
  setups[3].pump.clearance_m *= 2.0;
  setups[4].hull.drag_factor *= 1.1;
  setups[5].plate.span_m = 2.0 * setup.hull.beam_m;  // fails its checks
  for (const unsigned threads : {1U, 2U, 4U}) {
    const Tables tables = tables_for(setups, {}, threads);
    CHECK(tables.hulls.size() == 2);
    CHECK(tables.pumps.size() == 2);
    CHECK(tables.engines.size() == 1);
    const Tables fewer = tables_for({&setups[3], 1}, tables, threads);
    CHECK(fewer.hulls == std::vector{tables.hulls.front()});
    CHECK(fewer.pumps == std::vector{tables.pumps.back()});
    CHECK(fewer.engines == tables.engines);
  }
}

TEST_CASE("a pump that cannot be is left to its launch, which tells why") {
  Setup setup = test::shipped("supercharged_three_seat");
  setup.impeller.pitch_trailing_rad = 0.02;
  setup.impeller.pitch_leading_rad = 0.01;
  REQUIRE(check(setup).empty());
  const Tables tables = tables_for(setup);
  CHECK(tables.hulls.size() == 1);
  CHECK(tables.pumps.empty());
  CHECK(outcome_of(setup, false, tables).failure == outcome_of(setup).failure);
  CHECK(outcome_of(setup).failed());
}

TEST_CASE("an engine without torque is left to its launch, which tells why") {
  Setup setup = test::shipped("supercharged_three_seat");
  setup.engine.charger = Charger::aspirated;
  setup.engine.friction_share = 1.0;
  setup.air.station_pressure_Pa = 52e3;
  setup.air.temperature_K = 320.0;
  setup.air.humidity = 1.0;
  REQUIRE(check(setup).empty());
  const Tables tables = tables_for(setup);
  CHECK(tables.hulls.size() == 1);
  CHECK(tables.pumps.size() == 1);
  CHECK(tables.engines.empty());
  CHECK(outcome_of(setup, false, tables).failure == outcome_of(setup).failure);
  CHECK(outcome_of(setup).failed());
}

}  // namespace bowrise
