// The report page as bytes: what every browser and every hostile scenario meets. A browser meets it in
// tests/command/test_report.cpp.
#include "sim/output/page.hpp"

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "sim/output/cautions.hpp"
#include "sim/output/chart.hpp"
#include "sim/output/html.hpp"
#include "sim/output/json.hpp"
#include "sim/output/page_charts.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/scenario/write.hpp"
#include "tests/support/scenarios.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

struct Case {
  std::vector<Scenario> scenarios;
  std::vector<Contender> contenders;
};

Case case_of(const std::vector<std::string>& names, const test::Changes& changes = {}) {
  Case made;
  for (const std::string& name : names) {
    made.scenarios.push_back(shipped_scenario(name + ".yaml", Needs::run, changes));
    made.contenders.push_back({made.scenarios.back().title, made.scenarios.back().setup});
  }
  return made;
}

std::string page_of(const Case& made, unsigned threads = 1, std::size_t draws = 0) {
  BandOptions options;
  options.threads = threads;
  options.draws = draws;
  return report_page(made.scenarios, report(made.contenders, options));
}

/// What stands between two texts, the first time.
std::string between(const std::string& text, const std::string& open, const std::string& close) {
  const auto from = text.find(open);
  REQUIRE(from != std::string::npos);
  const auto start = from + open.size();
  return text.substr(start, text.find(close, start) - start);
}

std::string data_of(const std::string& page) {
  return between(page, "<script type=\"application/json\" id=\"chart-data\">", "</script>");
}

/// The markup alone; what scripts could ask for is forbidden by the page's own policy.
std::string without_scripts(std::string page) {
  for (auto at = page.find("<script"); at != std::string::npos; at = page.find("<script", at))
    page.erase(at, page.find("</script>", at) - at);
  return page;
}

}  // namespace

TEST_CASE("HTML's five characters are escaped, control characters are not let in") {
  // HTML living standard, 13.1.2.4 (text and quoted attribute values)
  CHECK(escaped("<script>\"a\" & 'b'</script>") ==
        "&lt;script&gt;&quot;a&quot; &amp; &#39;b&#39;&lt;/script&gt;");
  CHECK(escaped(std::string("a\0b\nc\x7f", 6)) == "a b c ");
  CHECK(escaped("Gr\u00f6\u00dfe") == "Gr\u00f6\u00dfe");
}

TEST_CASE("a template is filled in one pass") {
  CHECK(filled("<[[a]]|[[b]]>", {{"a", "[[b]]"}, {"b", "x"}}) == "<[[b]]|x>");
  CHECK_THROWS_AS(filled("[[c]]", {}), std::logic_error);
}

TEST_CASE("ticks are round, inside the range, about as many as wanted") {
  CHECK(ticks(0.0, 10.0, 5) == std::vector<double>{0, 2, 4, 6, 8, 10});
  CHECK(ticks(-3.0, 7.0, 2) == std::vector<double>{0, 5});
  CHECK(ticks(0.0, 0.011, 5).size() == 6);
  CHECK(tick_text(3 * 0.1) == "0.3");
  CHECK(tick_text(-0.0) == "0");
}

TEST_CASE("the same setups make the same page with any number of threads") {
  const Case made = case_of({"supercharged_three_seat", "two_stage", "worn_ring"});
  const std::string page = page_of(made, 1, 8);
  CHECK(page == page_of(made, 2, 8));
  CHECK(page == page_of(made, 4, 8));
}

