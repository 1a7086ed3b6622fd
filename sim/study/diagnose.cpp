#include "sim/study/diagnose.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/study/executor.hpp"
#include "sim/study/likelihood.hpp"
#include "sim/study/next_reading.hpp"
#include "sim/study/sample.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {
namespace {

constexpr double prior_sound = 20.0, prior_something_else = 5.0;  // beside those of the faults; judgement
constexpr double came_either_way = 0.5;   // of these two nothing is known of how they come
constexpr std::size_t steps_between = 6;  // between two sizes tried the shifts are taken as straight

bool can_be_tried(const Fault& fault, const Setup& setup) {
  return !fault.on_blades || setup.pump.curve.empty();
}

/// Logarithm of a sum of exponentials.
double log_sum(std::span<const double> logs) {
  const double largest = logs.empty() ? never : *std::max_element(logs.begin(), logs.end());
  if (!std::isfinite(largest)) return never;
  double sum = 0.0;
  for (const double value : logs) sum += std::exp(value - largest);
  return largest + std::log(sum);
}

/// What one fault makes of the numbers seen: [draw][size tried], the sound craft first.
using ShiftTable = std::vector<std::vector<Shifts>>;

Shifts shifts_of(const Outcome& outcome, const Outcome& sound, std::span<const Seen> seen) {
  Shifts shifts;
  for (const Seen& one : seen) {
    const auto &now = outcome.values[one.result], &before = sound.values[one.result];
    shifts.push_back(now && before ? std::optional(on_scale(*now) - on_scale(*before))
                     : now         ? std::optional(0.0)  // only where a mark the sound craft misses is asked
                                   : std::nullopt);
  }
  return shifts;
}

/// Between two sizes tried; where only one of them has a result, that of the nearer holds.
Shifts between(const Shifts& low, const Shifts& high, double way) {
  Shifts shifts;
  for (std::size_t i = 0; i < low.size(); ++i)
    shifts.push_back(low[i] && high[i] ? std::optional(*low[i] + way * (*high[i] - *low[i]))
                     : way < 0.5       ? low[i]
                                       : high[i]);
  return shifts;
}

/// Logarithm of how common it is that no fault of the table is met, among those that came in this way.
double log_prior(double prior, Came came) {
  return std::log(came == Came::unknown ? prior : came_either_way * prior);
}

Suspect sound_suspect(const Likelihood& likelihood, const Baseline& base, std::span<const Seen> seen,
                      Came came) {
  Suspect sound{nullptr, 0.0, 0.0, 0.0, 0.0, std::nullopt, {}};
  Shifts none;
  for (const Seen& one : seen) {
    const auto place = base.place(one.result);
    none.push_back(place ? std::optional(0.0) : std::nullopt);
    sound.shows.push_back(place ? std::optional(off_scale(base.mean(static_cast<Eigen::Index>(*place))))
                                : std::nullopt);
  }
  const Likelihood::Fit fit = likelihood.of(none);
  sound.misfit = fit.misfit;
  sound.evidence = fit.log_likelihood;
  sound.probability = log_prior(prior_sound, came) + sound.evidence;  // a logarithm until all are known
  return sound;
}

/// A size tried or between two of them.
struct Size {
  double size;
  std::vector<double> logs;  ///< of the likelihood, by draw
  std::vector<Shifts> by_draw;
};

std::vector<Size> sizes_of(const Fault& fault, const ShiftTable& table, const Likelihood& likelihood,
                           double& misfit) {
  std::vector<Size> sizes;
  for (std::size_t upper = 0; upper < fault.sizes.size(); ++upper) {
    const double low = upper == 0 ? 0.0 : fault.sizes[upper - 1];
    for (std::size_t step = 1; step <= steps_between; ++step) {
      const double way = static_cast<double>(step) / static_cast<double>(steps_between);
      Size size{low + way * (fault.sizes[upper] - low), {}, {}};
      for (const auto& draw : table) {
        size.by_draw.push_back(between(draw[upper], draw[upper + 1], way));
        const Likelihood::Fit fit = likelihood.of(size.by_draw.back());
        size.logs.push_back(fit.log_likelihood);
        misfit = std::min(misfit, fit.misfit);
      }
      sizes.push_back(std::move(size));
    }
  }
  return sizes;
}

/// Size below which a share of the weight lies.
double weighted_quantile(const std::vector<Size>& sizes, const std::vector<double>& weights, double share) {
  double below = 0.0;
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    below += weights[i];
    if (below >= share) return sizes[i].size;
  }
  return sizes.back().size;
}

