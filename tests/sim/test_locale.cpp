// The library inside a program that has set a locale of its own: a comma for decimals, dots between
// thousands.
#include <catch2/catch.hpp>
#include <clocale>
#include <locale>

#include "sim/output/csv.hpp"
#include "sim/output/json.hpp"
#include "sim/output/page.hpp"
#include "sim/output/sweep_csv.hpp"
#include "sim/output/text.hpp"
#include "sim/scenario/log.hpp"
#include "sim/scenario/write.hpp"
#include "sim/study/report.hpp"
#include "sim/study/sweep.hpp"
#include "tests/support/german_locale.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

class DecimalComma : public std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

/// While it lives, streams and the functions of C write 1.234,5.
class GermanProgram {
 public:
  GermanProgram() : streams_before_(std::locale::global(std::locale(std::locale(), new DecimalComma))) {
    setenv("LOCPATH", locale_.path().c_str(), 1);
    std::setlocale(LC_ALL, GermanLocale::name);
  }
  GermanProgram(const GermanProgram&) = delete;
  GermanProgram& operator=(const GermanProgram&) = delete;
  ~GermanProgram() {
    unsetenv("LOCPATH");
    std::locale::global(streams_before_);
    std::setlocale(LC_ALL, "C");
  }

 private:
  GermanLocale locale_;
  std::locale streams_before_;
};

std::string log_read() {
  const auto log = std::get<Log>(
      read_log(std::filesystem::path(BOWRISE_SOURCE_DIR) / "scenarios/fitted/generated_run.csv"));
  std::string bytes;
  for (const LoggedSample& sample : log.samples)
    for (const double value :
         {sample.time_s, sample.speed_m_s.value_or(-1.0), sample.shaft_speed_rad_s.value_or(-1.0)})
      bytes.append(reinterpret_cast<const char*>(&value), sizeof value);
  return bytes;
}

std::string sweep_written(const Setup& setup) {
  SweepAxis nozzle;
  nozzle.key = find_key("nozzle.exit_diameter");
  nozzle.values = {84.5, 86.5};
  const SweepPlan plan(setup, {nozzle}, 0, 1);
  std::string text = sweep_header(plan.axes());
  run_sweep(plan, 0, 2, {}, [&](std::span<const SweepRow> rows) {
    for (const SweepRow& row : rows) {
      text += sweep_line(row);
      const auto read = read_sweep_line(sweep_line(row), 1);
      REQUIRE(read.has_value());
      CHECK(read->purposes == row.point.purposes);
    }
  });
  return text;
}

/// All that the library reads and writes with numbers in it.
std::vector<std::string> everything() {
  const Scenario scenario = shipped_scenario("two_stage.yaml", Needs::run, {{"run.duration", "3.5 s"}});
  const auto [craft, launch, summary] = test::outcome_of(scenario.setup, true);
  return {write_scenario(scenario),
          run_text(scenario, craft, launch, summary),
          trace_csv(craft, launch),
          summary_json(scenario, craft, launch, summary, {}),
          report_page({scenario}, report({{"two stages", scenario.setup, {}}}, {})),
          parameters_text(),
          parameters_json(),
          sweep_written(scenario.setup),
          log_read()};
}

}  // namespace

TEST_CASE("the locale of the program around the library changes nothing it reads or writes") {
  const std::vector<std::string> before = everything();
  {
    const GermanProgram around;
    std::ostringstream stream;
    stream << 1234.5;
    REQUIRE(stream.str() == "1.234,5");  // so it would show
    const std::vector<std::string> within = everything();
    REQUIRE(within.size() == before.size());
    for (std::size_t i = 0; i < before.size(); ++i) {
      INFO("text " << i);
      CHECK((within[i] == before[i]));
    }
  }
}

}  // namespace bowrise
