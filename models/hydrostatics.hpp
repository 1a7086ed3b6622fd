// A prismatic hull afloat at rest: V bottom, vertical sides above the chine, square transom, no bow.
#pragma once

#include <optional>

namespace bowrise {

/// All > 0 but the deadrise, 0-60 deg. A real bow fines away forward; the prism of the same length has more
/// bottom there, so it floats a little higher and more by the stern.
struct PrismaticHull {
  double beam_m, length_m, deadrise_rad;
};

/// What is under water; body axes: along the keel forward of the transom, and above the keel.
struct Immersion {
  double volume_m3;
  double centre_m, centre_height_m;  ///< of buoyancy; nil where the volume is
};

/// @param draught_m  keel at the transom below the water; negative: above it
/// @param trim_rad   keel to the water, bow up, within +-45 deg
/// Exact: sections normal to the keel, whose area is quadratic in their depth.
[[nodiscard]] Immersion immersion(const PrismaticHull& hull, double draught_m, double trim_rad);

/// Draught of the keel at the transom at which the hull displaces the volume (> 0) at this trim.
[[nodiscard]] double floating_draught_m(const PrismaticHull& hull, double volume_m3, double trim_rad);

struct Flotation {
  double draught_m, trim_rad;
};

/// Draught and trim at which the centre of buoyancy lies plumb under (or over) the centre of gravity, given
/// forward of the transom and above the keel. Empty where no trim within +-20 deg does.
[[nodiscard]] std::optional<Flotation> free_flotation(const PrismaticHull& hull, double volume_m3,
                                                      double centre_m, double centre_height_m);

/// Height above the water of a point given forward of the transom and above the keel.
[[nodiscard]] double height_above_water_m(double draught_m, double trim_rad, double forward_m,
                                          double above_keel_m) noexcept;

}  // namespace bowrise
