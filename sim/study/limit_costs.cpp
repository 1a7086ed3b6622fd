#include "sim/study/limit_costs.hpp"

#include <array>
#include <string>

#include "sim/study/executor.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {
namespace {

// So little suction head is asked for that it never runs out; not nil, since onset stays above breakdown.
constexpr double next_to_nothing = 1e-6;

bool lift_cavitation(Setup& setup) {
  Cavitation& cavitation = setup.cavitation;
  cavitation.inlet_factor = cavitation.blade_factor = next_to_nothing;
  cavitation.incidence_slope_per_deg = cavitation.edge_slope_per_m = 0.0;
  cavitation.breakdown_inlet_factor = cavitation.breakdown_factor = 0.0;
  constexpr std::size_t npsh_column = 3;
  for (auto& row : setup.pump.curve) row[npsh_column] = next_to_nothing;
  return true;
}

bool lift_air(Setup& setup) {
  if (setup.intake.leak_area_m2 == 0.0 && setup.water.chop_height_m == 0.0) return false;
  setup.intake.leak_area_m2 = setup.water.chop_height_m = 0.0;
  return true;
}

bool fit_new_ring(Setup& setup) {
  if (setup.pump.clearance_m <= setup.pump.clearance_new_m) return false;
  setup.pump.clearance_m = setup.pump.clearance_new_m;
  return true;
}

bool add_power(Setup& setup) {
  setup.engine.power_factor *= 1.1;
  return true;
}

bool take_drag(Setup& setup) {
  setup.hull.drag_factor *= 0.9;
  return true;
}

struct Lifting {
  std::string_view name, meaning;
  bool (*lift)(Setup&);  ///< false: nothing to lift
};
constexpr std::array liftings{Lifting{"cavitation", "against a pump that cannot cavitate", lift_cavitation},
                              Lifting{"air", "against calm water and a tight intake", lift_air},
                              Lifting{"ring_gap", "against a new ring", fit_new_ring},
                              Lifting{"power", "against 10 % more power", add_power},
                              Lifting{"hull_drag", "against 10 % less drag of the hull", take_drag}};

}  // namespace

std::vector<LimitCost> limit_costs(const Setup& setup, const Outcome& as_it_is, unsigned threads) {
  std::vector<LimitCost> costs;
  std::vector<Setup> lifted;
  for (const Lifting& lifting : liftings) {
    Setup without = setup;
    if (!lifting.lift(without)) continue;
    lifted.push_back(std::move(without));
    costs.push_back({lifting.name, lifting.meaning, {}, {}, {}, {}, {}});
  }
  const Tables tables = tables_for(lifted, {}, threads);
  for_each_index(lifted.size(), threads, [&](std::size_t i) {
    const Outcome without = outcome_of(lifted[i], false, tables);
    const auto lost = [&](std::string_view result, double sign) -> std::optional<double> {
      const std::size_t index = result_index(result);
      if (!as_it_is.values[index] || !without.values[index]) return std::nullopt;
      return sign * (*as_it_is.values[index] - *without.values[index]);
    };
    LimitCost& cost = costs[i];
    cost.time_to_30_mph_s = lost("time_to_30_mph", 1.0);
    cost.time_to_60_mph_s = lost("time_to_60_mph", 1.0);
    cost.time_to_100_m_s = lost("time_to_100_m", 1.0);
    cost.top_speed_m_s = lost("top_speed", -1.0);
    cost.top_rpm = lost("top_rpm", -1.0);
  });
  return costs;
}

}  // namespace bowrise