/// Mean over sizes and draws by their weight; empty where the weight of "not reached" is more than half.
std::optional<double> mean_shift(const std::vector<Size>& sizes, double log_total, std::size_t number) {
  double reached = 0.0, sum = 0.0;
  for (const Size& size : sizes) {
    for (std::size_t draw = 0; draw < size.logs.size(); ++draw) {
      if (!size.by_draw[draw][number]) continue;
      const double weight = std::exp(size.logs[draw] - log_total);
      reached += weight;
      sum += weight * *size.by_draw[draw][number];
    }
  }
  return reached > 0.5 ? std::optional(sum / reached) : std::nullopt;
}

/// The middle one of the draws, at a size in the middle of those tried.
double stands_out(const Fault& fault, const ShiftTable& table, const Likelihood& likelihood) {
  std::vector<double> by_draw;
  for (const auto& draw : table) by_draw.push_back(likelihood.stands_out(draw[fault.sizes.size() / 2]));
  std::sort(by_draw.begin(), by_draw.end());
  return by_draw[by_draw.size() / 2];
}

Suspect suspect_of(const Fault& fault, const ShiftTable& table, const Likelihood& likelihood,
                   const Suspect& sound, Came came) {
  Suspect suspect{&fault, never, never, std::numeric_limits<double>::infinity(), 0.0, std::nullopt, {}};
  suspect.stands_out = stands_out(fault, table, likelihood);
  const std::vector<Size> sizes = sizes_of(fault, table, likelihood, suspect.misfit);
  std::vector<double> logs, weights;
  for (const Size& size : sizes) logs.push_back(log_sum(size.logs));
  const double total = log_sum(logs);
  suspect.shows.resize(sound.shows.size());
  if (!std::isfinite(total)) return suspect;
  const double trials = static_cast<double>(sizes.size() * table.size());
  suspect.evidence = total - std::log(trials);
  suspect.probability = std::log(prior_of(fault, came)) + suspect.evidence;
  for (const double value : logs) weights.push_back(std::exp(value - total));
  suspect.size = Band{weighted_quantile(sizes, weights, 0.05), weighted_quantile(sizes, weights, 0.50),
                      weighted_quantile(sizes, weights, 0.95), table.size(), table.size()};
  for (std::size_t i = 0; i < sound.shows.size(); ++i) {
    const auto shift = mean_shift(sizes, total, i);
    if (shift && sound.shows[i]) suspect.shows[i] = off_scale(on_scale(*sound.shows[i]) + *shift);
  }
  return suspect;
}

/// Turns logarithms into probabilities that sum to 1 and sorts, the most likely first.
void normalise(Diagnosis& answer, double log_something_else) {
  std::vector<double> logs{log_something_else};
  for (const Suspect& suspect : answer.suspects) logs.push_back(suspect.probability);
  const double total = log_sum(logs);
  for (Suspect& suspect : answer.suspects) suspect.probability = std::exp(suspect.probability - total);
  answer.something_else = std::exp(log_something_else - total);
  std::stable_sort(answer.suspects.begin(), answer.suspects.end(),
                   [](const Suspect& a, const Suspect& b) { return a.probability > b.probability; });
}

/// A fault beyond the physics to which the numbers themselves point.
const HiddenFault* hint_from(const Diagnosis& answer) {
  constexpr double low_rpm = 3000.0, high_rpm = 4500.0, share_of_sound = 0.7;  // common practice, no source
  const std::size_t rpm = result_index("top_rpm");
  for (std::size_t i = 0; i < answer.seen.size(); ++i) {
    const auto& value = answer.seen[i].value;
    if (answer.seen[i].result != rpm || !value || *value < low_rpm || *value > high_rpm) continue;
    if (answer.sound[i] && *value < share_of_sound * *answer.sound[i]) return &hidden_faults().front();
  }
  return nullptr;
}

std::vector<ShiftTable> tried(std::span<const Setup> drawn, const std::vector<const Fault*>& faults,
                              const Baseline& base, std::span<const Outcome> sound,
                              std::span<const Seen> seen, unsigned threads) {
  const bool coast = std::any_of(seen.begin(), seen.end(), [](const Seen& one) {
    return one.result == result_index("coast_down_distance");
  });
  std::vector<ShiftTable> shifts(faults.size(), ShiftTable(base.draws.size()));
  for_each_index(base.draws.size(), threads, [&](std::size_t draw) {
    const Outcome& before = sound[base.draws[draw]];
    const Setup& craft = drawn[base.draws[draw]];
    const Tables tables = tables_for(craft);  // few faults touch both hull and pump
    for (std::size_t fault = 0; fault < faults.size(); ++fault) {
      shifts[fault][draw].push_back(shifts_of(before, before, seen));
      for (const double size : faults[fault]->sizes) {
        const Outcome now = outcome_with(*faults[fault], size, craft, before, coast, tables);
        shifts[fault][draw].push_back(shifts_of(now, before, seen));
      }
    }
  });
  return shifts;
}

