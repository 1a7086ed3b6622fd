// Commands of the program that write files: one of each kind, at its cheapest.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "tests/support/program.hpp"

namespace bowrise {

/// The words of a command and the files it writes.
struct Command {
  std::vector<std::string> words;
  std::vector<std::filesystem::path> files{};
};

/// Every verb that writes, into files of this folder; what is there is replaced, but for sweeps, which
/// refuse.
inline std::vector<Command> writing_commands(const std::filesystem::path& folder) {
  const std::string demo = demo_scenario();
  const std::filesystem::path run = folder / "run", sweep = folder / "sweep", fitted = folder / "fitted.yaml";
  const auto with_page = [&](std::vector<std::string> words, const std::string& option) {
    const std::filesystem::path page = folder / (words.front() + ".html");
    words.insert(words.end(), {option, page.string()});
    return Command{words, {page}};
  };
  return {{{"run", demo, "--out", run.string(), "--force"},
           {run / "scenario.yaml", run / "trace.csv", run / "summary.json"}},
          {{"sweep", demo, "--vary", "nozzle.exit_diameter=84,86mm", "--out", sweep.string()},
           {sweep / "definition.txt", sweep / "ranking.csv", sweep / "summary.json", sweep / "sweep.csv"}},
          {{"fit", demo, "--seen", "top_speed=68mph", "--band", "8", "--out", fitted.string(), "--force"},
           {fitted}},
          with_page({"fit", demo, "--seen", "top_rpm=7500rpm", "--band", "8"}, "--html"),
          with_page({"sweep", demo, "--vary", "nozzle.exit_diameter=82..90mm:4", "--vary",
                     "impeller.pitch_trailing=24..26deg:3", "--sensitivity", "8"},
                    "--html"),
          with_page({"throttle", demo, "--pump", "worn", "--start", "rest"}, "--html"),
          with_page({"wear", demo, "--launches", "100", "--strategy", "pinned", "--strategy", "hold",
                     "--band", "4"},
                    "--html"),
          with_page({"diagnose", demo, "--seen", "top_speed=60mph", "--seen", "coast_down_distance=90m",
                     "--band", "4"},
                    "--html"),
          with_page({"report", demo}, "--out")};
}

}  // namespace bowrise
