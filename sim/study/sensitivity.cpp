#include "sim/study/sensitivity.hpp"

#include <algorithm>

#include "sim/study/executor.hpp"
#include "sim/study/sample.hpp"
#include "sim/study/shared_tables.hpp"

namespace bowrise {
namespace {

/// Evaluations for one base point: at A, at B, and at A with each coordinate in turn from B.
class Design {
 public:
  Design(const UnitFunction& function, std::size_t dimensions, std::size_t samples, std::uint64_t seed,
         unsigned threads)
      : dimensions_(dimensions), points_(samples, 2 * dimensions, seed), values_(samples * (dimensions + 2)) {
    for_each_index(values_.size(), threads, [&](std::size_t i) {
      values_[i] = function(coordinates(i / (dimensions_ + 2), i % (dimensions_ + 2)));
    });
  }

  [[nodiscard]] std::optional<double> at_a(std::size_t sample, std::size_t output) const {
    return value(sample, 0, output);
  }
  [[nodiscard]] std::optional<double> at_b(std::size_t sample, std::size_t output) const {
    return value(sample, 1, output);
  }
  [[nodiscard]] std::optional<double> at_mixed(std::size_t sample, std::size_t input,
                                               std::size_t output) const {
    return value(sample, 2 + input, output);
  }

  [[nodiscard]] bool is_complete(std::size_t sample, std::size_t output) const {
    for (std::size_t which = 0; which < dimensions_ + 2; ++which)
      if (!value(sample, which, output)) return false;
    return true;
  }
  [[nodiscard]] std::size_t samples() const { return points_.count(); }

 private:
  [[nodiscard]] std::vector<double> coordinates(std::size_t sample, std::size_t which) const {
    std::vector<double> at(dimensions_);
    for (std::size_t d = 0; d < dimensions_; ++d)
      at[d] = points_.at(sample, which == 1 || which == d + 2 ? dimensions_ + d : d);
    return at;
  }
  [[nodiscard]] std::optional<double> value(std::size_t sample, std::size_t which, std::size_t output) const {
    return values_[sample * (dimensions_ + 2) + which][output];
  }

  std::size_t dimensions_;
  UnitPoints points_;
  std::vector<std::vector<std::optional<double>>> values_;
};

struct Moments {
  double mean, variance;
};

Moments moments_of(const Design& design, const std::vector<std::size_t>& samples, std::size_t output) {
  const double count = 2.0 * static_cast<double>(samples.size());
  double sum = 0.0, squares = 0.0;
  for (const std::size_t j : samples) sum += *design.at_a(j, output) + *design.at_b(j, output);
  const double mean = sum / count;
  for (const std::size_t j : samples)
    for (const double value : {*design.at_a(j, output), *design.at_b(j, output)})
      squares += (value - mean) * (value - mean);
  return {mean, squares / count};
}

std::optional<SobolIndices> indices_of(const Design& design, std::size_t dimensions, std::size_t output) {
  std::vector<std::size_t> samples;
  for (std::size_t j = 0; j < design.samples(); ++j)
    if (design.is_complete(j, output)) samples.push_back(j);
  if (samples.size() < 2) return std::nullopt;
  const auto [mean, variance] = moments_of(design, samples, output);
  // less than rounding of the mean: a constant, whose shares would be noise
  if (!(variance > 1e-20 * mean * mean)) return std::nullopt;
  SobolIndices indices{{}, {}, samples.size()};
  const double count = static_cast<double>(samples.size());
  for (std::size_t input = 0; input < dimensions; ++input) {
    double first = 0.0, total = 0.0;
    for (const std::size_t j : samples) {
      const double change = *design.at_mixed(j, input, output) - *design.at_a(j, output);
      first += (*design.at_b(j, output) - mean) * change;
      total += change * change;
    }
    indices.first.push_back(first / count / variance);
    indices.total.push_back(0.5 * total / count / variance);
  }
  return indices;
}

std::vector<EndsOfAxis> ends_of(const SweepPlan& plan, const Tables& tables, bool rough, unsigned threads,
                                PurposeValues& as_it_is) {
  std::vector<EndsOfAxis> ends;
  for (const SweepAxis& axis : plan.axes()) {
    const auto [low, high] = std::minmax_element(axis.values.begin(), axis.values.end());
    ends.push_back({axis.is_range ? axis.low : *low, axis.is_range ? axis.high : *high, {}, {}});
  }
  const auto with = [&](std::size_t axis, double value) {
    Setup changed = plan.setup();
    set_instead(changed, *plan.axes()[axis].key, value);
    return trial_of(changed, rough, tables).purposes;
  };
  for_each_index(2 * ends.size() + 1, threads, [&](std::size_t i) {
    if (i == 2 * ends.size()) {
      as_it_is = trial_of(plan.setup(), rough, tables).purposes;
      return;
    }
    EndsOfAxis& end = ends[i / 2];
    (i % 2 == 0 ? end.at_low : end.at_high) = with(i / 2, i % 2 == 0 ? end.low : end.high);
  });
  return ends;
}

}  // namespace

std::vector<std::optional<SobolIndices>> sobol_indices(const UnitFunction& function, std::size_t dimensions,
                                                       std::size_t outputs, std::size_t samples,
                                                       std::uint64_t seed, unsigned threads) {
  const Design design(function, dimensions, samples, seed, threads);
  std::vector<std::optional<SobolIndices>> indices;
  for (std::size_t output = 0; output < outputs; ++output)
    indices.push_back(indices_of(design, dimensions, output));
  return indices;
}

Sensitivity sensitivity_of(const SweepPlan& plan, std::size_t samples, std::uint64_t seed, bool rough,
                           unsigned threads) {
  Sensitivity out;
  out.samples = samples;
  const Tables tables = tables_for(plan.setup());
  out.ends = ends_of(plan, tables, rough, threads, out.as_it_is);
  const UnitFunction purposes = [&](std::span<const double> shares) {
    std::vector<double> values;
    for (std::size_t i = 0; i < shares.size(); ++i) values.push_back(at_share(plan.axes()[i], shares[i]));
    const PurposeValues found =
        trial_of(with_values(plan.setup(), plan.axes(), values.data()), rough, tables).purposes;
    return std::vector<std::optional<double>>(found.begin(), found.end());
  };
  out.indices = sobol_indices(purposes, plan.axes().size(), purpose_count, samples, seed, threads);
  return out;
}

}  // namespace bowrise
