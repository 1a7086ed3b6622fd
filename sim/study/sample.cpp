#include "sim/study/sample.hpp"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/sobol.hpp>
#include <cmath>

#include "sim/study/doubles_alone.hpp"

namespace bowrise {
namespace {

// The upper 53 bits as a number in [0, 1): the same on every machine.
double unit_interval(std::uint64_t bits) { return static_cast<double>(bits >> 11) * 0x1.0p-53; }

void move(Setup& setup, const Key& key, double centre, double share) {
  const double value = get_in_unit(setup, key);
  if (std::isfinite(value)) set_in_unit(setup, key, moved(key, value, centre, share));
}

std::vector<const Key*> number_keys(bool (*wanted)(Shape)) {
  std::vector<const Key*> found;
  for (const Key& key : all_keys())
    if (key.kind == KeyKind::number && wanted(key.spread.shape)) found.push_back(&key);
  return found;
}

/// The coordinate of a point that draws this key.
std::size_t column_of(const Key* key) {
  const auto &uncertain = uncertain_keys(), &settings = setting_keys();
  const auto found = std::find(uncertain.begin(), uncertain.end(), key);
  const auto among_settings = std::find(settings.begin(), settings.end(), key) - settings.begin();
  return static_cast<std::size_t>(found - uncertain.begin() +
                                  (found == uncertain.end() ? among_settings : 0));
}

bool fitted(const Posterior& posterior, const Key* key) {
  return std::find(posterior.keys.begin(), posterior.keys.end(), key) != posterior.keys.end();
}

}  // namespace

double moved(const Key& key, double value, double centre, double share) {
  const double drawn = at_share(key.spread, share);
  if (!std::isfinite(centre)) return drawn;
  const double target =
      key.spread.shape == Shape::uniform ? value + (drawn - centre) : value * (drawn / centre);
  return std::clamp(target, std::min(value, key.possible.low), std::max(value, key.possible.high));
}

double normal_share(double quantile) { return 0.5 * std::erfc(-quantile / std::sqrt(2.0)); }

double normal_quantile(double share) {
  constexpr double edge = 1e-12;
  return -std::sqrt(2.0) * boost::math::erfc_inv(2.0 * std::clamp(share, edge, 1.0 - edge), DoublesAlone());
}

const std::vector<const Key*>& uncertain_keys() {
  static const std::vector<const Key*> keys =
      number_keys([](Shape shape) { return shape == Shape::uniform || shape == Shape::log_uniform; });
  return keys;
}

const std::vector<const Key*>& setting_keys() {
  static const std::vector<const Key*> keys =
      number_keys([](Shape shape) { return shape == Shape::setting; });
  return keys;
}

double unfitted_centre(const Key& key) { return key.spread.shape == Shape::setting ? 1.0 : key.preset.value; }

double at_share(const Spread& spread, double share) {
  if (spread.shape == Shape::uniform) return spread.low + (spread.high - spread.low) * share;
  return spread.low * std::pow(spread.high / spread.low, share);
}

double share_at(const Spread& spread, double value) {
  if (spread.shape == Shape::uniform) return (value - spread.low) / (spread.high - spread.low);
  return std::log(value / spread.low) / std::log(spread.high / spread.low);
}

UnitPoints::UnitPoints(std::size_t count, std::size_t dimensions, std::uint64_t seed, std::size_t first)
    : count_(count), dimensions_(dimensions) {
  boost::random::sobol sequence(dimensions);
  boost::random::mt19937_64 shifts(seed);
  std::vector<double> shift(dimensions);
  for (double& value : shift) value = unit_interval(shifts());
  values_.reserve(count * dimensions);
  // the library leaves out the origin, which a shifted sequence needs to be even
  if (first > 0) sequence.seed(first - 1);
  for (std::size_t point = first; point < first + count; ++point) {
    for (std::size_t dimension = 0; dimension < dimensions; ++dimension) {
      const double value = shift[dimension] + (point == 0 ? 0.0 : unit_interval(sequence()));
      values_.push_back(value < 1.0 ? value : value - 1.0);
    }
  }
}

Draws::Draws(std::size_t count, std::uint64_t seed)
    : points_(count, uncertain_keys().size() + setting_keys().size(), seed) {}

Setup Draws::apply(const Setup& setup, std::size_t draw, const Posterior& posterior) const {
  Setup drawn = setup;
  const auto& keys = uncertain_keys();
  for (std::size_t column = 0; column < keys.size(); ++column)
    if (!fitted(posterior, keys[column]))
      move(drawn, *keys[column], unfitted_centre(*keys[column]), points_.at(draw, column));
  std::vector<double> normal;
  for (std::size_t i = 0; i < posterior.keys.size(); ++i) {
    const Key* key = posterior.keys[i];
    normal.push_back(normal_quantile(points_.at(draw, column_of(key))));
    double place = posterior.at[i];
    for (std::size_t j = 0; j <= i; ++j) place += posterior.factor[i][j] * normal[j];
    move(drawn, *key, at_share(key->spread, normal_share(posterior.at[i])), normal_share(place));
  }
  return drawn;
}

}  // namespace bowrise
