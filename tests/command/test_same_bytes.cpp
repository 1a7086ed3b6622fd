// The same command gives the same bytes, whatever the number of threads, the locale and the time zone.
#include <catch2/catch.hpp>

#include "tests/support/commands.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/german_locale.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;
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
  for (const Words& more : {Words{}, Words{"--json", "--coast"}, Words{"--plot"}}) {
    Command run = writing_commands(folder.path).front();
    run.words.insert(run.words.end(), more.begin(), more.end());
    check_same_bytes(run);
  }
  check_same_bytes({{"curves", demo_scenario(), "--of", "hull", "--at", "speed=5..30m/s:6"}});
  check_same_bytes({{"curves", demo_scenario(), "--of", "cruise", "--at", "speed=12.5m/s"}});
  check_same_bytes({{"check", demo_scenario()}});
  check_same_bytes({{"parameters"}});
}

TEST_CASE("studies give the same bytes with any threads and locale", "[long]") {
  const Folder folder;
  const std::string demo = demo_scenario();
  const std::string log = in_source_tree("scenarios/fitted/generated_run.csv").string();
  std::vector<Command> commands = writing_commands(folder.path);
  for (const Words& words : {Words{"run", demo, "--band", "8", "--json"},
                             Words{"compare", demo, scenario_file("two_stage"), "--band", "4", "--over",
                                   "engine.peak_power=200..300hp:3"},
                             Words{"match", scenario_file("larger_cone"), "--until", "top_rpm=7680rpm"},
                             Words{"fit", demo, log, "--band", "8", "--json"}})
    commands.push_back({words});
  for (const Command& command : commands) check_same_bytes(command);
}

}  // namespace bowrise
