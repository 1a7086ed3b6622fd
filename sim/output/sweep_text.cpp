#include "sim/output/sweep_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "sim/output/study_words.hpp"
#include "sim/output/sweep_words.hpp"

namespace bowrise {
namespace {

using Lines = std::vector<std::vector<std::string>>;

std::vector<std::string> heading(const SweepDefinition& definition, const Ranking& ranking,
                                 const std::string& first) {
  std::vector<std::string> line{first};
  for (const SweepAxis& axis : definition.axes) line.push_back(axis_label(axis));
  for (const Weight& weight : ranking.weights) line.emplace_back(row_of(weight.purpose).name);
  line.emplace_back("score");
  return line;
}

std::vector<std::string> point_line(const RankedPoint& ranked, const Ranking& ranking,
                                    const std::string& first) {
  std::vector<std::string> line{first};
  for (const double value : ranked.point.values) line.push_back(fmt::format("{:.5g}", value));
  for (const Weight& weight : ranking.weights)
    line.push_back(purpose_cell(weight.purpose, ranked.point.purposes));
  line.push_back(fmt::format("{:.3f}", ranked.score));
  return line;
}

std::string best_for_text(const SweepDefinition& definition, const Ranking& ranking) {
  Lines lines;
  for (const PurposeBest& best : ranking.purposes) {
    if (!best.point) continue;
    std::string at;
    for (std::size_t i = 0; i < definition.axes.size(); ++i)
      at += (i == 0 ? "" : ", ") + axis_value(definition.axes[i], best.point->values[i]);
    lines.push_back({std::string(row_of(best.purpose).name), purpose_cell(best.purpose, best.point->purposes),
                     fmt::format("point {}", best.point->index), at});
  }
  return "best for each purpose alone\n" + aligned(lines);
}

std::string ranking_text(const SweepDefinition& definition, const Ranking& ranking) {
  std::string weights;
  for (const Weight& weight : ranking.weights)
    weights +=
        fmt::format("{}{} {:.3g}", weights.empty() ? "" : ", ", row_of(weight.purpose).name, weight.weight);
  Lines lines{heading(definition, ranking, "point")};
  for (const RankedPoint& ranked : ranking.best)
    lines.push_back(point_line(ranked, ranking, std::to_string(ranked.point.index)));
  return fmt::format(
             "the best by weights {}\n  (score: shortfall from the best of the sweep over its spread, "
             "weighted; "
             "0 is best in everything)\n",
             weights) +
         aligned(lines);
}

std::string pareto_text(const SweepDefinition& definition, const Ranking& ranking) {
  constexpr std::size_t most_lines = 20;
  std::vector<RankedPoint> points = ranking.pareto;
  std::stable_sort(points.begin(), points.end(),
                   [](const RankedPoint& a, const RankedPoint& b) { return a.score > b.score; });
  Lines lines{heading(definition, ranking, "point")};
  for (std::size_t i = 0; i < std::min(points.size(), most_lines); ++i)
    lines.push_back(point_line(points[i], ranking, std::to_string(points[i].point.index)));
  std::string text =
      fmt::format("{} points that no other beats in one purpose without losing in another\n", points.size()) +
      aligned(lines);
  if (points.size() > most_lines) text += fmt::format("  and {} more\n", points.size() - most_lines);
  return text;
}

std::string ends_text(const SweepDefinition& definition, const Ranking& ranking,
                      const Sensitivity& sensitivity) {
  Lines lines{{"one input at a time"}, {"as it is"}};
  for (const Weight& weight : ranking.weights) {
    if (weight.purpose == Purpose::price) continue;
    lines[0].emplace_back(row_of(weight.purpose).name);
    lines[1].push_back(purpose_cell(weight.purpose, sensitivity.as_it_is));
  }
  for (std::size_t axis = 0; axis < definition.axes.size(); ++axis) {
    const EndsOfAxis& ends = sensitivity.ends[axis];
    for (const bool low : {true, false}) {
      auto& line = lines.emplace_back(1, axis_value(definition.axes[axis], low ? ends.low : ends.high));
      for (const Weight& weight : ranking.weights)
        if (weight.purpose != Purpose::price)
          line.push_back(purpose_cell(weight.purpose, low ? ends.at_low : ends.at_high));
    }
  }
  return aligned(lines);
}

std::string indices_text(const SweepDefinition& definition, const Ranking& ranking,
                         const Sensitivity& sensitivity) {
  Lines lines{{"share of the variance"}};
  for (const Weight& weight : ranking.weights)
    if (weight.purpose != Purpose::price) lines[0].emplace_back(row_of(weight.purpose).name);
  for (std::size_t axis = 0; axis < definition.axes.size(); ++axis) {
    auto& line = lines.emplace_back(1, definition.axes[axis].key->name);
    for (const Weight& weight : ranking.weights) {
      if (weight.purpose == Purpose::price) continue;
      const auto& found = sensitivity.indices[static_cast<std::size_t>(weight.purpose)];
      line.push_back(found ? fmt::format("{:.0f} % alone, {:.0f} % with others", 100.0 * found->first[axis],
                                         100.0 * found->total[axis])
                           : "does not vary");
    }
  }
  return fmt::format("  Sobol indices from {} base points\n", sensitivity.samples) + aligned(lines);
}

}  // namespace

std::string sweep_text(const SweepDefinition& definition, const Ranking& ranking,
                       const std::optional<Sensitivity>& sensitivity) {
  std::string text =
      fmt::format("{}: {} point{}", definition.title, ranking.points, ranking.points == 1 ? "" : "s");
  if (ranking.ranked < ranking.points)
    text += fmt::format(", {} of them without a result that counts", ranking.points - ranking.ranked);
  text += "\n\n";
  if (ranking.ranked > 0)
    text += best_for_text(definition, ranking) + "\n" + ranking_text(definition, ranking) + "\n" +
            pareto_text(definition, ranking);
  if (sensitivity)
    text += "\nwhich input matters\n" + ends_text(definition, ranking, *sensitivity) +
            indices_text(definition, ranking, *sensitivity);
  return text;
}

}  // namespace bowrise
