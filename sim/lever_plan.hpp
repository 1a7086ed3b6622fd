// Lever plan: the pieces of the throttle lever of one launch, known beforehand or decided while it runs.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "models/rider.hpp"
#include "models/schedule.hpp"
#include "sim/evaluate.hpp"
#include "sim/state.hpp"

namespace bowrise {

/// Hands the integrator one lever segment after the other. A feedback plan decides at fixed instants, from
/// the state there and before, so that inside a segment the lever is known and every corner of it is a stop.
class LeverPlan {
 public:
  /// @param lever  receives the segments, as far as the launch got
  LeverPlan(const Craft& craft, double duration_s, std::vector<LeverSegment>& lever);

  /// For `integrate`: when the segment that begins now ends; nothing after the last.
  [[nodiscard]] std::optional<double> operator()(std::size_t segment, double time_s, const StateArray& state);

  /// Nothing moves the lever any more after this segment has begun.
  [[nodiscard]] bool is_last(std::size_t segment) const;

 private:
  struct Wish {
    double time_s, lever;
  };

  [[nodiscard]] std::optional<double> known_stop(std::size_t segment) const;
  [[nodiscard]] std::optional<double> decided_stop(std::size_t segment, double time_s, const State& state);
  void decide(double time_s, const State& state);
  [[nodiscard]] double wish(double time_s, const State& state);
  [[nodiscard]] double held_revs(const State& state, const Instant& now);
  [[nodiscard]] double held_head_loss(const State& state, const Instant& now);
  [[nodiscard]] double wish_seen_at(double time_s) const;

  const Craft& craft_;
  double duration_s_;
  std::vector<LeverSegment>& lever_;
  bool feedback_, released_ = false, settled_ = false;
  double delay_s_ = 0.0, full_since_s_ = 0.0, creep_ = 0.0;
  std::vector<Wish> wishes_;  ///< in order of time
};

/// Lever that turns the shaft towards `aim_rad_s`: the torque of the pump there and what accelerates the
/// rotors within a tenth of a second, opened further than that while the air path lags. Not kept to 0..1.
/// @param delay_s  between seeing and moving: whoever is late must correct more slowly, or the revs hunt
[[nodiscard]] double lever_towards(const Craft& craft, const State& state, const Instant& now,
                                   double aim_rad_s, double delay_s = 0.0);

/// By what factor the shaft speed, and the flow with it, may change until cavitation takes the share `aim` of
/// the first stage's head at this craft speed; suction head required grows with the square.
[[nodiscard]] double speed_ratio_for_head_loss(const Instant& now, double aim);

/// Full-throttle shaft speed without cavitation against craft speed: what a rider knows as normal.
[[nodiscard]] Schedule normal_shaft_speed(const Craft& craft);

}  // namespace bowrise
