#include <fmt/format.h>

#include <algorithm>

#include "sim/output/chart_series.hpp"
#include "sim/output/html.hpp"
#include "sim/output/page_bars.hpp"
#include "sim/output/page_frame.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/output/sweep_words.hpp"

namespace bowrise {
namespace {

constexpr std::size_t most_diamonds = 400, numbered = 3, most_undominated_lines = 20;

/// Values of a purpose as they are drawn: speeds in mph.
struct Drawn {
  Purpose purpose;
  std::string label, unit;
  SecondUnit second;
  double factor;

  [[nodiscard]] std::optional<double> of(const PurposeValues& values) const {
    const auto& value = values[static_cast<std::size_t>(purpose)];
    return value ? std::optional(*value * factor) : std::nullopt;
  }
};

Drawn drawn(Purpose purpose) {
  const PurposeRow& row = row_of(purpose);
  const std::string label(row.name);
  if (row.unit == "m/s") return {purpose, label, "mph", km_h(), mph(1.0)};
  return {purpose, label, purpose == Purpose::price ? "" : std::string(row.unit), {}, 1.0};
}

void add_dot(Chart& chart, std::vector<double>& x_values, const Drawn& x, const Drawn& y,
             const SweepPoint& point, ChartDot::Shape shape, std::string label) {
  const auto at_x = x.of(point.purposes), at_y = y.of(point.purposes);
  if (!at_x || !at_y) return;
  x_values.push_back(*at_x);
  chart.dots.push_back({*at_x, *at_y, shape, std::move(label)});
}

std::string scatter(const SweepOverview& overview, const Ranking& ranking, Purpose over, Purpose against) {
  const Drawn x = drawn(over), y = drawn(against);
  Chart chart{
      "scatter-" + x.label + "-" + y.label,
      y.label + " against " + x.label,
      "Rings: points. Diamonds: those that no other beats in everything. Squares: the best by weights.",
      "",
      y.unit,
      2,
      y.second};
  chart.from_zero = false;
  std::vector<double> x_values;
  for (const SweepPoint& point : overview.sample)
    add_dot(chart, x_values, x, y, point, ChartDot::Shape::ring, "");
  for (std::size_t i = 0; i < std::min(ranking.pareto.size(), most_diamonds); ++i)
    add_dot(chart, x_values, x, y, ranking.pareto[i].point, ChartDot::Shape::diamond, "");
  for (std::size_t i = 0; i < std::min(ranking.best.size(), numbered); ++i)
    add_dot(chart, x_values, x, y, ranking.best[i].point, ChartDot::Shape::square, std::to_string(i + 1));
  const BarScale scale = scale_of(x_values);
  const double high = scale.high > scale.low ? scale.high : scale.low + 1.0;
  return figure(chart, {x.label, x.unit, 2, {}, {scale.low, high}});
}

std::string scatters(const SweepOverview& overview, const Ranking& ranking) {
  std::string out;
  const auto& weights = ranking.weights;
  for (std::size_t i = 0; i < weights.size(); ++i)
    for (std::size_t k = i + 1; k < weights.size(); ++k)
      out += scatter(overview, ranking, weights[i].purpose, weights[k].purpose);
  if (out.empty()) return "<p>One purpose alone has no trade-off to draw.</p>\n";
  if (overview.sample.size() < overview.points)
    out += fmt::format("<p>Of {} points {} are drawn.</p>\n", overview.points, overview.sample.size());
  return chart_box(out);
}

std::vector<HtmlCell> heading(const SweepDefinition& definition, const Ranking& ranking) {
  std::vector<HtmlCell> line{plain("")};
  for (const Weight& weight : ranking.weights)
    line.push_back(plain(fmt::format("{} (weight {:.3g})", row_of(weight.purpose).name, weight.weight)));
  line.push_back(plain("score"));
  for (const SweepAxis& axis : definition.axes) line.push_back(plain(axis_label(axis)));
  line.push_back(plain("point"));
  return line;
}

std::vector<HtmlCell> point_line(const RankedPoint& ranked, const Ranking& ranking, std::size_t number) {
  std::vector<HtmlCell> line{plain(std::to_string(number))};
  for (const Weight& weight : ranking.weights)
    line.push_back(plain(purpose_cell(weight.purpose, ranked.point.purposes)));
  line.push_back(plain(fmt::format("{:.3f}", ranked.score)));
  for (const double value : ranked.point.values) line.push_back(plain(fmt::format("{:.5g}", value)));
  line.push_back(plain(std::to_string(ranked.point.index)));
  return line;
}

std::string best_tables(const SweepDefinition& definition, const Ranking& ranking) {
  HtmlLines best{heading(definition, ranking)};
  for (const RankedPoint& point : ranking.best) best.push_back(point_line(point, ranking, best.size()));
  HtmlLines alone{{plain("purpose"), plain("best"), plain("at"), plain("point")}};
  for (const PurposeBest& one : ranking.purposes) {
    if (!one.point) continue;
    std::string at;
    for (std::size_t i = 0; i < definition.axes.size(); ++i)
      at += (i == 0 ? "" : ", ") + axis_value(definition.axes[i], one.point->values[i]);
    alone.push_back({plain(row_of(one.purpose).name), plain(purpose_cell(one.purpose, one.point->purposes)),
                     plain(at, "words"), plain(std::to_string(one.point->index))});
  }
  return html_table("The best by weights", best) +
         "<p>Score: shortfall from the best of the sweep over its spread, weighted; 0 is best in "
         "everything.</p>\n" +
         html_table("Best for each purpose alone", alone);
}

std::string undominated_table(const SweepDefinition& definition, const Ranking& ranking) {
  std::vector<RankedPoint> points = ranking.pareto;
  std::stable_sort(points.begin(), points.end(),
                   [](const RankedPoint& a, const RankedPoint& b) { return a.score > b.score; });
  HtmlLines lines{heading(definition, ranking)};
  for (std::size_t i = 0; i < std::min(points.size(), most_undominated_lines); ++i)
    lines.push_back(point_line(points[i], ranking, i + 1));
  return html_table(fmt::format("The first {} of {}", lines.size() - 1, points.size()), lines);
}

/// Purposes that an input can move; the price is a matter of parts.
std::vector<Purpose> moved_purposes(const Ranking& ranking) {
  std::vector<Purpose> purposes;
  for (const Weight& weight : ranking.weights)
    if (weight.purpose != Purpose::price) purposes.push_back(weight.purpose);
  return purposes;
}

void collect(std::vector<double>& values, const PurposeValues& from, Purpose purpose) {
  if (const auto& value = from[static_cast<std::size_t>(purpose)]) values.push_back(*value);
}

HtmlCell dot_cell(Purpose purpose, const PurposeValues& values, const std::vector<double>& all,
                  const std::optional<double>& line) {
  const auto& value = values[static_cast<std::size_t>(purpose)];
  if (!value) return plain("not reached");
  return range_cell(escaped(purpose_cell(purpose, values)), scale_of(all), {}, line, value);
}

std::string level_text(const AxisLevel& level) {
  return level.low == level.high ? fmt::format("{:.5g}", level.low)
                                 : fmt::format("{:.4g} to {:.4g}", level.low, level.high);
}

std::string effect_tables(const SweepDefinition& definition, const Ranking& ranking,
                          const SweepOverview& overview) {
  const std::vector<Purpose> purposes = moved_purposes(ranking);
  std::vector<std::vector<double>> all(purposes.size());
  for (const auto& axis : overview.levels)
    for (const AxisLevel& level : axis)
      for (std::size_t k = 0; k < purposes.size(); ++k) collect(all[k], level.mean, purposes[k]);
  std::string out;
  for (std::size_t i = 0; i < definition.axes.size(); ++i) {
    HtmlLines lines{{plain(axis_label(definition.axes[i]))}};
    for (const Purpose purpose : purposes) lines[0].push_back(plain(row_of(purpose).name));
    lines[0].push_back(plain("points"));
    for (const AxisLevel& level : overview.levels[i]) {
      auto& line = lines.emplace_back(1, plain(level_text(level)));
      for (std::size_t k = 0; k < purposes.size(); ++k)
        line.push_back(dot_cell(purposes[k], level.mean, all[k], std::nullopt));
      line.push_back(plain(std::to_string(level.points)));
    }
    out += html_table(definition.axes[i].key->name + ": mean over all points with this value", lines);
  }
  return "<p>All dots of a purpose share one scale: the further a column wanders, the more its input "
         "matters.</p>\n" +
         out;
}

std::string ends_table(const SweepDefinition& definition, const Ranking& ranking,
                       const Sensitivity& sensitivity) {
  HtmlLines lines{{plain("")}, {plain("as it is")}};
  const std::vector<Purpose> purposes = moved_purposes(ranking);
  std::vector<std::vector<double>> all(purposes.size());
  for (std::size_t k = 0; k < purposes.size(); ++k) {
    lines[0].push_back(plain(row_of(purposes[k]).name));
    lines[1].push_back(plain(purpose_cell(purposes[k], sensitivity.as_it_is)));
    collect(all[k], sensitivity.as_it_is, purposes[k]);
    for (const EndsOfAxis& ends : sensitivity.ends)
      for (const PurposeValues* end : {&ends.at_low, &ends.at_high}) collect(all[k], *end, purposes[k]);
  }
  for (std::size_t axis = 0; axis < definition.axes.size(); ++axis) {
    const EndsOfAxis& ends = sensitivity.ends[axis];
    for (const bool low : {true, false}) {
      auto& line =
          lines.emplace_back(1, plain(axis_value(definition.axes[axis], low ? ends.low : ends.high)));
      for (std::size_t k = 0; k < purposes.size(); ++k)
        line.push_back(dot_cell(purposes[k], low ? ends.at_low : ends.at_high, all[k],
                                sensitivity.as_it_is[static_cast<std::size_t>(purposes[k])]));
    }
  }
  return html_table("One input at a time; the upright line is the craft as it is", lines);
}

std::string indices_table(const SweepDefinition& definition, const Ranking& ranking,
                          const Sensitivity& sensitivity) {
  HtmlLines lines{{plain("")}};
  for (const Purpose purpose : moved_purposes(ranking)) lines[0].push_back(plain(row_of(purpose).name));
  for (std::size_t axis = 0; axis < definition.axes.size(); ++axis) {
    auto& line = lines.emplace_back(1, plain(definition.axes[axis].key->name));
    for (const Purpose purpose : moved_purposes(ranking)) {
      const auto& found = sensitivity.indices[static_cast<std::size_t>(purpose)];
      if (!found) {
        line.push_back(plain("does not vary"));
        continue;
      }
      const double alone = found->first[axis], total = found->total[axis];
      line.push_back(
          range_cell(fmt::format("{:.0f} % alone, {:.0f} % with others", 100.0 * alone, 100.0 * total),
                     {0.0, 1.0}, {{0.0, total, false}, {0.0, std::max(alone, 0.0), true}}));
    }
  }
  return html_table(
      fmt::format(
          "Share of the variance (Sobol indices from {} base points); full bar: alone, outline: with others",
          sensitivity.samples),
      lines);
}

std::string summary(const SweepDefinition& definition, const Ranking& ranking) {
  std::string out = "<p class=\"name\"><b>" + escaped(definition.title) + "</b><br>" +
                    fmt::format("{} points", ranking.points);
  if (ranking.ranked < ranking.points)
    out += fmt::format(", {} of them without a result that counts", ranking.points - ranking.ranked);
  return out + "</p>\n";
}

}  // namespace

std::string sweep_page(const SweepDefinition& definition, const Ranking& ranking,
                       const SweepOverview& overview, const std::optional<Sensitivity>& sensitivity) {
  Page page{definition.title,
            "Which setup for which purpose",
            summary(definition, ranking),
            {},
            {{"", definition.scenario_hash, definition.title, std::nullopt}}};
  page.sections = {
      {"best", "Best", "The best", best_tables(definition, ranking)},
      {"trade", "Trade-off", "What one purpose costs another", scatters(overview, ranking)},
      {"effects", "Effects", "What each input does", effect_tables(definition, ranking, overview)}};
  if (sensitivity)
    page.sections.push_back(
        {"matters", "Matters", "Which input matters",
         ends_table(definition, ranking, *sensitivity) + indices_table(definition, ranking, *sensitivity)});
  page.sections.push_back({"undominated", "Undominated",
                           "Points that no other beats in one purpose without losing in another",
                           undominated_table(definition, ranking)});
  return page_html(page);
}

}  // namespace bowrise
