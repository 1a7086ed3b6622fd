#include <fmt/format.h>

#include <algorithm>

#include "sim/output/chart_series.hpp"
#include "sim/output/html.hpp"
#include "sim/output/page_bars.hpp"
#include "sim/output/page_charts.hpp"
#include "sim/output/page_frame.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/output/study_words.hpp"
#include "sim/output/text.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

const ResultRow& row_named(std::string_view result) { return result_rows()[result_index(result)]; }

std::string value_text(const PlanResult& plan, std::string_view result) {
  return result_cell(row_named(result), plan.value(result));
}

std::string case_title(const ThrottleCase& plans) {
  const double gap_thou = in_unit(plans.clearance_m, "thou");
  std::string text =
      fmt::format("Ring gap {:.2f} mm ({:.0f} thousandths of an inch), ", 1e3 * plans.clearance_m, gap_thou);
  if (!(plans.rolling_speed_m_s > 0.0)) return text + "from rest";
  const double rolling = mph(plans.rolling_speed_m_s);
  return text + fmt::format("rolling at {:.1f} mph, {:.1f} km/h", rolling, rolling * km_h().factor);
}

/// What the numbers of a column are measured against: the greatest of them.
double greatest(const ThrottleCase& plans, std::string_view result) {
  double most = 0.0;
  for (const PlanResult& plan : plans.plans) most = std::max(most, plan.value(result).value_or(0.0));
  return most;
}

HtmlCell bar_of(const ThrottleCase& plans, const PlanResult& plan, std::string_view result) {
  const auto value = plan.value(result);
  const double most = greatest(plans, result);
  if (!value || most <= 0.0) return plain(value_text(plan, result));
  return bar_cell(value_text(plan, result), *value / most);
}

std::string plan_label(const std::vector<PlanTrace>& traces, std::size_t plan) {
  for (std::size_t i = 0; i < traces.size(); ++i)
    if (traces[i].plan == plan) return "<b>" + letter_of(i) + "</b> ";
  return "";
}

std::string plan_table(const ThrottleCase& plans, const std::vector<PlanTrace>& traces) {
  HtmlLines lines{{plain("plan"), plain("0-30 mph"), plain("wear index"), plain("worst 0-30 mph"),
                   plain("60 ft"), plain("100 m"), plain("peak rpm"), plain("cavitating")}};
  for (std::size_t i = 0; i < plans.plans.size(); ++i) {
    const PlanResult& plan = plans.plans[i];
    const HtmlCell name{plan_label(traces, i) + escaped(plan.name), ""};
    if (plan.outcome.failed()) {
      lines.push_back({name, plain(plan.outcome.failure)});
      continue;
    }
    lines.push_back({name, bar_of(plans, plan, "time_to_30_mph"), bar_of(plans, plan, "wear_index"),
                     plain(result_cell(row_named("time_to_30_mph"), plan.worst_s())),
                     plain(value_text(plan, "time_to_60_ft")), plain(value_text(plan, "time_to_100_m")),
                     plain(value_text(plan, "launch_peak_rpm")), plain(value_text(plan, "cavitating_time"))});
  }
  return html_table("Every plan", lines);
}

std::string advice_table(const ThrottleCase& plans) {
  const auto advice = advice_on(plans);
  if (!advice) return "<p>No plan reaches 30 mph.</p>\n";
  HtmlLines lines{{plain(""), plain("plan"), plain("0-30 mph"), plain("wear index"),
                   plain(fmt::format("hand {:g} s or lever {:.0f} % off, at worst", rider_timing_error_s,
                                     100.0 * rider_lever_error))}};
  const auto add = [&](std::string_view what, std::size_t index) {
    const PlanResult& plan = plans.plans[index];
    lines.push_back({plain(what), plain(plan.name), plain(value_text(plan, "time_to_30_mph")),
                     plain(value_text(plan, "wear_index")),
                     plain(result_cell(row_named("time_to_30_mph"), plan.worst_s()))});
  };
  add("pinned", 0);
  add("quickest", advice->quickest);
  add("spares the pump most", advice->gentlest);
  add("least wear without being measurably slower than pinned", advice->compromise);
  add("quickest with a rider's errors", advice->steadiest);
  std::string out = html_table("Which plan for what", lines);
  if (advice->runs_each && advice->quickest != 0)
    out += fmt::format("<p>To show with a logger that {} is quicker than pinned takes {} runs each.</p>\n",
                       escaped(plans.plans[advice->quickest].name), *advice->runs_each);
  return out;
}

