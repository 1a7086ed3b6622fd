#include "sim/study/fit_trace.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "sim/craft.hpp"
#include "sim/launch.hpp"
#include "sim/study/band.hpp"
#include "sim/study/outcome.hpp"
#include "sim/study/sample.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {
namespace {

// Finer than for a single answer: slopes are differences of launches.
constexpr double fit_tolerance = 1e-6, trace_step_s = 0.02;
// GPS loggers tell a speed 0.1 to 0.4 s late [common practice, no source].
constexpr double usual_latency_s = 0.2, latency_scatter_s = 0.15;
// Shaft speed comes through the engine's controller, 0 to 0.1 s late [common practice, no source]. Were it
// taken as prompt, the start would seem known better than it is, and with it every time of the launch.
constexpr double usual_shaft_latency_s = 0.05, shaft_latency_scatter_s = 0.05;
constexpr double start_scatter_s = 0.3, start_scatter_by_speed_s = 0.5;
constexpr double current_scatter_m_s = 0.7;
// Scatter to begin with, wide so that a poor start is not taken for outliers, and the least that is believed.
constexpr ObservationGroup speed_scatter{0.5, 0.02}, log_shaft_speed_scatter{0.02, 0.001};

struct Trace {
  std::vector<double> time_s, speed_m_s, shaft_speed_rad_s;

  [[nodiscard]] double at(double t, const std::vector<double>& values) const {
    if (t <= time_s.front()) return values.front();
    if (t >= time_s.back()) return values.back();
    const auto right = std::upper_bound(time_s.begin(), time_s.end(), t);
    const auto i = static_cast<std::size_t>(right - time_s.begin());
    const double span = time_s[i] - time_s[i - 1];
    return values[i - 1] + (values[i] - values[i - 1]) * (t - time_s[i - 1]) / span;
  }
};

std::optional<Trace> trace_of(const Setup& setup, const Tables& offered, double duration_s) {
  LaunchOptions options = launch_options(setup, true);
  options.row_step_s = trace_step_s;
  options.duration_s = duration_s;
  options.stop_at_top_speed = options.stop_when_stalled = false;
  try {
    const Launch run = launch(prepare(setup, offered), setup.run, options);
    if (run.end == LaunchEnd::failed) return std::nullopt;
    Trace trace;
    for (const TraceRow& row : run.rows) {
      if (!trace.time_s.empty() && row.time_s <= trace.time_s.back()) continue;
      trace.time_s.push_back(row.time_s);
      trace.speed_m_s.push_back(row.state.speed_m_s);
      trace.shaft_speed_rad_s.push_back(row.state.shaft_speed_rad_s);
    }
    return trace;
  } catch (const std::runtime_error&) {
    return std::nullopt;
  }
}

/// The logged throttle as a plan, where it was not simply pinned: time and lever from the start, at most
/// 200 rows.
std::optional<TableRows> logged_lever(const LoggedRun& run) {
  TableRows rows;
  double widest = 0.0;
  std::optional<double> full_s;
  for (const LoggedSample& sample : run.samples) {
    const double t = sample.time_s - run.start_s;
    if (!sample.throttle || t < 0.0) continue;
    widest = std::max(widest, *sample.throttle);
    if (!full_s && *sample.throttle > 0.95) full_s = t;
    if (rows.empty() || t > rows.back()[0]) rows.push_back({t, std::clamp(*sample.throttle, 0.0, 1.0)});
  }
  if (rows.size() < 2) return std::nullopt;
  const bool pinned =
      full_s && *full_s <= 0.35 && std::all_of(rows.begin(), rows.end(), [&](const std::vector<double>& row) {
        return row[0] < *full_s || row[1] > 0.9;
      });
  if (pinned) return std::nullopt;
  constexpr std::size_t most_rows = 200;
  TableRows kept;
  const std::size_t stride = (rows.size() + most_rows - 1) / most_rows;
  for (std::size_t i = 0; i < rows.size(); i += stride) kept.push_back(rows[i]);
  kept.front()[0] = 0.0;
  return kept;
}

/// When the speed first passes 93 % of the best of the run; spikes, under one in twenty, are no best.
double near_top_s(const LoggedRun& run) {
  constexpr double near = 0.93;
  std::vector<double> speeds;
  for (const LoggedSample& sample : run.samples)
    if (sample.speed_m_s) speeds.push_back(*sample.speed_m_s);
  std::sort(speeds.begin(), speeds.end());
  const double best = speeds.empty() ? 0.0 : quantile(speeds, 0.95);
  for (const LoggedSample& sample : run.samples)
    if (sample.speed_m_s.value_or(0.0) > near * best) return sample.time_s;
  return run.samples.back().time_s;
}

bool several_courses(std::span<const LoggedRun> runs) {
  return std::any_of(runs.begin(), runs.end(), [](const LoggedRun& run) { return run.course < -0.5; });
}

}  // namespace

