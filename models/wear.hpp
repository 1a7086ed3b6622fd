// Wear: what cavitation and grit take off the ring and the blades, carried from launch to launch.
//
// Rate of erosion: share of head lost to cavitation times (tip speed / reference)^n above a threshold of tip
// speed; grit scours with (tip speed / reference)^3 whenever the pump turns. Integrated over a launch they
// are its exposure; the exposure times a coefficient is metal lost.
//
// Two numbers hold what is worn, each stated once:
// - `pump.clearance` is the gap as it is today. Growth goes straight into it and acts where a measured gap
// acts:
//   head, efficiency, required NPSH and breakdown, all against `pump.clearance_new`.
// - `wear.edge_loss` is metal gone from the blades' edges and faces since `pump.roughness` and
//   `impeller.edge_thickness` were judged; whoever measures those anew puts it back to 0. It roughens the
//   blades, raises the NPSH at 3 % head drop and narrows the range of incidence.
// A measured pump curve already holds losses and NPSH of the pump tested: there edge loss does not act.
//
// The law is linear in exposure. Pits measured over time grow as 1 - exp(-t) + exp(-1) t^1.2 in units of a
// characteristic time (Choi, Jayaprakash and Chahine 2012, Wear), which stays within 30 % of a straight line
// from a fifth to five times that time. Nobody has published that time for a craft's ring, and the
// coefficient is known to a factor of three, so the history is left out.
#pragma once

#include "models/parameter.hpp"
#include "models/pump_inputs.hpp"

namespace bowrise {

/// Coefficients of the law, the grit of the day, and the blades' wear so far.
struct Wear {
  double erosion_per_hour_m, grit_per_hour_m, grit_g_kg, velocity_exponent, reference_speed_m_s,
      threshold_speed_m_s;
  double edge_share, edge_roughness_1_m, edge_blade_factor_1_m, edge_loss_m, edge_limit_m, gap_limit_m;
};

// clang-format off
inline constexpr std::array wear_parameters{
    Parameter<Wear>{"erosion_per_hour", &Wear::erosion_per_hour_m, "mm", 1.44, {0, 1000}, {0.4, 5},
                    {Shape::log_uniform, 0.48, 4.32},
                    "gap gained in an hour at full loss of head and the reference tip speed (1.44 mm is 0.0004 mm a second)",
                    "engineering judgement: about 0.1 mm in 100 pinned launches, to a factor of three"},
    Parameter<Wear>{"grit_per_hour", &Wear::grit_per_hour_m, "mm", 0.1, {0, 10}, {0.02, 0.5}, {Shape::log_uniform, 0.033, 0.3},
                    "gap gained in an hour at the reference tip speed per gram of grit in a kilogram of water",
                    "engineering judgement, to a factor of three"},
    Parameter<Wear>{"grit", &Wear::grit_g_kg, "g/kg", 0.0, {0, 40}, {0, 5}, {}, "sand and silt in the water swallowed",
                    "let a glass of it settle"},
    Parameter<Wear>{"velocity_exponent", &Wear::velocity_exponent, "1", 6.0, {3, 10}, {4.5, 7}, {Shape::uniform, 5.0, 7.0},
                    "erosion rises as this power of tip speed",
                    "from memory: 5 to 7; 4.75 measured on aluminium in a venturi (abstract of a study of pulse heights)"},
    Parameter<Wear>{"reference_speed", &Wear::reference_speed_m_s, "m/s", 60.0, {1, 200}, {40, 80}, {},
                    "tip speed at which the two rates are stated", "definition"},
    Parameter<Wear>{"threshold_speed", &Wear::threshold_speed_m_s, "m/s", 20.0, {0, 100}, {15, 25}, {},
                    "tip speed below which cavitation erodes nothing", "from memory"},
    Parameter<Wear>{"edge_share", &Wear::edge_share, "1", 1.0, {0, 10}, {0.3, 3}, {Shape::log_uniform, 0.3, 3.0},
                    "metal lost from the blade edges over gap gained", "engineering judgement"},
    Parameter<Wear>{"edge_roughness", &Wear::edge_roughness_1_m, "1/m", 300.0, {0, 3000}, {100, 600},
                    {Shape::uniform, 100.0, 600.0}, "added to pump.roughness per metre of edge loss: 0.3 a millimetre",
                    "engineering judgement"},
    Parameter<Wear>{"edge_blade_factor", &Wear::edge_blade_factor_1_m, "1/m", 20.0, {0, 200}, {5, 40},
                    {Shape::uniform, 5.0, 40.0}, "added to cavitation.blade_factor per metre of edge loss: 0.02 a millimetre",
                    "engineering judgement"},
    Parameter<Wear>{"edge_loss", &Wear::edge_loss_m, "mm", 0.0, {0, 20}, {0, 2}, {},
                    "metal gone from the blade edges since pump.roughness and impeller.edge_thickness were judged",
                    "template of a new impeller"},
    Parameter<Wear>{"edge_limit", &Wear::edge_limit_m, "mm", 2.0, {0.1, 50}, {1, 3}, {},
                    "edge loss whose effects are believed; more acts as this and raises a flag", "engineering judgement"},
    Parameter<Wear>{"gap_limit", &Wear::gap_limit_m, "mm", 3.0, {0.1, 50}, {2, 4}, {},
                    "gap up to which growth is believed; it stops there and raises a flag", "engineering judgement"}};
// clang-format on
static_assert(sizeof(Wear) == part_size(wear_parameters.size()), "a field of Wear has no row");

/// What running did to the pump, apart from what the metal makes of it. Exposures of two runs add.
struct WearExposure {
  double erosion_index_s = 0.0;  ///< integral of head loss (tip speed/reference)^n above the threshold
  double grit_index_s = 0.0;     ///< integral of (tip speed/reference)^3
};

/// Rates at which exposure gathers: per second of running, so [1].
/// @param head_lost  share of head lost to cavitation, 0 to 1    @param tip_speed_m_s >= 0
[[nodiscard]] WearExposure exposure_rate(const Wear& wear, double head_lost, double tip_speed_m_s) noexcept;

/// What is worn: the gap today, and metal gone from the edges.
struct WearState {
  double clearance_m, edge_loss_m;
};

/// Gap gained by an exposure, before any limit.
[[nodiscard]] double clearance_growth_m(const Wear& wear, const WearExposure& exposure) noexcept;

/// The state after an exposure. Growth of the gap stops at `gap_limit_m`; edges go on.
[[nodiscard]] WearState wear_after(const Wear& wear, const WearExposure& exposure,
                                   const WearState& before) noexcept;

/// Whether a state lies at or beyond what the law is believed for.
[[nodiscard]] bool wear_held(const Wear& wear, const WearState& state) noexcept;

/// Pump and suction coefficients with the edges' loss worked in; what `prepare` and `curves` build the pump
/// from.
struct WornPump {
  Pump pump;
  Cavitation cavitation;
};
[[nodiscard]] WornPump worn_pump(const Wear& wear, const Pump& pump, const Cavitation& cavitation);

}  // namespace bowrise
