#include "sim/scenario/write.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/scenario_texts.hpp"

namespace bowrise {

TEST_CASE("a written setup reads back bit for bit") {
  std::mt19937_64 generator(20240611);
  for (int i = 0; i < 300; ++i) {
    const Setup setup = random_setup(generator);
    const std::string text = write_setup(setup);
    const Scenario back = from_text(text, {{}, Needs::water});
    INFO(text);
    REQUIRE(difference(setup, back.setup) == "");
    REQUIRE(write_setup(back.setup) == text);
    REQUIRE(scenario_hash(back.setup) == scenario_hash(setup));
  }
}

TEST_CASE("a written scenario keeps title, note and values, and tells origins") {
  Scenario scenario = sound(read_scenario(bad / "sound.yaml"));
  scenario.title = "quoted \"x\" \\ # : caf\xC3\xA9";
  scenario.note = "two\nlines\t\x01 end ";
  const std::string text = write_scenario(scenario);
  const Scenario back = from_text(text);
  CHECK(back.title == scenario.title);
  CHECK(back.note == scenario.note);
  CHECK(difference(scenario.setup, back.setup) == "");
  CHECK(has(text, "  exit_diameter: 86 mm  # " + (bad / "sound.yaml").string() + ":16:18\n"));
  CHECK(has(text, "  mass: 85 kg  # preset\n"));
  CHECK(has(text, "\n  # station_pressure: derived\n"));
}

TEST_CASE("the hash depends on inputs, not on how they were written") {
  // test vectors of the authors' FNV reference code, from memory: "", "a", "foobar"
  CHECK(fnv1a_64("") == 0xcbf29ce484222325U);
  CHECK(fnv1a_64("a") == 0xaf63dc4c8601ec8cU);
  CHECK(fnv1a_64("foobar") == 0x85944171f73967e8U);

  const auto hash = [](const std::string& more) {
    return scenario_hash(from_text("from: sound.yaml\n" + more).setup);
  };
  const std::string plain = hash("title: a\n");
  CHECK(plain.size() == 16);
  CHECK(plain.find_first_not_of("0123456789abcdef") == std::string::npos);
  CHECK(hash("nozzle.exit_diameter: 0.086 m\n") == plain);
  CHECK(hash("rider.mass: 85 kg\n") == plain);
  CHECK(hash("nozzle.exit_diameter: 86.001 mm\n") != plain);
  CHECK(hash("hull.friction_line: schoenherr\n") != plain);
}

}  // namespace bowrise