Setup with_stated_limiter(Setup setup) {
  setup.engine.limiter_rad_s = limiter_speed_rad_s(setup.engine);
  return setup;
}

LoggedCraft::LoggedCraft(const Setup& setup, std::span<const LoggedRun> runs, std::span<const Seen> seen)
    : setup_(setup), runs_(runs), seen_(seen) {
  setup_.run.tolerance = std::min(setup_.run.tolerance, fit_tolerance);
  for (std::size_t run = 0; run < runs.size(); ++run) observe(run);
  for (const Key* key : uncertain_keys())
    if (std::isfinite(get_in_unit(setup, *key))) keys_.push_back(key);
  for (const Key* key : setting_keys())
    if (witnessed(*key)) keys_.push_back(key);
  for (const Seen& number : seen) {
    const double value = number.value.value(), scatter = rider_scatter(number.result, value) * value;
    groups_.push_back({scatter, scatter});
    observations_.push_back({value, groups_.size() - 1, 0});
  }
  find_nuisances();
}

void LoggedCraft::observe(std::size_t run) {
  const LoggedRun& logged = runs_[run];
  levers_.push_back(logged_lever(logged));
  longest_s_ = std::max(longest_s_, logged.samples.back().time_s - logged.start_s + 1.0);
  if (logged.idle_rad_s) setup_.start.shaft_speed_rad_s = std::clamp(*logged.idle_rad_s, 60.0, 1000.0);
  // what the model misses in a launch it need not miss at the top: each has a scatter of its own
  const double settled_s = near_top_s(logged);
  const auto launching = [&](const LoggedSample& sample) { return sample.time_s < settled_s; };
  for (const LoggedSample& sample : logged.samples)
    if (sample.speed_m_s) {
      const auto place = group(launching(sample) ? "speed in the launch" : "speed near the top", false);
      observations_.push_back({*sample.speed_m_s, place, run});
      times_s_.push_back(sample.time_s);
    }
  // before the start the engine idles, on which nothing depends
  for (const LoggedSample& sample : logged.samples)
    if (sample.time_s > logged.start_s && sample.shaft_speed_rad_s.value_or(0.0) > 10.0) {
      const auto place = group(launching(sample) ? "rpm in the launch" : "rpm near the top", true);
      observations_.push_back({std::log(*sample.shaft_speed_rad_s), place, run});
      times_s_.push_back(sample.time_s);
    }
}

std::size_t LoggedCraft::group(std::string_view name, bool shaft) {
  for (std::size_t i = 0; i < group_names_.size(); ++i)
    if (group_names_[i] == name) return i;
  group_names_.emplace_back(name);
  group_is_shaft_.push_back(shaft);
  groups_.push_back(shaft ? log_shaft_speed_scatter : speed_scatter);
  return groups_.size() - 1;
}

void LoggedCraft::find_nuisances() {
  using Kind = LoggingNuisance::Kind;
  if (runs_.empty()) return;
  nuisances_.push_back({Kind::speed_latency, 0, usual_latency_s, latency_scatter_s});
  if (shaft_logged())
    nuisances_.push_back({Kind::shaft_latency, 0, usual_shaft_latency_s, shaft_latency_scatter_s});
  if (several_courses(runs_)) nuisances_.push_back({Kind::current, 0, 0.0, current_scatter_m_s});
  for (std::size_t run = 0; run < runs_.size(); ++run) {
    const bool opening_seen = runs_[run].idle_rad_s.has_value();
    nuisances_.push_back(
        {Kind::start, run, runs_[run].start_s, opening_seen ? start_scatter_s : start_scatter_by_speed_s});
  }
}

bool LoggedCraft::witnessed(const Key& setting) const {
  if (!shaft_logged() || !std::isfinite(get_in_unit(setup_, setting))) return false;
  if (setting.name != "throttle.hand_rate") return true;
  const bool by_hand = std::any_of(levers_.begin(), levers_.end(), [](const auto& lever) { return !lever; });
  return by_hand && setup_.throttle.plan == Plan::pinned;
}

