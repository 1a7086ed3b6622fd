// Studies from outside: answers and messages.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/folder.hpp"
#include "tests/support/program.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

nlohmann::json json_of(Words arguments) {
  arguments.emplace_back("--json");
  const Finished result = run_program(arguments);
  INFO(result.err);
  REQUIRE(result.exit_code == 0);
  return nlohmann::json::parse(result.out);
}

}  // namespace

TEST_CASE("run tells what limits cost and, with draws, how sure it is") {
  const Finished plain = run_program({"run", demo_scenario()});
  CHECK(has(plain.out, "against a pump that cannot cavitate"));
  CHECK_FALSE(has(plain.out, "how sure"));
  const auto banded = json_of({"run", demo_scenario(), "--band", "8", "--seed", "3"});
  CHECK(banded["bands"]["draws"] == 8);
  CHECK(banded["bands"]["seed"] == 3);
  CHECK(banded["bands"]["results"]["top_speed"]["band"]["low"] <
        banded["bands"]["results"]["top_speed"]["band"]["high"]);
  CHECK(banded["limit_costs"]["power"]["top_speed_m_s"] > 0.0);
  CHECK(json_of({"run", demo_scenario()})["bands"].is_null());
}

TEST_CASE("compare names both setups and judges every result") {
  const Finished text =
      run_program({"compare", demo_scenario(), scenario_file("smaller_nozzle"), "--band", "8"});
  CHECK(text.exit_code == 0);
  CHECK(has(text.out, "B against A, with 5-95 % of 8 paired draws"));
  CHECK(has(text.out, "limited by"));
  CHECK(has(text.out, "best for holeshot"));
  CHECK(has(text.out, "runs each would show it"));
  const auto json = json_of({"compare", demo_scenario(), scenario_file("smaller_nozzle"), "--over",
                             "engine.peak_power=200..300hp:3"});
  CHECK(json["setups"].size() == 2);
  CHECK(json["setups"][1]["difference_to_first"]["top_rpm"]["nominal"] < -20.0);
  CHECK(json["over"]["key"] == "engine.peak_power");
  CHECK(json["over"]["points"].size() == 3);
}

TEST_CASE("match gives remedies side by side") {
  const auto json = json_of({"match", scenario_file("larger_cone"), "--adjust", "nozzle.exit_diameter",
                             "--adjust", "impeller.pitch_trailing", "--until", "top_rpm=7680rpm"});
  REQUIRE(json["remedies"].size() == 2);
  CHECK(json["remedies"][0]["key"] == "nozzle.exit_diameter");
  CHECK(json["remedies"][0]["met"] == true);
  CHECK(json["target"]["value"] == Approx(7680.0));
}

TEST_CASE("throttle lays all plans side by side and answers in words", "[long]") {
  const Words command{"throttle", demo_scenario(), "--start", "rest"};
  const Finished text = run_program(command);
  CHECK(text.exit_code == 0);
  for (const char* part : {"ring gap 0.20 mm (8 thousandths of an inch), from rest", "ring gap 1.00 mm",
                           "pinned", "optimised", "quickest: ", "spares the pump most: ", "% off:"})
    CHECK(has(text.out, part));
  const auto json = json_of(command);
  REQUIRE(json["cases"].size() == 2);
  const auto& plans = json["cases"][1]["plans"];
  CHECK(plans.front()["name"] == "pinned");
  CHECK(plans.back()["name"] == "optimised");
  CHECK(plans.back()["table"].size() >= 6);
  CHECK(plans.back()["results"]["time_to_30_mph"] < plans.front()["results"]["time_to_30_mph"]);
  CHECK(plans.front()["time_to_30_mph_with_error"]["worst"] > 0.0);
  CHECK(json["cases"][1]["advice"]["quickest"].is_string());
  const auto one = json_of({"throttle", demo_scenario(), "--pump", "worn", "--worn", "0.6mm", "--start",
                            "rolling", "--rolling", "10mph"});
  REQUIRE(one["cases"].size() == 1);
  CHECK(one["cases"][0]["clearance_m"] == Approx(0.6e-3));
  CHECK(one["cases"][0]["rolling_speed_m_s"] == Approx(4.4704));
}

