// Help, version and usage errors, as someone at a shell meets them.
#include <catch2/catch.hpp>

#include "sim/output/cautions.hpp"
#include "sim/output/json.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/program.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

const Words& verbs() {
  static const Words names{"run",      "check", "curves",   "compare", "match",  "sweep",
                           "throttle", "wear",  "diagnose", "fit",     "report", "parameters"};
  return names;
}

}  // namespace

TEST_CASE("option --version tells the version of the library and the licence, before and after a verb") {
  const std::string expected = "bowrise " + std::string(version()) + "\nLicence: Apache-2.0, no warranty\n";
  CHECK(run_program({"--version"}).out == expected);
  for (const std::string& verb : verbs()) {
    const Finished result = run_program({verb, "--version"});
    INFO(verb << ": " << result.err);
    CHECK(result.exit_code == 0);
    CHECK(result.out == expected);
  }
}

TEST_CASE("option --help of the program names every verb, the exit codes and the cautions") {
  const Finished help = run_program({"--help"});
  CHECK(help.exit_code == 0);
  CHECK(help.err.empty());
  for (const std::string& verb : verbs()) CHECK(has(help.out, "\n  " + verb + " "));
  CHECK(has(help.out, "0 done, 1 computation failed, 2 bad input or usage, 3 could not write"));
  for (const std::string_view caution : cautions) CHECK(has(help.out, caution));
}

TEST_CASE("option --help of every verb shows the common options and the cautions") {
  for (const std::string& verb : verbs()) {
    INFO(verb);
    const Finished help = run_program({verb, "--help"});
    CHECK(help.exit_code == 0);
    for (const char* option : {"--json", "--quiet", "--threads", "--version"}) CHECK(has(help.out, option));
    for (const std::string_view caution : cautions) CHECK(has(help.out, caution));
  }
}

TEST_CASE("usage errors are one clear line and exit code 2") {
  const std::string demo = demo_scenario();
  check_refused_for_all(
      {}, {"no verb",
           "run, check, curves, compare, match, sweep, throttle, wear, diagnose, fit, report, parameters"});
  check_refused_for_all(
      {"rnu", demo},
      {"rnu: no such verb",
       "run, check, curves, compare, match, sweep, throttle, wear, diagnose, fit, report, parameters"});
  check_refused({"--frobnicate"}, "bowrise --help");
  check_refused({"run", demo, "--frobnicate"}, "--frobnicate");
  check_refused({"run"}, "SCENARIO");
  check_refused({"check"}, "SCENARIO");
  check_refused({"run", demo, demo + "2"}, "not expected");
  check_refused({"parameters", demo}, "not expected");
  check_refused({"run", demo, "--out"}, "--out");
  check_refused({"run", demo, "--threads", "many"}, "--threads");
  check_refused({"run", demo, "--threads", "-1"}, "--threads");
}

TEST_CASE("option --set says what is wrong with it") {
  const std::string demo = demo_scenario();
  check_refused_for_all({"run", demo, "--set", "nozzle.exit_diameter"},
                        {"--set nozzle.exit_diameter", "KEY=VALUE"});
  check_refused_for_all({"run", demo, "--set", "=84mm"}, {"--set =84mm", "KEY=VALUE"});
  check_refused_for_all({"run", demo, "--set", "nozle.exit_diameter=84mm"},
                        {"unknown key", "did you mean nozzle.exit_diameter?"});
  check_refused({"run", demo, "--set", "nozzle.exit_diameter=84"}, "has no unit");
  check_refused_for_all({"run", demo, "--set", "nozzle.exit_diameter=84kg"}, {"is a mass", "write a length"});
  check_refused({"run", demo, "--set", "nozzle.exit_diameter=84mm", "--set", "nozzle.exit_diameter=85mm"},
                "given twice");
  check_refused({"run", demo, "--set", "from=other.yaml"}, "only be written in a scenario file");
}

TEST_CASE("option --set wins over the file and is told as the origin") {
  const Finished result = run_program({"check", demo_scenario(), "--set", "nozzle.exit_diameter=84mm"});
  CHECK(result.exit_code == 0);
  CHECK(has(result.out, "84 mm"));
  CHECK(has(result.out, "--set nozzle.exit_diameter=84mm"));
}

TEST_CASE("option --at and --of say what is wrong with them") {
  const std::string demo = demo_scenario();
  const auto refused = [&](const std::string& kind, const Words& axes, const Words& parts) {
    Words arguments{"curves", demo, "--of", kind};
    for (const std::string& axis : axes) arguments.insert(arguments.end(), {"--at", axis});
    check_refused_for_all(arguments, parts);
  };
  check_refused({"curves", demo}, "--of");
  refused("hulls", {}, {"--of hulls", "water, air, engine, hull"});
  refused("cruise", {"speed"}, {"--at speed", "AXIS=LOW..HIGH:COUNT"});
  refused("cruise", {"speed="}, {"nothing is given"});
  refused("cruise", {"=20m/s"}, {"not an axis"});
  refused("cruise", {"flow=20L/s"}, {"--at flow=20L/s", "not an axis of --of cruise", "speed"});
  refused("cruise", {"speed=20"}, {"has no unit"});
  refused("cruise", {"speed=20kg"}, {"is a mass", "m/s"});
  refused("cruise", {"speed=5..30m/s"}, {"LOW..HIGH:COUNT"});
  refused("cruise", {"speed=5..30m/s:1"}, {"not a count from 2"});
  refused("cruise", {"speed=5..30m/s:lots"}, {"not a count from 2"});
  refused("cruise", {"speed=500m/s"}, {"500m/s is outside"});
  refused("cruise", {"speed=5m/s", "speed=6m/s"}, {"--at speed=6m/s", "given twice"});
  refused("cruise", {}, {"--of cruise needs --at speed="});
  refused("pump", {"flow=100L/s"}, {"--of pump needs --at shaft_speed="});
  refused("water", {"temperature=45degC"}, {"45degC is outside"});
  refused("thrust", {"speed=10m/s", "shaft_power=50kW", "shaft_speed=4000rpm"}, {"exclude each other"});
  refused("hull", {"speed=10m/s", "trim=3deg", "throttle=1"}, {"exclude each other"});
}

TEST_CASE("a jet unit without an engine asks for a power or a speed of its shaft") {
  const std::string unit = in_source_tree("scenarios/reference/full_scale_mixed_flow_unit.yaml").string();
  check_refused_for_all({"curves", unit, "--of", "thrust", "--at", "speed=11kn"},
                        {"no engine", "shaft_power"});
  CHECK(run_program({"curves", unit, "--of", "thrust", "--at", "speed=11kn", "--at", "shaft_power=705.6kW"})
            .exit_code == 0);
}

}  // namespace bowrise
