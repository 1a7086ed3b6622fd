#include "sim/scenario/uncertain.hpp"

#include <catch2/catch.hpp>

#include "sim/scenario/read.hpp"
#include "sim/scenario/write.hpp"
#include "tests/support/curve_of.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

const std::string demo_path = std::string(BOWRISE_SOURCE_DIR) + "/scenarios/supercharged_three_seat.yaml";

std::variant<Scenario, std::vector<Complaint>> read_with(const std::string& uncertain) {
  return read_scenario_text("from: supercharged_three_seat.yaml\n" + uncertain,
                            std::string(BOWRISE_SOURCE_DIR) + "/scenarios/mine.yaml");
}

std::string refusal_with(const std::string& uncertain) {
  const auto result = read_with(uncertain);
  REQUIRE(std::holds_alternative<std::vector<Complaint>>(result));
  return to_string(std::get<std::vector<Complaint>>(result).front());
}

}  // namespace

TEST_CASE("what a fit knows is read, written and read again") {
  const auto result = read_with(
      "uncertain:\n  hull.drag_factor: {at: 0.5, factor: [0.25]}\n"
      "  engine.power_factor: {at: -1, factor: [-0.125, 0.5]}\n");
  REQUIRE(std::holds_alternative<Scenario>(result));
  const Scenario& scenario = std::get<Scenario>(result);
  REQUIRE(scenario.posterior.keys.size() == 2);
  CHECK(scenario.posterior.keys[1]->name == "engine.power_factor");
  CHECK(scenario.posterior.at == std::vector<double>{0.5, -1.0});
  CHECK(scenario.posterior.factor == std::vector<std::vector<double>>{{0.25}, {-0.125, 0.5}});

  const auto again = read_scenario_text(write_scenario(scenario), "again.yaml");
  REQUIRE(std::holds_alternative<Scenario>(again));
  CHECK(std::get<Scenario>(again).posterior.factor == scenario.posterior.factor);
  CHECK(std::get<Scenario>(again).posterior.at == scenario.posterior.at);
}

TEST_CASE("two fits do not share a hash, and without one it is that of the inputs alone") {
  const Scenario plain = shipped_scenario("supercharged_three_seat.yaml");
  const Posterior one{{find_key("hull.drag_factor")}, {0.0}, {{0.5}}}, other{one.keys, one.at, {{0.25}}};
  CHECK(scenario_hash(plain.setup, one) != scenario_hash(plain.setup, other));
  CHECK(scenario_hash(plain.setup, one) != scenario_hash(plain.setup));
  CHECK(scenario_hash(plain.setup, {}) == scenario_hash(plain.setup));
}

TEST_CASE("of two files in a chain the outer one's section holds whole") {
  const Folder folder;
  folder.put("fitted.yaml",
             "from: " + demo_path + "\nuncertain:\n  hull.drag_factor: {at: 0, factor: [0.5]}\n");
  folder.put("part.yaml", "from: fitted.yaml\nnozzle.exit_diameter: 84 mm\n");
  folder.put("other.yaml", "from: fitted.yaml\nuncertain:\n  nozzle.loss: {at: 0, factor: [0.5]}\n");
  const auto part = read_scenario(folder.path / "part.yaml"),
             other = read_scenario(folder.path / "other.yaml");
  CHECK(std::get<Scenario>(part).posterior.keys.front()->name == "hull.drag_factor");
  REQUIRE(std::get<Scenario>(other).posterior.keys.size() == 1);
  CHECK(std::get<Scenario>(other).posterior.keys.front()->name == "nozzle.loss");
}

TEST_CASE("a fitted file reads back as the fitted craft") {
  Scenario scenario = shipped_scenario("supercharged_three_seat.yaml");
  const Key& drag = *find_key("hull.drag_factor");
  const Key& table = *find_key("engine.torque_table");
  set_in_unit(scenario.setup, drag, 1.0123);
  table.write_table(scenario.setup, {{300.0, 150.0}, {500.0, 190.0}, {700.0, 230.0}, {840.0, 224.0}});
  const Posterior posterior{{&drag}, {0.25}, {{0.5}}};
  const std::string text =
      fitted_scenario_text({"a \"title\"", "note", demo_path, {&table}}, scenario.setup, posterior);
  const auto read =
      read_scenario_text(text, "fitted.yaml",
                         {{{"engine.peak_power", "derived"}, {"engine.peak_speed", "derived"}}, Needs::run});
  if (const auto* complaints = std::get_if<std::vector<Complaint>>(&read))
    FAIL(to_string(complaints->front()));
  const Scenario& again = std::get<Scenario>(read);
  CHECK(again.title == "a \"title\"");
  CHECK(get_in_unit(again.setup, drag) == 1.0123);
  CHECK(table.read_table(again.setup) == table.read_table(scenario.setup));
  CHECK(again.posterior.at == posterior.at);
}

TEST_CASE("a section that makes no sense is refused with its place") {
  CHECK(has(refusal_with("uncertain: 3\n"), "mine.yaml:2:12: uncertain: write keys"));
  CHECK(has(refusal_with("uncertain:\n  hull.drag: {at: 0, factor: [1]}\n"), "unknown key"));
  CHECK(has(refusal_with("uncertain:\n  craft.mass: {at: 0, factor: [1]}\n"), "has no spread"));
  CHECK(has(refusal_with("uncertain:\n  hull.drag_factor: 0.9\n"), "write {at: NUMBER, factor: [NUMBERS]}"));
  CHECK(has(refusal_with("uncertain:\n  hull.drag_factor: {at: 0, factor: [1, 2]}\n"), "in row 1 write 1"));
  CHECK(has(refusal_with("uncertain:\n  hull.drag_factor: {at: 0, factor: [0]}\n"),
            "ends in a number above 0"));
  CHECK(has(refusal_with("uncertain:\n  hull.drag_factor: {at: 99, factor: [1]}\n"), "within 10 of 0"));
  CHECK(has(refusal_with("uncertain:\n  hull.drag_factor: {at: x, factor: [1]}\n"), "mine.yaml:3:26"));
  CHECK(has(
      refusal_with("uncertain:\n  nozzle.loss: {at: 0, factor: [1]}\n  nozzle.loss: {at: 0, factor: [1]}\n"),
      "given twice"));
}

}  // namespace bowrise
