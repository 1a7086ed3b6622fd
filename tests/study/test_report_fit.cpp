// The fitted launch that a page lays over a log: sample by sample the log's own numbers, and as close to them
// as the logger's noise allows.
#include "sim/study/report_fit.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "sim/scenario/log.hpp"
#include "sim/study/sample.hpp"
#include "tests/support/scenarios.hpp"
#include "tests/support/synthetic_log.hpp"

namespace bowrise {
namespace {

double rms_share(const LoggedAgainstFit& series, double of) {
  double squares = 0.0;
  for (std::size_t i = 0; i < series.logged.size(); ++i)
    squares += std::pow((series.fitted[i] - series.logged[i]) / (of > 0.0 ? of : series.logged[i]), 2);
  return std::sqrt(squares / static_cast<double>(series.logged.size()));
}

void check_is_of_the_log(const LoggedAgainstFit& series, const LoggedRun& run, bool shaft) {
  REQUIRE(series.time_s.size() > run.samples.size() / 2);
  REQUIRE(series.logged.size() == series.time_s.size());
  REQUIRE(series.fitted.size() == series.time_s.size());
  CHECK(std::is_sorted(series.time_s.begin(), series.time_s.end()));
  for (std::size_t i = 0; i < series.time_s.size(); ++i) {
    const auto sample = std::find_if(run.samples.begin(), run.samples.end(),
                                     [&](const LoggedSample& s) { return s.time_s == series.time_s[i]; });
    REQUIRE(sample != run.samples.end());
    CHECK(series.logged[i] == Approx(shaft ? *sample->shaft_speed_rad_s : *sample->speed_m_s).epsilon(1e-12));
  }
}

}  // namespace

TEST_CASE("the fitted launch lies over its log within the logger's noise", "[long]") {
  const Setup stock = test::shipped("supercharged_three_seat");
  const test::Logger logger;
  const std::vector<LoggedRun> runs =
      test::runs_in(test::logged_run(Draws(256, 777).apply(stock, 3), logger, 5));
  BandOptions options;
  options.draws = 8;
  options.threads = 2;
  const Fit found = fit(stock, runs, {}, options);
  const std::vector<FittedRun> fitted = fitted_runs(stock, runs, found);
  REQUIRE(fitted.size() == 1);
  check_is_of_the_log(fitted[0].speed_m_s, runs[0], false);
  check_is_of_the_log(fitted[0].shaft_speed_rad_s, runs[0], true);
  // a third more than the noise that was put in: the fit is not the hidden craft
  CHECK(rms_share(fitted[0].speed_m_s, 1.0) < 1.33 * logger.speed_noise_m_s);
  CHECK(rms_share(fitted[0].shaft_speed_rad_s, 0.0) < 1.33 * logger.shaft_noise);
}

TEST_CASE("numbers seen alone leave no launch to lay over a log") {
  CHECK(fitted_runs(test::shipped("supercharged_three_seat"), {}, Fit{}).empty());
}

}  // namespace bowrise