bool LoggedCraft::shaft_logged() const {
  return std::any_of(group_is_shaft_.begin(), group_is_shaft_.end(), [](bool shaft) { return shaft; });
}

double LoggedCraft::shaft_plateau_rad_s() const {
  std::vector<double> logarithms;
  for (std::size_t i = 0; i < times_s_.size(); ++i)
    if (group_is_shaft_[observations_[i].group]) logarithms.push_back(observations_[i].value);
  if (logarithms.empty()) return 0.0;
  std::sort(logarithms.begin(), logarithms.end());
  return std::exp(quantile(logarithms, 0.97));
}

Setup LoggedCraft::setup_at(const Eigen::VectorXd& parameters) const {
  Setup setup = setup_;
  for (std::size_t i = 0; i < keys_.size(); ++i) {
    const Key& key = *keys_[i];
    const double share = normal_share(parameters[static_cast<Eigen::Index>(i)]);
    set_in_unit(setup, key, moved(key, get_in_unit(setup_, key), unfitted_centre(key), share));
  }
  return setup;
}

double LoggedCraft::logging_at(LoggingNuisance::Kind kind, std::size_t run,
                               const Eigen::VectorXd& parameters) const {
  const auto found = std::find_if(nuisances_.begin(), nuisances_.end(),
                                  [&](const LoggingNuisance& n) { return n.kind == kind && n.run == run; });
  if (found == nuisances_.end()) return 0.0;
  return nuisance_at(static_cast<std::size_t>(found - nuisances_.begin()), parameters);
}

double LoggedCraft::nuisance_at(std::size_t nuisance, const Eigen::VectorXd& parameters) const {
  const LoggingNuisance& prior = nuisances_[nuisance];
  return prior.middle + prior.scatter * parameters[static_cast<Eigen::Index>(keys_.size() + nuisance)];
}

std::optional<std::vector<double>> LoggedCraft::predict(const Eigen::VectorXd& parameters) const {
  using Kind = LoggingNuisance::Kind;
  const Setup setup = setup_at(parameters);
  const Tables tables = tables_for(setup);
  std::vector<std::optional<Trace>> traces(runs_.size());
  std::optional<Trace> pinned;
  for (std::size_t run = 0; run < runs_.size(); ++run) {
    std::optional<Trace>& trace = of_its_own(run) ? traces[run] : pinned;
    if (trace) continue;
    Setup as_ridden = setup;
    as_ridden.start.rolling_speed_m_s = runs_[run].rolling_m_s;
    if (levers_[run]) {
      as_ridden.throttle.plan = Plan::table;
      as_ridden.throttle.hand_rate_1_s = 1000.0;
      as_ridden.throttle.table = *levers_[run];
    }
    trace = trace_of(as_ridden, tables, longest_s_);
    if (!trace) return std::nullopt;
  }
  const double speed_latency = logging_at(Kind::speed_latency, 0, parameters);
  const double shaft_latency = logging_at(Kind::shaft_latency, 0, parameters);
  const double current = logging_at(Kind::current, 0, parameters);
  std::vector<double> predicted;
  for (std::size_t i = 0; i < times_s_.size(); ++i) {
    const auto& [value, group, run] = observations_[i];
    const Trace& trace = of_its_own(run) ? *traces[run] : *pinned;
    const double t = times_s_[i] - logging_at(Kind::start, run, parameters);
    if (group_is_shaft_[group])
      predicted.push_back(std::log(std::max(trace.at(t - shaft_latency, trace.shaft_speed_rad_s), 1.0)));
    else
      // over ground; a receiver tells no sign
      predicted.push_back(
          std::abs(trace.at(t - speed_latency, trace.speed_m_s) + current * runs_[run].course));
  }
  if (seen_.empty()) return predicted;
  const std::size_t coast = result_index("coast_down_distance");
  const bool coasts =
      std::any_of(seen_.begin(), seen_.end(), [&](const Seen& number) { return number.result == coast; });
  const Outcome outcome = outcome_of(setup, coasts, tables);
  for (const Seen& number : seen_) {
    if (!outcome.values[number.result]) return std::nullopt;
    predicted.push_back(*outcome.values[number.result]);
  }
  return predicted;
}

}  // namespace bowrise
