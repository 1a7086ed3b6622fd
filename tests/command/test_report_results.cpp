// bowrise report on the folders that bowrise run --out left.
#include <catch2/catch.hpp>

#include "tests/support/folder.hpp"
#include "tests/support/program.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

const Folder& runs() {
  static const Folder folder;
  static const bool made = [] {
    const auto run = [](const std::string& scenario, const std::string& name, const char* change) {
      return run_program({"run", in_source_tree("scenarios/" + scenario).string(), "--set", change, "--out",
                          (folder.path / name).string(), "--quiet"})
          .exit_code;
    };
    REQUIRE(run("supercharged_three_seat.yaml", "demo", "nozzle.exit_diameter=84mm") == 0);
    REQUIRE(run("fitted/fitted.yaml", "fitted", "pump.clearance=0.3mm") == 0);
    return true;
  }();
  REQUIRE(made);
  return folder;
}

std::string replaced(std::string text, const std::string& part, const std::string& by) {
  const auto at = text.find(part);
  INFO(part);
  REQUIRE(at != std::string::npos);
  return text.replace(at, part.size(), by);
}

/// A copy of the demo's result with one file changed.
fs::path changed_copy(const Folder& into, const std::string& file, const std::string& part,
                      const std::string& by) {
  const fs::path copy = into.path / "copy";
  fs::remove_all(copy);
  fs::copy(runs().path / "demo", copy);
  const std::string text = replaced(content_of(copy / file), part, by);
  std::ofstream(copy / file, std::ios::binary) << text;
  return copy;
}

Finished report_on(const fs::path& folder, const fs::path& page, const std::vector<std::string>& more = {}) {
  std::vector<std::string> arguments{"report", folder.string(), "--out", page.string()};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return run_program(arguments);
}

}  // namespace

TEST_CASE("report shows results of runs, what was set included, beside scenarios") {
  const Folder folder;
  const fs::path page = folder.path / "page.html";
  const Finished result =
      report_on(runs().path / "demo", page, {(runs().path / "fitted").string() + "/", demo_scenario()});
  INFO(result.err);
  CHECK(result.exit_code == 0);
  const std::string text = content_of(page);
  CHECK(has(text, "demo/scenario.yaml, run by bowrise "));
  CHECK(has(text, ": the same numbers today"));
  CHECK_FALSE(has(text, "changed since"));
  CHECK(has(text, "84 mm"));
}

TEST_CASE("report says which number of an earlier run has changed, and who made it") {
  const Folder folder;
  const std::string summary = content_of(runs().path / "demo" / "summary.json");
  const auto at = summary.find("\"speed_m_s\"", summary.find("\"top_speed\""));
  const std::string speed = summary.substr(at, summary.find(',', at) - at);
  const fs::path copy = changed_copy(folder, "summary.json", speed, "\"speed_m_s\": 12.5");
  const std::string text =
      replaced(content_of(copy / "summary.json"), "\"version\": \"", "\"version\": \"0.0.1-");
  std::ofstream(copy / "summary.json", std::ios::binary) << text;
  const fs::path page = folder.path / "page.html";
  const Finished result = report_on(copy, page);
  INFO(result.err);
  CHECK(result.exit_code == 0);
  CHECK(has(content_of(page), "run by bowrise 0.0.1-"));
  CHECK(has(content_of(page), "its numbers have changed since"));
  CHECK(has(content_of(page), "top speed: 12.5 m/s then, "));
}

TEST_CASE("report refuses a folder that is no result in one line") {
  const Folder folder;
  const fs::path page = folder.path / "page.html";
  const auto check_refused = [&](const fs::path& place, std::string_view part,
                                 const std::vector<std::string>& more = {}) {
    const Finished result = report_on(place, page, more);
    INFO(result.err);
    CHECK(result.exit_code == 2);
    CHECK(lines_of(result.err).size() == 1);
    CHECK(has(result.err, part));
    CHECK_FALSE(fs::exists(page));
  };
  check_refused(folder.path, "no result of bowrise run --out: holds no summary.json");
  check_refused(changed_copy(folder, "summary.json", "{", "["), "not a summary that bowrise run wrote");
  check_refused(changed_copy(folder, "summary.json", "\"marks\"", "\"other\""), "not a summary that");
  check_refused(changed_copy(folder, "scenario.yaml", "84 mm", "85 mm"), "changed since the run");
  check_refused(runs().path / "demo", "--set would make another", {"--set", "pump.clearance=1mm"});
  fs::remove(changed_copy(folder, "scenario.yaml", "84 mm", "84 mm") / "scenario.yaml");
  check_refused(folder.path / "copy", "holds no scenario.yaml");
}

}  // namespace bowrise
