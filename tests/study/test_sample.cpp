#include "sim/study/sample.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

/// One coordinate of all points, sorted.
std::vector<double> column(const UnitPoints& points, std::size_t dimension) {
  std::vector<double> values;
  for (std::size_t i = 0; i < points.count(); ++i) values.push_back(points.at(i, dimension));
  std::sort(values.begin(), values.end());
  return values;
}

/// Distance of two points on the unit circle.
double turned(double from, double to) { return to - from - std::floor(to - from); }

}  // namespace

// Sobol 1967: any 2^k points from the start fall one in each of 2^k equal intervals; a shift modulo 1 keeps
// their distance
TEST_CASE("each coordinate is evenly spaced for a power of two") {
  const UnitPoints points(64, 40, 7);
  for (std::size_t dimension = 0; dimension < points.dimensions(); ++dimension) {
    const std::vector<double> values = column(points, dimension);
    INFO("dimension " << dimension);
    CHECK(values.front() >= 0.0);
    CHECK(values.back() < 1.0);
    for (std::size_t i = 0; i + 1 < values.size(); ++i)
      CHECK(values[i + 1] - values[i] == Approx(1.0 / 64.0).epsilon(1e-9));
  }
}

// Joe & Kuo 2008, first points of every Sobol sequence in two dimensions:
// (0, 0), (1/2, 1/2), (3/4, 1/4), (1/4, 3/4)
TEST_CASE("the points are those of Sobol, shifted") {
  const UnitPoints points(4, 2, 12345);
  const double expected[4][2] = {{0.0, 0.0}, {0.5, 0.5}, {0.75, 0.25}, {0.25, 0.75}};
  for (std::size_t i = 0; i < 4; ++i)
    for (std::size_t d = 0; d < 2; ++d)
      CHECK(turned(points.at(0, d), points.at(i, d)) == Approx(expected[i][d]).margin(1e-12));
}

TEST_CASE("the seed alone decides the points") {
  const UnitPoints one(16, 5, 42), same(16, 5, 42), other(16, 5, 43);
  CHECK(one.at(9, 3) == same.at(9, 3));
  CHECK(one.at(9, 3) != other.at(9, 3));
}

TEST_CASE("a sequence made piece by piece is the whole one") {
  const UnitPoints whole(37, 3, 9);
  for (const std::size_t first : {0, 1, 2, 16, 31}) {
    const UnitPoints piece(6, 3, 9, first);
    for (std::size_t point = 0; point < 6; ++point)
      for (std::size_t d = 0; d < 3; ++d) CHECK(piece.at(point, d) == whole.at(first + point, d));
  }
}

TEST_CASE("draws stay within the spread where a setup says nothing of its own") {
  const Setup setup = test::shipped("supercharged_three_seat");
  const Draws draws(64, 3);
  for (std::size_t draw = 0; draw < draws.count(); ++draw) {
    const Setup drawn = draws.apply(setup, draw);
    for (const Key* key : uncertain_keys()) {
      const double given = get_in_unit(setup, *key);
      if (!(given == key->preset.value)) continue;
      INFO(key->name);
      CHECK(get_in_unit(drawn, *key) >= key->spread.low * (1.0 - 1e-9) - 1e-12);
      CHECK(get_in_unit(drawn, *key) <= key->spread.high * (1.0 + 1e-9) + 1e-12);
    }
  }
}

TEST_CASE("a draw leaves known inputs alone and moves two setups alike") {
  const Setup stock = test::shipped("supercharged_three_seat");
  const Setup tuned = test::shipped("supercharged_three_seat", {{"pump.efficiency_factor", "0.96"}});
  const Draws draws(16, 1);
  for (std::size_t draw = 0; draw < draws.count(); ++draw) {
    const Setup a = draws.apply(stock, draw), b = draws.apply(tuned, draw);
    CHECK(a.nozzle.exit_diameter_m == stock.nozzle.exit_diameter_m);
    CHECK(a.cavitation.breakdown_factor == b.cavitation.breakdown_factor);
    CHECK(b.pump.efficiency_factor - a.pump.efficiency_factor ==
          Approx(0.02).margin(1e-12));  // the change made on purpose stays
  }
}

