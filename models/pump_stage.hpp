// Where the curve of a stage comes from: mean-line analysis of its blades, or the rows of a pump test.
#pragma once

#include <vector>

#include "models/pump_curve.hpp"
#include "models/pump_inputs.hpp"

namespace bowrise {

/// Curves of the stages of a pump at one shaft speed, first stage first: one for a measured curve, else
/// `pump.stages`. Head factor, tip gap and mechanical loss are in.
///
/// Tip gap, against that of a new ring, over the blade height at the inlet of each stage: head falls by
/// gap_head_slope (sqrt(t/h) - sqrt(t0/h)), the efficiency at the best flow by gap_efficiency_slope (t -
/// t0)/h; at other flows the efficiency falls by the same share.
///
/// Two stages with a stator between: the second gets no swirl. Without: it gets the swirl of the first (r c_u
/// kept), whose energy counts as head of the first, and the first has neither stator loss nor residual swirl.
/// The computed range of the second then ends with that of the first: a swirl against the rotation is outside
/// the analysis.
///
/// A measured curve includes every loss at the gap of a new ring: efficiency factor, mechanical efficiency
/// and roughness are not applied to it, the gap is. NPSH at 1 % drop gives E_3 with E_b = 0.65 E_1 %; outside
/// its rows both follow the law inlet_factor c^2/2 + blade_factor w^2/2, scaled to join.
///
/// @param speed_rad_s  > 0; @param kinematic_viscosity_m2_s  > 0 (not used by a measured curve)
/// @throws std::runtime_error if the blades give no head at any flow; the message names the stage
[[nodiscard]] std::vector<StageCurve> stage_curves(const Pump& pump, const Rotor& impeller,
                                                   const Rotor& stage_2, const Cavitation& cavitation,
                                                   double speed_rad_s, double kinematic_viscosity_m2_s);

}  // namespace bowrise
