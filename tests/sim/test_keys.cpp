#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <random>
#include <set>

#include "sim/key_text.hpp"
#include "sim/keys.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

const Key& key(std::string_view name) {
  const Key* const found = find_key(name);
  INFO(name);
  REQUIRE(found != nullptr);
  return *found;
}

std::string error_of(std::string_view name, std::string_view text) {
  Setup setup = preset_setup();
  return set_from_text(setup, key(name), text).value_or("");
}

double SI_of(std::string_view name, std::string_view text) {
  Setup setup = preset_setup();
  INFO(text);
  REQUIRE(set_from_text(setup, key(name), text) == std::nullopt);
  return get_SI(setup, key(name));
}

// Optimal string alignment (Damerau 1964; Levenshtein 1966), the whole table.
std::size_t edits(std::string_view a, std::string_view b) {
  std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i)
    for (std::size_t j = 0; j <= b.size(); ++j) {
      if (i == 0 || j == 0) {
        d[i][j] = i + j;
        continue;
      }
      d[i][j] =
          std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  return d[a.size()][b.size()];
}

}  // namespace

TEST_CASE("every row becomes a key with a known unit and sound ranges") {
  std::set<std::string> names;
  for (const Key& each : all_keys()) {
    INFO(each.name);
    CHECK(names.insert(each.name).second);
    CHECK(each.name == std::string{each.section} + "." + std::string{each.local_name});
    CHECK_FALSE(each.meaning.empty());
    CHECK_FALSE(each.source.empty());
    for (const KeyColumn& column : each.columns) {
      REQUIRE(column.unit != nullptr);
      CHECK(column.possible.low < column.possible.high);
    }
    if (each.kind == KeyKind::table) CHECK(each.least_rows <= each.most_rows);
    if (each.kind == KeyKind::choice) {
      REQUIRE(each.preset_word >= 0);
      CHECK(static_cast<std::size_t>(each.preset_word) < each.words.size());
    }
    if (each.kind != KeyKind::number) continue;
    REQUIRE(each.unit != nullptr);
    CHECK(each.possible.low <= each.usual.low);
    CHECK(each.usual.low < each.usual.high);
    CHECK(each.usual.high <= each.possible.high);
    if (each.preset.kind == Preset::Kind::value) {
      CHECK(each.usual.low <= each.preset.value);
      CHECK(each.preset.value <= each.usual.high);
    }
    if (each.spread.shape != Shape::none && each.spread.shape != Shape::setting) {
      CHECK(each.possible.low <= each.spread.low);
      CHECK(each.spread.low < each.spread.high);
      CHECK(each.spread.high <= each.possible.high);
      if (each.spread.shape == Shape::log_uniform) CHECK(each.spread.low > 0.0);
    }
  }
  CHECK(all_sections().front() == "craft");
  CHECK(all_keys().front().name == "craft.mass");
}

TEST_CASE("presets land in SI; what has none holds NaN") {
  const Setup setup = preset_setup();
  CHECK(setup.water.temperature_K == 293.15);
  CHECK(setup.impeller.blades == 4.0);
  CHECK(setup.stage_2.edge_thickness_m == 0.001);
  CHECK(setup.pump.interstage_stator == YesNo::yes);
  CHECK(std::isnan(setup.nozzle.exit_diameter_m));
  CHECK(std::isnan(setup.air.station_pressure_Pa));
  CHECK(setup.engine.torque_table.empty());
  CHECK_FALSE(has_value(setup, key("craft.mass")));
  CHECK(has_value(setup, key("fuel.mass")));
  CHECK_FALSE(has_value(setup, key("pump.curve")));
}

TEST_CASE("each number key has its own field") {
  Setup setup = preset_setup();
  double value = 1.0;
  for (const Key& each : all_keys())
    if (each.kind == KeyKind::number) set_SI(setup, each, value++);
  value = 1.0;
  for (const Key& each : all_keys())
    if (each.kind == KeyKind::number) CHECK(get_SI(setup, each) == value++);
}

TEST_CASE("values are set from text and read in the unit of the row") {
  CHECK(SI_of("nozzle.exit_diameter", "86 mm") == 0.086);
  CHECK(SI_of("nozzle.exit_diameter", "8.6cm") == Approx(0.086).epsilon(1e-15));
  CHECK(SI_of("pump.stages", "2") == 2.0);
  CHECK(SI_of("grate.blockage", "10 %") == 0.1);
  CHECK(SI_of("air.temperature", "40 degF") == Approx(277.594444444444444).epsilon(1e-15));
  CHECK_FALSE(std::signbit(SI_of("nozzle.angle", "-0 deg")));

  Setup setup = preset_setup();
  set_in_unit(setup, key("nozzle.exit_diameter"), 86.0);
  CHECK(setup.nozzle.exit_diameter_m == 0.086);
  CHECK(get_in_unit(setup, key("nozzle.exit_diameter")) == 86.0);
  CHECK(text_of(setup, key("nozzle.exit_diameter")) == "86 mm");

  CHECK(set_from_text(setup, key("engine.charger"), " turbo ") == std::nullopt);
  CHECK(setup.engine.charger == Charger::turbo);
  CHECK(text_of(setup, key("engine.charger")) == "turbo");

  CHECK(set_from_text(setup, key("throttle.table"), "[[0 s, 0], [ 1 s , 0.5 ],[2 s,1]]") == std::nullopt);
  CHECK(setup.throttle.table == TableRows{{0, 0}, {1, 0.5}, {2, 1}});
  CHECK(text_of(setup, key("throttle.table")) == "[[0 s, 0], [1 s, 0.5], [2 s, 1]]");
}

