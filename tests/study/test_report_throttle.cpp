// The launches that a page about throttle plans draws: they are those of the study, and those worth a look.
#include "sim/study/report_throttle.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/scenarios.hpp"
#include "tests/support/units.hpp"

namespace bowrise {
namespace {

struct Made {
  Setup setup = test::shipped("supercharged_three_seat");
  std::vector<ThrottleCase> cases;
  std::vector<std::vector<PlanTrace>> traces;
  explicit Made(unsigned threads = 2) {
    ThrottleStudyOptions options;
    options.clearances_m = {setup.pump.clearance_m, 1e-3};
    options.rolling_speeds_m_s = {0.0};
    options.threads = threads;
    options.evaluations = 30;
    cases = throttle_study(setup, options);
    traces = plan_traces(setup, cases, threads);
  }
};

constexpr double thirty_mph_m_s = 30 * test::mph_m_s;

/// When the rows of a trace pass 30 mph, joined by straight lines.
double passes_30_mph_s(const Launch& launch) {
  for (std::size_t i = 1; i < launch.rows.size(); ++i) {
    const TraceRow &a = launch.rows[i - 1], &b = launch.rows[i];
    if (b.state.speed_m_s < thirty_mph_m_s) continue;
    const double share = (thirty_mph_m_s - a.state.speed_m_s) / (b.state.speed_m_s - a.state.speed_m_s);
    return a.time_s + share * (b.time_s - a.time_s);
  }
  return -1.0;
}

}  // namespace

TEST_CASE("traces of throttle plans pass 30 mph when the study says, and end a little later", "[long]") {
  const Made made;
  REQUIRE(made.traces.size() == 2);
  for (std::size_t i = 0; i < made.cases.size(); ++i) {
    const ThrottleCase& plans = made.cases[i];
    const std::vector<std::size_t> shown = plans_to_show(plans);
    CHECK(std::is_sorted(shown.begin(), shown.end()));
    CHECK(shown.front() == 0);                      // pinned
    CHECK(shown.back() == plans.plans.size() - 1);  // optimised
    const auto advice = advice_on(plans);
    REQUIRE(advice);
    for (const std::size_t named :
         {advice->quickest, advice->gentlest, advice->compromise, advice->steadiest})
      CHECK(std::count(shown.begin(), shown.end(), named) == 1);
    REQUIRE(made.traces[i].size() == shown.size());
    for (std::size_t k = 0; k < shown.size(); ++k) {
      const PlanTrace& trace = made.traces[i][k];
      INFO(plans.plans[trace.plan].name);
      CHECK(trace.plan == shown[k]);
      const double expected_s = *plans.plans[trace.plan].value("time_to_30_mph");
      CHECK(passes_30_mph_s(trace.launch) == Approx(expected_s).margin(2e-3));  // rows are 10 ms apart
      CHECK(trace.launch.rows.back().time_s > expected_s + 0.5);
    }
  }
}

TEST_CASE("a case that cannot start has no traces") {
  ThrottleCase none{};
  none.failure = "cannot idle";
  CHECK(plans_to_show(none).empty());
  CHECK(plan_traces(test::shipped("supercharged_three_seat"), {none}, 1).front().empty());
}

}  // namespace bowrise