TEST_CASE("a page shows every chart twice, as a drawing and as data, all numbers finite") {
  const Case made = case_of({"supercharged_three_seat", "worn_ring"});
  const std::string page = page_of(made);
  const auto data = nlohmann::json::parse(data_of(page));
  CHECK(data["charts"].size() == 10);
  CHECK(count_of(page, "<svg class=\"chart\"") == data["charts"].size());
  for (const auto& chart : data["charts"]) {
    INFO(chart["id"]);
    CHECK(count_of(page, "<figure id=\"" + chart["id"].get<std::string>() + "\"") == 1);
    const std::size_t length = data["grids"][chart["grid"].get<std::string>()]["values"].size();
    CHECK(length > 40);
    for (const auto& line : chart["lines"]) {
      CHECK(line["values"].size() == length);
      std::size_t present = 0;
      for (const auto& value : line["values"]) present += value.is_number() ? 1U : 0U;
      CHECK(present > length / 2);
    }
  }
  for (const char* word : {"nan", "inf,", "inf ", "-inf"}) {
    INFO(word);
    CHECK_FALSE(has(data_of(page), word));
    for (auto at = page.find("points=\""); at != std::string::npos; at = page.find("points=\"", at + 1))
      CHECK_FALSE(has(page.substr(at, page.find('"', at + 8) - at), word));
  }
}

TEST_CASE("the curves of a page are those of the launch and of the steady solver") {
  const Case made = case_of({"supercharged_three_seat"});
  const Report made_report = report(made.contenders, {});
  const Charts charts = report_charts(made_report);
  const auto chart = [&](std::string_view id) -> const Chart& {
    for (const Chart& one : charts.charts)
      if (one.id == id) return one;
    FAIL("no chart " << id);
    return charts.charts.front();
  };
  // the last value of the speed trace against the launch itself; 0.44704 m/s is a mile an hour by definition
  const auto& rows = made_report.setups[0].launch.rows;
  const auto& speed = chart("speed").lines.at(0).values;
  const auto& times = charts.grids.at("time").values;
  for (const std::size_t i : {std::size_t{100}, std::size_t{400}}) {
    for (const TraceRow& row : rows)
      if (row.time_s == times[i]) CHECK(speed[i] == Approx(row.state.speed_m_s / 0.44704).epsilon(1e-12));
  }
  // thrust less drag changes sign where the root finder says that top speed is
  const Chart& forces = chart("steady-forces");
  const auto& thrust = forces.lines.at(0).values;
  const auto& drag = forces.lines.at(1).values;
  const auto& speeds = charts.grids.at("speed").values;
  double crossing = 0.0;
  for (std::size_t i = 1; i < speeds.size(); ++i) {
    const double before = thrust[i - 1] - drag[i - 1], after = thrust[i] - drag[i];
    if (before > 0.0 && after <= 0.0)
      crossing = speeds[i - 1] + before / (before - after) * (speeds[i] - speeds[i - 1]);
  }
  const double top = *made_report.setups[0].summary.top_speed_m_s / 0.44704;
  CHECK(crossing == Approx(top).margin(0.1));  // the straight line between points 1.7 mph apart
  CHECK(forces.points.at(0).x == Approx(top).epsilon(1e-9));
}

TEST_CASE("nothing that a scenario says becomes markup or script") {
  Case made = case_of({"supercharged_three_seat", "two_stage"});
  const std::string hostile =
      "</title></script><script>alert('x')</script><img src=x onerror=\"alert(1)\">[[data]] & \x01";
  for (std::size_t i = 0; i < 2; ++i) {
    made.scenarios[i].title = made.scenarios[i].note = made.contenders[i].name = hostile;
    made.scenarios[i].files = {hostile};
    made.scenarios[i].warnings.push_back({{hostile, 1, 1}, hostile, hostile});
  }
  const std::string page = page_of(made);
  CHECK_FALSE(has(page, "<script>alert"));
  CHECK_FALSE(has(page, "<img"));
  CHECK_FALSE(has(page, "onerror=\""));
  CHECK(count_of(page, "</script>") == 3);
  CHECK(count_of(page, "</title>") == 1);
  CHECK(has(page, "[[data]] &amp; "));  // as text, not filled
  CHECK_FALSE(has(page, "\x01"));
}

TEST_CASE("a page asks for nothing from outside") {
  const std::string page = without_scripts(page_of(case_of({"supercharged_three_seat"})));
  for (const char* part :
       {"src=", "@import", "url(http", "url(\"http", "<link", "<iframe", "<object", "sourceMappingURL"}) {
    INFO(part);
    CHECK_FALSE(has(page, part));
  }
  for (auto at = page.find("href="); at != std::string::npos; at = page.find("href=", at + 1))
    CHECK(page.substr(at, 7) == "href=\"#");
  CHECK(has(page, "default-src 'none'"));
}

