// What a run works out along its way: the right-hand side as the integrator asks for it, and the instants
// that guards and rows read.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "sim/craft.hpp"
#include "sim/evaluate.hpp"
#include "sim/events.hpp"
#include "sim/state.hpp"

namespace bowrise {

/// Evaluations along a run. Remembers the latest, and the latest at the end of a step: there guards, rows and
/// the next Jacobian ask for the same one.
class Instants {
 public:
  Instants(const Craft& craft, const std::vector<LeverSegment>& lever) : craft_(craft), lever_(lever) {}

  [[nodiscard]] const LeverSegment& lever(std::size_t segment) const { return lever_[segment]; }
  [[nodiscard]] const Instant& at(std::size_t segment, double t, const StateArray& values) {
    return step_end_.is(segment, t, values) ? step_end_.now : renewed(latest_, segment, t, values);
  }
  /// Stays where it is until the next end of a step.
  [[nodiscard]] const Instant& at_step_end(std::size_t segment, double t, const StateArray& values) {
    return renewed(step_end_, segment, t, values);
  }
  /// What an event reads there; the rest may be of any time, or nil.
  [[nodiscard]] const Instant& read_by(EventReads reads, std::size_t segment, double t,
                                       const StateArray& values) {
    switch (reads) {
      case EventReads::state:
        return step_end_.now;
      case EventReads::drive_train:
        return drive_train_ = drive_train(craft_, lever_[segment], t, to_state(values));
      case EventReads::all:
        break;
    }
    return at(segment, t, values);
  }

 private:
  struct Known {
    std::size_t segment = 0;
    double time_s = -1.0;  // none yet
    StateArray values{};
    Instant now{};

    [[nodiscard]] bool is(std::size_t of_segment, double t, const StateArray& of) const {
      return segment == of_segment && time_s == t && values == of;
    }
  };

  const Instant& renewed(Known& known, std::size_t segment, double t, const StateArray& values) {
    if (known.is(segment, t, values)) return known.now;
    known.segment = segment;
    known.time_s = t;
    known.values = values;
    return known.now = evaluate(craft_, lever_[segment], t, to_state(values));
  }

  const Craft& craft_;
  const std::vector<LeverSegment>& lever_;  // grows during a run with a feedback plan
  Known latest_, step_end_;
  Instant drive_train_{};
};

/// The right-hand side in one segment of the throttle plan, as the integrator sees it.
class SegmentRates {
 public:
  SegmentRates(const Craft& craft, Instants& instants, std::size_t segment)
      : craft_(craft), instants_(instants), segment_(segment), lever_(instants.lever(segment)) {}
  void operator()(const StateArray& values, StateArray& rates_now, double t) const {
    rates_now = to_array(rates(craft_, lever_, t, to_state(values)));
  }
  void base(const StateArray& values, StateArray& rates_now, double t) {
    const Instant& now = instants_.at_step_end(segment_, t, values);
    beside_.emplace(craft_, lever_, t, to_state(values), now);
    rates_now = to_array(now.rate);
  }
  void beside(const StateArray& values, StateArray& rates_now, double, std::size_t component) const {
    rates_now = to_array((*beside_)(to_state(values), static_cast<StateIndex>(component)));
  }
  [[nodiscard]] bool autonomous() const { return lever_.rate_1_s == 0.0; }

 private:
  const Craft& craft_;
  Instants& instants_;
  std::size_t segment_;
  const LeverSegment& lever_;
  std::optional<RatesBeside> beside_;
};

}  // namespace bowrise
