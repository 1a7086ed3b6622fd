#include "sim/study/match.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <limits>

#include "sim/study/axes.hpp"
#include "sim/study/executor.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {
namespace {

constexpr std::size_t values_looked_at = 33;
constexpr double no_result = 1e12;  // stands for a launch without the result inside a root finder

/// The target missed by so much; infinite where the launch has no such result.
double miss(const Outcome& outcome, const Target& target) {
  const auto& value = outcome.values[target.result];
  return value ? *value - target.value : std::numeric_limits<double>::infinity();
}

bool meets(double missed, const Target& target) {
  return std::abs(missed) <= target_tolerance * std::abs(target.value);
}

/// Values of an input to look at, rising.
std::vector<double> looked_at(const Setup& setup, const Adjustable& input) {
  if (!input.sizes.empty()) return input.sizes;
  const double present = get_in_unit(setup, *input.key);
  double low = input.key->usual.low, high = input.key->usual.high;
  if (std::isfinite(present)) {
    low = std::min(low, present);
    high = std::max(high, present);
  }
  const bool whole = input.key->unit->dimension == Dimension::count;
  const std::size_t count = whole ? static_cast<std::size_t>(high - low) + 1 : values_looked_at;
  std::vector<double> values(count);
  for (std::size_t i = 0; i < count; ++i)
    values[i] =
        count == 1 ? low : low + (high - low) * static_cast<double>(i) / static_cast<double>(count - 1);
  return values;
}

bool is_continuous(const Adjustable& input) {
  return input.sizes.empty() && input.key->unit->dimension != Dimension::count;
}

/// One input of one setup against one target.
class Search {
 public:
  /// @param tables  of the setup
  Search(const Setup& setup, const Tables& tables, const Target& target, const Adjustable& input)
      : setup_(setup), tables_(tables), target_(target), input_(input), values_(looked_at(setup, input)) {}

  [[nodiscard]] std::size_t count() const { return values_.size(); }
  [[nodiscard]] double miss_at(std::size_t index) const {
    return miss(outcome_with(values_[index]), target_);
  }

  [[nodiscard]] Remedy remedy(const std::vector<double>& misses) const {
    const double present = get_in_unit(setup_, *input_.key);
    Remedy best{input_.key, present, std::nullopt, false, nearest_of(misses), {}};
    if (is_continuous(input_))
      best.value = nearest_root(misses, present);
    else if (std::isfinite(miss(outcome_with(best.nearest), target_)))
      best.value = best.nearest;
    best.outcome = outcome_with(best.value.value_or(best.nearest));
    best.exact = best.value && meets(miss(best.outcome, target_), target_);
    return best;
  }

 private:
  [[nodiscard]] Outcome outcome_with(double value) const {
    Setup changed = setup_;
    set_instead(changed, *input_.key, value);
    return outcome_of(changed, false, tables_);
  }

  [[nodiscard]] double nearest_of(const std::vector<double>& misses) const {
    const auto nearer = [](double a, double b) { return std::abs(a) < std::abs(b); };
    return values_[static_cast<std::size_t>(std::min_element(misses.begin(), misses.end(), nearer) -
                                            misses.begin())];
  }

  [[nodiscard]] std::optional<double> nearest_root(const std::vector<double>& misses, double present) const {
    std::optional<double> best;
    for (std::size_t i = 0; i + 1 < misses.size(); ++i) {
      if (!std::isfinite(misses[i]) || !std::isfinite(misses[i + 1])) continue;
      if (misses[i] * misses[i + 1] > 0.0) continue;
      const auto root = root_between(i, misses);
      if (root && (!best || std::abs(*root - present) < std::abs(*best - present))) best = root;
    }
    return best;
  }

  /// Nothing where the result jumps over the target, or is lost, between two values.
  [[nodiscard]] std::optional<double> root_between(std::size_t left,
                                                   const std::vector<double>& misses) const {
    const double enough = 1e-9 * (values_[left + 1] - values_[left]);
    const double close = 0.1 * target_tolerance * std::abs(target_.value);
    std::uintmax_t calls = 60;
    const auto missed = [&](double value) {
      const double by = miss(outcome_with(value), target_);
      if (!std::isfinite(by)) return no_result;
      return std::abs(by) <= close ? 0.0 : by;  // near enough: the search may end
    };
    const auto [low, high] = boost::math::tools::toms748_solve(
        missed, values_[left], values_[left + 1], misses[left], misses[left + 1],
        [enough](double a, double b) { return std::abs(b - a) <= enough; }, calls);
    const double root = 0.5 * (low + high);
    return meets(miss(outcome_with(root), target_), target_) ? std::optional(root) : std::nullopt;
  }

  const Setup& setup_;
  const Tables& tables_;
  const Target& target_;
  const Adjustable& input_;
  std::vector<double> values_;
};

}  // namespace

Match match(const Setup& setup, const Target& target, std::span<const Adjustable> inputs, unsigned threads) {
  const Tables tables = tables_for(setup);
  Match out{target, outcome_of(setup, false, tables), std::vector<Remedy>(inputs.size())};
  std::vector<Search> searches;
  std::vector<std::pair<std::size_t, std::size_t>> tasks;  // input, value
  std::vector<std::vector<double>> misses;
  for (std::size_t input = 0; input < inputs.size(); ++input) {
    searches.emplace_back(setup, tables, target, inputs[input]);
    misses.emplace_back(searches.back().count());
    for (std::size_t value = 0; value < searches.back().count(); ++value) tasks.emplace_back(input, value);
  }
  for_each_index(tasks.size(), threads, [&](std::size_t i) {
    const auto [input, value] = tasks[i];
    misses[input][value] = searches[input].miss_at(value);
  });
  for_each_index(inputs.size(), threads,
                 [&](std::size_t input) { out.remedies[input] = searches[input].remedy(misses[input]); });
  return out;
}

}  // namespace bowrise