TEST_CASE("a derived input and a table can be put back to nothing") {
  Setup setup = preset_setup();
  REQUIRE(set_from_text(setup, key("cone.length"), "120 mm") == std::nullopt);
  REQUIRE(set_from_text(setup, key("cone.length"), "derived") == std::nullopt);
  CHECK(std::isnan(setup.cone.length_m));
  CHECK(text_of(setup, key("cone.length")) == "derived");
  CHECK(text_of(setup, key("craft.mass")) == "required");
  CHECK(error_of("craft.mass", "derived") != "");
  CHECK(error_of("fuel.mass", "derived") != "");
  REQUIRE(set_from_text(setup, key("throttle.table"), "[[0 s, 1]]") == std::nullopt);
  REQUIRE(set_from_text(setup, key("throttle.table"), "[]") == std::nullopt);
  CHECK(setup.throttle.table.empty());
}

TEST_CASE("a bad text says what is wrong and what is allowed, and changes nothing") {
  CHECK(error_of("nozzle.exit_diameter", "86") == "\"86\" has no unit; write a length from 10 mm to 1500 mm");
  CHECK(error_of("nozzle.exit_diameter", "3000 mm") == "3000 mm is outside 10 mm to 1500 mm");
  CHECK(error_of("nozzle.exit_diameter", "86 kg").find("is a mass; write a length in mm") !=
        std::string::npos);
  CHECK(error_of("nozzle.exit_diameter", "wide") ==
        "\"wide\" does not begin with a number; write a length from 10 mm to 1500 mm");
  CHECK(error_of("pump.stages", "3") == "3 is outside 1 to 2");
  CHECK(error_of("pump.stages", "1.5") == "\"1.5\" is not a whole number; write a whole number from 1 to 2");
  CHECK(has(error_of("air.humidity", "50 mm"), "is a length"));
  CHECK(error_of("throttle.plan", "pined") ==
        "\"pined\" is not a word known here; did you mean pinned? write one of pinned, ramp, staged, table, "
        "hold, rider, ideal");
  CHECK(error_of("throttle.table", "0 s, 1").find("is not a table; write a table of 1 to 200 rows") !=
        std::string::npos);
  CHECK(error_of("throttle.table", "[[0 s, 1], [1 s, 2]]") == "row 2: lever: 2 is outside 0 to 1");
  for (const char* text : {"[", "]", "[]]", "[[]", "[[0 s, 1]", "[0 s, 1]", "[[0 s, 1] [1 s, 1]]",
                           "[[0 s, 1],]", "[[[0 s, 1]]]", "[,]", ""}) {
    INFO(text);
    CHECK(error_of("throttle.table", text) != "");
  }

  Setup setup = preset_setup();
  setup.nozzle.exit_diameter_m = 0.086;
  CHECK(set_from_text(setup, key("nozzle.exit_diameter"), "1 km").has_value());
  CHECK(setup.nozzle.exit_diameter_m == 0.086);
}

TEST_CASE("the ends of a possible range are inside it") {
  for (const Key& each : all_keys()) {
    if (each.kind != KeyKind::number) continue;
    INFO(each.name);
    const bool bare = each.unit->name == "1" || each.unit->name == "count";
    const std::string suffix = bare ? std::string{} : std::string{" "}.append(each.unit->name);
    CHECK(error_of(each.name, shortest(each.possible.low) + suffix) == "");
    CHECK(error_of(each.name, shortest(each.possible.high) + suffix) == "");
    const double beyond = each.possible.high + std::abs(each.possible.high) + 1.0;
    CHECK(has(error_of(each.name, shortest(beyond) + suffix), "is outside"));
  }
}

