// Every way to get a scenario wrong: files in tests/command/bad, hostile texts, random damage.
#include <algorithm>
#include <string_view>

#include "sim/scenario/write.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/scenario_texts.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

}  // namespace

TEST_CASE("each bad file is refused at its fault, with what is allowed") {
  struct Case {
    const char* file;
    Lines expected;  ///< place and key in full, then a part of the text after " ... "
  };
  const std::string exit = "nozzle.exit_diameter: ";
  const std::vector<Case> cases{
      {"alias.yaml", {"alias.yaml:3:18: ... aliases (*name) are not allowed"}},
      {"alias_bomb.yaml", {"alias_bomb.yaml:1:4: ... anchors (&name) are not allowed"}},
      {"binary.yaml", {"binary.yaml:2:1: ... this is binary data"}},
      {"celsius_fahrenheit.yaml",
       {"celsius_fahrenheit.yaml:3:16: water.temperature: ... 68 degC is outside 0 degC to 40 degC; degF?"}},
      {"cycle_a.yaml", {"cycle_b.yaml:1:1: from: ... cycle_a.yaml -> cycle_b.yaml -> cycle_a.yaml"}},
      {"cycle_b.yaml", {"cycle_a.yaml:2:1: from: ... cycle_b.yaml -> cycle_a.yaml -> cycle_b.yaml"}},
      {"decimal_comma.yaml", {"decimal_comma.yaml:3:18: " + exit + " ... has a comma"}},
      {"deep_indent.yaml", {"deep_indent.yaml:10:9: ... nested too deeply"}},
      {"deep_list.yaml", {"deep_list.yaml:2:16: ... nested too deeply"}},
      {"duplicate_dotted.yaml",
       {"duplicate_dotted.yaml:4:1: " + exit + " ... twice in this file, first in line 3"}},
      {"duplicate_key.yaml",
       {"duplicate_key.yaml:4:3: " + exit + " ... twice in this file, first in line 3"}},
      {"duplicate_section.yaml",
       {"duplicate_section.yaml:4:1: nozzle: ... twice in this file, first in line 2"}},
      {"empty.yaml", {"empty.yaml:1:1: ... nothing in the file"}},
      {"from_broken.yaml", {"truncated.yaml:3:23: ... not readable as YAML"}},
      {"from_directory.yaml", {"from_directory.yaml:1:1: from: ... a directory"}},
      {"from_list.yaml", {"from_list.yaml:1:7: from: ... write the name of a scenario file"}},
      {"from_missing.yaml", {"from_missing.yaml:2:1: from: ... nowhere.yaml: no such file"}},
      {"from_self.yaml", {"from_self.yaml:2:1: from: ... from_self.yaml -> from_self.yaml"}},
      {"hexadecimal.yaml", {"hexadecimal.yaml:3:18: " + exit + " ... hexadecimal"}},
      {"huge.yaml", {"huge.yaml:3:18: " + exit + " ... 1e300 mm is outside 10 mm to 1500 mm"}},
      {"idle_above_limiter.yaml", {"idle_above_limiter.yaml:3:16: start.shaft_speed: ... limiter"}},
      {"infinite.yaml", {"infinite.yaml:3:18: " + exit + " ... not a finite number"}},
      {"latin_1.yaml", {"latin_1.yaml:2:11: ... not UTF-8 text"}},
      {"list.yaml", {"list.yaml:1:1: ... not keys with values"}},
      {"list_as_key.yaml", {"list_as_key.yaml:2:3: ... a key is expected here"}},
      {"list_for_scalar.yaml",
       {"list_for_scalar.yaml:3:18: " + exit + " ... a list where one value is wanted"}},
      {"many.yaml",
       {"many.yaml:3:18: " + exit + " ... \"86\" has no unit; write a length from 10 mm to 1500 mm",
        "many.yaml:4:10: nozzle.angle: ... 95 deg is outside -20 deg to 20 deg",
        "many.yaml:5:1: impeler: ... unknown section; did you mean impeller?",
        "many.yaml:9:13: water.salinity: ... is a mass; write a salinity in g/kg",
        "many.yaml:10:3: water.temperature: ... twice in this file, first in line 8"}},
      {"map_for_scalar.yaml",
       {"map_for_scalar.yaml:4:5: " + exit + " ... a group of keys where a value is wanted"}},
      {"missing.yaml",
       {"missing.yaml:1:1: impeller.pitch_trailing: ... missing; write an angle from 2 deg to 80 deg",
        "missing.yaml:1:1: " + exit + " ... missing; write a length from 10 mm to 1500 mm"}},
      {"nan.yaml", {"nan.yaml:3:18: " + exit + " ... not a finite number"}},
      {"negative.yaml", {"negative.yaml:3:18: " + exit + " ... -86 mm is outside 10 mm to 1500 mm"}},
      {"no_section.yaml", {"no_section.yaml:2:1: exit_diameter: ... did you mean nozzle.exit_diameter?"}},
      {"no_unit.yaml",
       {"no_unit.yaml:3:18: " + exit + " ... \"86\" has no unit; write a length from 10 mm to 1500 mm"}},
      {"no_value.yaml", {"no_value.yaml:3:3: " + exit + " ... no value; write a length"}},
      {"not_a_number.yaml", {"not_a_number.yaml:3:18: " + exit + " ... does not begin with a number"}},
      {"not_whole.yaml", {"not_whole.yaml:3:11: impeller.blades: ... write a whole number from 1 to 12"}},
      {"null.yaml", {"null.yaml:3:3: " + exit + " ... no value; write a length"}},
      {"only_comment.yaml", {"only_comment.yaml:1:1: ... nothing in the file"}},
      {"overflow.yaml", {"overflow.yaml:3:18: " + exit + " ... too large or too small"}},
      {"second_stage.yaml", {"second_stage.yaml:3:11: stage_2.blades: ... pump.stages is 1"}},
      {"second_stage_missing.yaml",
       {"second_stage_missing.yaml:1:1: stage_2.pitch_leading: ... missing",
        "second_stage_missing.yaml:1:1: stage_2.pitch_trailing: ... missing"}},
      {"section_is_empty.yaml", {"section_is_empty.yaml:2:1: nozzle: ... nothing under this section"}},
      {"section_is_scalar.yaml", {"section_is_scalar.yaml:2:9: nozzle: ... a section; write its keys"}},
      {"sound.yaml", {}},
      {"tab.yaml", {"tab.yaml:3:15: ... not readable as YAML"}},
      {"table_falling.yaml", {"table_falling.yaml:6:8: engine.torque_table: ... 4500 rpm does not rise"}},
      {"table_flat.yaml",
       {"table_flat.yaml:4:7: engine.torque_table: ... a row is a list",
        "table_flat.yaml:5:7: engine.torque_table: ... a row is a list"}},
      {"table_ragged.yaml",
       {"table_ragged.yaml:5:7: engine.torque_table: ... 1 value in a row",
        "table_ragged.yaml:6:18: engine.torque_table: ... torque: \"200\" has no unit",
        "table_ragged.yaml:7:18: engine.torque_table: ... is a power; write a torque in Nm"}},
      {"table_short.yaml",
       {"table_short.yaml:4:5: engine.torque_table: ... 1 row; write a table of 4 to 40 rows"}},
      {"table_word.yaml", {"table_word.yaml:3:17: engine.torque_table: ... is not a table"}},
      {"tag.yaml", {"tag.yaml:3:18: ... tags (!name) are not allowed"}},
      {"text.yaml", {"text.yaml:1:1: ... not keys with values"}},
      {"tiny.yaml", {"tiny.yaml:3:18: " + exit + " ... 1e-300 mm is outside"}},
      {"truncated.yaml", {"truncated.yaml:3:23: ... not readable as YAML"}},
      {"two_colons.yaml", {"two_colons.yaml:2:22: ... a second colon"}},
      {"two_documents.yaml", {"two_documents.yaml:2:1: ... a second document begins here"}},
      {"unclosed.yaml", {"unclosed.yaml:3:1: ... not readable as YAML"}},
      {"unknown_key.yaml",
       {"unknown_key.yaml:3:3: impeller.bladez: ... unknown key; did you mean impeller.blades?"}},
      {"unknown_section.yaml", {"unknown_section.yaml:2:1: nozle: ... did you mean nozzle?"}},
      {"unknown_unit.yaml", {"unknown_unit.yaml:3:18: " + exit + " ... unknown unit"}},
      {"unknown_word.yaml",
       {"unknown_word.yaml:3:12: engine.charger: ... did you mean turbo? write one of aspirated, blower, "
        "turbo"}},
      {"utf_16.yaml", {"utf_16.yaml:1:1: ... UTF-8"}},
      {"word_for_number.yaml", {"word_for_number.yaml:3:18: " + exit + " ... does not begin with a number"}},
      {"wrong_section.yaml",
       {"wrong_section.yaml:3:3: pump.exit_diameter: ... did you mean nozzle.exit_diameter?"}},
      {"wrong_unit.yaml",
       {"wrong_unit.yaml:3:18: " + exit + " ... \"86 kg\" is a mass; write a length in mm"}},
      {"zero_byte.yaml", {"zero_byte.yaml:2:3: ... zero byte"}}};

  std::size_t files = 0;
  for (const auto& entry : fs::directory_iterator(bad)) {
    ++files;
    INFO(entry.path().filename() << " has no line in the table of this test");
    CHECK(std::any_of(cases.begin(), cases.end(),
                      [&](const Case& c) { return entry.path().filename() == c.file; }));
  }
  CHECK(files == cases.size());

  for (const Case& each : cases) {
    INFO(each.file);
    const Lines found = errors(read_scenario(bad / each.file), bad);
    CAPTURE(found);
    CHECK(found.size() == each.expected.size());
    for (std::size_t i = 0; i < std::min(found.size(), each.expected.size()); ++i) {
      const std::string& expected = each.expected[i];
      INFO(expected);
      const std::size_t gap = expected.find(" ... ");
      std::string start = expected.substr(0, gap);
      while (start.back() == ' ') start.pop_back();
      CHECK(found[i].starts_with(start));
      CHECK(has(found[i].substr(start.size()), expected.substr(gap + 5)));
    }
  }
}

