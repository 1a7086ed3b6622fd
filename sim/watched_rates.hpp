#pragma once
/// The right-hand side as a stepper sees it: counted, limited and checked.
#include <array>
#include <cstddef>

#include "sim/floating_point.hpp"

namespace bowrise::detail {

// Carried by exception from inside a stepper to the loop over steps; only failures travel this way.
struct RateNotFinite {
  std::size_t component;
};
struct TooManyCalls {};

/// The right-hand side of one segment as the stepper sees it: counted, limited and, for steppers that accept
/// anything, checked. Small and copyable, because Odeint copies its system.
template <class Stepper, class Rates>
class WatchedRates {
 public:
  WatchedRates(Rates& rates, std::size_t& calls, std::size_t max_calls)
      : rates_(&rates), calls_(&calls), max_calls_(max_calls) {}

  template <std::size_t N>
  void operator()(const std::array<double, N>& y, std::array<double, N>& dydt, double t) const {
    count();
    if constexpr (!checked_by_stepper) require_finite(y);
    (*rates_)(y, dydt, t);
    if constexpr (!checked_by_stepper) require_finite(dydt);
  }

  /// See Rosenbrock4DenseOutput; offered when the rates offer them.
  template <std::size_t N>
  void base(const std::array<double, N>& y, std::array<double, N>& dydt, double t) const requires
      requires(Rates& rates) {
    rates.base(y, dydt, t);
  }
  {
    count();
    rates_->base(y, dydt, t);
  }
  template <class Matrix>
  void jacobian(Matrix& slopes) const requires requires(Rates& rates) {
    rates.jacobian(slopes);
  }
  { rates_->jacobian(slopes); }

  [[nodiscard]] bool autonomous() const {
    if constexpr (requires { rates_->autonomous(); }) return rates_->autonomous();
    return false;
  }

 private:
  void count() const {
    if (*calls_ >= max_calls_) throw TooManyCalls{};
    ++*calls_;
  }

  static constexpr bool checked_by_stepper = requires { requires Stepper::handles_not_finite; };

  template <std::size_t N>
  static void require_finite(const std::array<double, N>& values) {
    if (!all_finite(values)) throw RateNotFinite{first_not_finite(values)};
  }

  Rates* rates_;
  std::size_t* calls_;
  std::size_t max_calls_;
};

}  // namespace bowrise::detail
