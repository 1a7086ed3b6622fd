// What the program writes and prints: files, JSON, CSV, the same bytes every time; and what it does when it
// cannot.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "tests/support/folder.hpp"
#include "tests/support/program.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

/// design: "at least" these columns, in this order
const Words& promised_columns() {
  static const Words names{"time_s",           "distance_m",
                           "speed_m_s",        "acceleration_m_s2",
                           "trim_deg",         "throttle",
                           "engine_torque_Nm", "pump_torque_Nm",
                           "shaft_rpm",        "flow_m3_s",
                           "jet_speed_m_s",    "thrust_N",
                           "drag_N",           "inlet_velocity_ratio",
                           "npsh_available_m", "npsh_required_m",
                           "cavitation",       "cavitation_stage_2",
                           "void_fraction",    "limited_by"};
  return names;
}

/// Numbers of a JSON text: every one finite, counted.
std::size_t count_finite(const Json& json) {
  if (json.is_number()) {
    CHECK(std::isfinite(json.get<double>()));
    return 1;
  }
  std::size_t count = 0;
  if (json.is_structured())
    for (const Json& item : json) count += count_finite(item);
  return count;
}

struct Trace {
  Words header;
  std::vector<Words> rows;

  [[nodiscard]] std::size_t column(const std::string& name) const {
    const auto found = std::find(header.begin(), header.end(), name);
    REQUIRE(found != header.end());
    return static_cast<std::size_t>(found - header.begin());
  }
  [[nodiscard]] double number(std::size_t row, const std::string& name) const {
    return std::stod(rows.at(row).at(column(name)));
  }
};

Trace trace_in(const fs::path& folder) {
  const std::string text = content_of(folder / "trace.csv");
  REQUIRE_FALSE(text.empty());
  CHECK(text.back() == '\n');
  Trace trace;
  for (const std::string& line : lines_of(text))
    (trace.header.empty() ? trace.header : trace.rows.emplace_back()) = cells_of(line);
  return trace;
}

Finished run_demo(const fs::path& out, const Words& more = {}, const RunOptions& options = {}) {
  Words arguments{"run", demo_scenario(), "--out", out.string()};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return run_program(arguments, options);
}

}  // namespace

TEST_CASE("option --out makes a folder, parents included, with its three files and nothing else") {
  const Folder folder;
  const fs::path out = folder.path / "results" / "first";
  const Finished result = run_demo(out);
  CHECK(result.exit_code == 0);
  CHECK(result.err.empty());
  CHECK(names_in(out) == Words{"scenario.yaml", "summary.json", "trace.csv"});
  CHECK(names_in(folder.path) == Words{"results"});
}

TEST_CASE("without --out a run only prints") {
  const Folder folder;
  const Finished result = run_program({"run", demo_scenario()},
                                      {.folder = folder.path, .environment = {}, .standard_output = {}});
  CHECK(result.exit_code == 0);
  for (const char* part :
       {"0 to 30 mph", "top speed", " mph", " km/h", "thousandths of an inch", "not a clearance to ride"}) {
    INFO(part);
    CHECK(has(result.out, part));
  }
  CHECK(fs::is_empty(folder.path));
}

TEST_CASE("a folder that holds something is refused without --force and left as it is") {
  const Folder folder;
  folder.put("notes.txt", "mine");
  const Finished refused = run_demo(folder.path);
  CHECK(refused.exit_code == 3);
  CHECK(refused.out.empty());
  CHECK(lines_of(refused.err).size() == 1);
  CHECK(has(refused.err, "--force"));
  CHECK(names_in(folder.path) == Words{"notes.txt"});

  CHECK(run_demo(folder.path, {"--force"}).exit_code == 0);
  CHECK(names_in(folder.path) == Words{"notes.txt", "scenario.yaml", "summary.json", "trace.csv"});
  CHECK(content_of(folder.path / "notes.txt") == "mine");
}

TEST_CASE("places that cannot be written end with exit code 3 and one line") {
  const Folder folder;
  const fs::path file = folder.put("file", "mine");
  // permission bits do not stop root, so these places are refused by what they are
  for (const fs::path& place : {file, file / "below", fs::path("/dev/null"), fs::path("/dev/null/below"),
                                fs::path("/proc/bowrise"), fs::path("")}) {
    INFO(place.string());
    for (const Words& more : {Words{}, Words{"--force"}}) {
      const Finished result = run_demo(place, more);
      CHECK(result.exit_code == 3);
      CHECK(result.out.empty());
      CHECK(lines_of(result.err).size() == 1);
    }
  }
  CHECK(content_of(file) == "mine");
}

TEST_CASE("a folder in place of a result file stops all files") {
  const Folder folder;
  folder.put("summary.json", "old");
  fs::create_directory(folder.path / "trace.csv");
  CHECK(run_demo(folder.path, {"--force"}).exit_code == 3);
  CHECK(content_of(folder.path / "summary.json") == "old");
  CHECK(names_in(folder.path) == Words{"summary.json", "trace.csv"});
}

