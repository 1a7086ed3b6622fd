#include <sys/stat.h>
#include <unistd.h>

#include "sim/scenario/read.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/scenario_texts.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

}  // namespace

TEST_CASE("values, title, origins and files of a chain") {
  const Folder folder;
  folder.put("sound.yaml", content_of(bad / "sound.yaml"));
  fs::create_directory(folder.path / "wet");
  folder.put("wet/sea.yaml",
             "from: ../sound.yaml\nnote: salt\nwater:\n  salinity: 35 g/kg\nnozzle.exit_diameter: 85 mm\n");
  const fs::path outer = folder.put("outer.yaml",
                                    "title: Mine\nfrom: wet/sea.yaml\nnozzle: {exit_diameter: 84 mm}\n"
                                    "engine:\n  charger: blower\nthrottle:\n  plan: table\n  table:\n"
                                    "    - [0 s, 0]\n    - [0.5 s, 100 %]\n");
  const Scenario scenario = sound(read_scenario(outer, {{{"fuel.mass", "10 kg"}}, Needs::run}));
  CHECK(scenario.title == "Mine");
  CHECK(scenario.note == "salt");
  CHECK(scenario.setup.nozzle.exit_diameter_m == 0.084);
  CHECK(scenario.setup.water.salinity_g_kg == 35.0);
  CHECK(scenario.setup.pump.bore_m == 0.155);
  CHECK(scenario.setup.fuel.mass_kg == 10.0);
  CHECK(scenario.setup.engine.charger == Charger::blower);
  CHECK(scenario.setup.throttle.table == TableRows{{0, 0}, {0.5, 1}});
  CHECK(std::isnan(scenario.setup.cone.length_m));
  CHECK(scenario.warnings.empty());
  REQUIRE(scenario.files.size() == 3);
  CHECK(scenario.files[0] == outer.string());
  CHECK(scenario.files[2] == (folder.path / "sound.yaml").string());

  const auto origin = [&](const char* key) { return to_string(scenario.origin.at(key)); };
  CHECK(origin("nozzle.exit_diameter") == outer.string() + ":3:25");
  CHECK(origin("water.salinity") == (folder.path / "wet/sea.yaml").string() + ":4:13");
  CHECK(origin("throttle.table") == outer.string() + ":9:5");
  CHECK(origin("fuel.mass") == "--set fuel.mass=10 kg");
  CHECK(origin("rider.mass") == "preset");
  CHECK(origin("cone.length") == "derived");
  CHECK(scenario.origin.count("stage_2.pitch_leading") == 0);
}

TEST_CASE("a chain of sixteen files is read, seventeen are refused at the from that goes on") {
  const Folder folder;
  folder.put("16.yaml", content_of(bad / "sound.yaml"));
  for (int i = 1; i < 16; ++i) {
    folder.put(std::to_string(i) + ".yaml", "from: " + std::to_string(i + 1) + ".yaml\n");
  }
  CHECK(sound(read_scenario(folder.path / "1.yaml")).files.size() == 16);
  folder.put("0.yaml", "# one more\nfrom: 1.yaml\n");
  const Lines found = errors(read_scenario(folder.path / "0.yaml"), folder.path);
  REQUIRE(found.size() == 1);
  CHECK(has(found[0], "15.yaml:1:1: from: more than 16 files"));
}

TEST_CASE("what cannot be opened is said in a line") {
  const Folder folder;
  CHECK(errors(read_scenario(folder.path / "none.yaml"), folder.path) == Lines{"none.yaml: no such file"});
  CHECK(errors(read_scenario(folder.path), folder.path.parent_path())
            .at(0)
            .ends_with("a directory, not a file"));
  CHECK(errors(read_scenario(""), "x").size() == 1);
  CHECK(errors(read_scenario(folder.path / std::string(5000, 'a')), folder.path).size() == 1);
  folder.put("a.yaml", "x");
  CHECK(has(errors(read_scenario(folder.path / "a.yaml/b.yaml"), folder.path).at(0), "a.yaml/b.yaml: "));
  fs::create_symlink("loop.yaml", folder.path / "loop.yaml");
  CHECK(
      has(errors(read_scenario(folder.path / "loop.yaml"), folder.path).at(0), "loop.yaml: cannot be read"));
  REQUIRE(mkfifo((folder.path / "pipe").c_str(), 0600) == 0);
  const fs::path waits = folder.put("waits.yaml", "from: pipe\n");  // must not wait for a writer
  CHECK(errors(read_scenario(waits), folder.path) == Lines{"waits.yaml:1:1: from: pipe: not a regular file"});
  if (geteuid() != 0) {
    const fs::path shut = folder.put("shut.yaml", "title: x\n");
    fs::permissions(shut, fs::perms::none);
    CHECK(has(errors(read_scenario(shut), folder.path).at(0), "shut.yaml: cannot be read"));
  }
}

