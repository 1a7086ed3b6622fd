// From the stator's end face to the jet: hub cone, tapered casing, exit.
//
// x runs aft from the stator's end face. The casing tapers straight from the bore to the exit over the
// nozzle's length; the cone starts at `cone.position` and tapers straight from base to tip diameter. A cone
// whose tip ends inside the passage leaves a core to be filled behind it (a loss of head); one that reaches
// the exit plane plugs part of the exit instead.
#pragma once

#include "models/passage_inputs.hpp"
#include "models/problem.hpp"
#include "models/pump_inputs.hpp"

namespace bowrise {

/// Cone with the derived presets filled in: base = hub at the last trailing edge, tip 0.40 and length 1.3 of
/// the base.
[[nodiscard]] Cone resolved(const Cone& cone, const Pump& pump, const Rotor& last_rotor);

/// Nozzle with the derived preset filled in: length 1.1 of the bore.
[[nodiscard]] Nozzle resolved(const Nozzle& nozzle, const Pump& pump) noexcept;

/// Loss behind a blunt base in a duct, (c_annulus - c_full)^2/2 [J/kg], from the flow, the annulus around the
/// base and the area of the base. Source: Borda-Carnot sudden enlargement.
[[nodiscard]] double base_loss_J_kg(double flow_m3_s, double annulus_m2, double base_m2) noexcept;

/// Share of a blunt hub's base loss that a cone of this half angle saves: 0.70 for a slim one, none from 40
/// deg. Engineering judgement; walls steeper than about 20 deg separate even in a strong contraction (from
/// memory).
[[nodiscard]] double cone_recovery(double half_angle_rad) noexcept;

/// The passage worked out once.
struct PreparedPassage {
  double jet_area_m2;  ///< contraction (exit area - plug)
  double inverse_jet_area_1_m2;
  double loss_coefficient;       ///< nozzle and cone, over the jet velocity head vj^2/2
  double base_loss_coefficient;  ///< the cone's part of it
  double plug_diameter_m;        ///< of a circle with the area that the cone takes from the exit
  bool tip_in_exit_plane;        ///< or aft of it
  double
      area_rise;  ///< largest growth of the open area over an earlier section, as a share; 0 if it only falls
  double cone_half_angle_rad, casing_half_angle_rad;
};

/// Works out a checked passage. While the tip lies less than a tip diameter ahead of the exit plane, base
/// loss turns into plug area along a smoothstep, so that a swept `cone.position` shows no step.
/// @param last_rotor  the rotor ahead of the last stator
[[nodiscard]] PreparedPassage prepare_passage(const Cone& cone, const Nozzle& nozzle, const Pump& pump,
                                              const Rotor& last_rotor);

/// Complaints: exit not below the bore, cone wider than what surrounds it, tip wider than base.
[[nodiscard]] Problems check(const Cone& cone, const Nozzle& nozzle, const Pump& pump,
                             const Rotor& last_rotor);

}  // namespace bowrise
