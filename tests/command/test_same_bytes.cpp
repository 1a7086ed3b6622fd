// The same command gives the same bytes, whatever the number of threads, the locale and the time zone.
#include <catch2/catch.hpp>

#include "tests/support/folder.hpp"
#include "tests/support/german_locale.hpp"
#include "tests/support/program.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;
using Words = std::vector<std::string>;

/// A command and the files it writes.
struct Command {
  Words words;
  std::vector<fs::path> files{};
};

std::string scenario(const std::string& name) {
  return in_source_tree("scenarios/" + name + ".yaml").string();
}

/// What it prints and writes; it may do so again and again.
std::string bytes_of(const Command& command, const Words& more, const RunOptions& options = {}) {
  Words words = command.words;
  words.insert(words.end(), more.begin(), more.end());
  for (const fs::path& file : command.files) fs::remove(file);
  const Finished result = run_program(words, options);
  INFO(result.err);
  REQUIRE(result.exit_code == 0);
  std::string bytes = result.out;
  for (const fs::path& file : command.files) {
    REQUIRE(fs::exists(file));
    bytes += content_of(file);
  }
  return bytes;
}

void check_same_bytes(const Command& command) {
  static const GermanLocale german;
  INFO(command.words.front());
  const std::string one = bytes_of(command, {"--threads", "1"});
  for (const char* threads : {"2", "4"}) {
    INFO(threads << " threads");
    CHECK((bytes_of(command, {"--threads", threads}) == one));
  }
  const RunOptions elsewhere{.folder = {},
                             .environment = {{"LOCPATH", german.path().string()},
                                             {"LC_ALL", GermanLocale::name},
                                             {"TZ", "Asia/Kolkata"}},
                             .standard_output = {}};
  CHECK((bytes_of(command, {"--threads", "2"}, elsewhere) == one));
}

}  // namespace

TEST_CASE("one launch gives the same bytes with any threads and locale") {
  const Folder folder;
  const fs::path out = folder.path / "out";
  for (const Words& more : {Words{}, Words{"--json", "--coast"}, Words{"--plot"}}) {
    Command command{{"run", demo_scenario(), "--out", out.string(), "--force"},
                    {out / "trace.csv", out / "summary.json"}};
    command.words.insert(command.words.end(), more.begin(), more.end());
    check_same_bytes(command);
  }
  check_same_bytes({{"curves", demo_scenario(), "--of", "hull", "--at", "speed=5..30m/s:6"}});
  check_same_bytes({{"curves", demo_scenario(), "--of", "cruise", "--at", "speed=12.5m/s"}});
  check_same_bytes({{"check", demo_scenario()}});
  check_same_bytes({{"parameters"}});
}

TEST_CASE("studies give the same bytes with any threads and locale", "[long]") {
  const Folder folder;
  const auto with_page = [&](Words words) {
    const fs::path page = folder.path / (words.front() + ".html");
    words.insert(words.end(), {"--html", page.string()});
    return Command{words, {page}};
  };
  const std::string demo = demo_scenario(),
                    log = in_source_tree("scenarios/fitted/generated_run.csv").string();
  const std::string fitted = (folder.path / "fitted.yaml").string();
  const std::vector<Command> commands{
      {{"run", demo, "--band", "8", "--json"}},
      {{"compare", demo, scenario("two_stage"), "--band", "4", "--over", "engine.peak_power=200..300hp:3"}},
      {{"match", scenario("larger_cone"), "--until", "top_rpm=7680rpm"}},
      {{"fit", demo, log, "--band", "8", "--json", "--out", fitted}, {fitted}},
      with_page({"fit", demo, "--seen", "top_speed=68mph", "--seen", "top_rpm=7500rpm", "--band", "8"}),
      with_page({"sweep", demo, "--vary", "nozzle.exit_diameter=82..90mm:4", "--vary",
                 "impeller.pitch_trailing=24..26deg:3", "--sensitivity", "8"}),
      with_page({"throttle", demo}),
      with_page(
          {"wear", demo, "--launches", "100", "--strategy", "pinned", "--strategy", "hold", "--band", "4"}),
      with_page({"diagnose", demo, "--seen", "top_speed=60mph", "--seen", "coast_down_distance=90m", "--band",
                 "4"})};
  for (const Command& command : commands) check_same_bytes(command);
}

}  // namespace bowrise
