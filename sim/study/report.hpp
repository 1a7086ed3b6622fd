// What a report shows of setups: each one's launch with its trace, its steady curves, what limits cost, and
// all of them compared.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/craft.hpp"
#include "sim/curves.hpp"
#include "sim/launch.hpp"
#include "sim/results.hpp"
#include "sim/study/compare.hpp"
#include "sim/study/limit_costs.hpp"

namespace bowrise {

/// Rows of charts: output.step is for files and may be far too coarse or fine.
inline constexpr double chart_step_s = 0.01;

/// Torque that a pump takes over shaft speed at one craft speed.
struct PumpTorqueCurve {
  double speed_m_s;
  CurveTable table;  ///< of `curves --of thrust`
};

/// One setup. Where its launch failed, `failure` says why and nothing else is to be read.
struct SetupReport {
  std::string name, failure;
  Craft craft;
  Launch launch;  ///< with rows
  Summary summary;
  CurveTable hull;                    ///< held at each speed at full throttle: thrust and drag
  CurveTable cavitation;              ///< suction head available and required over speed, unit held level
  CurveTable engine;                  ///< torque over shaft speed, limiter included
  std::vector<PumpTorqueCurve> pump;  ///< at rest and at top speed
  std::vector<LimitCost> costs;
};

struct Report {
  std::vector<SetupReport> setups;
  std::optional<Comparison> comparison;                ///< with two setups or more
  std::optional<Bands> bands;                          ///< of a single setup, when draws are asked for
  std::vector<double> speeds_m_s, shaft_speeds_rad_s;  ///< that all steady curves are laid over
};

/// @param contenders  one or more; the first is the baseline. @param options.draws  0: no bands
[[nodiscard]] Report report(const std::vector<Contender>& contenders, const BandOptions& options);

}  // namespace bowrise
