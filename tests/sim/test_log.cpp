#include "sim/scenario/log.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "models/constants.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/log_texts.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

std::string refusal_of(const std::string& text, const LogOptions& options = {}) {
  const auto result = read_log_text(text, "lake.csv", options);
  REQUIRE(std::holds_alternative<Complaint>(result));
  return to_string(std::get<Complaint>(result));
}

}  // namespace

TEST_CASE("units stand in the header, in brackets or behind the name, or are told") {
  const std::string rows = "0,36\n0.1,72\n";
  for (const char* header : {"time,speed (km/h)\n", "Time (s),Speed [km/h]\n", "t,speed_kmh\n",
                             "elapsed_s,gps speed (km/h)\n", "time,SPEED_KM_H\n"}) {
    INFO(header);
    const Log log = sound_log(header + rows);
    REQUIRE(log.samples.size() == 2);
    CHECK(log.samples[0].speed_m_s.value() == Approx(10.0));
    CHECK(log.samples[1].speed_m_s.value() == Approx(20.0));
  }
  CHECK(sound_log("t,x\n0,1\n0.1,2\n", {{{"speed", "x"}}, {{"speed", "mph"}}}).samples[1].speed_m_s.value() ==
        Approx(0.89408));
  CHECK(sound_log("time_ms,speed_m_s\n0,1\n100,2\n").samples[1].time_s == Approx(0.1));
}