TEST_CASE("hostile texts are refused quickly") {
  for (const std::string part : {"[", "{", "- ", "a: [", "{a: ", "? ", "&a [", "\"", "'", "*a ", "!a ",
                                 "- - ", "a: b\n", ": ", "[a, ", "|\n "}) {
    std::string text = "title: x\nnote: ";
    while (text.size() + part.size() <= largest_document_bytes) text += part;
    INFO(part);
    CHECK_FALSE(text_errors(text).empty());
  }
  CHECK(has(text_errors(std::string(largest_document_bytes + 1, ' ')).at(0), "over 1 MiB"));
  std::string many;
  for (int i = 0; i < 3000; ++i) many += "nozzle.k" + std::to_string(i) + ": 1\n";
  const Lines found = text_errors(many);
  REQUIRE(found.size() == 101);
  CHECK(has(found.back(), "2909 more problems"));  // 3000 unknown and 9 missing, 100 shown
  CHECK_FALSE(text_errors("\"a\\nb\": 1\n").at(0).find('\n') != std::string::npos);
}

TEST_CASE("damaged scenarios are read or refused, never more") {
  std::mt19937_64 generator(7);
  Setup full = random_setup(generator);
  const std::string sound_text = content_of(bad / "sound.yaml");
  const std::vector<std::string> originals{
      sound_text, write_setup(full), content_of(bad / "table_ragged.yaml"), content_of(bad / "many.yaml")};
  constexpr std::string_view spice = ":-[]{},#&*!|>'\"%@`?~ \n\t\r0x.e";
  int refused = 0;
  for (int i = 0; i < 2000; ++i) {
    std::string text = originals[generator() % originals.size()];
    const auto any_place = [&] { return text.empty() ? 0 : generator() % text.size(); };
    for (std::uint64_t edits = 1 + generator() % 4; edits-- > 0;) {
      switch (generator() % 5) {
        case 0:
          text.resize(any_place());
          break;
        case 1:
          if (!text.empty())
            text[any_place()] = static_cast<char>(text[any_place()] ^ (1 << generator() % 8));
          break;
        case 2:
          text.insert(any_place(), 1, spice[generator() % spice.size()]);
          break;
        case 3:
          text.erase(any_place(), 1 + generator() % 20);
          break;
        default:
          text.insert(any_place(), text.substr(any_place(), generator() % 40));
          break;
      }
    }
    INFO(text);
    const Result result =
        read_scenario_text(text, bad / "damaged.yaml", {{}, i % 2 == 0 ? Needs::run : Needs::water});
    if (const auto* const complaints = std::get_if<1>(&result)) {
      ++refused;
      REQUIRE_FALSE(complaints->empty());
      for (const Complaint& complaint : *complaints) {
        REQUIRE_FALSE(complaint.warning);
        REQUIRE_FALSE(complaint.what.empty());
        REQUIRE_FALSE(complaint.place.file.empty());
      }
    }
  }
  CHECK(refused > 1000);
  CHECK(refused < 2000);
}

}  // namespace bowrise