TEST_CASE("a full standard output ends with exit code 3") {
  for (const Words& arguments : {Words{"run", demo_scenario()}, Words{"check", demo_scenario()},
                                 Words{"parameters"}, Words{"curves", demo_scenario(), "--of", "water"}}) {
    const Finished result =
        run_program(arguments, {.folder = {}, .environment = {}, .standard_output = "/dev/full"});
    INFO(arguments[0] << ": " << result.err);
    CHECK(result.exit_code == 3);
    CHECK(has(result.err, "standard output"));
  }
}

TEST_CASE("a computation that fails says where, ends with exit code 1 and writes nothing") {
  const Folder folder;
  folder.put("trace.csv", "old trace");
  folder.put("summary.json", "old summary");
  const Words weak{"--set", "engine.peak_power=3hp"};
  const Finished failed = run_demo(folder.path, {"--force", weak[0], weak[1]});
  CHECK(failed.exit_code == 1);
  CHECK(failed.out.empty());
  CHECK(lines_of(failed.err).size() == 1);
  CHECK(has(failed.err, "start.shaft_speed"));
  CHECK(content_of(folder.path / "trace.csv") == "old trace");
  CHECK(content_of(folder.path / "summary.json") == "old summary");

  CHECK(run_demo(folder.path / "new", weak).exit_code == 1);
  CHECK_FALSE(fs::exists(folder.path / "new"));
}

TEST_CASE("option --quiet prints nothing and still writes") {
  const Folder folder;
  const Finished result = run_demo(folder.path / "out", {"--quiet"});
  CHECK(result.exit_code == 0);
  CHECK(result.out.empty());
  CHECK(result.err.empty());
  CHECK(names_in(folder.path / "out") == Words{"scenario.yaml", "summary.json", "trace.csv"});
  for (const Words& arguments : {Words{"check", demo_scenario(), "--quiet"}, Words{"parameters", "--quiet"},
                                 Words{"curves", demo_scenario(), "--of", "water", "--quiet"}}) {
    const Finished quiet = run_program(arguments);
    CHECK(quiet.exit_code == 0);
    CHECK(quiet.out.empty());
  }
}

TEST_CASE("option --json is JSON with finite numbers only, for every verb") {
  const auto parsed = [](Words arguments) {
    arguments.emplace_back("--json");
    INFO(arguments[0]);
    const Finished result = run_program(arguments);
    REQUIRE(result.exit_code == 0);
    return Json::parse(result.out);
  };
  CHECK(count_finite(parsed({"run", demo_scenario()})) > 50);
  CHECK(count_finite(parsed({"parameters"})) > 100);
  const Json hull = parsed({"curves", demo_scenario(), "--of", "hull", "--at", "speed=5..30m/s:6"});
  CHECK(hull.at("rows").size() == 6);
  CHECK(count_finite(hull) == 6 * 21);  // every column but the flags
  CHECK(parsed({"check", demo_scenario()}).at("inputs").at("pump.bore").at("value") == "160 mm");
}

TEST_CASE("run --json prints what summary.json holds") {
  const Folder folder;
  const Finished result = run_demo(folder.path / "out", {"--json"});
  CHECK(result.out == content_of(folder.path / "out" / "summary.json"));
}

TEST_CASE("summary.json answers what the design asks of it") {
  const Folder folder;
  REQUIRE(run_demo(folder.path / "out", {"--set", "nozzle.exit_diameter=85mm"}).exit_code == 0);
  const Json summary = Json::parse(content_of(folder.path / "out" / "summary.json"));
  for (const char* key :
       {"program", "version", "scenario", "scenario_hash", "marks", "top_speed", "launch", "limited_by_s",
        "flags", "warnings", "events", "counters", "inputs", "shaft_inertia_kg_m2", "cautions"}) {
    INFO(key);
    CHECK(summary.contains(key));
  }
  Words marks;
  for (const Json& mark : summary.at("marks")) marks.push_back(mark.at("name"));
  CHECK(marks == Words{"30 mph", "50 km/h", "60 mph", "60 ft", "100 m", "1/8 mile"});
  const Json& inputs = summary.at("inputs");
  CHECK(inputs.at("nozzle.exit_diameter").at("value") == "85 mm");
  CHECK(inputs.at("nozzle.exit_diameter").at("origin") == "--set nozzle.exit_diameter=85mm");
  CHECK(has(inputs.at("pump.bore").at("origin").get<std::string>(), "supercharged_three_seat.yaml:"));
  CHECK(inputs.at("nozzle.loss").at("origin") == "preset");
  CHECK(inputs.at("nozzle.loss").at("value") == "0.02");
  CHECK(summary.at("counters").at("rhs_calls").get<int>() > 100);
}

