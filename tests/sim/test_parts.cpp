// Sizes of parts in a scenario: reading, layering, complaints, writing.
#include <catch2/catch.hpp>

#include "sim/scenario/write.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/scenario_texts.hpp"

namespace bowrise {

TEST_CASE("sizes that can be bought, with and without a price, in the unit of the row") {
  const Scenario scenario = from_text(
      "from: sound.yaml\nparts:\n  nozzle.exit_diameter: [88 mm, 8.4 cm]\n  impeller.pitch_trailing:\n"
      "    sizes: [24 deg, 26 deg]\n    price: 350\n");
  REQUIRE(scenario.parts.size() == 2);
  CHECK(scenario.parts[0].key->name == "impeller.pitch_trailing");
  CHECK(scenario.parts[0].price == 350.0);
  CHECK(scenario.parts[1].sizes[0] == Approx(84.0));
  CHECK(scenario.parts[1].sizes[1] == Approx(88.0));
  CHECK_FALSE(scenario.parts[1].price.has_value());
  const Scenario back = from_text(write_scenario(scenario));
  REQUIRE(back.parts.size() == 2);
  CHECK(back.parts[0].price == 350.0);
  CHECK(back.parts[1].sizes == scenario.parts[1].sizes);
}

TEST_CASE("what is wrong with sizes is told with its place") {
  const auto complaint = [](const std::string& parts) {
    const auto result = read_scenario_text("from: sound.yaml\nparts:\n  " + parts + "\n", bad / "x.yaml");
    REQUIRE(std::holds_alternative<std::vector<Complaint>>(result));
    return to_string(std::get<std::vector<Complaint>>(result).front());
  };
  CHECK(has(complaint("nozzle.exit_diametre: [84 mm]"),
            "x.yaml:3:3: parts: nozzle.exit_diametre: unknown key"));
  CHECK(has(complaint("nozzle.exit_diameter: [84]"),
            "x.yaml:3:26: parts: nozzle.exit_diameter: \"84\" has no unit"));
  CHECK(has(complaint("nozzle.exit_diameter: 84 mm"), "write a list of sizes"));
  CHECK(has(complaint("nozzle.exit_diameter: []"), "write a list of sizes"));
  CHECK(has(complaint("nozzle.exit_diameter: [84 m]"), "parts: nozzle.exit_diameter"));
  CHECK(has(complaint("throttle.plan: [ramp]"), "only numbers come in sizes"));
  CHECK(
      has(complaint("nozzle.exit_diameter: {sizes: [84 mm], price: -1}"), "price: write a number from 0 up"));
  CHECK(has(complaint("nozzle.exit_diameter: {size: [84 mm]}"),
            "\"size\": write sizes: [...] and price: NUMBER"));
}

}  // namespace bowrise
