#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/output/chart_series.hpp"
#include "sim/output/html.hpp"
#include "sim/output/page_bars.hpp"
#include "sim/output/page_frame.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/output/study_words.hpp"
#include "sim/output/text.hpp"

namespace bowrise {
namespace {

constexpr std::size_t fitted_style = 0, logged_style = 1;

std::vector<double> all_times(const FittedRun& run) {
  std::vector<double> times;
  for (const LoggedAgainstFit* one : {&run.speed_m_s, &run.shaft_speed_rad_s})
    times.insert(times.end(), one->time_s.begin(), one->time_s.end());
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

/// Values at their own times, none between.
std::vector<double> at_samples(const LoggedAgainstFit& pairs, const std::vector<double>& values,
                               double factor, const std::vector<double>& times) {
  std::vector<double> out(times.size(), std::nan(""));
  for (std::size_t i = 0; i < values.size(); ++i) {
    const auto place = std::lower_bound(times.begin(), times.end(), pairs.time_s[i]);
    out[static_cast<std::size_t>(place - times.begin())] = factor * values[i];
  }
  return out;
}

void add_pair(Charts& charts, Chart chart, const std::string& grid, const LoggedAgainstFit& pairs,
              double factor) {
  if (pairs.time_s.empty()) return;
  const std::vector<double>& times = charts.grids[grid].values;
  chart.grid = grid;
  Chart left = chart;
  chart.lines.push_back(
      {"fitted", fitted_style, LineWeight::thick, at_samples(pairs, pairs.fitted, factor, times)});
  chart.lines.push_back(
      {"logged", logged_style, LineWeight::dots, at_samples(pairs, pairs.logged, factor, times)});
  charts.charts.push_back(std::move(chart));
  std::vector<double> residuals;
  for (std::size_t i = 0; i < pairs.logged.size(); ++i)
    residuals.push_back(pairs.logged[i] - pairs.fitted[i]);
  left.id += "-left";
  left.title += " left over";
  left.caption = "Logged less fitted: dots about 0 are noise, a bow is something that the model misses.";
  left.levels = {{0.0, fitted_style, ""}};
  left.lines.push_back(
      {"logged less fitted", logged_style, LineWeight::dots, at_samples(pairs, residuals, factor, times)});
  charts.charts.push_back(std::move(left));
}

Charts charts_of(const std::vector<FittedRun>& runs) {
  Charts charts;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const std::string grid = fmt::format("run-{}", i + 1);
    const std::vector<double> times = all_times(runs[i]);
    if (times.empty()) continue;
    charts.grids[grid] = {"time of the log", "s", 2, {}, times};
    add_pair(charts,
             {grid + "-speed", "Speed", "Dots: logged. Line: fitted, late as the logger is.", "", "mph", 2,
              km_h()},
             grid, runs[i].speed_m_s, mph(1.0));
    add_pair(charts, {grid + "-shaft", "Shaft speed", "Dots: logged. Line: fitted.", "", "rpm", 0, {}}, grid,
             runs[i].shaft_speed_rad_s, rpm_per_rad_s);
  }
  return charts;
}

std::string run_figures(const Charts& charts, const std::vector<std::string>& names) {
  if (charts.charts.empty()) return "<p>No log was given.</p>\n";
  std::string out = chart_hint();
  for (std::size_t i = 0; i < names.size(); ++i)
    out += "<h3>" + escaped(names[i]) + "</h3>\n" + chart_box(figures(charts, fmt::format("run-{}", i + 1)));
  return out;
}

std::string agreement_table(const Fit& fit) {
  HtmlLines lines{
      {plain(""), plain("samples"), plain("rms left over"), plain("beyond four standard deviations")}};
  bool smooth = false;
  for (const FitAgreement& one : fit.agreement) {
    const bool speed = one.name.starts_with("speed");
    const std::string rms =
        speed ? fmt::format("{:.2f} mph, {:.2f} km/h", mph(one.rms), mph(one.rms) * km_h().factor)
              : fmt::format("{:.2f} %", 100.0 * one.rms);
    lines.push_back(
        {plain(one.name), plain(std::to_string(one.count)), plain(rms), plain(std::to_string(one.outliers))});
    smooth = smooth || one.correlation > smooth_above;
  }
  std::string out = fit.agreement.empty() ? "" : html_table("Logs", lines);
  if (smooth)
    out +=
        "<p>What is left over is smooth: the model misses something of this craft; the bands are widened for "
        "it.</p>\n";
  if (!fit.seen.empty()) {
    HtmlLines seen{{plain(""), plain("seen"), plain("fitted")}};
    for (const SeenAgreement& one : fit.seen) {
      const ResultRow& row = result_rows()[one.result];
      seen.push_back({plain(result_label(row)), plain(result_value_text(row, one.seen)),
                      plain(result_value_text(row, one.fitted))});
    }
    out += html_table("Numbers seen", seen);
  }
  if (!fit.settled) out += "<p><b>The fit did not settle; take it with care.</b></p>\n";
  if (fit.runs > 0 && fit.one_course)
    out += "<p>Every run goes the same way: a current would hide in the speed.</p>\n";
  return out;
}

std::string nuisance_label(const FittedNuisance& one, const std::vector<std::string>& runs) {
  switch (one.kind) {
    case LoggingNuisance::Kind::speed_latency:
      return "speed is logged late by";
    case LoggingNuisance::Kind::shaft_latency:
      return "rpm is logged late by";
    case LoggingNuisance::Kind::current:
      return "current along the first run";
    case LoggingNuisance::Kind::start:
      break;
  }
  return runs[one.run] + ": throttle opens at";
}

std::string nuisance_value(const FittedNuisance& one) {
  const double value = one.value, deviation = one.deviation;
  if (one.kind != LoggingNuisance::Kind::current)
    return fmt::format("{:.2f} \u00b1 {:.2f} s", hundredths(value), deviation);
  return fmt::format("{:.2f} \u00b1 {:.2f} mph, {:.2f} \u00b1 {:.2f} km/h", hundredths(mph(value)),
                     mph(deviation), hundredths(mph(value) * km_h().factor), mph(deviation) * km_h().factor);
}

std::string nuisance_table(const Fit& fit, const std::vector<std::string>& runs) {
  if (fit.nuisances.empty()) return "";
  HtmlLines lines{{plain("of the logging"), plain("fitted"), plain("left of its spread")}};
  for (const FittedNuisance& one : fit.nuisances)
    lines.push_back({plain(nuisance_label(one, runs)), plain(nuisance_value(one)),
                     bar_cell(fmt::format("{:.0f} %", 100.0 * one.left), one.left)});
  return html_table("What the logger adds", lines);
}

/// In the spread before: where it was, where it is now.
HtmlCell input_cell(const FittedInput& input) {
  const BarScale scale = scale_of({input.prior_low, input.prior_high, input.low, input.high});
  return range_cell(escaped(input_text(*input.key, input.value)), scale,
                    {{input.prior_low, input.prior_high, false}, {input.low, input.high, true}}, std::nullopt,
                    input.value);
}

std::string input_table(const Fit& fit) {
  HtmlLines lines{{plain("input"), plain("left of its spread"), plain("fitted"), plain("in the scenario"),
                   plain("5\u201395 % after")}};
  std::size_t told = 0;
  for (const FittedInput& input : fit.inputs) {
    const bool known = input.told();
    told += known ? 1 : 0;
    lines.push_back({plain((known ? "\u25c6 " : "") + input.key->name),
                     bar_cell(fmt::format("{:.0f} %", 100.0 * input.left), input.left), input_cell(input),
                     plain(input_text(*input.key, input.before)),
                     plain(input_text(*input.key, input.low) + " to " + input_text(*input.key, input.high))});
  }
  std::string out =
      told == 0 ? "<p>No input alone is told by the data; what holds are combinations of them.</p>\n" : "";
  return out +
         html_table(
             fmt::format("\u25c6 told by the data: under {:.0f} % of the spread is left. Outline: before, "
                         "full: after, dot: fitted",
                         100.0 * identified_below),
             lines);
}

std::string band_table(const Fit& fit) {
  HtmlLines lines{{plain(""), plain("fitted"), plain("5\u201395 % before"), plain("5\u201395 % after")}};
  for (std::size_t i = 0; i < result_rows().size(); ++i) {
    const auto &before = fit.before.results[i], &after = fit.after.results[i];
    if (!before || !after) continue;
    const ResultRow& row = result_rows()[i];
    const BarScale scale = scale_of({before->low, before->high, after->low, after->high});
    const auto cell = [&](const Band& band, bool strong) {
      return range_cell(
          escaped(result_value_text(row, band.low)) + "<br>to " + escaped(result_value_text(row, band.high)),
          scale, {{band.low, band.high, strong}}, std::nullopt, fit.nominal.values[i]);
    };
    lines.push_back({plain(result_label(row)), plain(result_cell(row, fit.nominal.values[i])),
                     cell(*before, false), cell(*after, true)});
  }
  std::string out = html_table(
      fmt::format("{} draws; before and after share the scale of their line, the dot is the fitted craft",
                  fit.after.draws),
      lines);
  for (const auto& [when, bands] : {std::pair{"before", &fit.before}, std::pair{"after", &fit.after}})
    if (bands->failed > 0)
      out += fmt::format("<p>{}: {} of {} draws gave no launch and are left out.</p>\n", when, bands->failed,
                         bands->draws);
  return out;
}

}  // namespace

std::string fit_page(const Scenario& scenario, const Fit& fit, const std::vector<std::string>& runs,
                     const std::vector<FittedRun>& traces) {
  Page page{name_of(scenario) + ", fitted", "Fitted to what was seen", title_and_note(scenario), {},
            {source_of(scenario, "", {})},  charts_of(traces)};
  page.top += fmt::format("<p>Fitted to {} run{} and {} seen number{}.</p>\n", fit.runs,
                          fit.runs == 1 ? "" : "s", fit.seen.size(), fit.seen.size() == 1 ? "" : "s");
  page.sections = {
      {"bands", "Results", "What the craft does, before and after", band_table(fit)},
      {"runs", "Runs", "Logged and fitted", run_figures(page.charts, runs)},
      {"agreement", "Agreement", "How far they agree", agreement_table(fit) + nuisance_table(fit, runs)},
      {"inputs", "Inputs", "What the data tell", input_table(fit)}};
  return page_html(page);
}

}  // namespace bowrise
