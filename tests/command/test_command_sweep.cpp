// Sweeps from outside: answers, messages, the same bytes whatever threads, parts and kills.
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <random>
#include <thread>

#include "tests/support/folder.hpp"
#include "tests/support/program.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;
/// A sweep of 15 points, three of them with a nozzle larger than the bore.
Words small_sweep(const Words& more = {}) {
  Words words{"sweep",  demo_scenario(),
              "--vary", "nozzle.exit_diameter=80,84,86,88,170mm",
              "--vary", "impeller.pitch_trailing=24..26deg:3",
              "--rank", "holeshot=2",
              "--rank", "life=1"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// Some hundred cheap points: time enough to be killed in the middle.
Words long_sweep(const fs::path& folder, const std::string& how) {
  return {"sweep",     demo_scenario(),
          "--vary",    "nozzle.exit_diameter=80..90mm",
          "--vary",    "impeller.pitch_trailing=24..26deg",
          "--set",     "run.duration=2s",
          "--rank",    "life=1",
          "--samples", "600",
          how,         folder.string()};
}

Finished done(const Words& arguments) {
  Finished result = run_program(arguments);
  INFO(result.err);
  REQUIRE(result.exit_code == 0);
  return result;
}

void check_same_folders(const fs::path& one, const fs::path& other) {
  CHECK(names_in(one) == Words{"definition.txt", "ranking.csv", "summary.json", "sweep.csv"});
  CHECK(names_in(one) == names_in(other));
  for (const std::string& name : names_in(one)) {
    INFO(name);
    CHECK(content_of(one / name) == content_of(other / name));
  }
}

/// Starts the program and kills it after so long; true when the kill came before its end.
bool killed_after(const Words& arguments, std::chrono::microseconds time) {
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const int nothing = open("/dev/null", O_RDWR);
    dup2(nothing, STDOUT_FILENO);
    dup2(nothing, STDERR_FILENO);
    Words words{BOWRISE_PROGRAM};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<char*> pointers;
    for (std::string& word : words) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    execv(BOWRISE_PROGRAM, pointers.data());
    _exit(127);
  }
  std::this_thread::sleep_for(time);
  kill(child, SIGKILL);
  int status = 0;
  REQUIRE(waitpid(child, &status, 0) == child);
  return WIFSIGNALED(status);
}

}  // namespace

TEST_CASE("sweep ranks the points and tells which input matters") {
  const Finished text = done(small_sweep({"--sensitivity", "8"}));
  CHECK(has(text.out, "15 points, 3 of them without a result that counts"));
  CHECK(has(text.out, "best for each purpose alone"));
  CHECK(has(text.out, "the best by weights holeshot 2, life 1"));
  CHECK(has(text.out, "Sobol indices from 8 base points"));
  CHECK(has(text.err, "without a result: point 12: nozzle.exit_diameter: "));
  const auto json = nlohmann::json::parse(done(small_sweep({"--json"})).out);
  CHECK(json["points"] == 15);
  CHECK(json["ranked"] == 12);
  CHECK(json["best"].size() == 10);
  CHECK(json["best"][0]["score"] >= json["best"][1]["score"]);
  CHECK(json["purposes"]["holeshot"]["weight"] == 2.0);
  CHECK(json["best"][0]["purposes"]["rough"].is_null());  // its launch is made only when it is ranked
  CHECK(json["sensitivity"].is_null());
}

TEST_CASE("the best point launched by itself gives the numbers it was ranked by") {
  const auto json = nlohmann::json::parse(done(small_sweep({"--json"})).out);
  const auto& best = json["best"][0];
  const std::string nozzle = std::to_string(best["inputs"]["nozzle.exit_diameter"].get<double>()) + "mm";
  const std::string pitch = std::to_string(best["inputs"]["impeller.pitch_trailing"].get<double>()) + "deg";
  const auto alone =
      nlohmann::json::parse(done({"run", demo_scenario(), "--json", "--set", "nozzle.exit_diameter=" + nozzle,
                                  "--set", "impeller.pitch_trailing=" + pitch})
                                .out);
  CHECK(alone["marks"][0]["time_s"].get<double>() ==
        Approx(best["purposes"]["holeshot"].get<double>()).epsilon(1e-9));
}

