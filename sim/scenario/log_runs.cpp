// Cuts a log into launches.
#include <algorithm>
#include <cmath>

#include "sim/scenario/log.hpp"

namespace bowrise {
namespace {

// Below `still` a drifting craft with a GPS counts as standing, above `away` it is on its way [engineering
// judgement: GPS wanders by 0.1-0.3 m/s, a lake drifts with under 0.5].
constexpr double still_m_s = 1.2, away_m_s = 5.0;
constexpr double shortest_run_s = 2.0, longest_run_s = 60.0, lead_s = 1.5;
constexpr double open_throttle = 0.3;

using Samples = std::vector<LoggedSample>;

/// Index of the first sample from `from` on that goes past `away`; the size when none does.
std::size_t first_away(const Samples& samples, std::size_t from) {
  while (from < samples.size() && samples[from].speed_m_s.value_or(0.0) < away_m_s) ++from;
  return from;
}

/// The last sample at standstill before `away`, or nothing when the craft was moving at `from` already.
std::optional<std::size_t> last_still(const Samples& samples, std::size_t from, std::size_t away) {
  for (std::size_t i = away; i-- > from;)
    if (samples[i].speed_m_s && *samples[i].speed_m_s < still_m_s) return i;
  return std::nullopt;
}

/// One past the last sample of the run: the throttle let go, a fall of 6 % from the best speed, a gap of
/// 3 s, or 60 s.
std::size_t run_end(const Samples& samples, std::size_t begin, std::size_t away) {
  double best = 0.0, widest = 0.0;
  std::size_t last_near_best = away;
  for (std::size_t i = away; i < samples.size(); ++i) {
    const double speed = samples[i].speed_m_s.value_or(best);
    widest = std::max(widest, samples[i].throttle.value_or(0.0));
    if (samples[i].throttle && widest > 0.5 && *samples[i].throttle < 0.8 * widest) return i;
    if (samples[i].time_s - samples[begin].time_s > longest_run_s) return i;
    if (samples[i].time_s - samples[i - 1].time_s > 3.0) return i;
    best = std::max(best, speed);
    if (speed >= 0.985 * best - 0.1) last_near_best = i;
    if (speed < 0.94 * best - 0.3) return last_near_best + 1;
  }
  return samples.size();
}

std::optional<double> median_shaft_speed(const Samples& samples, std::size_t begin, std::size_t end) {
  std::vector<double> values;
  for (std::size_t i = begin; i < end; ++i)
    if (samples[i].shaft_speed_rad_s) values.push_back(*samples[i].shaft_speed_rad_s);
  if (values.size() < 3) return std::nullopt;
  std::nth_element(values.begin(), values.begin() + static_cast<long>(values.size() / 2), values.end());
  return values[values.size() / 2];
}

/// Where the throttle opens: seen by the throttle, else by the shaft, else guessed from the speed, which
/// crosses walking pace some 0.4 s later.
void find_start(const Samples& samples, std::size_t begin, std::size_t still, std::size_t away,
                LoggedRun& run) {
  run.start_s = samples[still].time_s - 0.4;
  std::optional<std::size_t> opening;
  for (std::size_t i = away; i-- > begin;)
    if (samples[i].throttle && *samples[i].throttle < open_throttle) {
      opening = i;
      break;
    }
  for (std::size_t i = still + 1; !opening && i-- > begin;) {
    const auto idle = median_shaft_speed(samples, begin, i + 1);
    if (!idle || !samples[i].shaft_speed_rad_s) break;
    if (*samples[i].shaft_speed_rad_s < 1.25 * *idle) opening = i;
  }
  if (!opening) return;
  run.start_s = samples[*opening].time_s;
  run.idle_rad_s = median_shaft_speed(samples, begin, *opening + 1);
}

double mean_heading(const LoggedRun& run) {
  double east = 0.0, north = 0.0;
  for (const LoggedSample& sample : run.samples)
    if (sample.heading_rad && sample.speed_m_s.value_or(0.0) > away_m_s) {
      east += std::sin(*sample.heading_rad);
      north += std::cos(*sample.heading_rad);
    }
  return std::atan2(east, north);
}

bool has_heading(const LoggedRun& run) {
  return std::any_of(run.samples.begin(), run.samples.end(),
                     [](const LoggedSample& sample) { return sample.heading_rad.has_value(); });
}

}  // namespace

std::variant<std::vector<LoggedRun>, Complaint> runs_of(const Log& log) {
  const Samples& samples = log.samples;
  std::vector<LoggedRun> runs;
  bool rolling = false;
  for (std::size_t from = 0; from < samples.size();) {
    const std::size_t away = first_away(samples, from);
    if (away == samples.size()) break;
    const auto still = last_still(samples, from, away);
    const std::size_t end = run_end(samples, still.value_or(away), std::max<std::size_t>(away, 1));
    if (!still) {
      rolling = true;
    } else if (samples[end - 1].time_s - samples[*still].time_s >= shortest_run_s) {
      std::size_t begin = *still;
      while (begin > from && samples[*still].time_s - samples[begin - 1].time_s <= lead_s) --begin;
      LoggedRun run{log.file + ", run " + std::to_string(runs.size() + 1),
                    {samples.begin() + static_cast<long>(begin), samples.begin() + static_cast<long>(end)},
                    0.0,
                    std::nullopt,
                    1.0};
      find_start(samples, begin, *still, away, run);
      runs.push_back(std::move(run));
    }
    from = std::max(end, away + 1);
    // the same run again would begin in the middle: wait for the next standstill
    while (from < samples.size() && samples[from].speed_m_s.value_or(still_m_s) >= still_m_s) ++from;
  }
  if (runs.empty())
    return Complaint{{log.file, 0, 0},
                     "speed",
                     rolling ? "no run from standstill: the log begins on the move"
                             : "no run: nothing goes from standstill past 5 m/s for 2 s; is the unit right?",
                     false};
  for (LoggedRun& run : runs)
    if (has_heading(run) && has_heading(runs.front()))
      run.course = std::cos(mean_heading(run) - mean_heading(runs.front()));
  return runs;
}

}  // namespace bowrise
