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
constexpr double open_throttle = 0.3, shut_share = 0.8, shut_for_s = 1.5;
constexpr double median_reach_s = 0.25, spike_m_s = 4.0, slowest_idle_rad_s = 30.0;

using Samples = std::vector<LoggedSample>;

/// Speeds as the search for runs sees them: medians over a quarter of a second each way, at least one sample,
/// which a spike does not move and a steady rise does not change.
std::vector<double> steady_speeds(const Samples& samples) {
  std::vector<std::size_t> told;
  for (std::size_t i = 0; i < samples.size(); ++i)
    if (samples[i].speed_m_s) told.push_back(i);
  std::vector<double> steady(samples.size(), 0.0);
  std::vector<double> window;
  for (std::size_t k = 0; k < told.size(); ++k) {
    const double t = samples[told[k]].time_s;
    std::size_t first = k > 0 ? k - 1 : 0, last = std::min(k + 1, told.size() - 1);
    while (first > 0 && t - samples[told[first - 1]].time_s < median_reach_s) --first;
    while (last + 1 < told.size() && samples[told[last + 1]].time_s - t < median_reach_s) ++last;
    // as many before as behind, or the ends would lean
    const std::size_t reach = std::min(k - first, last - k);
    window.clear();
    for (std::size_t i = k - reach; i <= k + reach; ++i) window.push_back(*samples[told[i]].speed_m_s);
    std::nth_element(window.begin(), window.begin() + static_cast<long>(reach), window.end());
    steady[told[k]] = window[reach];
  }
  // where the speed is not told it is that before
  for (std::size_t i = 1; i < samples.size(); ++i)
    if (!samples[i].speed_m_s) steady[i] = steady[i - 1];
  return steady;
}

std::optional<double> median_shaft_speed(const Samples& samples, std::size_t begin, std::size_t end) {
  std::vector<double> values;
  for (std::size_t i = begin; i < end; ++i)
    if (samples[i].shaft_speed_rad_s) values.push_back(*samples[i].shaft_speed_rad_s);
  if (values.size() < 3) return std::nullopt;
  std::nth_element(values.begin(), values.begin() + static_cast<long>(values.size() / 2), values.end());
  return values[values.size() / 2];
}

/// Cuts one log.
class Cutter {
 public:
  explicit Cutter(const Log& log) : log_(log), samples_(log.samples), speeds_(steady_speeds(log.samples)) {}

  std::variant<std::vector<LoggedRun>, Complaint> cut() {
    if (jumps())
      return complaint(
          "changes by over 2 g all along: no craft does; are the units of time and speed right?");
    for (std::size_t from = 0; from < samples_.size();) {
      const std::size_t away = first_away(from);
      if (away == samples_.size()) break;
      from = std::max(one_run(from, away), away + 1);
      // the same run again would begin in the middle: wait for the next slow stretch
      while (from < samples_.size() && speeds_[from] >= away_m_s) ++from;
    }
    if (runs_.empty())
      return complaint(rolling_
                           ? "no run from standstill or a crawl: the log begins on the move"
                           : "no run: nothing goes from standstill past 5 m/s for 2 s; is the unit right?");
    return std::move(runs_);
  }

 private:
  [[nodiscard]] Complaint complaint(std::string what) const {
    return {{log_.file, 0, 0}, "speed", std::move(what), false};
  }

  /// Whether the speed, over a third of a second and as a rule, changes as no craft can.
  [[nodiscard]] bool jumps() const {
    constexpr double reach_s = 0.3, hardest_m_s2 = 20.0;
    std::vector<double> changes;
    for (std::size_t i = 0, j = 0; i < samples_.size(); ++i) {
      if (!samples_[i].speed_m_s) continue;
      j = std::max(j, i + 1);
      while (j < samples_.size() &&
             (!samples_[j].speed_m_s || samples_[j].time_s - samples_[i].time_s < reach_s))
        ++j;
      if (j == samples_.size()) break;
      changes.push_back(std::abs(*samples_[j].speed_m_s - *samples_[i].speed_m_s) /
                        (samples_[j].time_s - samples_[i].time_s));
    }
    if (changes.size() < 8) return false;
    const auto middle = changes.begin() + static_cast<long>(changes.size() / 2);
    std::nth_element(changes.begin(), middle, changes.end());
    return *middle > hardest_m_s2;
  }

  /// Index of the first sample from `from` on that goes past `away`; the size when none does.
  [[nodiscard]] std::size_t first_away(std::size_t from) const {
    while (from < samples_.size() && speeds_[from] < away_m_s) ++from;
    return from;
  }

