// Whatever cannot be written, by any verb: exit code 3, one line that names the place, and what was there
// intact.
#include <catch2/catch.hpp>
#include <set>

#include "tests/support/commands.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

std::set<fs::path> all_below(const fs::path& folder) {
  std::set<fs::path> paths;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) paths.insert(entry.path());
  return paths;
}

/// The answer on the terminal may have come already; it goes nowhere here.
Finished run_without_room(const Command& command, std::optional<std::size_t> largest_file_bytes) {
  return run_program(command.words, {.folder = {},
                                     .environment = {},
                                     .standard_output = "/dev/null",
                                     .largest_file_bytes = largest_file_bytes});
}

void check_told(const Finished& result, const std::string& place) {
  INFO(result.err);
  CHECK(result.exit_code == 3);
  CHECK(lines_of(result.err).size() == 1);
  CHECK(has(result.err, place));
}

}  // namespace

TEST_CASE("no verb harms what is there when the disk is full", "[long]") {
  const Folder folder;
  for (const Command& command : writing_commands(folder.path)) {
    INFO(command.words.front());
    for (const fs::path& file : command.files) {
      fs::create_directories(file.parent_path());
      std::ofstream(file) << "old " << file.filename();
    }
    const std::set<fs::path> before = all_below(folder.path);
    check_told(run_without_room(command, 700),
               folder.path.string());  // the smallest file is a fitted scenario
    CHECK(all_below(folder.path) == before);
    for (const fs::path& file : command.files) {
      std::ostringstream old;
      old << "old " << file.filename();
      CHECK(content_of(file) == old.str());
    }
  }
}

TEST_CASE("no verb leaves anything of its own when the disk is full", "[long]") {
  const Folder folder;
  for (const Command& command : writing_commands(folder.path)) {
    INFO(command.words.front());
    check_told(run_without_room(command, 700), folder.path.string());
    const bool journal = command.files.size() > 2;  // a sweep keeps what is whole, to go on from
    for (const fs::path& file : command.files)
      CHECK((!fs::exists(file) || (journal && file.extension() == ".txt")));
  }
}

// root passes permission bits, so the kernel's own file system stands for a folder that cannot be written
TEST_CASE("every verb tells of a folder that cannot be written", "[long]") {
  const fs::path shut = "/proc/self";
  for (const Command& command : writing_commands(shut)) {
    INFO(command.words.front());
    check_told(run_without_room(command, std::nullopt), shut.string());
  }
}

}  // namespace bowrise
