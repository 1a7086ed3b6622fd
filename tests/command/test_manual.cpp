// --help as a manual: its parts, and every example as it is printed.
#include <catch2/catch.hpp>
#include <sstream>

#include "tests/support/folder.hpp"
#include "tests/support/program.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

std::vector<std::string> words_of(const std::string& line) {
  std::istringstream text(line);
  std::vector<std::string> words;
  for (std::string word; text >> word;) words.push_back(word);
  return words;
}

/// Names in the list of verbs that the program's help shows.
std::vector<std::string> listed_verbs() {
  const std::vector<std::string> lines = lines_of(run_program({"--help"}).out);
  std::vector<std::string> verbs;
  bool inside = false;
  for (const std::string& line : lines) {
    if (inside && line.empty()) break;
    if (inside) verbs.push_back(words_of(line).front());
    inside = inside || line == "Subcommands:";
  }
  return verbs;
}

/// Help of a verb; of the program for an empty name.
std::string help_of(const std::string& verb) {
  return run_program(verb.empty() ? std::vector<std::string>{"--help"}
                                  : std::vector<std::string>{verb, "--help"})
      .out;
}

std::vector<std::string> examples_in(const std::string& help) {
  std::vector<std::string> examples;
  for (const std::string& line : lines_of(help))
    if (line.rfind("  bowrise ", 0) == 0) examples.push_back(line.substr(2));
  return examples;
}

}  // namespace

TEST_CASE("help of every verb tells what it is for, groups its options and shows examples") {
  const std::vector<std::string> verbs = listed_verbs();
  REQUIRE(verbs.size() > 10);
  for (const std::string& verb : verbs) {
    INFO(verb);
    const std::string help = help_of(verb);
    for (const char* const part : {"\nOutput:\n", "\nProgram:\n", "\nExamples:\n",
                                   "\nSee also: ", "Exit codes: 0 done", "carry their unit"})
      CHECK(has(help, part));
    CHECK(help.find("Exit codes") == help.rfind("Exit codes"));
    CHECK(help.find("Usage:") > 200);  // a paragraph stands before it
    const std::vector<std::string> examples = examples_in(help);
    CHECK(examples.size() >= 2);
    for (const std::string& example : examples) CHECK(words_of(example).at(1) == verb);
  }
}

TEST_CASE("every example of the help runs as it is printed", "[long]") {
  std::vector<std::string> pages = listed_verbs();
  pages.emplace_back();  // the program's own help
  for (const std::string& verb : pages) {
    for (const std::string& example : examples_in(help_of(verb))) {
      INFO(example);
      const Folder folder;
      fs::create_directory_symlink(in_source_tree("scenarios"), folder.path / "scenarios");
      std::vector<std::string> arguments = words_of(example);
      arguments.erase(arguments.begin());
      const Finished result =
          run_program(arguments, {.folder = folder.path, .environment = {}, .standard_output = {}});
      CHECK(result.exit_code == 0);
      INFO(result.err);
      CHECK_FALSE(result.out.empty());
    }
  }
}

TEST_CASE("bash completes verbs, options of a verb, keys, and scenario files") {
  const Folder folder;
  folder.put("lake one.yaml", "");
  folder.put("notes.txt", "");
  folder.put("complete.sh", run_program({"--bash-completion"}).out + R"(
complete_words() { COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _bowrise; printf '%s\n' "${COMPREPLY[*]}"; }
complete_words bowrise co
complete_words bowrise run --co
complete_words bowrise wear --set pump.clearance_
complete_words bowrise run lake
complete_words bowrise run notes
)");
  const std::string out = (folder.path / "out.txt").string();
  const std::string command = "cd '" + folder.path.string() + "' && bash -u complete.sh >'" + out + "'";
  REQUIRE(std::system(command.c_str()) == 0);
  CHECK(lines_of(content_of(out)) ==
        std::vector<std::string>{"compare", "--coast", "pump.clearance_new", "lake one.yaml", ""});
}

}  // namespace bowrise
