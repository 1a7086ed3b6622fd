// Bad scenarios through the program: exit code 2, place and reason on stderr, nothing on stdout, nothing
// written. What each file is told in detail is tested in tests/sim/test_bad_scenarios.cpp.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>

#include "tests/support/folder.hpp"
#include "tests/support/program.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

const fs::path& bad_folder() {
  static const fs::path folder = in_source_tree("tests/command/bad");
  return folder;
}

/// Refused by `run --out`, which must then not exist.
Finished refused(const fs::path& scenario, const std::vector<std::string>& more = {}) {
  const Folder folder;
  const fs::path out = folder.path / "out";
  std::vector<std::string> arguments{"run", scenario.string(), "--out", out.string()};
  arguments.insert(arguments.end(), more.begin(), more.end());
  const Finished result = run_program(arguments);
  INFO(result.err);
  CHECK(result.exit_code == 2);
  CHECK(result.out.empty());
  CHECK_FALSE(result.err.empty());
  CHECK_FALSE(fs::exists(out));
  return result;
}

/// The number between this colon and the next, or -1.
int number_after(const std::string& text, std::size_t colon) {
  std::size_t end = colon + 1;
  while (end < text.size() && std::isdigit(static_cast<unsigned char>(text[end])) != 0) ++end;
  const bool sound = end > colon + 1 && end < colon + 8 && end < text.size() && text[end] == ':';
  return sound ? std::stoi(text.substr(colon + 1, end - colon - 1)) : -1;
}

/// Line of "file.yaml:line:column: what", or -1 for a text of another form.
int line_of_place(const std::string& text) {
  const std::size_t name = text.find(".yaml:");
  if (name == std::string::npos || name == 0) return -1;
  const std::size_t line = name + 5, column = text.find(':', line + 1);
  if (column == std::string::npos || number_after(text, column) < 1) return -1;
  const std::size_t what = text.find(':', column + 1);
  return text.size() > what + 2 && text[what + 1] == ' ' ? number_after(text, line) : -1;
}

bool starts_with_place(const std::string& line) { return line_of_place(line) >= 1; }

}  // namespace

TEST_CASE("every bad file is refused with file, line and column, and nothing is written") {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(bad_folder())) files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  REQUIRE(files.size() > 50);
  for (const fs::path& file : files) {
    if (file.filename() == "sound.yaml") continue;
    INFO(file.filename().string());
    const Finished result = refused(file);
    for (const std::string& line : lines_of(result.err)) {
      INFO(line);
      CHECK(starts_with_place(line));
    }
  }
}

TEST_CASE("the file that the bad ones are made from is sound") {
  CHECK(run_program({"check", (bad_folder() / "sound.yaml").string(), "--quiet"}).exit_code == 0);
}

TEST_CASE("the kinds of fault are told apart") {
  const auto says = [](const char* file, const char* what) {
    INFO(file);
    const Finished result = run_program({"run", (bad_folder() / file).string()});
    INFO(result.err);
    CHECK(has(result.err, what));
  };
  says("wrong_unit.yaml", "write a length");
  says("no_unit.yaml", "has no unit");
  says("unknown_key.yaml", "did you mean");
  says("cycle_a.yaml", "circle");
  says("from_missing.yaml", "no such file");
  says("duplicate_key.yaml", "twice");
  says("huge.yaml", "outside");
  says("tiny.yaml", "outside");
  says("truncated.yaml", "not readable as YAML");
  says("binary.yaml", "binary data");
  says("empty.yaml", "nothing in the file");
  says("deep_list.yaml", "nested too deeply");
  says("alias.yaml", "aliases");
}

TEST_CASE("what is no scenario file is named without a line") {
  const Folder folder;
  const Finished directory = refused(folder.path);
  CHECK(directory.err == folder.path.string() + ": a directory, not a file\n");
  const fs::path nowhere = folder.path / "nowhere.yaml";
  CHECK(refused(nowhere).err == nowhere.string() + ": no such file\n");
  CHECK(refused(folder.put("plain.yaml", "") / "below.yaml").exit_code == 2);
}

TEST_CASE("everything wrong in a file is told at once, in the order of lines") {
  const Finished result = refused(bad_folder() / "many.yaml");
  const std::vector<std::string> lines = lines_of(result.err);
  CHECK(lines.size() == 5);
  int last = 0;
  for (const std::string& line : lines) {
    INFO(line);
    CHECK(line_of_place(line) >= last);
    last = line_of_place(line);
  }
}

TEST_CASE("old results stay when a scenario is refused, --force or not") {
  const Folder folder;
  folder.put("trace.csv", "old trace");
  folder.put("summary.json", "old summary");
  const Finished result = run_program(
      {"run", (bad_folder() / "no_unit.yaml").string(), "--out", folder.path.string(), "--force"});
  CHECK(result.exit_code == 2);
  CHECK(content_of(folder.path / "trace.csv") == "old trace");
  CHECK(content_of(folder.path / "summary.json") == "old summary");
}

TEST_CASE("check and curves refuse what run refuses") {
  const std::string file = (bad_folder() / "no_unit.yaml").string();
  for (const auto& arguments :
       std::vector<std::vector<std::string>>{{"check", file},
                                             {"curves", file, "--of", "water"},
                                             {"curves", file, "--of", "cruise", "--at", "speed=20m/s"}}) {
    const Finished result = run_program(arguments);
    INFO(arguments[0] << ": " << result.err);
    CHECK(result.exit_code == 2);
    CHECK(result.out.empty());
    CHECK(starts_with_place(lines_of(result.err).at(0)));
  }
}

TEST_CASE("curves checks the parts it uses") {
  const auto err = [](std::vector<std::string> more) {
    std::vector<std::string> arguments{"curves", demo_scenario(), "--of"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Finished result = run_program(arguments);
    CHECK(result.exit_code == 2);
    CHECK(result.out.empty());
    return result.err;
  };
  CHECK(has(
      err({"pump", "--at", "flow=100L/s", "--at", "shaft_speed=4000rpm", "--set", "impeller.hub_in=300mm"}),
      "below the bore"));
  CHECK(
      has(err({"hull", "--at", "speed=20m/s", "--at", "thrust=0N", "--set", "plate.span=5m"}), "hull.beam"));
  CHECK(has(err({"engine", "--at", "shaft_speed=4000rpm", "--set", "engine.limiter_band=9000rpm"}),
            "engine.limiter_band"));
}

}  // namespace bowrise
