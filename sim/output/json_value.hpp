// What the writers of JSON share; only they include it.
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>

#include "sim/output/cautions.hpp"
#include "sim/study/band.hpp"
#include "sim/study/limit_costs.hpp"

namespace bowrise {

using Json = nlohmann::ordered_json;

/// @throws std::runtime_error for a value that JSON cannot hold
[[nodiscard]] inline Json number(double value) {
  if (!std::isfinite(value)) throw std::runtime_error("a result is not finite");
  return value;
}

/// null where there is no value.
[[nodiscard]] inline Json number(const std::optional<double>& value) {
  return value ? number(*value) : Json(nullptr);
}

[[nodiscard]] inline Json band_json(const std::optional<Band>& band) {
  if (!band) return nullptr;
  return {{"low", number(band->low)},
          {"median", number(band->median)},
          {"high", number(band->high)},
          {"answered", band->answered},
          {"drawn", band->drawn}};
}

[[nodiscard]] inline Json limit_costs_json(const std::vector<LimitCost>& costs) {
  Json out = Json::object();
  for (const LimitCost& cost : costs)
    out[std::string(cost.name)] = {{"meaning", cost.meaning},
                                   {"time_to_30_mph_s", number(cost.time_to_30_mph_s)},
                                   {"time_to_60_mph_s", number(cost.time_to_60_mph_s)},
                                   {"time_to_100_m_s", number(cost.time_to_100_m_s)},
                                   {"top_speed_m_s", number(cost.top_speed_m_s)},
                                   {"top_rpm", number(cost.top_rpm)}};
  return out;
}

/// Every result under its name, in the unit of its row; null where the launch did not get there.
[[nodiscard]] inline Json results_json(const Outcome& outcome) {
  Json results = Json::object();
  for (std::size_t i = 0; i < result_rows().size(); ++i)
    results[std::string(result_rows()[i].name)] = number(outcome.values[i]);
  return results;
}

/// Seconds under each limit.
[[nodiscard]] inline Json limits_json(const std::array<double, limit_words.size()>& limited_s) {
  Json limits = Json::object();
  for (std::size_t i = 0; i < limit_words.size(); ++i)
    limits[std::string(limit_words[i])] = number(limited_s[i]);
  return limits;
}

[[nodiscard]] inline Json cautions_json() {
  return std::vector<std::string_view>(cautions.begin(), cautions.end());
}

}  // namespace bowrise