TEST_CASE("option --set comes last, and its faults look like the others") {
  const std::string text = content_of(bad / "sound.yaml");
  const Scenario scenario = from_text(
      text,
      {{{"nozzle.exit_diameter", "84 mm"}, {"title", "t"}, {"throttle.table", "[[0 s, 1]]"}}, Needs::run});
  CHECK(scenario.setup.nozzle.exit_diameter_m == 0.084);
  CHECK(scenario.title == "t");
  CHECK(scenario.setup.throttle.table == TableRows{{0, 1}});

  const auto refused = [&](std::vector<std::pair<std::string, std::string>> set) {
    return text_errors(text, {std::move(set), Needs::run});
  };
  CHECK(refused({{"nozzle.exit_diameter", "86"}}) ==
        Lines{"--set nozzle.exit_diameter=86: \"86\" has no unit; write a length from 10 mm to 1500 mm"});
  CHECK(refused({{"impeller.bladez", "4"}}) ==
        Lines{"--set impeller.bladez=4: unknown key; did you mean impeller.blades?"});
  CHECK(refused({{"fuel.mass", "1 kg"}, {"fuel.mass", "2 kg"}}) ==
        Lines{"--set fuel.mass=2 kg: given twice with --set; keep one"});
  CHECK(refused({{"from", "x.yaml"}}) == Lines{"--set from=x.yaml: can only be written in a scenario file"});
  CHECK(refused({{"start.shaft_speed", "9000 rpm"}}).at(0).starts_with("--set start.shaft_speed=9000 rpm: "));
  CHECK(refused({{"pump.stages", "2"}}).size() == 2);  // two blade angles are missing
  CHECK(refused({{"", ""}, {"a\nb", std::string(10000, 'x')}}).size() == 2);
}

TEST_CASE("required is what the question needs") {
  const auto missing = [](const std::string& text, Needs needs) {
    return text_errors(text, {{}, needs}).size();
  };
  CHECK(missing("title: x\n", Needs::run) == 9);
  CHECK(missing("title: x\n", Needs::hull) == 5);
  CHECK(missing("title: x\n", Needs::pump) == 3);
  CHECK(missing("title: x\n", Needs::engine) == 1);  // a rating or a torque table
  CHECK(missing("title: x\n", Needs::water) == 0);
  CHECK(missing("title: x\n", Needs::air) == 0);
  CHECK(missing("pump.stages: 2\n", Needs::pump) == 5);
  const std::string curve =
      "pump.curve: [[0.5, 0.4, 0.5, 0.2], [0.6, 0.3, 0.6, 0.2], [0.7, 0.2, 0.7, 0.2], [0.8, 0.1, 0.6, "
      "0.2]]\n";
  CHECK(missing(curve, Needs::pump) == 1);
  CHECK(missing(curve, Needs::run) == 7);
  // what was given and refused is not missing as well
  CHECK(text_errors("pump.bore: 3\n", {{}, Needs::pump}).size() == 3);
}

TEST_CASE("a second stage goes with pump.stages") {
  const std::string two =
      content_of(bad / "sound.yaml") +
      "pump.stages: 2\nstage_2:\n  pitch_leading: 17 deg\n  pitch_trailing: 20 deg\n  blades: 5\n";
  std::string text = two;
  text.erase(text.find("pump.stages"), std::string{"pump.stages: 2\n"}.size());
  const std::size_t section = text.find("pump:\n") + 6;
  text.insert(section, "  stages: 2\n");
  const Scenario scenario = from_text(text, {{}, Needs::hull});
  CHECK(scenario.setup.stage_2.blades == 5.0);
  CHECK(std::isnan(scenario.setup.stage_2.hub_in_m));
  CHECK(to_string(scenario.origin.at("stage_2.hub_in")) == "derived");

  // a variant that goes back to one stage need not unsay the second
  const Folder folder;
  folder.put("two.yaml", text);
  const Scenario one = sound(read_scenario(folder.put("one.yaml", "from: two.yaml\npump.stages: 1\n")));
  CHECK(one.setup.stage_2.blades == 4.0);
  CHECK(to_string(one.origin.at("stage_2.blades")) == "preset");
  CHECK(difference(one.setup, sound(read_scenario(bad / "sound.yaml")).setup) == "");
  CHECK(errors(read_scenario(folder.put("bad.yaml", "from: one.yaml\nstage_2.blades: 3\n")), folder.path)
            .size() == 1);
}

TEST_CASE("unusual values are warned about, where they were written and in force") {
  const Scenario scenario =
      from_text("from: sound.yaml\nnozzle:\n  exit_diameter: 130 mm\nwater.salinity: 0.035 g/kg\n",
                {{{"air.temperature", "42 degC"}}, Needs::hull});
  CHECK(
      lines(scenario.warnings, bad) ==
      Lines{"text.yaml:3:18: nozzle.exit_diameter: warning: 130 mm is outside the usual 76 mm to 96 mm",
            "text.yaml:4:17: water.salinity: warning: 0.035 g/kg is unusual; kg/kg typed as g/kg?",
            "--set air.temperature=42 degC: warning: 42 degC is outside the usual 5 degC to 40 degC; degF?"});
  for (const Complaint& warning : scenario.warnings) CHECK(warning.warning);
  CHECK(from_text("from: sound.yaml\nnozzle.exit_diameter: 130 mm\n",
                  {{{"nozzle.exit_diameter", "84 mm"}}, Needs::hull})
            .warnings.empty());
}

TEST_CASE("line ends, a byte order mark and a document head do not matter") {
  std::string text = content_of(bad / "sound.yaml");
  const Setup plain = from_text(text).setup;
  CHECK(difference(plain, from_text("\xEF\xBB\xBF" + text).setup) == "");
  CHECK(difference(plain, from_text("%YAML 1.2\n---\n" + text + "...\n").setup) == "");
  std::string crlf;
  for (const char c : text) crlf += c == '\n' ? "\r\n" : std::string(1, c);
  CHECK(difference(plain, from_text(crlf).setup) == "");
}

}  // namespace bowrise
