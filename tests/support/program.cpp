#include "tests/support/program.hpp"

#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>

#include "tests/support/folder.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

constexpr int could_not_start = 127;

/// In the child: redirections, folder, environment, then the program. Returns only when that fails.
void become_program(const Words& arguments, const RunOptions& options, const std::string& out,
                    const std::string& err) {
  const int out_file = open(out.c_str(), O_WRONLY | O_CREAT, 0600);
  const int err_file = open(err.c_str(), O_WRONLY | O_CREAT, 0600);
  const int nothing = open("/dev/null", O_RDONLY);
  if (out_file < 0 || err_file < 0 || nothing < 0) return;
  if (dup2(nothing, STDIN_FILENO) < 0 || dup2(out_file, STDOUT_FILENO) < 0 ||
      dup2(err_file, STDERR_FILENO) < 0)
    return;
  if (!options.folder.empty() && chdir(options.folder.c_str()) != 0) return;
  for (const auto& [name, value] : options.environment) setenv(name.c_str(), value.c_str(), 1);
  if (options.largest_file_bytes) {
    const rlimit limit{*options.largest_file_bytes, *options.largest_file_bytes};
    signal(SIGXFSZ, SIG_IGN);  // so that writing fails, as it does where there is no room
    if (setrlimit(RLIMIT_FSIZE, &limit) != 0) return;
  }
  Words words{BOWRISE_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  execv(BOWRISE_PROGRAM, pointers.data());
}

int exit_code_of(int status) { return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status); }

/// What it says when it refuses.
std::string refusal(const Words& arguments, int code) {
  std::string command = "bowrise";
  for (const std::string& argument : arguments) command += " " + argument;
  INFO(command);
  Finished result = run_program(arguments);
  INFO(result.err);
  CHECK(result.exit_code == code);
  CHECK(result.out.empty());
  CHECK(lines_of(result.err).size() == 1);
  return std::move(result.err);
}

}  // namespace

Finished run_program(const Words& arguments, const RunOptions& options) {
  const Folder streams;
  const std::string out =
      options.standard_output.empty() ? (streams.path / "out").string() : options.standard_output;
  const std::string err = (streams.path / "err").string();
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    become_program(arguments, options, out, err);
    _exit(could_not_start);
  }
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  const int code = exit_code_of(status);
  INFO("program " << BOWRISE_PROGRAM);
  REQUIRE(code != could_not_start);
  return {code, options.standard_output.empty() ? content_of(out) : std::string(), content_of(err)};
}

void check_refused(const Words& arguments, std::string_view part, int code) {
  const std::string told = refusal(arguments, code);
  INFO(told);
  CHECK(has(told, part));
}

void check_refused_for_all(const Words& arguments, const Words& parts) {
  const std::string told = refusal(arguments, 2);
  INFO(told);
  for (const std::string& part : parts) {
    INFO("part: " << part);
    CHECK(has(told, part));
  }
}

std::filesystem::path in_source_tree(const std::string& relative) {
  return std::filesystem::path(BOWRISE_SOURCE_DIR) / relative;
}

std::string demo_scenario() { return scenario_file("supercharged_three_seat"); }

std::string scenario_file(const std::string& name) {
  return in_source_tree("scenarios/" + name + ".yaml").string();
}

Words lines_of(const std::string& text) {
  Words lines;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = text.find('\n', start);
    lines.push_back(text.substr(start, end == std::string::npos ? end : end - start));
    if (end == std::string::npos) break;
    start = end + 1;
  }
  return lines;
}

Words cells_of(const std::string& line) {
  Words cells;
  for (std::size_t start = 0;;) {
    const std::size_t comma = line.find(',', start);
    cells.push_back(line.substr(start, comma == std::string::npos ? comma : comma - start));
    if (comma == std::string::npos) return cells;
    start = comma + 1;
  }
}

}  // namespace bowrise
