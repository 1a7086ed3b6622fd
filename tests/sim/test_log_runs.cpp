#include <catch2/catch.hpp>
#include <cmath>

#include "models/constants.hpp"
#include "sim/scenario/log.hpp"
#include "tests/support/log_texts.hpp"

namespace bowrise {
namespace {

std::vector<LoggedRun> runs_in(const std::string& text) {
  auto result = runs_of(sound_log(text));
  if (const auto* complaint = std::get_if<Complaint>(&result)) FAIL(to_string(*complaint));
  return std::get<std::vector<LoggedRun>>(std::move(result));
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

/// Speed and rpm at `rate` lines a second: `crawl` until `standing`, then 6 m/s2 up to 25 m/s.
std::string crawl_text(double rate, double crawl, double standing_s, double length_s, double held_s) {
  std::string text = "time,speed_m_s,rpm\n";
  for (int i = 0; i < static_cast<int>(rate * length_s); ++i) {
    const double t = i / rate, told = held_s > 0.0 ? std::floor(t / held_s + 1e-9) * held_s : t;
    const double speed = std::min(crawl + 6.0 * std::max(told - standing_s, 0.0), 25.0);
    text += std::to_string(t) + "," + std::to_string(speed) + "," + (t > standing_s ? "7000" : "1500") + "\n";
  }
  return text;
}

}  // namespace

TEST_CASE("runs are cut from standstill to where the throttle is let go") {
  Log log = sound_log("time,speed_m_s\n" + run_text(3.0, 5.0, true));
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
  const auto runs = std::get<std::vector<LoggedRun>>(runs_of(sound_log(text)));
  REQUIRE(runs.size() == 1);
  CHECK(runs[0].start_s == Approx(2.0).margin(0.11));
  CHECK(runs[0].samples.back().time_s == Approx(8.9).margin(0.11));
  CHECK(runs[0].course == Approx(1.0));
}

TEST_CASE("a log without a launch is refused") {
  const auto none = runs_of(sound_log("time,speed_mph\n0,1\n0.1,1\n0.2,1.5\n"));
  CHECK(std::get<Complaint>(none).what.starts_with("no run: nothing goes from standstill past 5 m/s"));
  const auto rolling = runs_of(sound_log("time,speed_m_s\n0,10\n0.1,12\n0.2,20\n"));
  CHECK(std::get<Complaint>(rolling).what.starts_with("no run from standstill"));
}

TEST_CASE("a steady crawl before the throttle opens is a rolling start") {
  const auto runs = runs_in(crawl_text(10.0, 3.0, 3.0, 12.0, 0.0));
  REQUIRE(runs.size() == 1);
  CHECK(runs[0].rolling_m_s == Approx(3.0));
  CHECK(runs[0].start_s == Approx(3.0).margin(0.11));
  CHECK(runs_in(crawl_text(10.0, 0.2, 3.0, 12.0, 0.0))[0].rolling_m_s == 0.0);
}

TEST_CASE("a slow receiver held over fast lines counts once a reading, rounding does not") {
  const auto held = runs_in(crawl_text(25.0, 0.0, 2.0, 10.0, 0.2));
  std::size_t speeds = 0, shafts = 0;
  for (const LoggedSample& sample : held[0].samples) {
    speeds += sample.speed_m_s ? 1 : 0;
    shafts += sample.shaft_speed_rad_s ? 1 : 0;
  }
  CHECK(static_cast<double>(shafts) == Approx(5.0 * static_cast<double>(speeds)).epsilon(0.05));
  CHECK(held[0].notes == std::vector<std::string>{"the speed is held over 5 lines: each counts once"});
  CHECK(runs_in(crawl_text(25.0, 0.0, 2.0, 10.0, 0.0))[0].notes.empty());
}

TEST_CASE("a spike neither ends a run nor stays in it") {
  Log log = sound_log("time,speed_m_s\n" + run_text(3.0, 5.0, true));
  log.samples[60].speed_m_s = 0.0;
  log.samples[80].speed_m_s = 60.0;
  const auto runs = std::get<std::vector<LoggedRun>>(runs_of(log));
  REQUIRE(runs.size() == 1);
  CHECK(runs[0].notes == std::vector<std::string>{"2 spikes of the speed left out"});
  CHECK(runs[0].samples.back().time_s == Approx(3.0 + 25.0 / 6.0 + 5.0).margin(0.3));
}

TEST_CASE("a short lift is part of a run, shutting the throttle ends it") {
  std::string text = "time,speed_m_s,throttle\n";
  double speed = 0.0;
  for (int i = 0; i < 130; ++i) {
    const double t = 0.1 * i;
    const bool lift = t > 4.0 && t<4.8, open = t> 2.0 && t < 10.0;
    speed = open ? std::min(speed + (lift ? -0.2 : 0.5), 25.0) : std::max(speed - 0.5, 0.0);
    text += std::to_string(t) + "," + std::to_string(speed) + "," +
            (!open  ? "0"
             : lift ? "60"
                    : "100") +
            "\n";
  }
  const auto runs = runs_in(text);
  REQUIRE(runs.size() == 1);
  CHECK(runs[0].samples.back().time_s == Approx(9.9).margin(0.11));
}

TEST_CASE("what no craft does is refused") {
  std::string text = "time,speed_m_s\n";
  for (int i = 0; i < 100; ++i) text += std::to_string(0.1 * i) + "," + (i % 8 < 4 ? "1" : "20") + "\n";
  CHECK(std::get<Complaint>(runs_of(sound_log(text))).what.starts_with("changes by over 2 g all along"));
}

}  // namespace bowrise