TEST_CASE("all faults of a table are told, each with its cell") {
  Setup setup = preset_setup();
  const Key& table = key("engine.torque_table");
  const std::vector<std::vector<std::string>> cells{
      {"3000 rpm", "150 Nm"}, {"2500 rpm", "160"}, {"5000 rpm"}, {"nan", "170 hp"}};
  const std::vector<CellError> errors = set_from_cells(setup, table, cells);
  REQUIRE(errors.size() == 5);
  CHECK((errors[0].row == 1 && errors[0].column == 1));
  CHECK((errors[1].row == 1 && errors[1].column == 0));
  CHECK(has(errors[1].what, "must rise from row to row"));
  CHECK((errors[2].row == 2 && errors[2].column == CellError::whole));
  CHECK((errors[3].row == 3 && errors[3].column == 0));
  CHECK((errors[4].row == 3 && errors[4].column == 1));
  CHECK(setup.engine.torque_table.empty());

  const std::vector<std::vector<std::string>> level(4, {"3000 rpm", "150 Nm"});
  CHECK(set_from_cells(setup, table, level).size() == 3);  // equal is not rising
}

TEST_CASE("a name with a slip finds its key") {
  const auto meant = [](std::string_view typed) {
    const Key* const nearest = nearest_key(typed);
    return nearest == nullptr ? std::string{} : nearest->name;
  };
  CHECK(meant("impeller.bladez") == "impeller.blades");
  CHECK(meant("nozzle.exit_daimeter") == "nozzle.exit_diameter");
  CHECK(meant("exit_diameter") == "nozzle.exit_diameter");
  CHECK(meant("pump.pitch_trailing") == "impeller.pitch_trailing");
  CHECK(meant("Nozzle.Exit_diameter") == "nozzle.exit_diameter");
  CHECK(meant("stage2.hub_in") == "stage_2.hub_in");
  CHECK(meant("paddle.wheel") == "");
  CHECK(meant("") == "");
  CHECK(meant(std::string(5000, 'a')) == "");
  for (const Key& each : all_keys()) {
    CHECK(nearest_key(each.name) == &each);
    CHECK(find_key(each.name) == &each);
  }
  CHECK(nearest_name(all_sections(), "impelller") == "impeller");
  CHECK(nearest_name(all_sections(), "wheels") == "");
  CHECK(find_key("nozzle") == nullptr);
}

TEST_CASE("the key found for a name is the nearest of all") {
  std::mt19937 random(20261126);
  const auto below = [&](std::size_t count) { return static_cast<std::size_t>(random() % count); };
  const auto keys = all_keys();
  std::size_t found = 0, none = 0;
  for (int i = 0; i < 3000; ++i) {
    const Key& key = keys[below(keys.size())];
    std::string typed = below(3) == 0 ? std::string{key.local_name} : key.name;
    for (std::size_t slips = below(9); slips > 0; --slips) {
      const std::size_t at = below(typed.size());
      const char letter = "abcdefgimnoprstuvw_."[below(20)];
      switch (below(4)) {
        case 0:
          typed[at] = letter;
          break;
        case 1:
          typed.insert(at, 1, letter);
          break;
        case 2:
          if (typed.size() > 2) typed.erase(at, 1);
          break;
        default:
          if (at + 1 < typed.size()) std::swap(typed[at], typed[at + 1]);
      }
    }
    const std::string local = typed.substr(typed.rfind('.') + 1);  // npos + 1 is 0
    const auto off = [&](const Key& each) {
      return std::min(2 * edits(typed, each.name), 2 * edits(local, each.local_name) + 3);
    };
    const auto nearest = std::min_element(keys.begin(), keys.end(),
                                          [&](const Key& a, const Key& b) { return off(a) < off(b); });
    const bool near = off(*nearest) < 2 * (std::max<std::size_t>(local.size() / 3, 1) + 1);
    INFO(typed);
    CHECK(nearest_key(typed) == (near ? &*nearest : nullptr));
    ++(near ? found : none);
  }
  CHECK(found > 500);
  CHECK(none > 100);
}

TEST_CASE("doubts: outside the usual, or in another unit") {
  const auto doubt = [](std::string_view name, std::string_view text) {
    Setup setup = preset_setup();
    REQUIRE(set_from_text(setup, key(name), text) == std::nullopt);
    return doubt_about(setup, key(name), text).value_or("");
  };
  CHECK(doubt("nozzle.exit_diameter", "86 mm") == "");
  CHECK(doubt("nozzle.exit_diameter", "130 mm") == "130 mm is outside the usual 76 mm to 96 mm");
  CHECK(doubt("air.temperature", "45 degC") == "45 degC is outside the usual 5 degC to 40 degC; degF?");
  CHECK(doubt("air.temperature", "113 degF") == "113 degF is outside the usual 5 degC to 40 degC");
  CHECK(doubt("water.salinity", "0.035 g/kg") == "0.035 g/kg is unusual; kg/kg typed as g/kg?");
  CHECK(doubt("water.salinity", "0 g/kg") == "");
  CHECK(doubt("cone.length", "derived") == "");
  CHECK(error_of("water.temperature", "68 degC") == "68 degC is outside 0 degC to 40 degC; degF?");
  CHECK(error_of("water.temperature", "150 degF") == "150 degF is outside 0 degC to 40 degC");
  CHECK(error_of("water.temperature", "200 degC") == "200 degC is outside 0 degC to 40 degC");
}

}  // namespace bowrise
