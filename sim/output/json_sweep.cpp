#include <algorithm>

#include "sim/output/json.hpp"
#include "sim/output/json_study.hpp"
#include "sim/output/json_value.hpp"

namespace bowrise {
namespace {

Json axes_json(const SweepDefinition& definition) {
  Json axes = Json::array();
  for (const SweepAxis& axis : definition.axes)
    axes.push_back({{"key", axis.key->name},
                    {"unit", axis.key->unit->name},
                    {"low", number(axis.low)},
                    {"high", number(axis.high)},
                    {"values", axis.is_range ? Json(nullptr) : Json(axis.values.size())},
                    {"price", number(axis.price)}});
  return axes;
}

Json purposes_json(const PurposeValues& values) {
  Json out = Json::object();
  for (std::size_t i = 0; i < purpose_count; ++i)
    out[std::string(purpose_rows()[i].name)] = number(values[i]);
  return out;
}

Json point_json(const SweepDefinition& definition, const SweepPoint& point) {
  Json inputs = Json::object();
  for (std::size_t i = 0; i < definition.axes.size(); ++i)
    inputs[definition.axes[i].key->name] = number(point.values[i]);
  return {{"index", point.index}, {"inputs", inputs}, {"purposes", purposes_json(point.purposes)}};
}

Json ranked_json(const SweepDefinition& definition, const std::vector<RankedPoint>& points) {
  Json out = Json::array();
  for (const RankedPoint& ranked : points) {
    Json entry = point_json(definition, ranked.point);
    entry["score"] = number(ranked.score);
    out.push_back(std::move(entry));
  }
  return out;
}

Json weights_json(const SweepDefinition& definition, const Ranking& ranking) {
  Json out = Json::object();
  for (std::size_t i = 0; i < ranking.weights.size(); ++i) {
    const PurposeRow& row = row_of(ranking.weights[i].purpose);
    const PurposeBest& best = ranking.purposes[i];
    out[std::string(row.name)] = {{"weight", number(ranking.weights[i].weight)},
                                  {"meaning", row.meaning},
                                  {"unit", row.unit},
                                  {"better", row.better == Better::high ? "high" : "low"},
                                  {"best", best.point ? point_json(definition, *best.point) : Json(nullptr)},
                                  {"spread", number(best.spread)}};
  }
  return out;
}

Json sensitivity_json(const SweepDefinition& definition, const Sensitivity& sensitivity) {
  Json axes = Json::array();
  for (std::size_t axis = 0; axis < definition.axes.size(); ++axis) {
    const EndsOfAxis& ends = sensitivity.ends[axis];
    Json indices = Json::object();
    for (std::size_t i = 0; i < purpose_count; ++i) {
      const auto& found = sensitivity.indices[i];
      if (!found) continue;
      indices[std::string(purpose_rows()[i].name)] = {{"first", number(found->first[axis])},
                                                      {"total", number(found->total[axis])},
                                                      {"used", found->used}};
    }
    axes.push_back({{"key", definition.axes[axis].key->name},
                    {"low", number(ends.low)},
                    {"high", number(ends.high)},
                    {"at_low", purposes_json(ends.at_low)},
                    {"at_high", purposes_json(ends.at_high)},
                    {"indices", indices}});
  }
  return {
      {"samples", sensitivity.samples}, {"as_it_is", purposes_json(sensitivity.as_it_is)}, {"axes", axes}};
}

}  // namespace

std::string sweep_json(const SweepDefinition& definition, const Ranking& ranking,
                       const std::optional<Sensitivity>& sensitivity) {
  return Json{{"program", "bowrise"},
              {"version", version()},
              {"scenario_hash", definition.scenario_hash},
              {"title", definition.title},
              {"axes", axes_json(definition)},
              {"samples", definition.samples},
              {"seed", definition.seed},
              {"points", ranking.points},
              {"ranked", ranking.ranked},
              {"purposes", weights_json(definition, ranking)},
              {"best", ranked_json(definition, ranking.best)},
              {"pareto", ranked_json(definition, ranking.pareto)},
              {"sensitivity", sensitivity ? sensitivity_json(definition, *sensitivity) : Json(nullptr)},
              {"cautions", cautions_json()}}
             .dump(2) +
         "\n";
}

}  // namespace bowrise
