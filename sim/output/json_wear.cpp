#include "sim/output/json.hpp"
#include "sim/output/json_study.hpp"
#include "sim/output/json_value.hpp"

namespace bowrise {
namespace {

Json point_json(const WearPoint& point) {
  return {{"launches", number(point.launches)},
          {"clearance_m", number(point.state.clearance_m)},
          {"edge_loss_m", number(point.state.edge_loss_m)},
          {"growth_per_launch_m", number(point.growth_per_launch_m)},
          {"results", results_json(point.outcome)}};
}

Json life_json(const WearLife& life) {
  Json points = Json::array();
  for (const WearPoint& point : life.points) points.push_back(point_json(point));
  return {{"name", life.name},
          {"launches_until",
           {{"slower", number(life.limits.slower)},
            {"slower_band", band_json(life.slower_band)},
            {"amber", number(life.limits.amber)},
            {"red", number(life.limits.red)},
            {"red_band", band_json(life.red_band)},
            {"doubled", number(life.limits.doubled)}}},
          {"feeds_back", life.feeds_back},
          {"ended_early", life.failure},
          {"points", points}};
}

}  // namespace

std::string wear_json(const std::vector<WearLife>& lives, const WearOptions& options) {
  Json entries = Json::array();
  for (const WearLife& life : lives) entries.push_back(life_json(life));
  return Json{{"program", "bowrise"},
              {"version", version()},
              {"launches", number(options.launches)},
              {"slower_s", number(options.slower_s)},
              {"draws", options.band.draws},
              {"lives", entries},
              {"cautions", cautions_json()}}
             .dump(2) +
         "\n";
}

}  // namespace bowrise
