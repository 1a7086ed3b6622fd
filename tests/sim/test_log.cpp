#include "sim/scenario/log.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "models/constants.hpp"
#include "tests/support/folder.hpp"

namespace bowrise {
namespace {

Log sound(const std::string& text, const LogOptions& options = {}) {
  auto result = read_log_text(text, "lake.csv", options);
  if (const auto* complaint = std::get_if<Complaint>(&result)) FAIL(to_string(*complaint));
  return std::get<Log>(std::move(result));
}

std::string refused(const std::string& text, const LogOptions& options = {}) {
  const auto result = read_log_text(text, "lake.csv", options);
  REQUIRE(std::holds_alternative<Complaint>(result));
  return to_string(std::get<Complaint>(result));
}

/// A run at 10 Hz: standing, then 6 m/s2 up to 25 m/s, held, then let go.
std::string run_text(double standing_s, double held_s, bool let_go) {
  std::string text;
  double speed = 0.0;
  const double reach_s = standing_s + 25.0 / 6.0;
  for (int i = 0; i < static_cast<int>(10.0 * (reach_s + held_s + (let_go ? 6.0 : 0.0))); ++i) {
    const double t = 0.1 * i;
    speed = t < standing_s ? 0.0 : std::min(6.0 * (t - standing_s), 25.0);
    if (t > reach_s + held_s) speed = std::max(25.0 - 5.0 * (t - reach_s - held_s), 0.0);
    text += std::to_string(t) + "," + std::to_string(speed) + "\n";
  }
  return text;
}

}  // namespace

TEST_CASE("units stand in the header, in brackets or behind the name, or are told") {
  const std::string rows = "0,36\n0.1,72\n";
  for (const char* header : {"time,speed (km/h)\n", "Time (s),Speed [km/h]\n", "t,speed_kmh\n",
                             "elapsed_s,gps speed (km/h)\n", "time,SPEED_KM_H\n"}) {
    INFO(header);
    const Log log = sound(header + rows);
    REQUIRE(log.samples.size() == 2);
    CHECK(log.samples[0].speed_m_s.value() == Approx(10.0));
    CHECK(log.samples[1].speed_m_s.value() == Approx(20.0));
  }
  CHECK(sound("t,x\n0,1\n0.1,2\n", {{{"speed", "x"}}, {{"speed", "mph"}}}).samples[1].speed_m_s.value() ==
        Approx(0.89408));
  CHECK(sound("time_ms,speed_m_s\n0,1\n100,2\n").samples[1].time_s == Approx(0.1));
}

TEST_CASE("marks of order, comments, quotes, line ends, empty cells and other columns do no harm") {
  const Log log = sound(
      "\xEF\xBB\xBF# made at the lake\r\n\r\n\"time\",lat,\"speed (m/s)\",rpm,tps\r\n"
      "5.0,47.1,\"1.5\",3000,0\r\n# pause\r\n5.1,47.1,,3100,50\r\n5.2,,,,\r\n5.3,47.1,2,3200,100\r\n");
  REQUIRE(log.samples.size() == 3);
  CHECK(log.samples[0].time_s == 0.0);  // the clock of a logger begins anywhere
  CHECK_FALSE(log.samples[1].speed_m_s.has_value());
  CHECK(log.samples[1].shaft_speed_rad_s.value() == Approx(3100.0 * pi / 30.0));
  CHECK(log.samples[1].throttle.value() == Approx(0.5));  // percent, since it goes above 1.5
  CHECK(log.samples[2].time_s == Approx(0.3));
}

TEST_CASE("semicolons and tabs separate too") {
  CHECK(sound("time;speed_mph\n0;1\n0.1;2\n").samples.size() == 2);
  CHECK(sound("time\tspeed_mph\n0\t1\n0.1\t2\n").samples.size() == 2);
}

// Shapes that loggers write [common practice, no source].
TEST_CASE("units stand in a line of their own, or behind every number") {
  const Log own_line = sound("time;speed;rpm\ns;km/h;1/min\n0;36;3000\n0,1;72;6000\n");
  REQUIRE(own_line.samples.size() == 2);
  CHECK(own_line.samples[1].speed_m_s.value() == Approx(20.0));
  CHECK(own_line.samples[1].shaft_speed_rad_s.value() == Approx(6000.0 * pi / 30.0));
  const Log behind = sound("time,speed\n0.0 s,10 mph\n0.1 s,20 mph\n");
  CHECK(behind.samples[1].speed_m_s.value() == Approx(8.9408));
}

TEST_CASE("decimal commas, between semicolons or in quotes") {
  for (const char* text :
       {"time;speed_kmh\n0,0;36,0\n0,1;72,5\n", "time,speed_kmh\n\"0,0\",\"36,0\"\n\"0,1\",\"72,5\"\n",
        "time\tspeed_kmh\n0,0\t36,0\n0,1\t72,5\n"}) {
    INFO(text);
    const Log log = sound(text);
    CHECK(log.samples[1].time_s == Approx(0.1));
    CHECK(log.samples[1].speed_m_s.value() == Approx(72.5 / 3.6));
  }
  CHECK(refused("time;speed_kmh;rpm\n0.0;36,0;1000\n0.1;72,5;1000\n")
            .find("decimal commas and decimal points in one log") != std::string::npos);
}

TEST_CASE("what stands before the header and behind the samples is passed over, and said") {
  const Log log = sound("Session 12\nDriver;unknown\ntime;speed_mph\n0;1\n0.1;2\n0.2;3\nend of session\n");
  CHECK(log.samples.size() == 3);
  REQUIRE(log.notes.size() == 2);
  CHECK(log.notes[0] == "the header is taken to be line 3");
  CHECK(log.notes[1] == "1 line without a sample passed over, first line 7");
}

TEST_CASE("clocks are times: of day, past midnight, with a date, in milliseconds") {
  for (const char* text :
       {"time,speed_mph\n14:03:12.0,1\n14:03:12.2,2\n14:03:12.4,3\n",
        "time,speed_mph\n23:59:59.9,1\n00:00:00.1,2\n00:00:00.3,3\n",
        "time,speed_mph\n2026-06-01T09:00:00.0Z,1\n2026-06-01T09:00:00.2Z,2\n2026-06-01T09:00:00.4Z,3\n",
        "time,speed_mph\n1780304400000,1\n1780304400200,2\n1780304400400,3\n",
        "time,speed_mph\n1780304400.0,1\n1780304400.2,2\n1780304400.4,3\n"}) {
    INFO(text);
    const Log log = sound(text);
    REQUIRE(log.samples.size() == 3);
    CHECK(log.samples[0].time_s == 0.0);
    CHECK(log.samples[2].time_s == Approx(0.4).margin(1e-6));
  }
}

TEST_CASE("words for no reading are gaps, repeated stamps are spread") {
  const Log gaps = sound("time,speed_mph\n0,1\n0.1,n/a\n0.2,-\n0.3,NaN\n0.4,2\n");
  CHECK(gaps.samples.size() == 2);
  const Log repeated = sound("time,speed_mph\n0.0,1\n0.0,2\n0.2,3\n0.2,4\n0.4,5\n0.4,6\n");
  REQUIRE(repeated.samples.size() == 6);
  for (std::size_t i = 1; i < 6; ++i) CHECK(repeated.samples[i].time_s > repeated.samples[i - 1].time_s);
  CHECK(repeated.samples[1].time_s == Approx(0.1));
  CHECK_FALSE(repeated.notes.empty());
}

TEST_CASE("a slow receiver's speed, held over the lines of a fast logger, counts once") {
  std::string text = "time,speed_m_s\n";
  for (int i = 0; i < 250; ++i) {
    const double t = 0.04 * i, told = 0.2 * std::floor(t / 0.2);
    text += std::to_string(t) + "," + std::to_string(told < 2.0 ? 0.0 : std::min(6.0 * (told - 2.0), 25.0)) +
            "\n";
  }
  const auto runs = std::get<std::vector<LoggedRun>>(runs_of(sound(text)));
  REQUIRE(runs.size() == 1);
  std::size_t rising = 0;
  for (const LoggedSample& sample : runs[0].samples)
    rising += sample.speed_m_s && *sample.speed_m_s > 1.0 && *sample.speed_m_s < 24.0 ? 1 : 0;
  CHECK(rising < 25);  // of 98 lines: 1.2 m/s apart, one or two that the clock of the receiver splits
  CHECK_FALSE(runs[0].notes.empty());
}

TEST_CASE("a lone spike is left out, a run from a crawl keeps its speed") {
  std::string text = "time,speed_m_s,rpm\n";
  for (int i = 0; i < 120; ++i) {
    const double t = 0.1 * i;
    double speed = t < 3.0 ? 2.0 : std::min(2.0 + 6.0 * (t - 3.0), 25.0);
    if (i == 60) speed = 55.0;
    text += std::to_string(t) + "," + std::to_string(speed) + "," + (t < 2.8 ? "1800" : "7000") + "\n";
  }
  const auto runs = std::get<std::vector<LoggedRun>>(runs_of(sound(text)));
  REQUIRE(runs.size() == 1);
  CHECK(runs[0].rolling_m_s == Approx(2.0));
  for (const LoggedSample& sample : runs[0].samples) CHECK(sample.speed_m_s.value_or(0.0) < 26.0);
}

TEST_CASE("a bad log is refused in one line that names the place") {
  CHECK(refused("") == "lake.csv: empty; write a header and samples");
  CHECK(refused("time,speed_mph\n") == "lake.csv: no samples under the header");
  CHECK(refused("time,speed_mph\n0,1\n") == "lake.csv: one sample is no run");
  CHECK(refused("time,speed_mph\n0,0\n0.1,0\n") == "lake.csv: speed: all readings are 0");
  CHECK(refused("time,speed_mph\n0,1\n0.2,1\n0.1,1\n").starts_with("lake.csv:4:1: time: does not rise"));
  CHECK(refused("time,speed_mph\n0,1\n0,1\n").starts_with("lake.csv:3:1: time: does not rise"));
  CHECK(refused("time,speed_mph\n0,1\n0.1,fast\n") == "lake.csv:3:5: speed: \"fast\" is not a number");
  CHECK(refused("time,speed_mph\n0,1\n0.1,nan\n") == "lake.csv: one sample is no run");  // a gap
  CHECK(refused("time,speed_mph\n0,1\n0.1,400\n").starts_with("lake.csv:3:5: speed: 400 mph cannot be"));
  CHECK(refused("time,speed_mph,rpm\n0,1,1e9\n").starts_with("lake.csv:2:5: rpm: 1e9 rpm cannot be"));
  CHECK(refused("time,speed_mph\n0,1,2\n") == "lake.csv:2:5: more cells than the header has columns");
  CHECK(refused("time,speed_mph\n,1\n") == "lake.csv:2:1: time: a sample without a time");
  CHECK(refused("time,speed\n0,1\n").starts_with("lake.csv:1:6: speed: no unit in the header"));
  CHECK(refused("time,speed (kg)\n0,1\n").starts_with("lake.csv:1:6: speed: \"kg\" is no unit of a speed"));
  CHECK(refused("time,velo\n0,1\n").starts_with("lake.csv:1:1: speed: no column of this name"));
  CHECK(refused("time,speed_mph\n0,1\n", {{{"speed", "gps"}}, {}}) ==
        "lake.csv:1:1: speed: no column is called \"gps\"");
  CHECK(refused("time,speed_mph,velocity_mph\n0,1,1\n")
            .starts_with("lake.csv:1:16: speed: two columns could be meant"));
  CHECK(refused("time,speed_mph\n0,1\n100,2\n200,3\n").starts_with("lake.csv: time: samples 100 s apart"));
  CHECK(refused(std::string("time\0,speed", 11)) == "lake.csv: not a text file");
}

TEST_CASE("a file that is not there, or a folder, is said to be so") {
  const Folder folder;
  for (const auto& path : {folder.path / "none.csv", folder.path})
    CHECK(std::holds_alternative<Complaint>(read_log(path)));
}

TEST_CASE("runs are cut from standstill to where the throttle is let go") {
  Log log = sound("time,speed_m_s\n" + run_text(3.0, 5.0, true));
  auto runs = std::get<std::vector<LoggedRun>>(runs_of(log));
  REQUIRE(runs.size() == 1);
  CHECK(runs[0].start_s == Approx(3.0).margin(0.6));
  CHECK(runs[0].samples.front().time_s == Approx(1.7).margin(0.4));
  CHECK(runs[0].samples.back().time_s == Approx(3.0 + 25.0 / 6.0 + 5.0).margin(0.3));

  // the same twice on one clock
  const double length = log.samples.back().time_s + 0.1;
  const std::vector<LoggedSample> once = log.samples;
  for (LoggedSample sample : once) {
    sample.time_s += length;
    log.samples.push_back(sample);
  }
  runs = std::get<std::vector<LoggedRun>>(runs_of(log));
  REQUIRE(runs.size() == 2);
  CHECK(runs[1].start_s - runs[0].start_s == Approx(length).margin(0.2));
  CHECK(runs[1].name == "lake.csv, run 2");
}

TEST_CASE("the throttle column tells the start and the end, headings the way") {
  std::string text = "time,speed_m_s,throttle,heading\n";
  double speed = 0.0;
  for (int i = 0; i < 120; ++i) {
    const double t = 0.1 * i;
    const bool open = t > 2.0 && t < 9.0;
    speed = open ? std::min(speed + 0.5, 25.0) : std::max(speed - 0.5, 0.0);
    text += std::to_string(t) + "," + std::to_string(speed) + "," + (open ? "100" : "0") + ",90\n";
  }
  const auto runs = std::get<std::vector<LoggedRun>>(runs_of(sound(text)));
  REQUIRE(runs.size() == 1);
  CHECK(runs[0].start_s == Approx(2.0).margin(0.11));
  CHECK(runs[0].samples.back().time_s == Approx(8.9).margin(0.11));
  CHECK(runs[0].course == Approx(1.0));
}

TEST_CASE("a log without a launch is refused") {
  const auto none = runs_of(sound("time,speed_mph\n0,1\n0.1,1\n0.2,1.5\n"));
  CHECK(std::get<Complaint>(none).what.starts_with("no run: nothing goes from standstill past 5 m/s"));
  const auto rolling = runs_of(sound("time,speed_m_s\n0,10\n0.1,12\n0.2,20\n"));
  CHECK(std::get<Complaint>(rolling).what.starts_with("no run from standstill"));
}

}  // namespace bowrise
