#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <system_error>

#include "sim/output/json_value.hpp"
#include "sim/output/stored_result.hpp"

namespace bowrise {
namespace {

constexpr double same_within = 1e-4;  // what marks of the preset tolerance hold

std::optional<double> optional_number(const Json& value) {
  if (value.is_null()) return std::nullopt;
  return value.get<double>();
}

StoredResult stored_result(const Json& summary) {
  StoredResult stored;
  if (summary.at("program") != "bowrise") throw std::runtime_error("another program's");
  stored.version = summary.at("version").get<std::string>();
  stored.scenario_hash = summary.at("scenario_hash").get<std::string>();
  for (const Json& mark : summary.at("marks"))
    stored.marks.push_back({mark.at("name").get<std::string>(), optional_number(mark.at("time_s"))});
  stored.top_speed_m_s = optional_number(summary.at("top_speed").at("speed_m_s"));
  return stored;
}

std::string shown(const std::optional<double>& value, const char* unit) {
  return value ? fmt::format("{:.5g} {}", *value, unit) : "not reached";
}

void note_change(std::vector<std::string>& changes, const std::string& name,
                 const std::optional<double>& then, const std::optional<double>& now, const char* unit) {
  const bool same = then && now ? std::abs(*then - *now) <= same_within * std::abs(*then)
                                : then.has_value() == now.has_value();
  if (!same) changes.push_back(fmt::format("{}: {} then, {} now", name, shown(then, unit), shown(now, unit)));
}

}  // namespace

std::variant<StoredResult, std::string> read_result(const std::filesystem::path& folder) {
  std::error_code ignored;
  for (const char* const name : {summary_file, setup_file})
    if (!std::filesystem::is_regular_file(folder / name, ignored))
      return folder.string() + ": no result of bowrise run --out: holds no " + name;
  std::ifstream file(folder / summary_file, std::ios::binary);
  try {
    return stored_result(Json::parse(file));
  } catch (const std::exception&) {  // not JSON, or not ours
    return (folder / summary_file).string() + ": not a summary that bowrise run wrote";
  }
}

std::vector<std::string> changes_since(const StoredResult& stored, const Summary& today) {
  std::vector<std::string> changes;
  for (const StoredMark& then : stored.marks) {
    const auto now = std::find_if(today.marks.begin(), today.marks.end(),
                                  [&](const Mark& mark) { return then.name == mark.name; });
    if (now != today.marks.end()) note_change(changes, then.name, then.time_s, now->time_s, "s");
  }
  note_change(changes, "top speed", stored.top_speed_m_s, today.top_speed_m_s, "m/s");
  return changes;
}

}  // namespace bowrise
