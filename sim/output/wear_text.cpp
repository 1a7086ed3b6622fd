#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/output/study_text.hpp"
#include "sim/output/study_words.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

constexpr std::size_t lines_shown = 9;

std::string gap_text(double gap_m) {
  return fmt::format("{:.2f} ({:.1f})", in_unit(gap_m, "mm"), in_unit(gap_m, "thou"));
}

std::string plain(const WearPoint& point, std::string_view result, int digits, std::string_view unit = {}) {
  const auto& value = point.outcome.values[result_index(result)];
  if (!value) return "-";
  return fmt::format("{:.{}f}", unit.empty() ? *value : in_unit(*value, unit), digits);
}

/// About `lines_shown` points at even distances in launches, first and last among them.
std::vector<const WearPoint*> shown(const std::vector<WearPoint>& points) {
  std::vector<const WearPoint*> chosen;
  for (const WearPoint& point : points) {
    const double due = points.back().launches * static_cast<double>(chosen.size()) / (lines_shown - 1);
    if (point.launches >= due) chosen.push_back(&point);
  }
  if (!chosen.empty() && chosen.back() != &points.back()) chosen.push_back(&points.back());
  return chosen;
}

std::string points_text(const WearLife& life) {
  std::vector<std::vector<std::string>> lines{{"launches", "gap mm (thou)", "edge mm", "0-30 mph s",
                                               "top mph", "top rpm", "cavitating s", "0.001 mm a launch"}};
  for (const WearPoint* point : shown(life.points))
    lines.push_back({fmt::format("{:.0f}", point->launches), gap_text(point->state.clearance_m),
                     fmt::format("{:.2f}", in_unit(point->state.edge_loss_m, "mm")),
                     plain(*point, "time_to_30_mph", 2), plain(*point, "top_speed", 1, "mph"),
                     plain(*point, "top_rpm", 0), plain(*point, "cavitating_time", 2),
                     fmt::format("{:.2f}", point->growth_per_launch_m * 1e6)});
  return aligned(lines);
}

std::string limit_text(std::string_view what, const std::optional<double>& launches,
                       const std::optional<Band>& band, double studied) {
  std::string text = fmt::format("  {:<28} ", what);
  text += launches ? fmt::format("after {:.0f} launches", *launches)
                   : fmt::format("not within {:.0f} launches", studied);
  if (band)
    text += fmt::format(" ({:.0f} to {:.0f} in the {} of {} draws that get there)", band->low, band->high,
                        band->answered, band->drawn);
  return text + "\n";
}

std::string feedback_text(const WearLife& life) {
  const double first = life.points.front().growth_per_launch_m, last = life.points.back().growth_per_launch_m;
  if (first <= 0.0) return "  this way of driving wears nothing that the law knows of\n";
  if (life.feeds_back)
    return fmt::format("  it feeds on itself: the last launch wears {:.1f} times as much as the first\n",
                       last / first);
  return "  it does not feed on itself: the last launch wears no more than the first\n";
}

std::string life_text(const WearLife& life, const WearOptions& options) {
  std::string text = "\n" + life.name + "\n";
  if (life.points.empty()) return text + "  no launch: " + life.failure + "\n";
  text += points_text(life);
  text += limit_text(fmt::format("{:.2g} s slower to 30 mph", options.slower_s), life.limits.slower,
                     life.slower_band, options.launches);
  text += limit_text("gap 0.5 mm, amber", life.limits.amber, std::nullopt, options.launches);
  text += limit_text("gap 1.0 mm, red", life.limits.red, life.red_band, options.launches);
  text += limit_text("gap doubled", life.limits.doubled, std::nullopt, options.launches);
  text += feedback_text(life);
  if (!life.failure.empty()) text += "  ended early: " + life.failure + "\n";
  return text;
}

/// Growth over the same number of launches, which every life has.
std::string ranking_text(const std::vector<WearLife>& lives) {
  if (lives.size() < 2 || lives.front().points.empty()) return "";
  std::string text = fmt::format("\nagainst {}, one launch as the pump is now\n", lives.front().name);
  const WearPoint& first = lives.front().points.front();
  for (std::size_t i = 1; i < lives.size(); ++i) {
    if (lives[i].points.empty()) continue;
    const WearPoint& other = lives[i].points.front();
    const double share = other.growth_per_launch_m / first.growth_per_launch_m;
    const std::size_t mark = result_index("time_to_30_mph");
    const auto &a = first.outcome.values[mark], &b = other.outcome.values[mark];
    text += fmt::format("  {}: wears {:.2f} of it", lives[i].name, share);
    text += a && b ? (*a == *b ? "" : ", " + directed(result_rows()[mark], *b - *a) + " to 30 mph")
                   : ", 30 mph not reached";
    text += "\n";
  }
  return text;
}

constexpr std::string_view advice =
    "\nMeasure the gap with a feeler blade some 30 cm long, engine off and lanyard out: at four places of "
    "the ring,\n"
    "on every blade at mid-chord; the worst counts. Amber from 0.5 mm, red from 1.0 mm, replace when doubled "
    "[common\n"
    "practice, no source; makers differ by a factor of two].\n"
    "What is guessed: the erosion coefficient (to a factor of three), the exponent of tip speed (5 to 7), "
    "what a gap\n"
    "does to breakdown, how edges wear with the ring. Ratios between ways of driving are better known than "
    "launches\n"
    "to a limit. Grit counts only if wear.grit says so; cruising after the launch is left out.\n";

}  // namespace

std::string wear_text(const std::vector<WearLife>& lives, const WearOptions& options) {
  std::string text = fmt::format("wear over {:.0f} launches\n", options.launches);
  for (const WearLife& life : lives) text += life_text(life, options);
  return text + ranking_text(lives) + std::string(advice);
}

}  // namespace bowrise