/// The lever of a plan that was found or written as a table.
std::string lever_table(const PlanResult& plan) {
  if (plan.throttle.table.empty()) return "";
  HtmlLines lines{{plain("by")}, {plain("lever")}};
  for (const auto& row : plan.throttle.table) {
    lines[0].push_back(plain(fmt::format("{:.2f} s", row[0])));
    lines[1].push_back(plain(fmt::format("{:.0f} %", 100.0 * row[1])));
  }
  return html_table("Lever of the plan \"" + plan.name + "\"", lines);
}

std::string legend(const ThrottleCase& plans, const std::vector<PlanTrace>& traces) {
  std::string out = "<ul class=\"setups\">\n";
  for (std::size_t i = 0; i < traces.size(); ++i) {
    const PlanResult& plan = plans.plans[traces[i].plan];
    out += legend_line(i, escaped(plan.name + ": 30 mph " + value_text(plan, "time_to_30_mph")));
  }
  return out + "</ul>\n";
}

Chart chart_of(const std::string& grid, const std::vector<PlanTrace>& traces,
               const std::vector<double>& times, Chart chart, const Quantity& quantity) {
  chart.id = grid + "-" + chart.id;
  chart.grid = grid;
  for (std::size_t i = 0; i < traces.size(); ++i)
    chart.lines.push_back(
        {letter_of(i), i, LineWeight::thick, sampled(traces[i].launch.rows, quantity, times)});
  return chart;
}

void add_charts(const std::string& grid, const ThrottleCase& plans, const std::vector<PlanTrace>& traces,
                Charts& charts) {
  double end = 0.0;
  for (const PlanTrace& trace : traces) end = std::max(end, trace.launch.rows.back().time_s);
  const std::vector<double> times = chart_times(end);
  charts.grids[grid] = {"time", "s", 2, {}, times};
  const auto add = [&](Chart chart, const Quantity& quantity) {
    charts.charts.push_back(chart_of(grid, traces, times, std::move(chart), quantity));
  };
  add({"lever", "Throttle", "Lever and idle floor together.", "", "%", 1, {}},
      [](const TraceRow& r) { return 100.0 * r.now.command; });
  Chart speed{"speed", "Speed", "The dot is 30 mph.", "", "mph", 2, km_h()};
  for (std::size_t i = 0; i < traces.size(); ++i)
    if (const auto mark_s = plans.plans[traces[i].plan].value("time_to_30_mph"))
      speed.points.push_back({*mark_s, 30.0, i, fmt::format("{} {:.2f} s", letter_of(i), *mark_s)});
  add(std::move(speed), [](const TraceRow& r) { return mph(r.state.speed_m_s); });
  add({"shaft", "Shaft speed", "", "", "rpm", 0, {}},
      [](const TraceRow& r) { return r.state.shaft_speed_rad_s * rpm_per_rad_s; });
  add({"head-loss", "Head lost to cavitation", "Wear grows steeply with it.", "", "%", 1, {}},
      [](const TraceRow& r) { return 100.0 * (1.0 - r.now.head_factor); });
}

}  // namespace

std::string throttle_page(const Scenario& scenario, const std::vector<ThrottleCase>& cases,
                          const std::vector<std::vector<PlanTrace>>& traces) {
  Page page{name_of(scenario),
            "How to open the throttle",
            title_and_note(scenario),
            {},
            {source_of(scenario, "", {})}};
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const std::string id = fmt::format("case-{}", i + 1);
    PageSection section{id, fmt::format("Case {}", i + 1), case_title(cases[i]), ""};
    if (!cases[i].failure.empty()) {
      section.html = "<p>" + escaped(cases[i].failure) + "</p>\n";
    } else {
      section.html = advice_table(cases[i]);
      if (!traces[i].empty()) {
        add_charts(id + "-time", cases[i], traces[i], page.charts);
        section.html +=
            legend(cases[i], traces[i]) + chart_hint() + chart_box(figures(page.charts, id + "-time"));
      }
      section.html += plan_table(cases[i], traces[i]) + lever_table(cases[i].plans.back());
    }
    page.sections.push_back(std::move(section));
  }
  page.top +=
      "<p>Worst: as meant, and with the hand early or late after the first move, or the lever too little or "
      "too far open. Full is a stop, which nobody misses.</p>\n";
  return page_html(page);
}

}  // namespace bowrise
