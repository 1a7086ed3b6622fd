#include "models/wear.hpp"

#include <algorithm>
#include <cmath>

namespace bowrise {
namespace {

constexpr double seconds_per_hour = 3600.0;

}  // namespace

WearExposure exposure_rate(const Wear& wear, double head_lost, double tip_speed_m_s) noexcept {
  const double speed = tip_speed_m_s / wear.reference_speed_m_s;
  const bool erodes = tip_speed_m_s > wear.threshold_speed_m_s;
  return {.erosion_index_s = erodes ? head_lost * std::pow(speed, wear.velocity_exponent) : 0.0,
          .grit_index_s = speed * speed * speed};  // the cube: engineering judgement
}

double clearance_growth_m(const Wear& wear, const WearExposure& exposure) noexcept {
  return (wear.erosion_per_hour_m * exposure.erosion_index_s +
          wear.grit_per_hour_m * wear.grit_g_kg * exposure.grit_index_s) /
         seconds_per_hour;
}

WearState wear_after(const Wear& wear, const WearExposure& exposure, const WearState& before) noexcept {
  const double growth = clearance_growth_m(wear, exposure);
  // a gap given beyond the limit stays as it is: wear never closes one
  const double limit = std::max(wear.gap_limit_m, before.clearance_m);
  return {.clearance_m = std::min(before.clearance_m + growth, limit),
          .edge_loss_m = before.edge_loss_m + wear.edge_share * growth};
}

bool wear_held(const Wear& wear, const WearState& state) noexcept {
  return state.clearance_m >= wear.gap_limit_m || state.edge_loss_m > wear.edge_limit_m;
}

WornPump worn_pump(const Wear& wear, const Pump& pump, const Cavitation& cavitation) {
  const double loss_m = std::min(wear.edge_loss_m, wear.edge_limit_m);
  WornPump worn{pump, cavitation};
  worn.pump.roughness_factor += wear.edge_roughness_1_m * loss_m;
  worn.cavitation.blade_factor += wear.edge_blade_factor_1_m * loss_m;
  worn.cavitation.incidence_slope_per_deg *= 1.0 + cavitation.edge_incidence_1_m * loss_m;
  return worn;
}

}  // namespace bowrise
