// State of a planing bottom at imposed speed, trim and load.
#pragma once

#include "models/planing_bottom.hpp"

namespace bowrise {

template <class Number>
struct PlaningStateOf {
  Number bottom_lift_N;        ///< load + vertical part of the friction
  Number lift_coefficient;     ///< on the full beam
  Number wetted_beam_m;        ///< less than the beam where the chines are dry
  Number wetted_length_beams;  ///< mean wetted length over the wetted beam
  Number wetted_keel_m, wetted_chine_m;
  Number keel_demand_m;  ///< keel that the formulae ask for, before it is held to the keel length
  Number mean_bottom_speed_m_s;
  Number friction_N;            ///< along the bottom
  Number centre_of_pressure_m;  ///< forward of the trailing edge
  bool chines_dry;
};
using PlaningState = PlaningStateOf<double>;

/// Bottom at imposed speed (> 0), trim (0.5-15 deg) and vertical load (> 0, without the friction's vertical
/// part).
///
/// Wet chines: eqs. (16) and (15) inverted. Where lam < tan(deadrise)/(2 pi tan(trim)) the chines are dry:
/// the wetted beam shrinks until the wetted chine is nil and carries the same load (engineering judgement;
/// continuous with the wet solution, and the beam is rounded over 2 % there so that all is C1). A keel demand
/// above the keel length is held to it for the wetted lengths and friction, all in one ratio; the centre of
/// pressure stays where the formulae put it, as if the rising bow carried what the missing keel would
/// (engineering judgement: holding it too would make a bow-heavy craft dive, which real ones do not).
/// Friction is within 0.02 % of the drag of the same formulae solved without tables (tested), away from loads
/// so light that friction pulls as hard as they do. Number: a double, or PartLanes.
template <class Number>
[[nodiscard]] PlaningStateOf<Number> planing_state(const PlaningBottom& bottom, Number speed_m_s,
                                                   const TrimTermsOf<Number>& trim, Number load_N) noexcept;

}  // namespace bowrise