TEST_CASE("sizes and prices come from the scenario") {
  const Folder folder;
  const std::string scenario =
      folder.put("mine.yaml", "from: " + demo_scenario() +
                                  "\nparts:\n  nozzle.exit_diameter:\n    sizes: [84 mm, 86 mm, 88 mm]\n"
                                  "    price: 120\n");
  const auto json =
      nlohmann::json::parse(done({"sweep", scenario, "--vary", "nozzle.exit_diameter", "--json"}).out);
  CHECK(json["points"] == 3);
  CHECK(json["purposes"]["price"]["weight"] == 1.0);
  for (const auto& point : json["best"])
    CHECK(point["purposes"]["price"] == (point["inputs"]["nozzle.exit_diameter"] == 86.0 ? 0.0 : 120.0));
  check_refused({"sweep", scenario, "--vary", "impeller.pitch_trailing"}, "lists no sizes of it");
}

TEST_CASE("a sweep is the same bytes with 1, 2 and 4 threads and in any split of parts") {
  const Folder folder;
  const fs::path whole = folder.path / "whole";
  const Finished one = done(small_sweep({"--out", whole, "--threads", "1"}));
  for (const char* threads : {"2", "4"}) {
    const fs::path place = folder.path / threads;
    CHECK(done(small_sweep({"--out", place, "--threads", threads})).out == one.out);
    check_same_folders(place, whole);
  }
  CHECK(done(small_sweep()).out == one.out);  // nor does it matter whether it is written
  for (const Words& order : {Words{"1"}, Words{"2", "1"}, Words{"3", "5", "1", "4", "2"}}) {
    const std::string parts = std::to_string(order.size());
    Words merge{"sweep", "--merge"};
    for (const std::string& part : order) {
      const fs::path place = folder.path / (part + "of" + parts);
      done(small_sweep({"--out", place, "--part", part + "/" + parts}));
      merge.push_back(place);
    }
    const fs::path joined = folder.path / ("joined" + parts);
    merge.insert(merge.end(), {"--out", joined});
    CHECK(done(merge).out == one.out);
    check_same_folders(joined, whole);
  }
}

TEST_CASE("a sweep killed again and again at random moments is gone on with to the same bytes", "[long]") {
  const Folder folder;
  const fs::path whole = folder.path / "whole", killed = folder.path / "killed";
  const auto start = std::chrono::steady_clock::now();
  done(long_sweep(whole, "--out"));
  const auto length =
      std::chrono::duration_cast<std::chrono::microseconds>(std::chrono::steady_clock::now() - start);
  std::mt19937_64 moments(20240917);
  int kills = 0;
  for (int round = 0; round < 5; ++round) {
    fs::remove_all(killed);
    for (int time = 0; time < 8; ++time) {
      const auto until = length * static_cast<int>(moments() % 700) / 1000;
      if (!killed_after(long_sweep(killed, "--resume"), until)) break;
      ++kills;
      if (!fs::exists(killed)) continue;
      for (const std::string& name : names_in(killed)) {  // whatever has its final name is whole
        if (name == "sweep.csv.part" || name.front() == '.') continue;
        INFO(name);
        CHECK(content_of(killed / name) == content_of(whole / name));
      }
    }
    done(long_sweep(killed, "--resume"));
    INFO("round " << round << ", " << kills << " kills");
    check_same_folders(killed, whole);
  }
  CHECK(kills >= 10);
}

TEST_CASE("a full disk and an unwritable folder are told, and nothing has a final name") {
  const Folder folder;
  const fs::path place = folder.path / "full";
  const Finished full =
      run_program(long_sweep(place, "--out"),
                  {.folder = {}, .environment = {}, .standard_output = {}, .largest_file_bytes = 4096});
  CHECK(full.exit_code == 3);
  CHECK(full.out.empty());
  CHECK(lines_of(full.err).size() == 1);
  CHECK(has(full.err, "sweep.csv.part: cannot be written: File too large"));
  CHECK(names_in(place) == Words{"definition.txt", "sweep.csv.part"});
  done(long_sweep(place, "--resume"));  // once there is room again
  done(long_sweep(folder.path / "whole", "--out"));
  check_same_folders(place, folder.path / "whole");

  const std::string file = folder.put("file", "");
  check_refused(small_sweep({"--out", file + "/below"}), "cannot be created", 3);
  check_refused(small_sweep({"--out", file}), "not a directory", 3);
  check_refused(small_sweep({"--out", place}), "not empty; go on with what is there by --resume", 3);
  Words other = long_sweep(place, "--resume");
  other.insert(other.end(), {"--seed", "4"});
  check_refused(other, "holds another sweep: \"seed: 1\" there, \"seed: 4\" now");
}

