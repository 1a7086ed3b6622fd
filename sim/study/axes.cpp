#include "sim/study/axes.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sim/study/sample.hpp"

namespace bowrise {
namespace {

bool is_count(const SweepAxis& axis) { return axis.key->unit->dimension == Dimension::count; }

/// Of two that are turned from unit to unit and back: not bit for bit.
bool same_size(double a, double b) { return std::abs(a - b) <= 1e-12 * std::max(std::abs(a), std::abs(b)); }

bool stands_in_for(const Key& key, const Key& other) {
  return key.section == other.section &&
         std::find(key.instead_of.begin(), key.instead_of.end(), other.local_name) != key.instead_of.end();
}

std::optional<std::size_t> grid_count(const std::vector<SweepAxis>& axes) {
  std::size_t count = 1;
  for (const SweepAxis& axis : axes) {
    if (axis.values.size() > most_points / count) return std::nullopt;
    count *= axis.values.size();
  }
  return count;
}

}  // namespace

double at_share(const SweepAxis& axis, double share) {
  if (!axis.is_range)
    return axis.values[std::min(axis.values.size() - 1,
                                static_cast<std::size_t>(share * static_cast<double>(axis.values.size())))];
  if (is_count(axis)) return std::min(axis.high, axis.low + std::floor(share * (axis.high - axis.low + 1.0)));
  return axis.low + share * (axis.high - axis.low);
}

void set_instead(Setup& setup, const Key& key, double value) {
  for (const std::string_view name : key.instead_of)
    set_preset(setup, *find_key(std::string(key.section) + "." + std::string(name)));
  set_in_unit(setup, key, value);
}

bool says_the_same(const Key& one, const Key& other) {
  return stands_in_for(one, other) || stands_in_for(other, one);
}

Setup with_values(const Setup& setup, const std::vector<SweepAxis>& axes, const double* values) {
  Setup changed = setup;
  for (std::size_t i = 0; i < axes.size(); ++i) set_instead(changed, *axes[i].key, values[i]);
  return changed;
}

double price_of(const Setup& setup, const std::vector<SweepAxis>& axes, const double* values) {
  double sum = 0.0;
  for (std::size_t i = 0; i < axes.size(); ++i)
    if (axes[i].price && !same_size(values[i], get_in_unit(setup, *axes[i].key))) sum += *axes[i].price;
  return sum;
}

SweepPlan::SweepPlan(Setup setup, std::vector<SweepAxis> axes, std::size_t samples, std::uint64_t seed)
    : setup_(std::move(setup)),
      axes_(std::move(axes)),
      samples_(samples),
      seed_(seed),
      count_(samples > 0 ? std::optional(samples) : grid_count(axes_)) {}

std::vector<double> SweepPlan::grid_values(std::size_t first, std::size_t count) const {
  std::vector<double> values(count * axes_.size());
  for (std::size_t point = 0; point < count; ++point) {
    std::size_t index = first + point;
    for (std::size_t axis = axes_.size(); axis-- > 0;) {
      const auto& choices = axes_[axis].values;
      values[point * axes_.size() + axis] = choices[index % choices.size()];
      index /= choices.size();
    }
  }
  return values;
}

std::vector<double> SweepPlan::values(std::size_t first, std::size_t count) const {
  if (samples_ == 0) return grid_values(first, count);
  const UnitPoints points(count, axes_.size(), seed_, first);
  std::vector<double> values;
  values.reserve(count * axes_.size());
  for (std::size_t point = 0; point < count; ++point)
    for (std::size_t axis = 0; axis < axes_.size(); ++axis)
      values.push_back(at_share(axes_[axis], points.at(point, axis)));
  return values;
}

}  // namespace bowrise