  /// One past the last sample of the run: the throttle let go, a fall of 6 % from the best speed, a gap of
  /// 3 s, or 60 s.
  [[nodiscard]] std::size_t run_end(std::size_t begin, std::size_t away) const {
    double best = 0.0, widest = 0.0;
    std::size_t last_near_best = away;
    for (std::size_t i = away; i < samples_.size(); ++i) {
      const double speed = speeds_[i];
      widest = std::max(widest, samples_[i].throttle.value_or(0.0));
      // a lift that the speed outlives belongs to the run, the plan follows it
      if (samples_[i].throttle && widest > 0.5 && *samples_[i].throttle < shut_share * widest &&
          stays_shut(i, widest))
        return i;
      if (samples_[i].time_s - samples_[begin].time_s > longest_run_s) return i;
      if (i > 0 && samples_[i].time_s - samples_[i - 1].time_s > 3.0) return i;
      best = std::max(best, speed);
      if (speed >= 0.985 * best - 0.1) last_near_best = i;
      if (speed < 0.94 * best - 0.3 && !opens_again(i)) return last_near_best + 1;
    }
    return samples_.size();
  }

  /// Whether the throttle stays below its share of `widest` for the next second and a half.
  [[nodiscard]] bool stays_shut(std::size_t from, double widest) const {
    for (std::size_t i = from; i < samples_.size() && samples_[i].time_s - samples_[from].time_s < shut_for_s;
         ++i)
      if (samples_[i].throttle && *samples_[i].throttle >= shut_share * widest) return false;
    return true;
  }
  /// Whether a throttle that is logged explains a dip of the speed.
  [[nodiscard]] bool opens_again(std::size_t at) const {
    bool lifted = false, open = false;
    for (std::size_t i = at; i-- > 0 && samples_[at].time_s - samples_[i].time_s < 2.0 * shut_for_s;)
      lifted = lifted || samples_[i].throttle.value_or(1.0) < 0.9;
    for (std::size_t i = at; i < samples_.size() && samples_[i].time_s - samples_[at].time_s < shut_for_s;
         ++i)
      open = open || samples_[i].throttle.value_or(0.0) > 0.9;
    return lifted && open;
  }

  /// The sample at which the throttle opens, by the throttle, else by the shaft, else by the speed, which
  /// begins to rise some tenths later.
  struct Opening {
    std::size_t at;
    bool by_speed;
  };
  [[nodiscard]] std::optional<Opening> opening_before(std::size_t from, std::size_t away) const {
    for (std::size_t i = away; i-- > from;)
      if (samples_[i].throttle && *samples_[i].throttle < open_throttle) return Opening{i, false};
    if (const auto at = shaft_rises(from, away)) return Opening{*at, false};
    for (std::size_t i = away; i-- > from;) {
      if (speeds_[i] < still_m_s) return Opening{i, true};
      if (rise_before(from, i) < 0.6) return Opening{i, true};
    }
    return std::nullopt;
  }
  /// The last sample at idle before the shaft goes up, by the fall, seen backwards, through half of its peak.
  [[nodiscard]] std::optional<std::size_t> shaft_rises(std::size_t from, std::size_t away) const {
    const auto shaft = [&](std::size_t i) { return samples_[i].shaft_speed_rad_s; };
    double peak = 0.0;
    std::size_t low = away + 1;
    for (std::size_t i = std::min(away + 1, samples_.size()); i-- > from;)
      if (shaft(i)) {
        if (*shaft(i) > slowest_idle_rad_s && *shaft(i) < 0.5 * peak) {
          low = i;
          break;
        }
        peak = std::max(peak, *shaft(i));
      }
    for (std::size_t i = low + 1; low <= away && i-- > from;) {
      if (!shaft(i)) continue;
      std::size_t before = i;
      while (before > from && samples_[i].time_s - samples_[before - 1].time_s < 2.0) --before;
      const auto idle = median_shaft_speed(samples_, before, i + 1);
      if (!idle) break;
      if (*idle > slowest_idle_rad_s && *shaft(i) < 1.25 * *idle) return i;
    }
    return std::nullopt;
  }
  /// By how much the speed rose in the half second up to a sample; much where that half second is not logged.
  [[nodiscard]] double rise_before(std::size_t from, std::size_t at) const {
    for (std::size_t i = at; i-- > from;)
      if (samples_[at].time_s - samples_[i].time_s >= 0.49) return speeds_[at] - speeds_[i];
    return 1e9;
  }