TEST_CASE("trace.csv has the promised columns and finite numbers") {
  const Folder folder;
  REQUIRE(run_demo(folder.path / "out").exit_code == 0);
  const Trace trace = trace_in(folder.path / "out");
  Words kept;
  for (const std::string& name : trace.header)
    if (std::find(promised_columns().begin(), promised_columns().end(), name) != promised_columns().end())
      kept.push_back(name);
  CHECK(kept == promised_columns());
  CHECK(trace.column("effective_mass_kg") > 0);
  REQUIRE(trace.rows.size() > 500);
  const std::size_t limit = trace.column("limited_by");
  const Words limits{"limiter", "air", "cavitation", "throttle", "hull", "engine"};
  bool sound = true;
  for (const Words& row : trace.rows) {
    sound = sound && row.size() == trace.header.size();
    for (std::size_t i = 0; sound && i < row.size(); ++i) {
      if (i == limit) {
        sound = std::find(limits.begin(), limits.end(), row[i]) != limits.end();
      } else {
        char* end = nullptr;
        sound = std::isfinite(std::strtod(row[i].c_str(), &end)) && *end == '\0' && !row[i].empty();
      }
    }
    if (!sound) break;
  }
  CHECK(sound);
}

TEST_CASE("rows of trace.csv ascend in time, on the output grid and at every event") {
  const Folder folder;
  REQUIRE(run_demo(folder.path / "out").exit_code == 0);
  const Trace trace = trace_in(folder.path / "out");
  std::vector<double> times;
  for (std::size_t i = 0; i < trace.rows.size(); ++i) times.push_back(trace.number(i, "time_s"));
  CHECK(times.front() == 0.0);
  CHECK(std::is_sorted(times.begin(), times.end()));
  CHECK(std::adjacent_find(times.begin(), times.end()) == times.end());
  for (int step = 0; step * 0.01 < times.back(); ++step) {
    const double time = step * 0.01;
    const bool there =
        std::any_of(times.begin(), times.end(), [time](double t) { return std::abs(t - time) < 1e-9; });
    if (!there) FAIL_CHECK("no row at " << time << " s");
  }
  const Json summary = Json::parse(content_of(folder.path / "out" / "summary.json"));
  REQUIRE(summary.at("events").size() > 5);
  for (const Json& event : summary.at("events")) {
    const double time = event.at("time_s");
    INFO(event.at("name").get<std::string>() << " at " << time);
    const auto row = std::find(times.begin(), times.end(), time);
    REQUIRE(row != times.end());
    CHECK(trace.number(static_cast<std::size_t>(row - times.begin()), "speed_m_s") ==
          event.at("speed_m_s").get<double>());
  }
}

TEST_CASE("a mark of the summary is where the trace says") {
  const Folder folder;
  REQUIRE(run_demo(folder.path / "out").exit_code == 0);
  const Json mark = Json::parse(content_of(folder.path / "out" / "summary.json")).at("marks").at(0);
  REQUIRE(mark.at("name") == "30 mph");
  CHECK(std::abs(mark.at("speed_m_s").get<double>() - 30 * 0.44704) < 1e-6);  // 1 mph = 0.44704 m/s, exact
  const Trace trace = trace_in(folder.path / "out");
  std::size_t row = 0;
  while (trace.number(row, "time_s") < mark.at("time_s").get<double>()) ++row;
  CHECK(std::abs(trace.number(row, "distance_m") - mark.at("distance_m").get<double>()) < 1e-9);
}

TEST_CASE("a scenario written by check is the same scenario") {
  const Folder folder;
  const Finished checked = run_program({"check", demo_scenario(), "--set", "nozzle.exit_diameter=84.5mm"});
  REQUIRE(checked.exit_code == 0);
  const fs::path copy = folder.put("copy.yaml", checked.out);
  const auto hash = [](const Words& arguments) {
    const Finished result = run_program(arguments);
    REQUIRE(result.exit_code == 0);
    return Json::parse(result.out).at("scenario_hash").get<std::string>();
  };
  CHECK(hash({"check", copy.string(), "--json"}) ==
        hash({"check", demo_scenario(), "--json", "--set", "nozzle.exit_diameter=84.5mm"}));
  CHECK(hash({"check", copy.string(), "--json"}) != hash({"check", demo_scenario(), "--json"}));
}

TEST_CASE("option --plot draws the launch in the terminal and changes nothing else") {
  const Finished plain = run_program({"run", demo_scenario()});
  const Finished drawn = run_program({"run", demo_scenario(), "--plot"});
  CHECK(drawn.exit_code == 0);
  const auto from = drawn.out.find("speed, mph\n"), to = drawn.out.find("\n  what limits cost");
  REQUIRE(from != std::string::npos);
  REQUIRE(to != std::string::npos);
  for (const std::string& line : lines_of(drawn.out.substr(from, to - from))) CHECK(line.size() <= 72);
  CHECK(drawn.out.substr(0, from - 1) + drawn.out.substr(to) == plain.out);
}

}  // namespace bowrise
