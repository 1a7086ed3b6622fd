#include "sim/steady.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <stdexcept>

namespace bowrise {
namespace {

using Vector = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, state_size, 1>;
using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, state_size, state_size>;

constexpr double first_step_s = 2e-3, longest_step_s = 1e9, settled_rate_1_s = 1e-10;
constexpr int most_iterations = 400;

std::size_t at(StateIndex index) { return static_cast<std::size_t>(index); }

// A craft too heavy to be moved: what a rope does to it.
Craft held(const Craft& craft) {
  Craft fixed = craft;
  fixed.water_mass_kg = 1e12;
  return fixed;
}

/// The dynamics with some states pinned.
class Dynamics {
 public:
  Dynamics(const Craft& craft, const Pinned& pinned)
      : craft_(pinned.speed_m_s ? held(craft) : craft), pinned_(pinned), segment_{0.0, pinned.lever, 0.0} {
    const auto free = [&](StateIndex index, bool is_free) {
      if (is_free) free_.push_back(at(index));
    };
    free(StateIndex::speed, !pinned.speed_m_s);
    free(StateIndex::trim, !pinned.trim_rad);
    free(StateIndex::shaft_speed, !pinned.shaft_speed_rad_s);
    free(StateIndex::flow, !pinned.flow_m3_s);
    free(StateIndex::cavity_1, true);
    free(StateIndex::cavity_2, craft.two_stages);
    free(StateIndex::void_fraction, true);
    const bool engine_matters = !pinned.shaft_speed_rad_s && !pinned.shaft_power_W;
    free(StateIndex::air_path, engine_matters);
    free(StateIndex::boost, engine_matters && craft.engine->boost_turns_rad > 0.0);
  }

  [[nodiscard]] State place(State state) const {
    if (pinned_.speed_m_s) state.speed_m_s = *pinned_.speed_m_s;
    if (pinned_.trim_rad) state.trim_rad = *pinned_.trim_rad;
    if (pinned_.shaft_speed_rad_s) state.shaft_speed_rad_s = *pinned_.shaft_speed_rad_s;
    if (pinned_.flow_m3_s) state.flow_m3_s = *pinned_.flow_m3_s;
    state.distance_m = 0.0;
    return state;
  }

  [[nodiscard]] const std::vector<std::size_t>& free() const { return free_; }
  [[nodiscard]] Instant instant(const State& state) const {
    Instant now = evaluate(craft_, segment_, 0.0, state);
    if (pinned_.shaft_power_W)
      now.rate.shaft_speed_rad_s = (*pinned_.shaft_power_W / state.shaft_speed_rad_s - now.pump_torque_Nm) /
                                   craft_.engine->inertia_kg_m2;
    return now;
  }

  // Rates of the free states, each over its typical size.
  [[nodiscard]] Vector scaled(const State& rates) const {
    const StateArray rate = to_array(rates);
    Vector scaled(static_cast<Eigen::Index>(free_.size()));
    for (std::size_t i = 0; i < free_.size(); ++i)
      scaled[static_cast<Eigen::Index>(i)] = rate[free_[i]] / typical()[free_[i]];
    return scaled;
  }

  // Slopes of `scaled` over the scaled states.
  [[nodiscard]] Matrix jacobian(const State& state, const Instant& here) const {
    // a shaft power given stands in for the engine, of which evaluate_with_slopes does not know
    if (pinned_.shaft_power_W) return jacobian_by_columns(state, here);
    const RateSlopes slopes = evaluate_with_slopes(craft_, segment_, 0.0, state).slopes;
    const auto size = static_cast<Eigen::Index>(free_.size());
    return Matrix::NullaryExpr(size, size, [&](Eigen::Index row, Eigen::Index column) {
      const std::size_t i = free_[static_cast<std::size_t>(row)], j = free_[static_cast<std::size_t>(column)];
      return slopes[i][j] * typical()[j] / typical()[i];
    });
  }

  [[nodiscard]] Matrix jacobian_by_columns(const State& state, const Instant& here) const {
    constexpr double increment = 1e-6;
    const auto size = static_cast<Eigen::Index>(free_.size());
    const Vector rates = scaled(here.rate);
    Matrix slope(size, size);
    for (Eigen::Index column = 0; column < size; ++column) {
      const State beside = moved(state, Vector::Unit(size, column) * increment);
      slope.col(column) = (scaled(instant(beside).rate) - rates) / increment;
    }
    return slope;
  }

