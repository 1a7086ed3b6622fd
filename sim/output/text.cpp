#include "sim/output/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "sim/keys.hpp"
#include "sim/output/cautions.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

std::string both_speeds(double speed_m_s) {
  return fmt::format("{:.1f} mph, {:.1f} km/h", in_unit(speed_m_s, "mph"), in_unit(speed_m_s, "km/h"));
}

int whole_rpm(double speed_rad_s) { return static_cast<int>(std::lround(in_unit(speed_rad_s, "rpm"))); }

std::string mark_line(const Mark& mark) {
  const std::string name = (mark.is_speed ? "0 to " : "first ") + mark.name;
  if (!mark.time_s) return fmt::format("  {:<18} not reached\n", name);
  const std::string there = mark.is_speed ? fmt::format("after {:.1f} m, {:.0f} ft", mark.distance_m,
                                                        in_unit(mark.distance_m, "ft"))
                                          : "at " + both_speeds(mark.speed_m_s);
  return fmt::format("  {:<18} {:6.2f} s   {}\n", name, *mark.time_s, there);
}

std::string top_speed_lines(const Summary& s) {
  if (!s.top_speed_m_s) return "  top speed          no steady speed found\n";
  return fmt::format("  top speed          {} at {} rpm{}\n", both_speeds(*s.top_speed_m_s),
                     whole_rpm(*s.top_speed_shaft_speed_rad_s),
                     s.still_accelerating ? " (not reached within the run)" : "") +
         fmt::format(
             "                     shaft {:.0f} kW ({:.0f} hp), trim {:.1f} deg, jet {:.2f} x craft speed, "
             "inlet velocity ratio {:.2f}\n",
             *s.top_speed_power_W / 1000.0, in_unit(*s.top_speed_power_W, "hp"),
             *s.top_speed_trim_rad / radians_per_degree, *s.top_speed_jet_ratio,
             *s.top_speed_inlet_velocity_ratio);
}

std::string launch_lines(const Summary& s) {
  std::string text = fmt::format("  launch peak        {} rpm at {:.2f} s; {:.2f} g\n",
                                 whole_rpm(s.launch_peak_shaft_speed_rad_s), s.launch_peak_s,
                                 s.peak_acceleration_m_s2 / gravity_m_s2);
  if (s.first_cavitation_s || s.cavitating_s > 0.0) {
    text += fmt::format("  cavitation         from {:.2f} s, {:.2f} s in all; ",
                        s.first_cavitation_s.value_or(0.0), s.cavitating_s);
    text += s.hook_up_s
                ? fmt::format("hooked up at {:.2f} s, {}\n", *s.hook_up_s, both_speeds(*s.hook_up_speed_m_s))
                : "never hooked up\n";
  } else {
    text += "  cavitation         none\n";
  }
  if (s.hump_s)
    text += fmt::format("  hump               {:.2f} s, {}, trim {:.1f} deg\n", *s.hump_s,
                        both_speeds(*s.hump_speed_m_s), *s.hump_trim_rad / radians_per_degree);
  return text;
}

std::string coast_line(const Summary& s) {
  if (!s.coast_down) return "";
  return fmt::format(
      "  coast-down         {:.0f} m, {:.0f} ft to walking pace from {} in {:.1f} s, engine stopped\n",
      s.coast_down->distance_m, in_unit(s.coast_down->distance_m, "ft"),
      both_speeds(s.coast_down->from_speed_m_s), s.coast_down->time_s);
}

std::string limit_line(const Summary& s) {
  std::string text = "  limited by         ";
  bool first = true;
  for (std::size_t i = 0; i < limit_words.size(); ++i) {
    if (s.limited_s[i] < 0.005) continue;
    text += fmt::format("{}{} {:.2f} s", first ? "" : ", ", limit_words[i], s.limited_s[i]);
    first = false;
  }
  return text + "\n";
}

std::string preset_text(const Key& key) {
  if (key.preset.kind == Preset::Kind::required) return "required";
  if (key.preset.kind == Preset::Kind::derived) return "derived";
  return shortest(key.preset.value);
}

