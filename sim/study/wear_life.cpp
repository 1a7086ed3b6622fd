#include "sim/study/wear_life.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "sim/craft.hpp"
#include "sim/launch.hpp"
#include "sim/study/executor.hpp"
#include "sim/study/sample.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {
namespace {

constexpr double largest_gap_step_m = 0.02e-3;
constexpr double fewest_steps = 20.0;
constexpr double feedback_share = 1.02;

/// One launch of a craft worn to a state: what it takes off, and how it went.
struct WornLaunch {
  WearExposure exposure;
  Outcome outcome;
};

WornLaunch launch_worn(const Setup& setup, const WearState& state, const Tables& offered) {
  const Craft craft = prepare(worn_to(setup, state), offered);
  const Launch run = launch(craft, setup.run, launch_options(setup, false));
  if (run.end == LaunchEnd::failed) throw std::runtime_error(run.failure);
  return {run.tally.wear, outcome_of(summarise(craft, run))};
}

WearState after(const Setup& setup, const WearState& state, const WearExposure& one, double launches) {
  return wear_after(setup.wear, {one.erosion_index_s * launches, one.grit_index_s * launches}, state);
}

WearPoint point_at(const Setup& setup, double launches, const WearState& state, const WornLaunch& run) {
  return {launches, state, clearance_growth_m(setup.wear, run.exposure), run.outcome};
}

/// So many whole launches that the gap grows by no more than a step, or one.
double step_from(const WearPoint& point, double end) {
  const double left = end - point.launches;
  const double by_gap =
      point.growth_per_launch_m > 0.0 ? largest_gap_step_m / point.growth_per_launch_m : left;
  return std::clamp(std::floor(std::min(by_gap, end / fewest_steps)), 1.0, left);
}

/// Mean exposure of so many launches in a row, of which the first and the one after the last are known: the
/// sum of whole launches by the formula of Euler and Maclaurin, not the integral.
WearExposure mean_exposure(const WearExposure& first, const WearExposure& beyond, double launches) {
  const double share = 0.5 * (1.0 - 1.0 / launches);
  return {first.erosion_index_s + share * (beyond.erosion_index_s - first.erosion_index_s),
          first.grit_index_s + share * (beyond.grit_index_s - first.grit_index_s)};
}

std::vector<WearPoint> follow(const Setup& setup, double end, std::string& failure) {
  std::vector<WearPoint> points;
  WearState state = wear_state(setup);
  const Tables unworn = tables_for(setup);  // wear leaves the hull alone
  try {
    WornLaunch run = launch_worn(setup, state, unworn);
    points.push_back(point_at(setup, 0.0, state, run));
    while (points.back().launches < end) {
      const double step = step_from(points.back(), end), launches = points.back().launches + step;
      const WornLaunch ahead = launch_worn(setup, after(setup, state, run.exposure, step), unworn);
      state = after(setup, state, mean_exposure(run.exposure, ahead.exposure, step), step);
      run = launch_worn(setup, state, unworn);
      points.push_back(point_at(setup, launches, state, run));
      if (wear_held(setup.wear, state)) {
        failure = "wear has gone beyond what the law is believed for";
        break;
      }
    }
  } catch (const std::runtime_error& error) {
    failure = error.what();
  }
  return points;
}

/// Launches at which a rising quantity passes a limit, by straight interpolation between points.
template <class Value>
std::optional<double> passing(const std::vector<WearPoint>& points, double limit, const Value& value) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double here = value(points[i]);
    if (here < limit) continue;
    if (i == 0) return 0.0;
    const double before = value(points[i - 1]);
    if (!std::isfinite(here)) return points[i].launches;
    return points[i - 1].launches +
           (points[i].launches - points[i - 1].launches) * (limit - before) / (here - before);
  }
  return std::nullopt;
}

WearLimits limits_of(const std::vector<WearPoint>& points, double slower_s) {
  if (points.empty()) return {};
  const std::size_t mark = result_index("time_to_30_mph");
  const auto gap = [](const WearPoint& point) { return point.state.clearance_m; };
  const auto time = [mark](const WearPoint& point) {
    return point.outcome.values[mark].value_or(std::numeric_limits<double>::infinity());
  };
  const double first_time = time(points.front()), first_gap = gap(points.front());
  return {.slower = std::isfinite(first_time) ? passing(points, first_time + slower_s, time) : std::nullopt,
          .amber = passing(points, amber_gap_m, gap),
          .red = passing(points, red_gap_m, gap),
          .doubled = passing(points, 2.0 * first_gap, gap)};
}

WearLife life_of(const Contender& contender, const WearOptions& options) {
  WearLife life{contender.name, {}, {}, false, {}, {}, {}};
  life.points = follow(contender.setup, options.launches, life.failure);
  life.limits = limits_of(life.points, options.slower_s);
  if (!life.points.empty())
    life.feeds_back =
        life.points.back().growth_per_launch_m > feedback_share * life.points.front().growth_per_launch_m;
  return life;
}

WearLimits drawn_limits(const Setup& setup, const WearOptions& options) {
  std::string ignored;
  return limits_of(follow(setup, options.launches, ignored), options.slower_s);
}

}  // namespace

std::vector<WearLife> wear_lives(const std::vector<Contender>& contenders, const WearOptions& options) {
  const std::size_t count = contenders.size(), draws = options.band.draws;
  std::vector<WearLife> lives(count);
  std::vector<WearLimits> limits(count * draws);
  const Draws sample(draws, options.band.seed);
  for_each_index(count * (draws + 1), options.band.threads, [&](std::size_t i) {
    if (i < count)
      lives[i] = life_of(contenders[i], options);
    else
      limits[i - count] = drawn_limits(
          sample.apply(contenders[i % count].setup, i / count - 1, contenders[i % count].posterior), options);
  });
  for (std::size_t setup = 0; setup < count; ++setup) {
    std::vector<std::optional<double>> slower, red;
    for (std::size_t draw = 0; draw < draws; ++draw) {
      slower.push_back(limits[draw * count + setup].slower);
      red.push_back(limits[draw * count + setup].red);
    }
    lives[setup].slower_band = band_of(slower);
    lives[setup].red_band = band_of(red);
  }
  return lives;
}

}  // namespace bowrise