TEST_CASE("a log-uniform spread moves by factors, and nothing leaves what is possible") {
  CHECK(at_share({Shape::log_uniform, 1.0, 100.0}, 0.5) == Approx(10.0));
  CHECK(at_share({Shape::uniform, 1.0, 100.0}, 0.5) == Approx(50.5));
  for (const Shape shape : {Shape::uniform, Shape::log_uniform, Shape::setting})
    CHECK(share_at({shape, 0.8, 1.3}, at_share({shape, 0.8, 1.3}, 0.7)) == Approx(0.7));
  const Setup extreme = test::shipped("supercharged_three_seat", {{"nozzle.contraction", "1"}});
  const Draws draws(32, 1);
  for (std::size_t draw = 0; draw < draws.count(); ++draw)
    CHECK(draws.apply(extreme, draw).nozzle.contraction <= 1.0);
}

namespace {

/// Inputs fitted to nothing: in the middle of their spreads, all of it left.
Posterior fitted_to_nothing(const std::vector<const Key*>& keys) {
  Posterior posterior{keys, std::vector<double>(keys.size(), 0.0), {}};
  for (std::size_t i = 0; i < keys.size(); ++i) {
    posterior.factor.emplace_back(i + 1, 0.0);
    posterior.factor.back().back() = 1.0;
  }
  return posterior;
}

}  // namespace

TEST_CASE("a fit to nothing draws as the spreads do") {
  const Setup stock = test::shipped("supercharged_three_seat");
  const std::vector<const Key*> keys{find_key("engine.power_factor"), find_key("hull.drag_factor"),
                                     find_key("cavitation.blade_factor")};
  Setup middle = stock;
  for (const Key* key : keys)
    set_in_unit(middle, *key, moved(*key, get_in_unit(stock, *key), key->preset.value, 0.5));
  const Draws draws(32, 3);
  for (std::size_t draw = 0; draw < draws.count(); ++draw) {
    const Setup plain = draws.apply(stock, draw), fitted = draws.apply(middle, draw, fitted_to_nothing(keys));
    for (const Key* key : uncertain_keys()) {
      const double expected = get_in_unit(plain, *key);
      INFO(key->name);
      if (std::isfinite(expected)) CHECK(get_in_unit(fitted, *key) == Approx(expected).epsilon(1e-9));
    }
  }
}

// factor [1], [0.6, 0.8]: correlation 0.6 by construction
TEST_CASE("draws of a fit have its middle, its width and its correlation") {
  const std::vector<const Key*> keys{find_key("engine.power_factor"), find_key("hull.drag_factor")};
  const Posterior posterior{keys, {0.5, -0.25}, {{0.2}, {0.12, 0.16}}};
  Setup fitted = test::shipped("supercharged_three_seat");
  for (std::size_t i = 0; i < 2; ++i)
    set_in_unit(fitted, *keys[i], at_share(keys[i]->spread, normal_share(posterior.at[i])));
  const Draws draws(1024, 1);
  double mean[2]{}, square[2]{}, product = 0.0;
  for (std::size_t draw = 0; draw < draws.count(); ++draw) {
    const Setup drawn = draws.apply(fitted, draw, posterior);
    double place[2];
    for (std::size_t i = 0; i < 2; ++i) {
      const Spread& spread = keys[i]->spread;
      const double share = (get_in_unit(drawn, *keys[i]) - spread.low) / (spread.high - spread.low);
      place[i] = normal_quantile(share) - posterior.at[i];
      mean[i] += place[i] / 1024.0;
      square[i] += place[i] * place[i] / 1024.0;
    }
    product += place[0] * place[1] / 1024.0;
  }
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(mean[i] == Approx(0.0).margin(0.005));
    CHECK(square[i] == Approx(0.04).epsilon(0.03));
  }
  CHECK(product / std::sqrt(square[0] * square[1]) == Approx(0.6).margin(0.03));
}

// Abramowitz & Stegun 1964, table 26.1
TEST_CASE("the normal distribution function and its inverse") {
  CHECK(normal_share(1.0) == Approx(0.8413447461).epsilon(1e-9));
  CHECK(normal_quantile(0.95) == Approx(1.6448536270).epsilon(1e-9));
  CHECK(std::isfinite(normal_quantile(0.0)));
}

}  // namespace bowrise