TEST_CASE("parts joined once can be ranked anew") {
  const Folder folder;
  const fs::path whole = folder.path / "whole";
  done(small_sweep({"--out", whole}));
  const auto json = nlohmann::json::parse(
      done({"sweep", "--merge", whole, "--out", folder.path / "anew", "--rank", "top=1", "--json"}).out);
  CHECK(json["purposes"].size() == 1);
  CHECK(json["best"][0]["score"] == 0.0);
  check_refused({"sweep", "--merge", whole, "--out", folder.path / "b", "--rank", "rough=1"},
                "cannot be ranked by rough");
}

TEST_CASE("a sweep without any result says so") {
  check_refused({"sweep", demo_scenario(), "--vary", "engine.peak_power=250hp", "--rank", "holeshot=1",
                 "--set", "run.duration=0.5s"},
                "no point has a value for every purpose that counts", 1);
}

TEST_CASE("sweep refuses what makes no sense in one line") {
  const std::string demo = demo_scenario();
  const auto refused = [&](const Words& more, std::string_view part) {
    Words words{"sweep", demo};
    words.insert(words.end(), more.begin(), more.end());
    check_refused(words, part);
  };
  const std::string nozzle = "nozzle.exit_diameter=84,86mm";
  check_refused({"sweep"}, "SCENARIO is required");
  refused({}, "needs --vary");
  refused({"--vary", "nozzle.exit_diametre=84mm"}, "did you mean nozzle.exit_diameter?");
  refused({"--vary", "engine.charger=1"}, "only numbers can be varied");
  refused({"--vary", "nozzle.exit_diameter=84..86mm"}, "write LOW..HIGH:COUNT");
  refused({"--vary", "nozzle.exit_diameter=84..86:3"}, "has no unit");
  refused({"--vary", "impeller.blades=3..6:3"}, "must be a whole number");
  refused({"--vary", nozzle, "--vary", nozzle}, "given twice");
  refused({"--vary", "impeller.pitch_trailing=25deg", "--vary", "impeller.pitch_trailing_length=200mm"},
          "says the same as impeller.pitch_trailing");
  refused({"--vary", "stage_2.blades=3,4"}, "there is no second stage");
  refused({"--vary", "nozzle.exit_diameter=80..90mm:100000", "--vary", "pump.clearance=0.1..1mm:100000"},
          "more than a thousand million points");
  refused({"--vary", "nozzle.exit_diameter=80..90mm:1000", "--vary", "pump.clearance=0.1..1mm:1000"},
          "give --out DIR");
  refused({"--vary", nozzle, "--rank", "speed=1"}, "one of holeshot, top, rough, life, price");
  refused({"--vary", nozzle, "--rank", "top=-1"}, "a number from 0 up");
  refused({"--vary", nozzle, "--rank", "top=0"}, "no weight is above 0");
  refused({"--vary", nozzle, "--rank", "top=1", "--rank", "top=2"}, "given twice");
  refused({"--vary", nozzle, "--rank", "price=1"}, "no varied part has a price");
  refused({"--vary", nozzle, "--part", "3/2"}, "write K/N");
  refused({"--vary", nozzle, "--part", "1/2"}, "--part needs --out");
  refused({"--vary", nozzle, "--part", "1/2", "--sensitivity", "8"}, "belongs to the whole");
  refused({"--vary", nozzle, "--sensitivity", "100"}, "power of two");
  refused({"--merge", "a"}, "excludes");
  check_refused({"sweep", "--merge", "a"}, "--merge needs --out");
  check_refused({"sweep", "--merge", "no_such_folder", "--out", "b"}, "holds no definition of a sweep");
  check_refused({"sweep", demo, "--vary", nozzle, "--out", "a", "--resume", "a"}, "excludes");
}

}  // namespace bowrise