  /// @return where to search on
  std::size_t one_run(std::size_t from, std::size_t away) {
    const auto opening = opening_before(from, away);
    const std::size_t end = run_end(opening ? opening->at : away, std::max<std::size_t>(away, 1));
    if (!opening) {
      rolling_ = true;
      return end;
    }
    if (samples_[end - 1].time_s - samples_[opening->at].time_s < shortest_run_s) return end;
    std::size_t begin = opening->at;
    while (begin > from && samples_[opening->at].time_s - samples_[begin - 1].time_s <= lead_s) --begin;
    LoggedRun run{log_.file + ", run " + std::to_string(runs_.size() + 1), {}, 0.0, std::nullopt, 1.0};
    run.start_s = samples_[opening->at].time_s - (opening->by_speed ? 0.4 : 0.0);
    if (!opening->by_speed) run.idle_rad_s = median_shaft_speed(samples_, begin, opening->at + 1);
    const double crawl = speed_before(begin, opening->at);
    if (crawl > still_m_s) run.rolling_m_s = crawl;
    take_samples(begin, end, run);
    runs_.push_back(std::move(run));
    return end;
  }

  [[nodiscard]] double speed_before(std::size_t begin, std::size_t opening) const {
    std::vector<double> values(speeds_.begin() + static_cast<long>(begin),
                               speeds_.begin() + static_cast<long>(opening) + 1);
    std::nth_element(values.begin(), values.begin() + static_cast<long>(values.size() / 2), values.end());
    return values[values.size() / 2];
  }

  /// What a slow receiver tells, held over the lines of a fast logger, counts once; a lone spike not at all.
  void take_samples(std::size_t begin, std::size_t end, LoggedRun& run) const {
    run.samples.assign(samples_.begin() + static_cast<long>(begin),
                       samples_.begin() + static_cast<long>(end));
    std::size_t spikes = 0;
    for (std::size_t i = begin; i < end; ++i)
      if (samples_[i].speed_m_s && std::abs(*samples_[i].speed_m_s - speeds_[i]) > spike_m_s) {
        run.samples[i - begin].speed_m_s.reset();
        ++spikes;
      }
    if (spikes > 0)
      run.notes.push_back(std::to_string(spikes) + (spikes == 1 ? " spike" : " spikes") +
                          " of the speed left out");
    const std::size_t held = lines_held(run.samples);
    if (held < 2) return;
    std::size_t since = 0;
    std::optional<double> last;
    for (LoggedSample& sample : run.samples) {
      if (!sample.speed_m_s) continue;
      const bool news = !last || *sample.speed_m_s != *last || ++since == held;
      if (news) since = 0;
      last = sample.speed_m_s;
      if (!news) sample.speed_m_s.reset();
    }
    run.notes.push_back("the speed is held over " + std::to_string(held) + " lines: each counts once");
  }

  /// Over how many lines one reading of the speed stands, by the part in which it rises: the median.
  [[nodiscard]] static std::size_t lines_held(const std::vector<LoggedSample>& samples) {
    double best = 0.0;
    for (const LoggedSample& sample : samples) best = std::max(best, sample.speed_m_s.value_or(0.0));
    std::vector<std::size_t> lengths;
    std::optional<double> last;
    for (const LoggedSample& sample : samples) {
      if (!sample.speed_m_s) continue;
      if (*sample.speed_m_s > 0.8 * best) break;
      if (*sample.speed_m_s > 0.15 * best) {
        if (last && *last == *sample.speed_m_s && !lengths.empty())
          ++lengths.back();
        else
          lengths.push_back(1);
      }
      last = sample.speed_m_s;
    }
    if (lengths.size() < 3) return 1;
    const auto middle = lengths.begin() + static_cast<long>(lengths.size() / 2);
    std::nth_element(lengths.begin(), middle, lengths.end());
    return *middle;
  }

  const Log& log_;
  const Samples& samples_;
  std::vector<double> speeds_;
  std::vector<LoggedRun> runs_;
  bool rolling_ = false;
};

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
  auto cut = Cutter(log).cut();
  if (auto* const runs = std::get_if<std::vector<LoggedRun>>(&cut))
    for (LoggedRun& run : *runs)
      if (has_heading(run) && has_heading(runs->front()))
        run.course = std::cos(mean_heading(run) - mean_heading(runs->front()));
  return cut;
}

}  // namespace bowrise