TEST_CASE("a page of three setups over 60 s stays under 3 MB") {
  Case made = case_of({"supercharged_three_seat", "two_stage", "worn_ring"}, {{"run.duration", "60 s"}});
  BandOptions options;
  options.coast = true;
  const Report made_report = report(made.contenders, options);
  CHECK(made_report.setups[0].launch.rows.back().time_s > 20.0);
  CHECK(report_page(made.scenarios, made_report).size() < 3'000'000);
}

TEST_CASE("a page carries cautions, version, fingerprints, warnings and both speeds") {
  const Case made = case_of({"supercharged_three_seat", "worn_ring"});
  const std::string page = page_of(made);
  for (const std::string_view caution : cautions) CHECK(has(page, escaped(caution)));
  CHECK(has(page, "bowrise " + std::string(version())));
  for (const Scenario& scenario : made.scenarios) CHECK(has(page, scenario_hash(scenario.setup)));
  const Report made_report = report(made.contenders, {});
  for (const SetupReport& setup : made_report.setups)
    for (const std::string& warning : setup.summary.warnings) CHECK(has(page, escaped(warning)));
  CHECK(has(page, "mph, "));
  CHECK(has(page, "km/h"));
}

TEST_CASE("the page of a fit shows no zero with a sign") {
  const Case made = case_of({"supercharged_three_seat"});
  Fit fit{};
  fit.before.results.resize(result_rows().size());
  fit.after.results.resize(result_rows().size());
  for (const auto kind : {LoggingNuisance::Kind::speed_latency, LoggingNuisance::Kind::current})
    fit.nuisances.push_back({.kind = kind, .run = 0, .value = -1e-4, .deviation = 0.01, .left = 0.5});
  const std::string page = fit_page(made.scenarios.front(), fit, {}, {});
  CHECK(has(page, "0.00 \u00b1 0.01 s"));
  CHECK_FALSE(has(page, "-0.00"));
}

TEST_CASE("the setup table marks what is unlike the first setup and leaves presets out") {
  const Case made = case_of({"supercharged_three_seat", "worn_ring"});
  const std::string setup = between(page_of(made), "<section id=\"setup\">", "</section>");
  CHECK(has(setup, "<b>\u25c6 pump.<wbr>clearance</b>"));
  CHECK(has(setup, ">nozzle.<wbr>exit<wbr>_diameter<"));
  CHECK_FALSE(has(setup, "tolerance"));
  CHECK_FALSE(has(setup, "stage_2."));
}

TEST_CASE("draws add bands and verdicts") {
  const Case made = case_of({"supercharged_three_seat", "worn_ring"});
  const std::string with = page_of(made, 1, 8), without = page_of(made);
  CHECK(has(with, "of 8 draws"));
  CHECK(has(with, "<b>worse</b>"));
  // the band of the table is that of the study: 0.44704 m/s is a mile an hour, 1/3.6 m/s a kilometre an hour
  BandOptions options;
  options.draws = 8;
  const Band top = *compare(made.contenders, options).bands[0][result_index("top_speed")];
  CHECK(has(with, fmt::format("{:.1f} to {:.1f} mph<br>{:.1f} to {:.1f} km/h", top.low / 0.44704,
                              top.high / 0.44704, top.low * 3.6, top.high * 3.6)));
  CHECK_FALSE(has(without, "<b>worse</b>"));
  CHECK(has(without, "No bands were asked for"));
}

TEST_CASE("what limits is told by word and pattern as well as by colour, in the words of the launch") {
  const Case made = case_of({"worn_ring"});
  const std::string strips = limit_strips(report(made.contenders, {}));
  for (const std::string_view word : limit_words)
    CHECK(has(strips, "id=\"limit-" + std::string(word) + "\""));
  CHECK(has(strips, "aria-label=\"throttle 0.00 to "));
  CHECK(has(strips, "cavitation "));
  CHECK(count_of(strips, "data-from") >= 4);
}

}  // namespace bowrise
