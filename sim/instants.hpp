// What a run works out along its way: the right-hand side as the integrator asks for it, and the instants
// that guards and rows read.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <new>
#include <type_traits>
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
    if (step_end_.is(segment, t, values)) return step_end_.found.now;
    return renewed(latest_, evaluate, segment, t, values);
  }
  /// Stays where it is until the next end of a step.
  [[nodiscard]] const SlopedInstant& at_step_end(std::size_t segment, double t, const StateArray& values) {
    return renewed(step_end_, evaluate_with_slopes, segment, t, values);
  }
  /// What an event reads there; the rest may be of any time, or nil.
  [[nodiscard]] const Instant& read_by(EventReads reads, std::size_t segment, double t,
                                       const StateArray& values) {
    switch (reads) {
      case EventReads::state:
        return step_end_.found.now;
      case EventReads::drive_train:
        return remade(drive_train_,
                      [&] { return drive_train(craft_, lever_[segment], t, to_state(values)); });
      case EventReads::all:
        break;
    }
    return at(segment, t, values);
  }

 private:
  template <class Found>
  struct Known {
    std::size_t segment = 0;
    double time_s = -1.0;  // none yet
    StateArray values{};
    Found found{};

    [[nodiscard]] bool is(std::size_t of_segment, double t, const StateArray& of) const {
      return segment == of_segment && time_s == t && values == of;
    }
  };

  template <class Found, class Evaluate>
  const Found& renewed(Known<Found>& known, const Evaluate& evaluate, std::size_t segment, double t,
                       const StateArray& values) {
    if (known.is(segment, t, values)) return known.found;
    known.segment = segment;
    known.time_s = t;
    known.values = values;
    return remade(known.found, [&] { return evaluate(craft_, lever_[segment], t, to_state(values)); });
  }

  /// As an assignment, but made in its place: these are half a kilobyte and more.
  template <class Found, class Make>
  static const Found& remade(Found& old, const Make& make) {
    static_assert(std::is_trivially_destructible_v<Found>);
    return *::new (static_cast<void*>(&old)) Found(make());
  }

  const Craft& craft_;
  const std::vector<LeverSegment>& lever_;  // grows during a run with a feedback plan
  Known<Instant> latest_;
  Known<SlopedInstant> step_end_;
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
    base_ = &instants_.at_step_end(segment_, t, values);
    rates_now = to_array(base_->now.rate);
  }
  template <class Matrix>
  void jacobian(Matrix& slopes) const {
    for (Eigen::Index i = 0; i < slopes.rows(); ++i)
      for (Eigen::Index j = 0; j < slopes.cols(); ++j)
        slopes(i, j) = base_->slopes[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)];
  }
  [[nodiscard]] bool autonomous() const { return lever_.rate_1_s == 0.0; }

 private:
  const Craft& craft_;
  Instants& instants_;
  std::size_t segment_;
  const LeverSegment& lever_;
  const SlopedInstant* base_ = nullptr;
};

}  // namespace bowrise
