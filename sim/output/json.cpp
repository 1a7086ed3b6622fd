#include "sim/output/json.hpp"

#include "models/constants.hpp"
#include "sim/key_text.hpp"
#include "sim/keys.hpp"
#include "sim/output/cautions.hpp"
#include "sim/output/json_value.hpp"
#include "sim/scenario/write.hpp"

namespace bowrise {
namespace {

Json optional_scaled(const std::optional<double>& value, double factor) {
  return value ? number(*value * factor) : Json(nullptr);
}

constexpr double degrees_per_radian = 180.0 / pi;

Json marks_json(const Summary& summary) {
  Json marks = Json::array();
  for (const Mark& mark : summary.marks) {
    Json entry{{"name", mark.name}, {"time_s", number(mark.time_s)}};
    if (mark.time_s) {
      entry["speed_m_s"] = number(mark.speed_m_s);
      entry["distance_m"] = number(mark.distance_m);
    }
    marks.push_back(std::move(entry));
  }
  return marks;
}

Json top_speed_json(const Summary& s) {
  return {{"speed_m_s", number(s.top_speed_m_s)},
          {"shaft_rpm", optional_scaled(s.top_speed_shaft_speed_rad_s, rpm_per_rad_s)},
          {"trim_deg", optional_scaled(s.top_speed_trim_rad, degrees_per_radian)},
          {"thrust_N", number(s.top_speed_thrust_N)},
          {"shaft_power_W", number(s.top_speed_power_W)},
          {"inlet_velocity_ratio", number(s.top_speed_inlet_velocity_ratio)},
          {"jet_velocity_ratio", number(s.top_speed_jet_ratio)},
          {"nozzle_velocity_ratio", number(s.top_speed_nozzle_ratio)},
          {"propulsive_efficiency", number(s.top_speed_propulsive_efficiency)},
          {"still_accelerating", s.still_accelerating}};
}

Json launch_json(const Summary& s) {
  return {{"peak_shaft_rpm", number(s.launch_peak_shaft_speed_rad_s * rpm_per_rad_s)},
          {"peak_shaft_rpm_time_s", number(s.launch_peak_s)},
          {"first_cavitation_s", number(s.first_cavitation_s)},
          {"hook_up_s", number(s.hook_up_s)},
          {"hook_up_speed_m_s", number(s.hook_up_speed_m_s)},
          {"cavitating_time_s", number(s.cavitating_s)},
          {"hump_s", number(s.hump_s)},
          {"hump_speed_m_s", number(s.hump_speed_m_s)},
          {"hump_trim_deg", optional_scaled(s.hump_trim_rad, degrees_per_radian)},
          {"peak_acceleration_m_s2", number(s.peak_acceleration_m_s2)},
          {"peak_thrust_N", number(s.peak_thrust_N)},
          {"wear_index_s", number(s.wear.erosion_index_s)},
          {"grit_index_s", number(s.wear.grit_index_s)},
          {"clearance_growth_m", number(s.clearance_growth_m)}};
}

Json coast_json(const Summary& summary) {
  if (!summary.coast_down) return nullptr;
  const CoastDown& coast = *summary.coast_down;
  return {{"from_speed_m_s", number(coast.from_speed_m_s)},
          {"distance_m", number(coast.distance_m)},
          {"time_s", number(coast.time_s)}};
}

Json flags_json(const Summary& summary) {
  Json flags = Json::array();
  for (const FlagTime& raised : summary.flags) {
    const FlagText& text = flag_texts[static_cast<std::size_t>(raised.flag)];
    flags.push_back({{"name", text.name},
                     {"time_s", number(raised.time_s)},
                     {"meaning", text.meaning},
                     {"remedy", text.remedy}});
  }
  return flags;
}

Json events_json(const Launch& launch) {
  Json events = Json::array();
  for (const Event& event : launch.events) {
    const EventRow& row = launch.event_rows[event.row];
    events.push_back({{"time_s", number(event.time_s)},
                      {"name", row.name},
                      {"rising", event.rising},
                      {"speed_m_s", number(event.state.speed_m_s)}});
  }
  return events;
}

Json counters_json(const IntegrationCounters& counters) {
  return {{"steps", counters.steps},
          {"rejected_steps", counters.rejected_steps},
          {"rhs_calls", counters.rhs_calls},
          {"jacobians", counters.jacobians},
          {"guard_probes", counters.guard_probes},
          {"rows", counters.rows}};
}

Json inputs_json(const Scenario& scenario) {
  Json inputs = Json::object();
  for (const Key& key : all_keys()) {
    const auto origin = scenario.origin.find(key.name);
    if (origin == scenario.origin.end()) continue;
    const bool given = has_value(scenario.setup, key);
    inputs[key.name] = {{"value", given ? Json(text_of(scenario.setup, key)) : Json(nullptr)},
                        {"origin", to_string(origin->second)}};
  }
  return inputs;
}

Json bands_json(const std::optional<Bands>& bands) {
  if (!bands) return nullptr;
  Json results = Json::object();
  for (std::size_t i = 0; i < result_rows().size(); ++i)
    results[std::string(result_rows()[i].name)] = {{"unit", result_rows()[i].unit},
                                                   {"band", band_json(bands->results[i])}};
  return {{"draws", bands->draws}, {"failed", bands->failed}, {"seed", bands->seed}, {"results", results}};
}

std::string_view end_word(LaunchEnd end) {
  switch (end) {
    case LaunchEnd::top_speed:
      return "top speed reached";
    case LaunchEnd::duration:
      return "duration reached";
    case LaunchEnd::engine_stalled:
      return "engine stalled";
    case LaunchEnd::at_rest:
      return "at rest";
    case LaunchEnd::failed:
      break;
  }
  return "failed";
}

}  // namespace

std::string summary_json(const Scenario& scenario, const Craft& craft, const Launch& launch,
                         const Summary& summary, const RunStudies& studies) {
  Json warnings = summary.warnings;
  for (const Complaint& complaint : scenario.warnings) warnings.push_back(to_string(complaint));
  const Json out{{"program", "bowrise"},
                 {"version", version()},
                 {"scenario", scenario.files.front()},
                 {"scenario_hash", scenario_hash(scenario)},
                 {"title", scenario.title},
                 {"note", scenario.note},
                 {"end",
                  {{"reason", end_word(launch.end)},
                   {"time_s", number(summary.end_time_s)},
                   {"speed_m_s", number(summary.end_speed_m_s)},
                   {"distance_m", number(summary.distance_m)}}},
                 {"marks", marks_json(summary)},
                 {"top_speed", top_speed_json(summary)},
                 {"launch", launch_json(summary)},
                 {"coast_down", coast_json(summary)},
                 {"limited_by_s", limits_json(summary.limited_s)},
                 {"limit_costs", limit_costs_json(studies.costs)},
                 {"bands", bands_json(studies.bands)},
                 {"flags", flags_json(summary)},
                 {"warnings", warnings},
                 {"events", events_json(launch)},
                 {"shaft_inertia_kg_m2", number(craft.engine->inertia_kg_m2)},
                 {"mass_kg", number(craft.mass_kg)},
                 {"counters", counters_json(launch.counters)},
                 {"inputs", inputs_json(scenario)},
                 {"cautions", cautions_json()}};
  return out.dump(2) + "\n";
}

std::string setup_json(const Scenario& scenario) {
  return Json{{"title", scenario.title},
              {"note", scenario.note},
              {"scenario_hash", scenario_hash(scenario)},
              {"inputs", inputs_json(scenario)}}
             .dump(2) +
         "\n";
}

std::string curve_json(const CurveTable& table) {
  Json rows = Json::array();
  for (const auto& row : table.rows) {
    Json entry = Json::object();
    for (std::size_t i = 0; i < row.size(); ++i) {
      const std::string name(table.columns[i]);
      if (const auto* value = std::get_if<double>(&row[i]))
        entry[name] = number(*value);
      else
        entry[name] = std::get<std::string>(row[i]);
    }
    rows.push_back(std::move(entry));
  }
  return Json{{"rows", rows}, {"missing", table.missing}}.dump(2) + "\n";
}

std::string parameters_json() {
  Json out = Json::array();
  for (const Key& key : all_keys()) {
    Json entry{{"key", key.name}, {"meaning", key.meaning}, {"source", key.source}};
    if (key.kind == KeyKind::number) {
      entry["unit"] = key.unit->name;
      entry["preset"] = key.preset.kind == Preset::Kind::value      ? Json(key.preset.value)
                        : key.preset.kind == Preset::Kind::required ? Json("required")
                                                                    : Json("derived");
      entry["possible"] = {key.possible.low, key.possible.high};
      entry["usual"] = {key.usual.low, key.usual.high};
      if (key.spread.shape == Shape::setting)
        entry["factor_by_log"] = {key.spread.low, key.spread.high};
      else if (key.spread.shape != Shape::none)
        entry["spread"] = {key.spread.low, key.spread.high};
    }
    if (key.kind == KeyKind::choice) {
      entry["words"] = std::vector<std::string_view>(key.words.begin(), key.words.end());
      entry["preset"] = key.words[static_cast<std::size_t>(key.preset_word)];
    }
    if (key.kind == KeyKind::table)
      for (const KeyColumn& column : key.columns)
        entry["columns"].push_back({{"name", column.name}, {"unit", column.unit->name}});
    out.push_back(std::move(entry));
  }
  return out.dump(2) + "\n";
}

std::string report_json(const std::string& file, std::size_t bytes, const std::vector<Scenario>& scenarios) {
  Json setups = Json::array();
  for (const Scenario& scenario : scenarios)
    setups.push_back({{"scenario", scenario.files.front()},
                      {"title", scenario.title},
                      {"scenario_hash", scenario_hash(scenario)}});
  return Json{{"file", file}, {"bytes", bytes}, {"setups", setups}}.dump(2) + "\n";
}

std::string_view version() { return BOWRISE_VERSION; }

}  // namespace bowrise
