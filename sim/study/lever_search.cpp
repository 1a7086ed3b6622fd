#include "sim/study/lever_search.hpp"

#include <algorithm>
#include <cmath>
#include <exception>
#include <limits>
#include <nlopt.hpp>
#include <stdexcept>

#include "sim/units.hpp"

namespace bowrise {
namespace {

double knot_time_s(std::size_t knot, double full_s) {
  constexpr KnotLevers share{0.0, 0.2, 0.3, 0.45, 0.65, 0.85};  // closer where the revs shoot up
  return full_s * share[knot];
}

constexpr std::size_t searches = 3;  // there are several valleys

/// Time to 30 mph against the levers, remembering the best.
class Objective {
 public:
  Objective(const Craft& craft, const Setup& setup, double full_s)
      : craft_(craft), setup_(setup), full_s_(full_s) {
    best_.plan = Plan::table;
  }

  double operator()(const KnotLevers& levers) {
    Throttle throttle = craft_.throttle;
    throttle.plan = Plan::table;
    throttle.table = lever_table(levers, full_s_, throttle.hand_rate_1_s);
    set_throttle(craft_, throttle);
    const double time_s = score(short_launch(craft_, setup_, longest_share * full_s_));
    if (time_s < best_time_s_) {
      best_time_s_ = time_s;
      best_ = throttle;
    }
    return time_s;
  }

  [[nodiscard]] const Throttle& best() const { return best_; }

 private:
  static constexpr double longest_share = 1.3;  // of the time of the last knot: later than that is no use

  // A launch that misses the mark scores worse than any that meets it, the worse the slower it still is.
  [[nodiscard]] double score(const Launch& run) const {
    if (const auto time_s = time_to_30_mph(run)) return *time_s;
    const double missing = 1.0 - run.end_state.speed_m_s / from_unit(30.0, *find_unit("mph"));
    return longest_share * full_s_ * (1.0 + (std::isfinite(missing) ? std::clamp(missing, 0.0, 2.0) : 2.0));
  }

  Craft craft_;
  const Setup& setup_;
  double full_s_;
  double best_time_s_ = std::numeric_limits<double>::infinity();
  Throttle best_{};
};

/// NLopt swallows what an objective throws; it is kept here.
struct Call {
  Objective& objective;
  std::exception_ptr thrown;
};

double call(const std::vector<double>& values, std::vector<double>&, void* data) {
  auto& wanted = *static_cast<Call*>(data);
  try {
    KnotLevers levers{};
    std::copy(values.begin(), values.end(), levers.begin());
    return wanted.objective(levers);
  } catch (...) {
    wanted.thrown = std::current_exception();
    throw nlopt::forced_stop();
  }
}

void search(Objective& objective, const KnotLevers& start, double lowest, std::size_t evaluations) {
  constexpr double first_step = 0.15, fine_enough = 1e-4;
  Call data{objective, nullptr};
  nlopt::opt optimiser(nlopt::LN_SBPLX, lever_knots);
  optimiser.set_lower_bounds(lowest);
  optimiser.set_upper_bounds(1.0);
  optimiser.set_initial_step(first_step);
  optimiser.set_xtol_abs(fine_enough);
  optimiser.set_maxeval(static_cast<int>(evaluations));
  optimiser.set_min_objective(call, &data);
  std::vector<double> levers(start.begin(), start.end());
  for (double& lever : levers) lever = std::clamp(lever, lowest, 1.0);
  double least = 0.0;
  try {
    optimiser.optimize(levers, least);
  } catch (const nlopt::forced_stop&) {
    if (data.thrown) std::rethrow_exception(data.thrown);
    throw;
  } catch (const nlopt::roundoff_limited&) {  // as near as numbers get: the best seen stands
  }
}

}  // namespace

TableRows lever_table(const KnotLevers& levers, double full_s, double hand_rate_1_s) {
  TableRows rows{{0.0, levers[0]}};
  double time_s = levers[0] / hand_rate_1_s, lever = levers[0];
  const auto add = [&](double at_s, double wanted) {
    const double reach = std::max(0.0, at_s - time_s) * hand_rate_1_s;
    lever = std::clamp(wanted, lever - reach, lever + reach);
    time_s = at_s;
    rows.push_back({at_s, lever});
  };
  for (std::size_t knot = 1; knot < lever_knots; ++knot)
    if (knot_time_s(knot, full_s) > time_s) add(knot_time_s(knot, full_s), levers[knot]);
  add(full_s, 1.0);
  if (lever < 1.0) add(time_s + (1.0 - lever) / hand_rate_1_s, 1.0);
  rows.back()[1] = 1.0;  // full is a stop: nothing is left of rounding
  return rows;
}

KnotLevers levers_at_knots(const std::vector<LeverSegment>& lever, double full_s) {
  KnotLevers levers{};
  for (std::size_t knot = 0; knot < lever_knots; ++knot) {
    const double time_s = knot_time_s(knot, full_s);
    const auto next = std::find_if(lever.begin(), lever.end(),
                                   [time_s](const LeverSegment& piece) { return piece.start_s > time_s; });
    levers[knot] = std::prev(next)->lever(time_s);
  }
  levers[0] = 1.0;  // every plan opens from shut; how far the first knot goes is left to the search
  return levers;
}

Launch short_launch(const Craft& craft, const Setup& setup, double duration_s) {
  LaunchOptions options = launch_options(setup, false);
  options.duration_s = std::min(duration_s, options.duration_s);
  return launch(craft, setup.run, options);
}

std::optional<double> time_to_30_mph(const Launch& run) {
  for (const Event& event : run.events)
    if (run.event_rows[event.row].name == "30 mph") return event.time_s;
  return std::nullopt;
}

Throttle quickest_lever(const Craft& craft, const Setup& setup, double full_s,
                        const std::vector<KnotLevers>& starts, std::size_t evaluations) {
  if (starts.empty()) throw std::invalid_argument("quickest_lever: no start");
  Objective objective(craft, setup, full_s);
  std::vector<std::pair<double, std::size_t>> order;
  for (std::size_t i = 0; i < starts.size(); ++i) order.emplace_back(objective(starts[i]), i);
  std::sort(order.begin(), order.end());
  order.resize(std::min(order.size(), searches));
  for (const auto& [time_s, i] : order)
    search(objective, starts[i], craft.idle_air_path, evaluations / order.size());
  return objective.best();
}

}  // namespace bowrise
