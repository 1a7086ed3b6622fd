#include "sim/scenario/log_clock.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bowrise {
namespace {

// Loggers write 1 to 100 samples a second.
constexpr double shortest_step_s = 0.005, longest_step_s = 1.1;
constexpr double between_sessions_s = 30.0;

/// Median of the steps above 0; 0 when there is none.
double usual_step(const std::vector<double>& times) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < times.size(); ++i)
    if (times[i] > times[i - 1]) steps.push_back(times[i] - times[i - 1]);
  if (steps.empty()) return 0.0;
  const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  return *middle;
}

std::string count_of(std::size_t count, const std::string& thing) {
  return fmt::format("{} {}{}", count, thing, count == 1 ? "" : "s");
}

class Clock {
 public:
  explicit Clock(const std::vector<LogStamp>& stamps) : stamps_(stamps) {
    for (const LogStamp& stamp : stamps) times_.push_back(stamp.time);
  }

  LogTimes rising(bool unit_told) {
    const double step = usual_step(times_);
    if (step == 0.0)
      throw LogTimesRefused{stamps_[1].line, stamps_[1].column,
                            "does not rise: not after that of the sample before"};
    if (!unit_told) find_unit_of(step);
    join_sessions();
    spread_repeats();
    check_step();
    LogTimes out;
    std::optional<double> origin;
    for (std::size_t i = 0; i < times_.size(); ++i) {
      if (!left_out_[i] && !origin) origin = times_[i];
      out.time_s.push_back(left_out_[i] ? std::nullopt : std::optional<double>(times_[i] - *origin));
    }
    out.notes = std::move(notes_);
    return out;
  }

 private:
  /// Steps of many seconds make no log of a launch: those are milliseconds or microseconds.
  void find_unit_of(double step) {
    for (const auto& [factor, name] : {std::pair{1e-3, "milliseconds"}, std::pair{1e-6, "microseconds"}}) {
      if (step <= longest_step_s || step * factor < shortest_step_s || step * factor > longest_step_s)
        continue;
      for (double& time : times_) time *= factor;
      notes_.push_back(fmt::format("time is taken as {}: its header tells no unit", name));
      return;
    }
  }

  /// A stamp a little too early is left out; one far back begins another session.
  void join_sessions() {
    const double near = std::max(1.0, 3.0 * usual_step(times_));
    left_out_.assign(times_.size(), false);
    std::size_t sessions = 1, early = 0, first_fall = 0;
    double offset = 0.0, last = times_.front();
    for (std::size_t i = 1; i < times_.size(); ++i) {
      double time = times_[i] + offset;
      if (time < last - near) {
        if (first_fall == 0) first_fall = i;
        ++sessions;
        offset = last + between_sessions_s - times_[i];
        time = times_[i] + offset;
      } else if (time < last) {
        if (first_fall == 0) first_fall = i;
        ++early;
        left_out_[i] = true;
        continue;
      }
      times_[i] = last = time;
    }
    if (first_fall == 0) return;
    const double count = static_cast<double>(times_.size());
    if (static_cast<double>(early) > std::max(rare_share * count, 0.9) ||
        count < 20.0 * static_cast<double>(sessions))
      throw LogTimesRefused{stamps_[first_fall].line, stamps_[first_fall].column,
                            "does not rise: not after that of the sample before"};
    if (early > 0) notes_.push_back(count_of(early, "sample") + " out of order left out");
    if (sessions > 1)
      notes_.push_back(fmt::format("time begins anew, first in line {}: read as {} sessions",
                                   stamps_[first_fall].line, sessions));
  }

  /// Stamps coarser than the samples, or written twice: samples of one stamp lie evenly up to the next.
  void spread_repeats() {
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < times_.size(); ++i)
      if (!left_out_[i]) kept.push_back(i);
    const double row = usual_step(times_) / usual_size_of_stamps(kept);
    std::size_t repeated = 0;
    for (std::size_t begin = 0; begin < kept.size();) {
      const double stamp = times_[kept[begin]];
      std::size_t end = begin + 1;
      while (end < kept.size() && times_[kept[end]] == stamp) ++end;
      const std::size_t size = end - begin;
      const bool first = begin == 0, last = end == kept.size();
      const double until_next = last ? 0.0 : times_[kept[end]] - stamp;
      const double longest = 1.5 * row * static_cast<double>(size);
      // a log begins and ends within a stamp
      const double even = until_next / static_cast<double>(size);
      const double step = last ? row : first || until_next > longest ? std::min(row, even) : even;
      const double from = first && !last && size > 1 && until_next < longest + row
                              ? stamp + std::max(until_next - row * static_cast<double>(size), 0.0)
                              : stamp;
      for (std::size_t i = begin + 1; i < end; ++i)
        times_[kept[i]] = from + step * static_cast<double>(i - begin);
      times_[kept[begin]] = from;
      repeated += size - 1;
      begin = end;
    }
    if (repeated > 0)
      notes_.push_back(count_of(repeated, "repeated time stamp") + " spread evenly up to the next");
  }

  /// How many samples share a stamp, as a rule.
  [[nodiscard]] double usual_size_of_stamps(const std::vector<std::size_t>& kept) const {
    std::vector<std::size_t> sizes(1, 1);
    for (std::size_t i = 1; i < kept.size(); ++i)
      if (times_[kept[i]] == times_[kept[i - 1]])
        ++sizes.back();
      else
        sizes.push_back(1);
    const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
    std::nth_element(sizes.begin(), middle, sizes.end());
    return static_cast<double>(*middle);
  }

  void check_step() const {
    std::vector<double> kept;
    for (std::size_t i = 0; i < times_.size(); ++i)
      if (!left_out_[i]) kept.push_back(times_[i]);
    const double step = usual_step(kept);
    if (step < shortest_step_s || step > longest_step_s)
      throw LogTimesRefused{
          0, 0,
          fmt::format("samples {:.6g} s apart; loggers write 1 to 100 a second: is the unit "
                      "right? Say it, e.g. --unit time=ms",
                      step)};
  }

  const std::vector<LogStamp>& stamps_;
  std::vector<double> times_;
  std::vector<bool> left_out_;
  std::vector<std::string> notes_;
};

}  // namespace

LogTimes rising_times(const std::vector<LogStamp>& stamps, bool unit_told) {
  return Clock(stamps).rising(unit_told);
}

}  // namespace bowrise
