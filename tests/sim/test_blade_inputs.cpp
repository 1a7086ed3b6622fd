// The ways to say the pitch of a blade, in files that start from one another and with --set.
#include <string>

#include "models/blade_row.hpp"
#include "models/constants.hpp"
#include "sim/scenario/write.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/scenario_texts.hpp"

namespace bowrise {
namespace {

/// sound.yaml with other impeller lines.
std::string with_impeller(const std::string& lines) {
  std::string text = content_of(bad / "sound.yaml");
  const std::string angles = "  pitch_leading: 13 deg\n  pitch_trailing: 22 deg\n";
  text.replace(text.find(angles), angles.size(), lines);
  return text;
}

double trailing_deg(const Scenario& scenario) {
  const Setup& setup = scenario.setup;
  return resolved(setup.impeller, setup.pump.bore_m).pitch_trailing_rad / radians_per_degree;
}

/// Closed form tan(angle) = pitch / (2 pi radius), at the tip of sound.yaml's bore of 155 mm.
double tip_angle_deg(double pitch_mm) { return std::atan(pitch_mm / (2 * pi * 77.5)) / radians_per_degree; }

const std::string inches = "  pitch_leading_length: 4.5 in\n  pitch_trailing_length: 7.75 in\n";
const std::string angle_table =
    "  blade_angles:\n    - [30 mm, 31 deg, 46 deg]\n    - [50 mm, 20 deg, 32 deg]\n    - [77.5 mm, 13 deg, "
    "22 "
    "deg]\n";

}  // namespace

TEST_CASE("pitch in inches or millimetres") {
  const Scenario scenario = from_text(with_impeller(inches));
  CHECK(scenario.setup.impeller.pitch_trailing_length_m == Approx(0.19685).epsilon(1e-15));
  CHECK(trailing_deg(scenario) == Approx(tip_angle_deg(7.75 * 25.4)));
  CHECK(scenario.origin.count("impeller.pitch_trailing") == 0);
  CHECK(scenario.warnings.empty());
  // the written setup says which key stands in, and reads back
  const std::string written = write_scenario(scenario);
  CHECK(has(written, "\n  # pitch_trailing: said by pitch_trailing_length\n"));
  CHECK(difference(from_text(written).setup, scenario.setup) == "");
  const Scenario metric =
      from_text(with_impeller("  pitch_leading: 13 deg\n  pitch_trailing_length: 196.85 mm\n"));
  CHECK(trailing_deg(metric) == Approx(trailing_deg(scenario)).epsilon(1e-12));
}

TEST_CASE("the way of saying the pitch that was said last holds") {
  const Folder folder;
  folder.put("inches.yaml", with_impeller(inches));
  const auto read = [&](const std::string& name, const std::string& text, const ReadOptions& options = {}) {
    return sound(read_scenario(folder.put(name, text), options));
  };
  SECTION("degrees over inches") {
    const Scenario variant = read("degrees.yaml", "from: inches.yaml\nimpeller.pitch_trailing: 24 deg\n");
    CHECK(trailing_deg(variant) == Approx(24.0));
    CHECK(std::isnan(variant.setup.impeller.pitch_trailing_length_m));
    CHECK(variant.setup.impeller.pitch_leading_length_m ==
          Approx(0.1143).epsilon(1e-15));  // the other edge stays
    CHECK(to_string(variant.origin.at("impeller.pitch_trailing_length")) == "derived");
  }
  SECTION("inches over degrees, degrees over those again, inches by --set on top") {
    folder.put("a.yaml", content_of(bad / "sound.yaml"));
    CHECK(trailing_deg(read("b.yaml", "from: a.yaml\nimpeller.pitch_trailing_length: 8 in\n")) ==
          Approx(tip_angle_deg(8 * 25.4)));
    CHECK(trailing_deg(read("c.yaml", "from: b.yaml\nimpeller.pitch_trailing: 25 deg\n")) == Approx(25.0));
    const Scenario set =
        read("d.yaml", "from: c.yaml\n", {{{"impeller.pitch_trailing_length", "8 in"}}, Needs::run});
    CHECK(trailing_deg(set) == Approx(tip_angle_deg(8 * 25.4)));
    CHECK(set.origin.count("impeller.pitch_trailing") == 0);
    CHECK(trailing_deg(read("e.yaml", "from: b.yaml\n",
                            {{{"impeller.pitch_trailing", "25 deg"}}, Needs::run})) == Approx(25.0));
  }
  SECTION("a table over both, and either edge over nothing it contradicts") {
    const Scenario variant = read("table.yaml", "from: inches.yaml\nimpeller:\n" + angle_table);
    CHECK(trailing_deg(variant) == Approx(22.0));
    CHECK(std::isnan(variant.setup.impeller.pitch_leading_length_m));
    const Lines found = errors(
        read_scenario(folder.put("against.yaml", "from: table.yaml\nimpeller.pitch_trailing: 25 deg\n")),
        folder.path);
    REQUIRE(found.size() == 1);
    CHECK(has(found[0], "against.yaml:2:26: impeller.pitch_trailing: contradicts the table of blade angles"));
    CHECK(trailing_deg(read("dropped.yaml",
                            "from: table.yaml\nimpeller:\n  blade_angles: []\n  pitch_leading: 13 deg\n"
                            "  pitch_trailing: 25 deg\n")) == Approx(25.0));
  }
  SECTION("a variant in the same words is the same setup") {
    const Scenario there_and_back = read("back.yaml",
                                         "from: inches.yaml\nimpeller:\n  pitch_leading: 13 deg\n"
                                         "  pitch_trailing: 22 deg\n");
    CHECK(difference(there_and_back.setup, from_text(content_of(bad / "sound.yaml")).setup) == "");
  }
  SECTION("chord and solidity") {
    folder.put("chord.yaml", "from: inches.yaml\nimpeller.tip_chord: 140 mm\n");
    const Scenario variant = read("solidity.yaml", "from: chord.yaml\nimpeller.solidity: 1.3\n");
    CHECK(std::isnan(variant.setup.impeller.tip_chord_m));
    CHECK(std::isnan(
        read("again.yaml", "from: solidity.yaml\nimpeller.tip_chord: 140 mm\n").setup.impeller.solidity));
  }
}

TEST_CASE("the second stage says its pitch in the same ways") {
  std::string text = content_of(bad / "sound.yaml");
  text.insert(text.find("pump:\n") + 6, "  stages: 2\n");
  text += "stage_2:\n  pitch_leading_length: 5 in\n  pitch_trailing_length: 9 in\n";
  CHECK(from_text(text).setup.stage_2.pitch_trailing_length_m == Approx(0.2286).epsilon(1e-15));
  const Scenario set = from_text(
      text, {{{"stage_2.pitch_trailing", "26 deg"}, {"stage_2.pitch_leading", "15 deg"}}, Needs::run});
  CHECK(std::isnan(set.setup.stage_2.pitch_trailing_length_m));
}

TEST_CASE("pitch said twice in one place, or not at all") {
  const Lines twice =
      text_errors(with_impeller("  pitch_leading: 13 deg\n  pitch_trailing: 22 deg\n" + inches));
  REQUIRE(twice.size() == 2);
  CHECK(has(twice[0], "impeller.pitch_leading_length: says the same as impeller.pitch_leading"));
  CHECK(text_errors(with_impeller("  pitch_leading_length: 4.5 in\n")).size() == 1);
  CHECK(has(text_errors(with_impeller("  pitch_leading_length: 4.5 in\n"))[0],
            "impeller.pitch_trailing: missing; write an angle"));
  CHECK(text_errors(with_impeller(angle_table)).empty());
  CHECK(text_errors(
            content_of(bad / "sound.yaml"),
            {{{"impeller.pitch_trailing", "24 deg"}, {"impeller.pitch_trailing_length", "8 in"}}, Needs::run})
            .size() == 1);
}

}  // namespace bowrise
