#include "sim/output/sweep_definition.hpp"

#include <catch2/catch.hpp>

namespace bowrise {
namespace {

SweepDefinition example() {
  SweepDefinition definition;
  definition.version = "0.1.0";
  definition.scenario_hash = "0123456789abcdef";
  definition.title = "craft: \"three, seats\"";
  SweepAxis list, range;
  list.key = find_key("nozzle.exit_diameter");
  list.values = {86.0, 80.1, 0.1 + 0.2};
  list.low = 0.1 + 0.2;
  list.high = 86.0;
  list.price = 99.5;
  range.key = find_key("impeller.blades");
  range.low = 3.0;
  range.high = 6.0;
  range.is_range = true;
  definition.axes = {list, range};
  definition.samples = 64;
  definition.seed = 18446744073709551615U;
  definition.points = 64;
  definition.weights = {{Purpose::holeshot, 2.0}, {Purpose::rough, 0.0}};
  definition.sensitivity = 16;
  definition.share = {2, 3};
  return definition;
}

}  // namespace

TEST_CASE("a definition reads back to the same, bit for bit") {
  const SweepDefinition there = example();
  const auto back = read_definition(definition_text(there));
  REQUIRE(back.has_value());
  CHECK(definition_text(*back) == definition_text(there));
  CHECK(back->title == there.title);
  CHECK(back->seed == there.seed);
  REQUIRE(back->axes.size() == 2);
  CHECK(back->axes[0].key == there.axes[0].key);
  CHECK(back->axes[0].values == there.axes[0].values);
  CHECK(back->axes[0].low == there.axes[0].low);
  CHECK(back->axes[0].price == 99.5);
  CHECK(back->axes[1].is_range);
  CHECK(back->axes[1].high == 6.0);
  CHECK_FALSE(back->axes[1].price.has_value());
  CHECK(back->rough());
  CHECK(back->share.part == 2);
  CHECK(back->share.parts == 3);
}

TEST_CASE("a title of several lines becomes one") {
  SweepDefinition definition = example();
  definition.title = "lake\nversion: 9";
  const auto back = read_definition(definition_text(definition));
  REQUIRE(back.has_value());
  CHECK(back->title == "lake version: 9");
}

TEST_CASE("what is cut, doubled or foreign is no definition") {
  const std::string text = definition_text(example());
  for (std::size_t length = 0; length < text.size(); ++length) {
    INFO("cut after " << length);
    CHECK_FALSE(read_definition(text.substr(0, length)).has_value());
  }
  CHECK_FALSE(read_definition(text + "seed: 1\n").has_value());
  CHECK_FALSE(read_definition("index,a,b\n").has_value());
  std::string other = text;
  other.replace(other.find("nozzle.exit_diameter"), 6, "nuzzle");
  CHECK_FALSE(read_definition(other).has_value());
}

TEST_CASE("the first difference is told") {
  SweepDefinition other = example();
  const std::string text = definition_text(example());
  CHECK(first_difference(text, text).empty());
  other.seed = 7;
  CHECK(first_difference(text, definition_text(other)) ==
        "\"seed: 18446744073709551615\" there, \"seed: 7\" now");
}

}  // namespace bowrise