  [[nodiscard]] State moved(const State& state, const Vector& scaled_move) const {
    StateArray values = to_array(state);
    for (std::size_t i = 0; i < free_.size(); ++i)
      values[free_[i]] += typical()[free_[i]] * scaled_move[static_cast<Eigen::Index>(i)];
    State out = to_state(values);
    out.shaft_speed_rad_s = std::max(out.shaft_speed_rad_s, 10.0);
    return out;
  }

 private:
  static const StateArray& typical() {
    static const StateArray sizes = to_array(typical_state);
    return sizes;
  }
  Craft craft_;
  Pinned pinned_;
  LeverSegment segment_;
  std::vector<std::size_t> free_;
};

std::optional<State> settle(const Dynamics& dynamics, State state) {
  Instant here = dynamics.instant(state);
  Vector rates = dynamics.scaled(here.rate);
  // the nearer to rest the longer: at the end of a launch the first is Newton's step already
  double step_s = std::max(first_step_s, 0.1 / rates.squaredNorm());
  for (int iteration = 0; iteration < most_iterations; ++iteration) {
    const double size = rates.norm();
    if (!std::isfinite(size)) return std::nullopt;
    if (size < settled_rate_1_s) return state;
    const Matrix slope = dynamics.jacobian(state, here);
    const auto identity = Matrix::Identity(slope.rows(), slope.cols());
    const Vector move = (identity / step_s - slope).partialPivLu().solve(rates);
    const State next = dynamics.moved(state, move);
    const Instant there = dynamics.instant(next);
    const Vector next_rates = dynamics.scaled(there.rate);
    const double next_size = next_rates.norm();
    if (!std::isfinite(next_size) || next_size > 4.0 * size + 1e-9) {
      step_s *= 0.25;
      if (step_s < 1e-7) return std::nullopt;
      continue;
    }
    // switched evolution relaxation: the closer to rest, the longer the step, Newton's in the end
    step_s =
        std::min(longest_step_s, step_s * std::clamp(size / std::max(next_size, 1e-300), 0.5, 100.0) * 1.2);
    state = next;
    here = there;
    rates = next_rates;
  }
  return rates.norm() < 1e3 * settled_rate_1_s ? std::optional(state) : std::nullopt;
}

double flow_balance(const Craft& craft, State state, double flow_m3_s) {
  state.flow_m3_s = flow_m3_s;
  const Instant now = evaluate(craft, {0.0, state.air_path, 0.0}, 0.0, state);
  return now.pump_energy_J_kg - now.needed_energy_J_kg;
}

// The flow at which the pump meets its passage, with the cavities of `state`.
double balanced_flow(const Craft& craft, const State& state) {
  double low = 1e-6, high = craft.passage.jet_area_m2 * 5.0;
  double at_low = flow_balance(craft, state, low), at_high = flow_balance(craft, state, high);
  for (int doubling = 0; doubling < 12 && at_high > 0.0; ++doubling) {
    high *= 2.0;
    at_high = flow_balance(craft, state, high);
  }
  if (!(at_low > 0.0) || !(at_high < 0.0))
    throw std::runtime_error("pump: no flow balances the passage at idle");
  std::uintmax_t iterations = 100;
  const auto close = [](double a, double b) { return b - a <= 1e-13 * b; };
  const auto bracket =
      boost::math::tools::toms748_solve([&](double flow) { return flow_balance(craft, state, flow); }, low,
                                        high, at_low, at_high, close, iterations);
  return 0.5 * (bracket.first + bracket.second);
}

}  // namespace

std::optional<Steady> steady(const Craft& craft, const Pinned& pinned, const State& guess) {
  const Dynamics dynamics(craft, pinned);
  const std::optional<State> state = settle(dynamics, dynamics.place(guess));
  if (!state) return std::nullopt;
  return Steady{*state, dynamics.instant(*state)};
}

State planing_guess(const Craft& craft, double speed_m_s) {
  State state = craft.start;
  state.speed_m_s = speed_m_s;
  state.trim_rad = 0.07;
  state.shaft_speed_rad_s = 0.95 * craft.engine->peak_speed_rad_s;
  state.flow_m3_s = craft.passage.jet_area_m2 * std::max(40.0, 1.3 * speed_m_s);
  state.cavity_1 = state.cavity_2 = state.void_fraction = 0.0;
  state.air_path = 1.0;
  state.boost = 1.0;
  return state;
}

std::optional<Steady> top_speed(const Craft& craft, double lever, const State& guess) {
  Pinned pinned;
  pinned.lever = lever;
  if (const auto found = steady(craft, pinned, guess)) return found;
  // from a poor guess: let flow and shaft settle at a held speed first
  for (const double speed : {25.0, 18.0, 12.0, 32.0}) {
    Pinned holding = pinned;
    holding.speed_m_s = speed;
    const auto settled = steady(craft, holding, planing_guess(craft, speed));
    if (!settled) continue;
    if (const auto found = steady(craft, pinned, settled->state)) return found;
  }
  return std::nullopt;
}

std::optional<Steady> cruise(const Craft& craft, double speed_m_s) {
  Pinned pinned;
  pinned.speed_m_s = speed_m_s;
  State guess = planing_guess(craft, speed_m_s);
  const auto at_lever = [&](double lever) {
    pinned.lever = lever;
    auto found = steady(craft, pinned, guess);
    if (found) guess = found->state;
    return found;
  };
  const auto surplus = [](const Steady& point) { return point.now.thrust_N - point.now.drag_N; };

  // open the throttle step by step from idle until it holds the speed, then close in on it
  double low = craft.idle_air_path;
  auto below = at_lever(low);
  if (!below || surplus(*below) > 0.0) return std::nullopt;
  constexpr int steps = 12;
  for (int i = 1; i <= steps; ++i) {
    const double lever = craft.idle_air_path + (1.0 - craft.idle_air_path) * i / steps;
    const auto above = at_lever(lever);
    if (!above) return std::nullopt;
    if (surplus(*above) < 0.0) {
      low = lever;
      below = above;
      continue;
    }
    std::uintmax_t iterations = 60;
    const auto residual = [&](double trial) {
      const auto point = at_lever(trial);
      return point ? surplus(*point) : std::numeric_limits<double>::quiet_NaN();
    };
    const auto close = [](double a, double b) { return b - a <= 1e-12; };
    const auto bracket = boost::math::tools::toms748_solve(residual, low, lever, surplus(*below),
                                                           surplus(*above), close, iterations);
    return at_lever(0.5 * (bracket.first + bracket.second));
  }
  return std::nullopt;
}

State start_state(const Craft& craft, const Start& start, double static_trim_rad, double& idle_air_path) {
  const Craft fixed = held(craft);
  State state{};
  state.trim_rad = static_trim_rad;
  state.shaft_speed_rad_s = start.shaft_speed_rad_s;
  state.boost = craft.engine->boost_turns_rad > 0.0 ? 0.0 : 1.0;
  for (int pass = 0; pass < 20; ++pass) {
    state.flow_m3_s = balanced_flow(fixed, state);
    const Instant now = evaluate(fixed, {0.0, 0.0, 0.0}, 0.0, state);
    const State before = state;
    state.cavity_1 += now.rate.cavity_1 / craft.cavity_rate_1_s;
    state.cavity_2 += now.rate.cavity_2 / craft.cavity_rate_1_s;
    // nothing moved: the next pass would be this one again
    if (state.cavity_1 == before.cavity_1 && state.cavity_2 == before.cavity_2) break;
  }
  const Instant idle = evaluate(fixed, {0.0, 0.0, 0.0}, 0.0, state);
  idle_air_path = air_path_for_torque(*craft.engine, start.shaft_speed_rad_s, idle.pump_torque_Nm);
  if (!(idle_air_path > 0.0) || !(idle_air_path < 1.0))
    throw std::runtime_error("engine: full throttle cannot hold start.shaft_speed against the pump");
  state.air_path = idle_air_path;
  if (start.rolling_speed_m_s <= 0.0) return state;

  Craft rolling = craft;
  rolling.idle_air_path = idle_air_path;
  rolling.start = state;
  Pinned idling;
  idling.speed_m_s = start.rolling_speed_m_s;
  idling.lever = idle_air_path;
  // below the speed at which it creeps along by itself the craft starts from idle, above from the throttle
  // that holds it
  const auto creeping = steady(rolling, idling, state);
  if (creeping && creeping->now.thrust_N >= creeping->now.drag_N) return creeping->state;
  const auto cruising = cruise(rolling, start.rolling_speed_m_s);
  if (!cruising) throw std::runtime_error("start: no throttle holds start.rolling_speed");
  return cruising->state;
}

}  // namespace bowrise