TEST_CASE("marks of order, comments, quotes, line ends, empty cells and other columns do no harm") {
  const Log log = sound_log(
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
  CHECK(sound_log("time;speed_mph\n0;1\n0.1;2\n").samples.size() == 2);
  CHECK(sound_log("time\tspeed_mph\n0\t1\n0.1\t2\n").samples.size() == 2);
}

TEST_CASE("decimal commas are read where they cannot separate") {
  for (const char* text : {"time;speed (m/s)\n0,0;1,5\n0,1;2,5\n", "time\tspeed (m/s)\n0,0\t1,5\n0,1\t2,5\n",
                           "time,speed (m/s)\n\"0,0\",\"1,5\"\n\"0,1\",\"2,5\"\n"}) {
    INFO(text);
    const Log log = sound_log(text);
    REQUIRE(log.samples.size() == 2);
    CHECK(log.samples[1].time_s == Approx(0.1));
    CHECK(log.samples[1].speed_m_s.value() == 2.5);
  }
  // a comma between thousands beside decimal points would make 7.65 rpm of 7650
  CHECK(refusal_of("time,speed_mph,rpm\n0.1,1.5,\"7,650\"\n0.2,2,\"7,651\"\n")
            .starts_with("lake.csv:2:9: \"7,650\": decimal commas and decimal points"));
  CHECK(has(refusal_of("time,speed_mph\n0,1,1,5\n"), "decimal commas need another separator"));
}

TEST_CASE("names and units in the spellings of loggers") {
  const std::string rows = "0,36,6000\n0.1,72,6000\n";
  for (const char* header :
       {"Zeit (s),Geschwindigkeit (km/h),Drehzahl (U/min)\n", "t [s],v [KM/H],n [1/min]\n",
        "UTC,GPS Speed - kph,Engine speed (rpm)\n", "Date/Time,SOG km/h,RPM\n",
        "Time (hh:mm:ss),Vehicle.Speed (kmh),Engine RPM (min-1)\n", "Elapsed Time,speed_kmh,engine_rpm\n"}) {
    INFO(header);
    const Log log = sound_log(header + rows);
    REQUIRE(log.samples.size() == 2);
    CHECK(log.samples[1].speed_m_s.value() == Approx(20.0));
    CHECK(log.samples[1].shaft_speed_rad_s.value() == Approx(200.0 * pi));
  }
  // of several clocks one will do
  CHECK(sound_log("UTC,Elapsed,speed_mph\n10:00:00,5.0,1\n10:00:00,5.1,2\n").samples[1].time_s ==
        Approx(0.1));
}

TEST_CASE("units stand in a line under the header or behind each number") {
  const Log line = sound_log("Time;Speed;RPM\ns;km/h;1/min\n0;36;6000\n0,1;72;6100\n");
  REQUIRE(line.samples.size() == 2);
  CHECK(line.samples[1].speed_m_s.value() == Approx(20.0));
  const Log cells = sound_log("Time,Speed,RPM\n0 s,36 km/h,6000 rpm\n0.1 s,72 km/h,6100 rpm\n");
  CHECK(cells.samples[1].speed_m_s.value() == Approx(20.0));
  CHECK(cells.samples[1].time_s == Approx(0.1));
}

TEST_CASE("what a logger writes around its table is passed over, with a note") {
  const Log log = sound_log(
      "Session;12\nCraft;blue, three seats\n\nTime;Speed (m/s)\n0,0;1\n0,1;2\nTime;Speed (m/s)\n0,2;3\n"
      "End of session\nBest;70,1\n");
  CHECK(log.samples.size() == 3);
  REQUIRE(log.notes.size() == 3);
  CHECK(log.notes[0] == "the header is taken to be line 4");
  CHECK(log.notes[1] == "2 lines without a sample passed over, first line 9");
  CHECK(log.notes[2].starts_with("no column of rpm"));
}

TEST_CASE("words for no reading are gaps, a few readings that cannot be are left out") {
  const Log log =
      sound_log("time,speed_mph,rpm\n0,1,NaN\n0.1,n/a,3000\n0.2,-,3000\n0.3,null,--\n0.4,2,3000\n");
  REQUIRE(log.samples.size() == 4);  // the fourth line holds nothing
  CHECK_FALSE(log.samples[0].shaft_speed_rad_s.has_value());
  CHECK_FALSE(log.samples[1].speed_m_s.has_value());
  std::string many = "time,speed_mph,rpm\n";
  for (int i = 0; i < 100; ++i) many += std::to_string(i) + "e-1,1,3000\n";
  const Log spiked = sound_log(many + "10,900,65535\n");
  CHECK(spiked.notes == std::vector<std::string>{"2 readings that cannot be left out, first in line 102"});
}

TEST_CASE("time is read as seconds, milliseconds, an epoch, a clock or a date with a clock") {
  const auto step_of = [](const std::string& first, const std::string& second) {
    const Log log = sound_log("time,speed_mph\n" + first + ",1\n" + second + ",2\n");
    CHECK(log.samples[0].time_s == 0.0);
    return log.samples[1].time_s;
  };
  CHECK(step_of("5.0", "5.1") == Approx(0.1));
  CHECK(step_of("5000", "5100") == Approx(0.1));
  CHECK(step_of("1753000000.00", "1753000000.04") == Approx(0.04).epsilon(1e-5));
  CHECK(step_of("1753000000000", "1753000000040") == Approx(0.04));
  CHECK(step_of("1753000000000000", "1753000000100000") == Approx(0.1));
  CHECK(step_of("23:59:59.95", "00:00:00.05") == Approx(0.1));
  CHECK(step_of("59:59.9", "00:00.0") == Approx(0.1));
  CHECK(step_of("2025-07-20T10:00:00.000Z", "2025-07-20T10:00:00.200Z") == Approx(0.2));
  CHECK(step_of("2025-07-20 10:00:00.0+02:00", "2025-07-20 10:00:00.2+02:00") == Approx(0.2));
  CHECK(step_of("20.07.2025 10:00:00", "20.07.2025 10:00:01") == Approx(1.0));
  CHECK(step_of("11:59:59.9 AM", "12:00:00.0 PM") == Approx(0.1));
  CHECK(step_of("10:00:00:900", "10:00:01:000") == Approx(0.1));
  CHECK(sound_log("time,speed_mph\n0,1\n100,2\n").notes.front().starts_with("time is taken as milliseconds"));
}

TEST_CASE("stamps coarser than the samples are spread, sessions follow each other") {
  std::string coarse = "time,speed_mph,rpm\n";
  for (int i = 0; i < 40; ++i) coarse += std::to_string(i / 10) + ",1,3000\n";
  const Log log = sound_log(coarse);
  REQUIRE(log.samples.size() == 40);
  for (std::size_t i = 1; i < 40; ++i)
    CHECK(log.samples[i].time_s - log.samples[i - 1].time_s == Approx(0.1).epsilon(1e-6));
  CHECK(log.notes == std::vector<std::string>{"36 repeated time stamps spread evenly up to the next"});

  const Log twice = sound_log("time,speed_mph,rpm\n0,1,1\n0.1,1,1\n0.1,1,1\n0.3,1,1\n0.4,1,1\n");
  CHECK(twice.samples[2].time_s == Approx(0.2));

  std::string sessions = "time,speed_mph,rpm\n";
  for (int session = 0; session < 2; ++session)
    for (int i = 0; i < 50; ++i) sessions += std::to_string(i) + "e-1,1,3000\n";
  const Log both = sound_log(sessions);
  CHECK(both.samples.size() == 100);
  CHECK(both.samples[50].time_s > both.samples[49].time_s + 3.0);
  CHECK(both.notes == std::vector<std::string>{"time begins anew, first in line 52: read as 2 sessions"});
}

TEST_CASE("a bad log is refused in one line that names the place") {
  CHECK(refusal_of("") == "lake.csv: empty; write a header and samples");
  CHECK(refusal_of("time,speed_mph\n") == "lake.csv: no samples under the header");
  CHECK(refusal_of("time,speed_mph\n0,1\n") == "lake.csv: one sample is no run");
  CHECK(refusal_of("time,speed_mph\n0,0\n0.1,0\n") == "lake.csv: speed: all readings are 0");
  CHECK(refusal_of("time,speed_mph\n0,1\n0.2,1\n0.1,1\n").starts_with("lake.csv:4:1: time: does not rise"));
  CHECK(refusal_of("time,speed_mph\n0,1\n0,1\n").starts_with("lake.csv:3:1: time: does not rise"));
  CHECK(refusal_of("time,speed_mph\n0,1\n10:0x:00,1\n") ==
        "lake.csv:3:1: time: \"10:0x:00\" is not a number");
  CHECK(refusal_of("\xFF\xFEt\0i\0").starts_with("lake.csv: is UTF-16 text"));
  CHECK(refusal_of("a letter, about boats\nno numbers, none\n").starts_with("lake.csv:1:1: time: no column"));
  CHECK(refusal_of("time,speed_mph\n0,1\n0.1,fast\n") == "lake.csv:3:5: speed: \"fast\" is not a number");
  CHECK(refusal_of("time,speed_mph\n0,1\n0.1,2 kg\n") == "lake.csv:3:5: speed: \"2 kg\" is not a number");
  CHECK(refusal_of("time,speed_mph\n0,1\n0.1,400\n").starts_with("lake.csv:3:5: speed: 400 mph cannot be"));
  CHECK(refusal_of("time,speed_mph,rpm\n0,1,1e9\n").starts_with("lake.csv:2:5: rpm: 1e9 cannot be"));
  CHECK(refusal_of("time,speed_mph\n0,1,2\n") ==
        "lake.csv:2:5: more cells than the header has columns; decimal commas need another separator");
  CHECK(refusal_of("time,speed_mph\n,1\n") == "lake.csv:2:1: time: a sample without a time");
  CHECK(refusal_of("time,speed\n0,1\n").starts_with("lake.csv:1:6: speed: no unit in the header"));
  CHECK(
      refusal_of("time,speed (kg)\n0,1\n").starts_with("lake.csv:1:6: speed: \"kg\" is no unit of a speed"));
  CHECK(refusal_of("time,velo\n0,1\n").starts_with("lake.csv:1:1: speed: no column of this name"));
  CHECK(refusal_of("time,speed_mph\n0,1\n", {{{"speed", "gps"}}, {}}) ==
        "lake.csv:1:1: speed: no column is called \"gps\"");
  CHECK(refusal_of("time,speed_mph,velocity_mph\n0,1,1\n")
            .starts_with("lake.csv:1:16: speed: two columns could be meant"));
  CHECK(refusal_of("time (s),speed_mph\n0,1\n100,2\n200,3\n")
            .starts_with("lake.csv: time: samples 100 s apart"));
  CHECK(refusal_of(std::string("time\0,speed", 11)) == "lake.csv: not a text file");
}

TEST_CASE("a file that is not there, or a folder, is said to be so") {
  const Folder folder;
  for (const auto& path : {folder.path / "none.csv", folder.path})
    CHECK(std::holds_alternative<Complaint>(read_log(path)));
}

}  // namespace bowrise