TEST_CASE("diagnose names what explains the numbers, what to read off next and what it cannot show") {
  const Words numbers{"--sound",         "top_speed=71mph", "--sound",         "top_rpm=7700rpm", "--seen",
                      "top_speed=61mph", "--seen",          "top_rpm=6750rpm", "--band",          "4"};
  Words arguments{"diagnose", demo_scenario()};
  arguments.insert(arguments.end(), numbers.begin(), numbers.end());
  const Finished text = run_program(arguments);
  CHECK(text.exit_code == 0);
  for (const char* part :
       {"what explains them, most likely first", "1  engine gives less", "of the power lost",
        "to tell lost power from", "not in the physics", "limp mode", "lanyard"})
    CHECK(has(text.out, part));
  const auto json = json_of(arguments);
  CHECK(json["suspects"][0]["name"] == "lost_power");
  CHECK(json["numbers"]["top_rpm"]["seen"] == Approx(6750.0));
  CHECK(json["next"]["separation"] > 0.0);
  CHECK(json["explained"] == true);
  CHECK(json["sound_measured"].size() == 2);
  CHECK(json["came"].is_null());
  arguments.insert(arguments.end(), {"--came", "slowly"});
  CHECK(has(run_program(arguments).out, "it came slowly"));
  const auto slowly = json_of(arguments);
  CHECK(slowly["came"] == "slowly");
  CHECK(slowly["suspects"][0]["comes_suddenly"] == Approx(0.6));
}

TEST_CASE("fit makes a scenario that every verb takes") {
  const Folder folder;
  const std::string fitted = (folder.path / "fitted.yaml").string();
  const std::string log = in_source_tree("scenarios/fitted/generated_run.csv").string();
  const auto json = json_of({"fit", demo_scenario(), log, "--out", fitted, "--band", "16"});
  CHECK(json["runs"].size() == 1);
  CHECK(json["settled"] == true);
  CHECK(json["agreement"][0]["rms"] < 0.15);
  CHECK(json["inputs"][0]["told"] == true);
  const auto& before = json["results"]["time_to_30_mph"]["band_before"];
  const auto& after = json["results"]["time_to_30_mph"]["band_after"];
  CHECK(after["high"].get<double>() - after["low"].get<double>() <
        0.5 * (before["high"].get<double>() - before["low"].get<double>()));

  // the bands of the written file are those of the fit, the same draws from the same joint distribution
  const auto run = json_of({"run", fitted, "--band", "16"});
  CHECK(run["bands"]["results"]["time_to_30_mph"]["band"]["low"].get<double>() ==
        Approx(after["low"].get<double>()).epsilon(1e-4));
  CHECK(run["bands"]["results"]["time_to_30_mph"]["band"]["high"].get<double>() ==
        Approx(after["high"].get<double>()).epsilon(1e-4));
  CHECK(has(run_program({"check", fitted}).out, "uncertain:"));
  CHECK(run_program({"match", fitted, "--until", "top_rpm=7500rpm"}).exit_code == 0);

  check_refused({"fit", fitted, log}, "is fitted already");
  const Finished again = run_program({"fit", demo_scenario(), log, "--out", fitted});
  CHECK(again.exit_code == 3);
  CHECK(has(again.err, "--force"));
}

TEST_CASE("fit takes two or three numbers instead of a log") {
  const auto json = json_of({"fit", demo_scenario(), "--seen", "top_speed=68mph", "--seen", "top_rpm=7500rpm",
                             "--seen", "coast_down_distance=115m", "--band", "8"});
  CHECK(json["runs"].empty());
  REQUIRE(json["seen"].size() == 3);
  CHECK(json["seen"][0]["fitted"].get<double>() == Approx(68 * 0.44704).epsilon(0.01));
  const Finished text = run_program({"fit", demo_scenario(), "--seen", "top_speed=68mph", "--band", "8"});
  CHECK(has(text.out, "top speed            seen 68.0 mph, 109.4 km/h, fitted 6"));
  CHECK(has(text.out, "not told (over 80 % of the spread is left)"));
}

TEST_CASE("fit refuses what makes no sense in one line") {
  const std::string demo = demo_scenario();
  const Folder folder;
  const std::string bare = folder.put("bare.csv", "t,v\n0,0\n0.1,1\n").string();
  const std::string zeros = folder.put("zeros.csv", "t,v_mph\n0,0\n0.1,0\n").string();
  const std::string log = in_source_tree("scenarios/fitted/generated_run.csv").string();
  check_refused({"fit", demo}, "fit needs a log, or --seen");
  check_refused({"fit", demo, bare}, "bare.csv:1:3: speed: no unit in the header");
  check_refused({"fit", demo, zeros}, "zeros.csv: speed: all readings are 0");
  check_refused({"fit", demo, folder.path.string()}, "a directory, not a file");
  check_refused({"fit", demo, "none.csv"}, "none.csv: no such file");
  check_refused({"fit", demo, log, "--column", "speed"}, "write QUANTITY=TEXT with one of time, speed");
  check_refused({"fit", demo, log, "--column", "spede=x"}, "write QUANTITY=TEXT");
  check_refused({"fit", demo, log, "--unit", "speed=kg"}, "\"kg\" is no unit of a speed");
  check_refused({"fit", demo, log, "--unit", "time=ms"}, "is the unit right?");
  check_refused({"fit", demo, log, "--course", "out,back"}, "the logs hold 1 runs");
  check_refused({"fit", demo, log, "--course", "up"}, "--course");
  check_refused({"fit", demo, "--seen", "top_speed=-3mph"}, "write a value above 0");
  check_refused({"fit", demo, "--seen", "top_speed"}, "write RESULT=VALUE");
}

