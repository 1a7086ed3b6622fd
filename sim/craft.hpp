// Craft: a checked setup made ready to run. Geometry worked out, tables built, nothing left that a user
// typed.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "models/air.hpp"
#include "models/cavitation.hpp"
#include "models/engine.hpp"
#include "models/hull.hpp"
#include "models/intake.hpp"
#include "models/nozzle.hpp"
#include "models/problem.hpp"
#include "models/pump.hpp"
#include "models/rider.hpp"
#include "models/schedule.hpp"
#include "models/setup.hpp"
#include "models/water.hpp"
#include "sim/state.hpp"

namespace bowrise {

/// Immutable after `prepare`. The tables of hull, pump and engine are shared, so that setups that differ
/// elsewhere reuse them.
struct Craft {
  WaterState water;
  double ambient_pressure_Pa, air_density_kg_m3;
  double mass_kg;        ///< craft, rider and fuel
  double load_centre_m;  ///< of all that, forward of the trailing edge, without calibration shift
  double volume_m3;      ///< displaced at rest
  double tow_load_N;

  std::shared_ptr<const PreparedHull> hull;
  std::shared_ptr<const PreparedPump> pump;
  std::shared_ptr<const PreparedEngine> engine;
  PreparedPassage passage;
  PreparedIntake intake;

  bool two_stages;
  double bore_m;
  double cavity_pressure_Pa;   ///< vapour and the gas that comes out of solution
  double static_suction_J_kg;  ///< (p_atm - cavity pressure)/rho + g depth
  double suction_inertance_1_m, total_inertance_1_m, suction_length_m, column_length_m;
  double water_mass_kg;
  double cavity_rate_1_s;  ///< 1 over the cavity's lag
  double torque_share;     ///< torque lost per head lost by cavitation
  Schedule nozzle_angle_rad;
  double nozzle_cosine, nozzle_sine;    ///< of the angle where it does not vary
  Schedule rider_shift_Nm;              ///< moment, bow down, of the rider's weight away from rider.position
  double nozzle_arm_m, nozzle_depth_m;  ///< exit aft of and below the centre of gravity
  double intake_depth_m;                ///< capture depth below the centre of gravity
  double lip_arm_m, keel_depth_m;       ///< intake lip aft of, and keel below, the centre of gravity

  double idle_air_path;  ///< floor of the air path: balances the pump at idle
  Throttle throttle;
  std::vector<LeverSegment> lever;    ///< of a plan known beforehand; of a feedback plan where it begins
  Schedule normal_shaft_speed_rad_s;  ///< over craft speed; only for a plan that looks at it
  double limiter_rad_s;
  State start;

  Wear wear;
  WearState worn;
  FlagSet standing_flags;  ///< what is flagged of the setup itself, at every instant

  std::vector<std::string> advice;  ///< what a practitioner would remark on this setup
};

/// Hulls, pumps and engines worked out before, offered to whoever needs the same: most of the work of
/// preparing.
struct Tables {
  std::vector<std::shared_ptr<const PreparedHull>> hulls;
  std::vector<std::shared_ptr<const PreparedPump>> pumps;
  std::vector<std::shared_ptr<const PreparedEngine>> engines;
};

/// Works out a craft. The setup must have passed `check`.
/// @param offered  taken where worked out from the very same inputs; the craft is the same bit by bit without
/// @throws std::runtime_error with a message naming the component, when a component cannot be computed
[[nodiscard]] Craft prepare(const Setup& setup, const Tables& offered = {});

/// Gives a craft another throttle plan; all else stays.
void set_throttle(Craft& craft, const Throttle& throttle);

/// Air, water and engine of the day, for craft and for `curves`.
struct Surroundings {
  WaterState water;
  double ambient_pressure_Pa, air_density_kg_m3;
  EngineDay engine_day;
};
[[nodiscard]] Surroundings surroundings(const Setup& setup);

/// What the hull, the pump and the engine of a setup are worked out from: masses and load centre combined,
/// wear worked in.
[[nodiscard]] HullBasis hull_basis(const Setup& setup, const Surroundings& around);
[[nodiscard]] PumpBasis pump_basis(const Setup& setup, const Surroundings& around);
[[nodiscard]] EngineBasis engine_basis(const Setup& setup, const Surroundings& around);

/// One of those offered where it was worked out from the same basis, else a new one.
[[nodiscard]] std::shared_ptr<const PreparedHull> hull_of(const HullBasis& basis, const Tables& offered);
[[nodiscard]] std::shared_ptr<const PreparedPump> pump_of(const PumpBasis& basis, const Tables& offered);
[[nodiscard]] std::shared_ptr<const PreparedEngine> engine_of(const EngineBasis& basis,
                                                              const Tables& offered);

}  // namespace bowrise
