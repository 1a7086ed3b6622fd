#pragma once
/// Guards: continuous functions of (t, state) whose sign changes are looked for and located in each step.
///
/// All guards are evaluated by one call. A guard fires where its sign changes in the half-open interval
/// (start, end] and the direction fits. One that is exactly zero sleeps until it has left zero; reaching
/// exactly zero at a probe counts as crossing. Probes: both ends of a step and some points between, so that a
/// double crossing shorter than their spacing is missed. Earliest first, equal times by index, none twice.
/// Source of the rules: those of the root finder of CVODE (Hiebert and Shampine 1980) and the usual practice
/// of event-driven simulators.
#include <Eigen/Core>
#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include "sim/floating_point.hpp"
#include "sim/guard_types.hpp"

namespace bowrise {

/// A set of guards: rules, and one function that evaluates all guards at once. An optional
/// `begin_segment(std::size_t)` tells it the segment before the first probe in it; an optional
/// `guard_value(guard, t, state)` evaluates one guard alone, the same number, for the search of its crossing;
/// an optional `longest_step()` bounds the next step, where the options allow a longer one.
template <class Guards, class State>
concept GuardSet = requires(Guards& guards, double t, const State& state, std::span<double> out) {
  { guards.rules() } -> std::convertible_to<std::span<const GuardRule>>;
  guards.guard_values(t, state, out);
};

struct NoGuards {
  [[nodiscard]] static std::span<const GuardRule> rules() noexcept { return {}; }
  template <class State>
  static void guard_values(double, const State&, std::span<double>) noexcept {}
};

namespace detail {

/// Carried by exception from inside a root search to the loop over steps, which makes an ending of it.
struct GuardNotFinite {
  std::size_t guard;
};

struct LocatedGuard {
  double time;
  std::size_t guard;
};

/// Keeps the last values of all guards and finds their crossings in a step.
template <class Guards, class State>
class GuardWatch {
 public:
  GuardWatch(Guards& guards, const ProbeGrid& grid) : guards_(guards), rules_(guards.rules()), grid_(grid) {
    before_.resize(rules_.size());  // nil: all asleep
    now_.resize(rules_.size());
    scratch_.resize(rules_.size());
    found_.reserve(rules_.size());
  }

  /// Looks at (t, state) on entering a segment: crossings found are jumps. At the start all guards are
  /// asleep, so that nothing can be found.
  std::span<const LocatedGuard> enter(double t, const State& state) {
    found_.clear();
    if (rules_.empty()) return found_;
    probe(t, state, now_);
    for (std::size_t g = 0; g < rules_.size(); ++g) {
      if (crosses(g)) found_.push_back({t, g});
    }
    std::swap(before_, now_);
    return found_;
  }

  /// Hands the crossings in (t0, t1] to `deliver` in order, those before a probe ahead of the next one, which
  /// so sees what they changed. Ends, with false, where `deliver` answers false. state_at(t) interpolates.
  template <class StateAt, class Deliver>
  bool look(double t0, double t1, const StateAt& state_at, const Deliver& deliver) {
    if (rules_.empty()) return true;
    const std::size_t intervals = grid_.intervals(t1 - t0);
    double from = t0;
    for (std::size_t i = 1; i <= intervals; ++i) {
      const double share = static_cast<double>(i) / static_cast<double>(intervals);
      const double to = i == intervals ? t1 : t0 + (t1 - t0) * share;
      probe(to, state_at(to), now_);
      if (any_may_cross()) {
        find_crossings(from, to, t1 - t0, state_at);
        if (!std::all_of(found_.begin(), found_.end(), deliver)) return false;
      }
      std::swap(before_, now_);
      from = to;
    }
    return true;
  }

  [[nodiscard]] Then then(std::size_t guard) const { return rules_[guard].then; }
  [[nodiscard]] std::size_t probes() const noexcept { return probes_; }

 private:
  void probe(double t, const State& state, std::vector<double>& out) {
    ++probes_;
    guards_.guard_values(t, state, std::span<double>(out));
    if (!values(out).allFinite()) throw GuardNotFinite{first_not_finite(out)};
  }

  double value_of(std::size_t g, double t, const State& state) {
    if constexpr (requires { guards_.guard_value(g, t, state); }) {
      ++probes_;
      const double value = guards_.guard_value(g, t, state);
      if (!std::isfinite(value)) throw GuardNotFinite{g};
      return value;
    } else {
      probe(t, state, scratch_);
      return scratch_[g];
    }
  }

  static auto values(const std::vector<double>& of) {
    return Eigen::Map<const Eigen::ArrayXd>(of.data(), static_cast<Eigen::Index>(of.size()));
  }

  /// Quick, and seldom true: false only if all guards have kept their sides.
  [[nodiscard]] bool any_may_cross() const noexcept { return !(values(before_) * values(now_) > 0).all(); }

  /// Whether guard g came from the other side in the direction watched for.
  [[nodiscard]] bool crosses(std::size_t g) const noexcept {
    const auto side = [](double value) { return (value > 0) - (value < 0); };
    const int was = side(before_[g]), is = side(now_[g]);
    if (was == 0 || is == was) return false;
    const Crossing direction = rules_[g].direction;
    return direction == Crossing::both || (direction == Crossing::rising) == (was < 0);
  }

  /// Out of line, because it is seldom called: inlined it takes registers from the stepper (2 % of a launch).
  template <class StateAt>
  [[gnu::noinline]] void find_crossings(double from, double to, double step, const StateAt& state_at) {
    found_.clear();
    for (std::size_t g = 0; g < rules_.size(); ++g) {
      if (crosses(g)) found_.push_back({locate(g, from, to, step, state_at), g});
    }
    std::sort(found_.begin(), found_.end(), [](const LocatedGuard& a, const LocatedGuard& b) {
      return a.time < b.time || (a.time == b.time && a.guard < b.guard);
    });
  }

  /// Time of the sign change of guard g between two probes, the far side of the last
  /// bracket: there it has crossed.
  template <class StateAt>
  double locate(std::size_t g, double from, double to, double step, const StateAt& state_at) {
    if (now_[g] == 0) return to;
    const auto value = [&](double t) { return value_of(g, t, state_at(t)); };
    // Both the time and the interpolation carry rounding of a few units in the last place.
    const auto close = [&](double a, double b) {
      return b - a <= std::max(grid_.located_within, few_ulps(std::abs(b) + step));
    };
    std::uintmax_t iterations = 200;  // thrice what bisection needs, the worst case of toms748
    const auto bracket =
        boost::math::tools::toms748_solve(value, from, to, before_[g], now_[g], close, iterations);
    return bracket.second;
  }

  Guards& guards_;
  std::span<const GuardRule> rules_;
  ProbeGrid grid_;
  std::size_t probes_ = 0;
  std::vector<double> before_, now_, scratch_;
  std::vector<LocatedGuard> found_;
};

}  // namespace detail

}  // namespace bowrise