std::string spread_text(const Spread& spread) {
  const std::string range = shortest(spread.low) + " to " + shortest(spread.high);
  switch (spread.shape) {
    case Shape::uniform:
    case Shape::log_uniform:
      return ", uncertain " + range;
    case Shape::setting:
      return ", " + range + " times that by a log with rpm";
    case Shape::none:
      break;
  }
  return "";
}

std::string key_lines(const Key& key) {
  switch (key.kind) {
    case KeyKind::number:
      return fmt::format("{}  [{}]  preset {}, possible {} to {}, usual {} to {}{}\n    {}\n    source: {}\n",
                         key.name, key.unit->name, preset_text(key), shortest(key.possible.low),
                         shortest(key.possible.high), shortest(key.usual.low), shortest(key.usual.high),
                         spread_text(key.spread), key.meaning, key.source);
    case KeyKind::choice:
      return fmt::format("{}  one of {}, preset {}\n    {}\n    source: {}\n", key.name,
                         fmt::join(key.words, ", "), key.words[static_cast<std::size_t>(key.preset_word)],
                         key.meaning, key.source);
    case KeyKind::table:
      break;
  }
  std::string columns;
  for (const KeyColumn& column : key.columns)
    columns += fmt::format("{}{} [{}]", columns.empty() ? "" : ", ", column.name, column.unit->name);
  return fmt::format("{}  table of {} to {} rows: {}\n    {}\n    source: {}\n", key.name, key.least_rows,
                     key.most_rows, columns, key.meaning, key.source);
}

std::string short_cell_text(const Cell& cell) {
  if (const auto* number = std::get_if<double>(&cell)) return fmt::format("{:.5g}", *number);
  return std::get<std::string>(cell);
}

}  // namespace

std::string name_of(const Scenario& scenario) {
  return scenario.title.empty() ? scenario.files.front() : scenario.title;
}

std::string run_text(const Scenario& scenario, const Craft& craft, const Launch& launch,
                     const Summary& summary) {
  const Setup& setup = scenario.setup;
  std::string text = scenario.title.empty() ? scenario.files.front() + "\n" : scenario.title + "\n";
  text += fmt::format(
      "  {:.0f} kg afloat, {:.0f} hp rated, nozzle {:.1f} mm, ring gap {:.2f} mm ({:.1f} thousandths of an "
      "inch)\n\n",
      craft.mass_kg, in_unit(craft.engine->peak_power_W, "hp"), setup.nozzle.exit_diameter_m * 1e3,
      setup.pump.clearance_m * 1e3, in_unit(setup.pump.clearance_m, "thou"));
  for (const Mark& mark : summary.marks) text += mark_line(mark);
  text += top_speed_lines(summary) + launch_lines(summary) + coast_line(summary) + limit_line(summary);
  text += fmt::format("  computed in        {} steps, {} right-hand sides\n", launch.counters.steps,
                      launch.counters.rhs_calls);
  if (!summary.warnings.empty() || !scenario.warnings.empty()) text += "\n";
  for (const std::string& warning : summary.warnings) text += "  note: " + warning + "\n";
  for (const Complaint& complaint : scenario.warnings) text += "  note: " + to_string(complaint) + "\n";
  return text;
}

std::string cautions_text() {
  std::string text = "\n";
  for (const std::string_view caution : cautions) text += fmt::format("  {}\n", caution);
  return text;
}

std::string curve_text(const CurveTable& table) {
  std::vector<std::vector<std::string>> lines(1);
  for (const std::string_view name : table.columns) lines[0].emplace_back(name);
  for (const auto& row : table.rows) {
    auto& line = lines.emplace_back();
    for (const Cell& cell : row) line.push_back(short_cell_text(cell));
  }
  std::string text;
  for (const auto& line : lines) {
    for (std::size_t i = 0; i < line.size(); ++i) {
      std::size_t width = 0;
      for (const auto& other : lines) width = std::max(width, other[i].size());
      text += fmt::format("{}{:>{}}", i == 0 ? "" : "  ", line[i], width);
    }
    text += '\n';
  }
  return text;
}

std::string parameters_text() {
  std::string text;
  for (const Key& key : all_keys()) text += key_lines(key);
  return text;
}

}  // namespace bowrise
