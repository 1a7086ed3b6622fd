#include "sim/output/json.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <random>

#include "sim/keys.hpp"
#include "sim/output/cautions.hpp"
#include "tests/support/curve_of.hpp"
#include "tests/support/not_finite.hpp"

namespace bowrise {
namespace {

using Json = nlohmann::json;
using Ordered = nlohmann::ordered_json;
using test::infinity, test::not_a_number;

CurveTable table_of(double number) {
  CurveTable table;
  table.columns = {"number"};
  table.rows = {{number}};
  return table;
}

struct DemoRun {
  Scenario scenario;
  Craft craft;
  Launch result;
  Summary summary;
};

DemoRun demo_run() {
  Scenario scenario = shipped_scenario("supercharged_three_seat.yaml");
  Craft craft = prepare(scenario.setup);
  Launch result = launch(craft, scenario.setup.run, launch_options(scenario.setup, false));
  Summary summary = summarise(craft, result);
  return {std::move(scenario), std::move(craft), std::move(result), std::move(summary)};
}

std::string json_of(const DemoRun& run) {
  return summary_json(run.scenario, run.craft, run.result, run.summary, {});
}

}  // namespace

TEST_CASE("numbers in JSON read back as the same double") {
  std::mt19937_64 generator(19990913);
  std::uniform_real_distribution<double> mantissa(-1.0, 1.0), exponent(-300.0, 300.0);
  for (int i = 0; i < 1000; ++i) {
    const double number = mantissa(generator) * std::pow(10.0, exponent(generator));
    CHECK(Json::parse(curve_json(table_of(number))).at("rows").at(0).at("number").get<double>() == number);
  }
}

TEST_CASE("nothing that is not finite becomes JSON") {
  for (const double number : {infinity, -infinity, not_a_number}) {
    CHECK_THROWS_AS(curve_json(table_of(number)), std::runtime_error);
    DemoRun run = demo_run();
    run.summary.distance_m = number;
    CHECK_THROWS_AS(json_of(run), std::runtime_error);
  }
}

TEST_CASE("a curve is rows by column name, and the points without an answer") {
  CurveTable table;
  table.columns = {"speed_m_s", "flags"};
  table.rows = {{1.5, "porpoising"}, {2.0, ""}};
  table.missing = {"speed = 60 m/s"};
  const Json json = Json::parse(curve_json(table));
  CHECK(json.at("rows").size() == 2);
  CHECK(json.at("rows").at(0) == Json{{"speed_m_s", 1.5}, {"flags", "porpoising"}});
  CHECK(json.at("missing") == Json{"speed = 60 m/s"});
  table.rows.clear();
  CHECK(Json::parse(curve_json(table)).at("rows").empty());
}

TEST_CASE("titles and notes survive whatever they hold") {
  Scenario scenario = shipped_scenario("supercharged_three_seat.yaml");
  scenario.title = "a \"quoted\" \\ title\nof two lines\twith a tab";
  scenario.title += '\x01';
  scenario.title += '\x1f';
  scenario.note = "Grüße, 水, </script>";
  const std::string text = setup_json(scenario);
  const Json json = Json::parse(text);
  CHECK(json.at("title").get<std::string>() == scenario.title);
  CHECK(json.at("note").get<std::string>() == scenario.note);
  for (const char c : text)
    CHECK((static_cast<unsigned char>(c) >= 0x20 || c == '\n'));  // RFC 8259 section 7
}

TEST_CASE("a summary holds what did not happen as null, never as a number") {
  DemoRun run = demo_run();
  REQUIRE(run.summary.top_speed_m_s);
  run.summary.top_speed_m_s.reset();
  run.summary.hook_up_s.reset();
  run.summary.marks.at(0).time_s.reset();
  const Json json = Json::parse(json_of(run));
  CHECK(json.at("top_speed").at("speed_m_s").is_null());
  CHECK(json.at("launch").at("hook_up_s").is_null());
  CHECK(json.at("marks").at(0).at("time_s").is_null());
  CHECK_FALSE(json.at("marks").at(0).contains("speed_m_s"));
}

TEST_CASE("a summary says the same as its structs") {
  const DemoRun run = demo_run();
  const Json json = Json::parse(json_of(run));
  CHECK(json.at("version").get<std::string>() == version());
  CHECK(json.at("top_speed").at("speed_m_s").get<double>() == *run.summary.top_speed_m_s);
  CHECK(json.at("top_speed").at("shaft_rpm").get<double>() ==
        Approx(*run.summary.top_speed_shaft_speed_rad_s * 30.0 / std::acos(-1.0)));
  CHECK(json.at("marks").at(0).at("time_s").get<double>() == *run.summary.marks.at(0).time_s);
  CHECK(json.at("counters").at("steps").get<std::size_t>() == run.result.counters.steps);
  CHECK(json.at("top_speed").at("nozzle_velocity_ratio").get<double>() ==
        *run.summary.top_speed_nozzle_ratio);
  CHECK(json.at("launch").at("wear_index_s").get<double>() == run.summary.wear.erosion_index_s);
  CHECK(json.at("launch").at("grit_index_s").get<double>() == run.summary.wear.grit_index_s);
  CHECK(json.at("launch").at("clearance_growth_m").get<double>() == run.summary.clearance_growth_m);
  CHECK(run.summary.clearance_growth_m > 0.0);
  CHECK(json.at("mass_kg").get<double>() == run.craft.mass_kg);
  CHECK(json.at("title").get<std::string>() == run.scenario.title);
  CHECK(json.at("cautions").size() == cautions.size());
  double limited = 0.0;
  for (const Json& seconds : json.at("limited_by_s")) limited += seconds.get<double>();
  CHECK(limited == Approx(json.at("end").at("time_s").get<double>()).epsilon(1e-6));
}

TEST_CASE("inputs stand in the order of the keys, each with value and origin") {
  const Scenario scenario = shipped_scenario("supercharged_three_seat.yaml");
  const Ordered inputs = Ordered::parse(setup_json(scenario)).at("inputs");
  CHECK(inputs.size() == scenario.origin.size());
  auto input = inputs.begin();
  for (const Key& key : all_keys()) {
    if (scenario.origin.count(key.name) == 0) continue;
    INFO(key.name);
    REQUIRE(input != inputs.end());
    CHECK(input.key() == key.name);
    CHECK(input.value().contains("value"));
    CHECK_FALSE(input.value().at("origin").get<std::string>().empty());
    ++input;
  }
}

TEST_CASE("parameters as JSON: every key once, with unit, ranges, meaning and source") {
  const Json json = Json::parse(parameters_json());
  REQUIRE(json.size() == all_keys().size());
  for (std::size_t i = 0; i < json.size(); ++i) {
    const Key& key = all_keys()[i];
    INFO(key.name);
    CHECK(json.at(i).at("key") == key.name);
    CHECK_FALSE(json.at(i).at("meaning").get<std::string>().empty());
    CHECK_FALSE(json.at(i).at("source").get<std::string>().empty());
    if (key.kind == KeyKind::number) CHECK(json.at(i).at("possible").at(0).get<double>() == key.possible.low);
    if (key.kind == KeyKind::choice) CHECK(json.at(i).at("words").size() == key.words.size());
    if (key.kind == KeyKind::table) CHECK(json.at(i).at("columns").size() == key.columns.size());
  }
}

}  // namespace bowrise