TEST_CASE("studies refuse what makes no sense in one line") {
  const std::string demo = demo_scenario();
  check_refused({"compare", demo}, "compare takes 2 to 26 scenarios");
  check_refused({"compare", demo, demo, "--band", "100"}, "power of two");
  check_refused({"compare", demo, demo, "--over", "engine.peak_power"}, "write KEY=LOW..HIGH:COUNT");
  check_refused({"compare", demo, demo, "--over", "engine.peak_powr=1..2hp:2"},
                "did you mean engine.peak_power?");
  check_refused({"compare", demo, demo, "--over", "engine.charger=1..2:2"}, "only numbers can be varied");
  check_refused({"compare", demo, demo, "--over", "engine.peak_power=300..200hp:3"},
                "at least two values that rise");
  check_refused({"compare", demo, demo, demo, "--over", "engine.peak_power=200..300hp:3"},
                "takes two scenarios");
  check_refused({"throttle", demo, "--worn", "1"}, "--worn 1: ");
  check_refused({"throttle", demo, "--worn", "80mm"}, "--worn 80mm: ");
  check_refused({"throttle", demo, "--rolling", "0mph"}, "must be above 0");
  check_refused({"throttle", demo, "--rolling", "8kg"}, "--rolling 8kg: ");
  check_refused({"throttle", demo, "--pump", "old"}, "--pump");
  check_refused({"throttle", demo, "--set", "throttle.reaction_time=-1s"}, "throttle.reaction_time");
  check_refused({"match", demo}, "--until");
  check_refused({"match", demo, "--until", "top_rpm"}, "write RESULT=VALUE");
  check_refused({"match", demo, "--until", "top_rmp=7000rpm"}, "did you mean top_rpm?");
  check_refused({"match", demo, "--until", "top_rpm=7000"}, "has no unit");
  check_refused({"match", demo, "--until", "top_rpm=7000rpm", "--adjust", "nozzle.exit"}, "unknown key");
  check_refused(
      {"diagnose", demo, "--seen", "top_speed=52mph", "--seen", "top_rpm=7000rpm", "--came", "often"},
      "--came often: must be suddenly or slowly");
  check_refused({"diagnose", demo, "--seen", "top_speed=never", "--seen", "top_rpm=7000rpm"},
                "every run has one");
  check_refused({"diagnose", demo, "--seen", "top_speed=52mph", "--seen", "top_rpm=70000rpm"},
                "more than any watercraft shows");
  check_refused({"diagnose", demo, "--seen", "top_speed=52mph"}, "diagnose takes 2 to 6 numbers");
  check_refused({"diagnose", demo, "--seen", "top_speed=52mph", "--seen", "top_speed=53mph"}, "given twice");
  check_refused({"diagnose", demo, "--seen", "top_speed=52mph", "--seen", "top_rpm=0rpm"}, "above zero");
  check_refused({"diagnose", demo, "--seen", "top_speed=52mph", "--seen", "top_rmp=never"},
                "did you mean top_rpm?");
  check_refused({"diagnose", demo, "--seen", "top_speed=52mph", "--seen", "top_rpm=7000rpm", "--sound",
                 "time_to_60_mph=never"},
                "leave out what it never reached");
}

TEST_CASE("wear follows strategies launch by launch and tells how to measure") {
  const Words wear{"wear",       demo_scenario(), "--launches", "400",
                   "--strategy", "pinned",        "--strategy", "hold"};
  const Finished text = run_program(wear);
  CHECK(text.exit_code == 0);
  CHECK(has(text.out, "feeler blade"));
  CHECK(has(text.out, "What is guessed"));
  const auto json = json_of(wear);
  REQUIRE(json["lives"].size() == 2);
  const auto last_gap = [&](std::size_t life) -> double {
    return json["lives"][life]["points"].back()["clearance_m"];
  };
  CHECK(last_gap(0) > last_gap(1));  // common practice, no source: easing the throttle spares the ring
  CHECK(json["lives"][0]["points"].back()["launches"] == 400.0);
  check_refused({"wear", demo_scenario(), "--strategy", "gently"}, "--strategy gently: ");
  check_refused({"wear", demo_scenario(), "--strategy", "table"}, "throttle.table");
  check_refused({"wear", demo_scenario(), "--launches", "0"}, "--launches");
  check_refused({"wear", demo_scenario(), "--slower", "0.2"}, "has no unit");
}

}  // namespace bowrise
