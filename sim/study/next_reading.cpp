#include "sim/study/next_reading.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/study/executor.hpp"
#include "sim/study/likelihood.hpp"

namespace bowrise {
namespace {

/// Numbers that a rider can take with a phone, the dash and a watch.
constexpr std::array takeable{"top_speed",      "top_rpm",       "launch_peak_rpm", "time_to_30_mph",
                              "time_to_60_mph", "time_to_100_m", "hook_up_speed",   "coast_down_distance"};

/// Two explanations that differ in whether a mark is reached at all.
constexpr double reached_or_not = 5.0;

std::vector<Outcome> outcomes_of(std::span<const Setup> drawn, const Suspect& suspect, const Baseline& base,
                                 std::span<const Outcome> sound, unsigned threads) {
  std::vector<Outcome> outcomes(base.draws.size());
  for_each_index(outcomes.size(), threads, [&](std::size_t i) {
    const std::size_t draw = base.draws[i];
    outcomes[i] = suspect.fault == nullptr
                      ? sound[draw]
                      : outcome_with(*suspect.fault, suspect.size->median, drawn[draw], sound[draw], true);
  });
  return outcomes;
}

/// Mean and variance of a shift over the draws; no mean where fewer than all of them have it.
struct Shift {
  std::optional<double> mean;
  bool in_no_draw = true;
  std::vector<double> values;
};

Shift shift_of(std::size_t result, std::span<const Outcome> outcomes, const Baseline& base,
               std::span<const Outcome> sound) {
  Shift shift;
  for (std::size_t i = 0; i < outcomes.size(); ++i) {
    const auto& value = outcomes[i].values[result];
    if (value) shift.values.push_back(on_scale(*value) - on_scale(*sound[base.draws[i]].values[result]));
  }
  shift.in_no_draw = shift.values.empty();
  if (shift.values.size() < outcomes.size() || shift.values.empty()) return shift;
  double sum = 0.0;
  for (const double value : shift.values) sum += value;
  shift.mean = sum / static_cast<double>(shift.values.size());
  return shift;
}

double variance_of_difference(const Shift& a, const Shift& b) {
  double sum = 0.0;
  for (std::size_t i = 0; i < a.values.size(); ++i)
    sum += std::pow((a.values[i] - *a.mean) - (b.values[i] - *b.mean), 2);
  return sum / static_cast<double>(a.values.size());
}

std::optional<Reading> reading_of(std::size_t result, const Shift& first, const Shift& second,
                                  const Baseline& base) {
  const auto place = static_cast<Eigen::Index>(base.place(result).value());
  const double sound = base.mean(place);
  const auto shown = [sound](const Shift& shift) {
    return shift.mean ? std::optional(off_scale(sound + *shift.mean)) : std::nullopt;
  };
  if ((first.mean && second.in_no_draw) || (second.mean && first.in_no_draw))
    return Reading{result, shown(first), shown(second), reached_or_not};
  if (!first.mean || !second.mean) return std::nullopt;
  const double variance = std::pow(rider_scatter(result, off_scale(sound)), 2) +
                          base.covariance(place, place) + std::pow(change_error * *first.mean, 2) +
                          std::pow(change_error * *second.mean, 2) + variance_of_difference(first, second);
  return Reading{result, shown(first), shown(second),
                 std::abs(*first.mean - *second.mean) / std::sqrt(variance)};
}

}  // namespace

Outcome outcome_with(const Fault& fault, double size, const Setup& drawn, const Outcome& sound, bool coast,
                     const Tables& offered) {
  const auto& top = sound.values[result_index("top_speed")];
  const Setup changed = fault.with(drawn, size, top.value_or(std::numeric_limits<double>::quiet_NaN()));
  if (!check(changed).empty())
    return {std::vector<std::optional<double>>(result_rows().size()), "no such craft can be"};
  return outcome_of(changed, coast, offered);
}

std::optional<Reading> next_reading(std::span<const Setup> drawn, const Suspect& first, const Suspect& second,
                                    std::span<const Seen> seen, const Baseline& base,
                                    std::span<const Outcome> sound, unsigned threads) {
  for (const Suspect* one : {&first, &second})
    if (one->fault != nullptr && !one->size) return std::nullopt;  // explains nothing at any size
  const auto of_first = outcomes_of(drawn, first, base, sound, threads);
  const auto of_second = outcomes_of(drawn, second, base, sound, threads);
  std::optional<Reading> best;
  for (const char* name : takeable) {
    const std::size_t result = result_index(name);
    const bool told =
        std::any_of(seen.begin(), seen.end(), [result](const Seen& one) { return one.result == result; });
    if (told || !base.place(result)) continue;
    const auto reading = reading_of(result, shift_of(result, of_first, base, sound),
                                    shift_of(result, of_second, base, sound), base);
    if (reading && (!best || reading->separation > best->separation)) best = reading;
  }
  return best;
}

}  // namespace bowrise
