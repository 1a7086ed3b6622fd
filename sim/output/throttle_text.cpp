#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/output/study_text.hpp"
#include "sim/output/study_words.hpp"
#include "sim/study/compare.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

std::string cell(const std::optional<double>& value, int digits) {
  return value ? fmt::format("{:.{}f}", *value, digits) : "-";
}

std::string case_heading(const ThrottleCase& plans) {
  const std::string start =
      plans.rolling_speed_m_s > 0.0
          ? fmt::format("rolling at {:.1f} mph, {:.1f} km/h", in_unit(plans.rolling_speed_m_s, "mph"),
                        in_unit(plans.rolling_speed_m_s, "km/h"))
          : std::string("from rest");
  return fmt::format("ring gap {:.2f} mm ({:.0f} thousandths of an inch), {}\n", 1e3 * plans.clearance_m,
                     1e3 * in_unit(plans.clearance_m, "in"), start);
}

std::string table(const ThrottleCase& plans) {
  std::vector<std::vector<std::string>> lines{
      {"", "0-30 mph s", "60 ft s", "100 m s", "wear index", "peak rpm", "cavitating s", "worst 0-30 s"}};
  for (const PlanResult& plan : plans.plans) {
    if (plan.outcome.failed()) {
      lines.push_back({plan.name, "failed"});
      continue;
    }
    lines.push_back({plan.name, cell(plan.value("time_to_30_mph"), 2), cell(plan.value("time_to_60_ft"), 2),
                     cell(plan.value("time_to_100_m"), 2), cell(plan.value("wear_index"), 3),
                     cell(plan.value("launch_peak_rpm"), 0), cell(plan.value("cavitating_time"), 2),
                     cell(plan.worst_s(), 2)});
  }
  return aligned(lines);
}

std::string against_pinned(const PlanResult& plan, const PlanResult& pinned) {
  const auto time_s = plan.value("time_to_30_mph"), pinned_s = pinned.value("time_to_30_mph");
  if (&plan == &pinned) return "";
  if (!pinned_s) return "; pinned does not get there";
  if (std::abs(*time_s - *pinned_s) < 0.005) return "; as quick as pinned";
  return "; " + directed(result_rows()[result_index("time_to_30_mph")], *time_s - *pinned_s) + " than pinned";
}

std::string runs_text(const std::optional<std::size_t>& runs_each) {
  if (!runs_each || *runs_each > sensible_runs) return ", no difference you could measure";
  return fmt::format(", {} runs each would show it", *runs_each);
}

std::string wear_text(const PlanResult& plan, const PlanResult& pinned) {
  const double wear = *plan.value("wear_index");
  const auto reference = pinned.value("wear_index");
  std::string text = fmt::format("wear index {:.3f}", wear);
  if (&plan != &pinned && reference && *reference > 0.0)
    text += fmt::format(", {:.0f} % less than pinned", 100.0 * (1.0 - wear / *reference));
  return text;
}

std::string worst_text(const PlanResult& plan) {
  const auto worst = plan.worst_s();
  return worst ? fmt::format("{:.2f} s", *worst) : "no 30 mph in time";
}

/// "1.00 at once, 0.85 by 0.32 s, ..."
std::string lever_text(const TableRows& rows) {
  std::string text;
  for (const auto& row : rows)
    text += text.empty() ? fmt::format("{:.2f} at once", row[1])
                         : fmt::format(", {:.2f} by {:.2f} s", row[1], row[0]);
  return text;
}

std::string advice_text(const ThrottleCase& plans) {
  const auto advice = advice_on(plans);
  if (!advice) return "  no plan reaches 30 mph\n";
  const auto& all = plans.plans;
  const PlanResult &pinned = all.front(), &quickest = all[advice->quickest],
                   &gentlest = all[advice->gentlest], &compromise = all[advice->compromise];
  std::string text = fmt::format("  quickest: {}, {:.2f} s{}{}\n", quickest.name,
                                 *quickest.value("time_to_30_mph"), against_pinned(quickest, pinned),
                                 &quickest == &pinned ? std::string() : runs_text(advice->runs_each));
  text += fmt::format("  spares the pump most: {}, {}{}\n", gentlest.name, wear_text(gentlest, pinned),
                      against_pinned(gentlest, pinned));
  if (&compromise != &gentlest)
    text += fmt::format("  least wear among those not measurably slower than pinned: {}, {}{}\n",
                        compromise.name, wear_text(compromise, pinned), against_pinned(compromise, pinned));
  text += fmt::format(
      "  with a hand {:g} s or a lever {:.0f} % off: {} {} at worst, pinned {}; best then: {}, {}\n",
      rider_timing_error_s, 100.0 * rider_lever_error, quickest.name, worst_text(quickest),
      worst_text(pinned), all[advice->steadiest].name, worst_text(all[advice->steadiest]));
  return text + "  optimised lever: " + lever_text(all.back().throttle.table) + "\n";
}

}  // namespace

std::string throttle_text(const std::vector<ThrottleCase>& cases) {
  std::string text;
  for (const ThrottleCase& plans : cases) {
    text += case_heading(plans);
    text += plans.failure.empty() ? table(plans) + "\n" + advice_text(plans) : "  " + plans.failure + "\n";
    text += '\n';
  }
  return text +
         "worst: as meant, and with the hand early or late after the first move, or the lever too little or\n"
         "too far open; full is a stop, which nobody misses. A plan that sees is late by that much, and "
         "only\n"
         "the rider's reaction can be early.\n";
}

}  // namespace bowrise