/// Results that the sound craft must show under a draw for that draw to tell anything.
std::vector<std::size_t> needed_of(std::span<const Seen> seen, std::span<const Seen> measured) {
  std::vector<std::size_t> needed;
  for (const auto& numbers : {seen, measured})
    for (const Seen& one : numbers)
      if (one.value) needed.push_back(one.result);
  return needed;
}

/// Whether each number of the sound craft lies within what its scenario and a rider's scatter leave open.
bool can_show(const Baseline& unmeasured, std::span<const Seen> measured) {
  constexpr double deviations = 3.0;
  return std::all_of(measured.begin(), measured.end(), [&](const Seen& one) {
    const auto place = static_cast<Eigen::Index>(unmeasured.place(one.result).value());
    const double scatter =
        std::hypot(std::sqrt(unmeasured.covariance(place, place)), rider_scatter(one.result, *one.value));
    return std::abs(on_scale(*one.value) - unmeasured.mean(place)) <= deviations * scatter;
  });
}

void describe_sound(Diagnosis& answer, const Baseline& base) {
  for (const Seen& one : answer.seen) {
    const auto place = base.place(one.result);
    const auto index = static_cast<Eigen::Index>(place.value_or(0));
    answer.sound.push_back(place ? std::optional(off_scale(base.mean(index))) : std::nullopt);
    answer.sound_scatter.push_back(
        place ? std::optional(std::sqrt(std::max(0.0, base.covariance(index, index)))) : std::nullopt);
  }
}

}  // namespace

std::vector<std::size_t> not_told_apart(const Diagnosis& answer) {
  constexpr double negligible = 0.05;
  std::vector<std::size_t> alike{0};
  const Suspect& first = answer.suspects.front();
  for (std::size_t i = 1; i < answer.suspects.size(); ++i) {
    const Suspect& other = answer.suspects[i];
    const bool as_likely = 2.0 * other.probability >= first.probability;
    if (other.probability >= negligible && (as_likely || other.evidence >= first.evidence - std::log(2.0)))
      alike.push_back(i);
  }
  return alike;
}

Diagnosis diagnose(const Setup& setup, std::span<const Seen> seen, std::span<const Seen> measured,
                   const DiagnoseOptions& options, const Posterior& posterior) {
  Diagnosis answer;
  answer.came = options.came;
  answer.seen.assign(seen.begin(), seen.end());
  answer.draws = options.draws;
  for (const Seen& one : measured) answer.sound_measured.push_back(one.result);
  const Draws draws(options.draws, options.seed);
  std::vector<Setup> drawn;
  for (std::size_t draw = 0; draw < options.draws; ++draw)
    drawn.push_back(draws.apply(setup, draw, posterior));
  std::vector<Outcome> sound(options.draws + 1);  // the last one as it stands, without a draw
  for_each_index(sound.size(), options.threads, [&](std::size_t draw) {
    sound[draw] = outcome_of(draw < options.draws ? drawn[draw] : setup, true);
  });
  const Outcome nominal = sound.back();
  sound.pop_back();
  const std::vector<std::size_t> needed = needed_of(seen, measured);
  for (const std::size_t result : needed)
    if (!nominal.values[result] && answer.failure.empty())
      answer.failure = nominal.failed() ? nominal.failure
                                        : "the craft of the scenario, when sound, never gives " +
                                              std::string(result_rows()[result].name);
  const Baseline base = baseline_of(nominal, sound, needed, measured);
  answer.used = base.draws.size();
  if (answer.failure.empty() && answer.used < 2)
    answer.failure = "no draw of the uncertain inputs gives every number of the sound craft";
  if (!answer.failure.empty()) return answer;

  answer.sound_fits = can_show(baseline_of(nominal, sound, needed, {}), measured);
  describe_sound(answer, base);
  std::vector<const Fault*> faults;
  for (const Fault& fault : fault_table())
    if (can_be_tried(fault, setup)) faults.push_back(&fault);
  const auto tables = tried(drawn, faults, base, sound, seen, options.threads);
  const Likelihood likelihood(base, seen);
  answer.suspects.push_back(sound_suspect(likelihood, base, seen, options.came));
  const Suspect as_sound = answer.suspects.front();
  std::vector<Suspect> found(faults.size());
  for_each_index(faults.size(), options.threads, [&](std::size_t i) {
    found[i] = suspect_of(*faults[i], tables[i], likelihood, as_sound, options.came);
  });
  answer.suspects.insert(answer.suspects.end(), found.begin(), found.end());
  answer.explained = std::any_of(answer.suspects.begin(), answer.suspects.end(),
                                 [&](const Suspect& one) { return likelihood.bearable(one.misfit); });
  normalise(answer, log_prior(prior_something_else, options.came) + likelihood.of_anything());
  answer.hint = hint_from(answer);
  answer.next =
      next_reading(drawn, answer.suspects[0], answer.suspects[1], seen, base, sound, options.threads);
  return answer;
}

}  // namespace bowrise
