// Monotone cubics: a worked example, no overshoot, C1, straight ends, and the uniform one
// against the general one.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "models/curve.hpp"
#include "tests/support/not_finite.hpp"

using namespace bowrise;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using test::infinity, test::not_a_number;

namespace {

using Values = std::vector<double>;

// A torque table with a knee, a peak and a fall.
const Values table_speed{1500, 3000, 4500, 6000, 7000, 7750, 8250};
const Values table_torque{120, 150, 190, 222, 232, 229, 215};

template <class Function>
double slope_by_difference(const Function& function, double x, double step) {
  return (function(x + step) - function(x - step)) / (2.0 * step);
}

}  // namespace

// Fritsch & Butland 1984 slopes with the one-sided three-point form at the ends: separate evaluation, seven
// digits; the same form as the monotone cubic of common numerical libraries.
TEST_CASE("curve: worked example of a torque table") {
  const Curve curve(table_speed, table_torque);
  CHECK_THAT(curve(3750), WithinAbs(169.8413, 5e-5));
  CHECK_THAT(curve(6500), WithinAbs(228.6620, 5e-5));
  CHECK_THAT(curve(7400), WithinAbs(231.0838, 5e-5));
  CHECK_THAT(curve(2250), WithinAbs(133.8393, 5e-5));
  CHECK_THAT(curve(8000), WithinAbs(223.8895, 5e-5));
  double highest = 0.0;
  for (double x = 1500; x <= 8250; x += 1) highest = std::max(highest, curve(x));
  CHECK(highest == 232.0);  // a natural cubic spline would invent 232.86
}

TEST_CASE("curve: goes through its points and knows its range") {
  const Curve curve(table_speed, table_torque);
  for (std::size_t i = 0; i < table_speed.size(); ++i)
    CHECK_THAT(curve(table_speed[i]), WithinRel(table_torque[i], 1e-15));
  CHECK(curve.low() == 1500);
  CHECK(curve.high() == 8250);
  CHECK(curve.covers(1500));
  CHECK(curve.covers(8250));
  CHECK_FALSE(curve.covers(1499.999));
  CHECK_FALSE(curve.covers(8250.001));
}

TEST_CASE("curve: monotone where the data are, flat at a local extreme") {
  // steep steps beside flat pieces, uneven spacing
  const Values x{0, 0.1, 1, 1.05, 3, 3.2, 7, 8}, y{0, 0, 0.1, 9, 9.01, 9.01, 30, 30.1};
  const Curve curve(x, y);
  double before = curve(0.0);
  for (double at = 0.001; at <= 8.0; at += 0.001) {
    const double now = curve(at);
    CHECK(now >= before - 1e-12);
    before = now;
  }
  const Curve hill(Values{0, 1, 2, 3}, Values{0, 5, 4, 4.5});
  CHECK(hill.slope(1.0) == 0.0);
  CHECK(hill.slope(2.0) == 0.0);
  for (double at = 0.0; at <= 3.0; at += 0.01) {
    CHECK(hill(at) <= 5.0 + 1e-12);
    CHECK(hill(at) >= 0.0 - 1e-12);
  }
}

TEST_CASE("curve: C1, and the slope is the derivative") {
  const Curve curve(table_speed, table_torque);
  for (const double knot : table_speed) {
    CHECK_THAT(curve(std::nextafter(knot, 0.0)), WithinRel(curve(std::nextafter(knot, 1e9)), 1e-12));
    CHECK_THAT(curve.slope(std::nextafter(knot, 0.0)),
               WithinAbs(curve.slope(std::nextafter(knot, 1e9)), 1e-12));
  }
  for (double x = 1400; x < 8400; x += 37)
    CHECK_THAT(curve.slope(x), WithinAbs(slope_by_difference(curve, x, 0.01), 2e-6));
}

TEST_CASE("curve: straight beyond the ends, along the end tangent") {
  const Curve curve(table_speed, table_torque);
  for (const double beyond : {1.0, 500.0, 1e4}) {
    CHECK_THAT(curve(8250 + beyond), WithinRel(215 + curve.slope(8250) * beyond, 1e-12));
    CHECK_THAT(curve(1500 - beyond), WithinRel(120 - curve.slope(1500) * beyond, 1e-12));
    CHECK(curve.slope(8250 + beyond) == curve.slope(8250));
    CHECK(curve.slope(1500 - beyond) == curve.slope(1500));
  }
}

TEST_CASE("curve: two points are a straight line, a line stays a line") {
  const Curve two(Values{1, 3}, Values{10, 4});
  for (const double x : {-5.0, 1.0, 1.7, 3.0, 9.0}) CHECK_THAT(two(x), WithinRel(13.0 - 3.0 * x, 1e-14));
  const Curve many(Values{0, 1, 4, 4.5, 9}, Values{1, 3, 9, 10, 19});
  for (double x = -1; x < 11; x += 0.13) CHECK_THAT(many(x), WithinAbs(1.0 + 2.0 * x, 1e-12));
}

TEST_CASE("curve: end slopes never turn an end cell around") {
  // the three-point form alone would rise first here
  const Curve curve(Values{0, 1, 2}, Values{1, 0.9, -5});
  CHECK(curve.slope(0.0) == 0.0);
  // and here overshoot; it is held to three secants
  const Curve peak(Values{0, 1, 2}, Values{0, 1, -30});
  CHECK(peak.slope(0.0) == 3.0);
  for (double x = 0; x <= 1; x += 0.01) CHECK(peak(x) <= 1.0 + 1e-12);
}

TEST_CASE("curve: refuses points that make no curve") {
  CHECK_THROWS_AS(Curve(Values{1}, Values{1}), std::invalid_argument);
  CHECK_THROWS_AS(Curve(Values{}, Values{}), std::invalid_argument);
  CHECK_THROWS_AS(Curve(Values{1, 2, 3}, Values{1, 2}), std::invalid_argument);
  CHECK_THROWS_AS(Curve(Values{1, 1}, Values{1, 2}), std::invalid_argument);
  CHECK_THROWS_AS(Curve(Values{2, 1}, Values{1, 2}), std::invalid_argument);
  for (const double bad : {not_a_number, infinity, -infinity}) {
    CHECK_THROWS_AS(Curve(Values{1, 2}, Values{1, bad}), std::invalid_argument);
    CHECK_THROWS_AS(Curve(Values{1, bad}, Values{1, 2}), std::invalid_argument);
    CHECK_THROWS_AS(Curve(Values{bad, 1}, Values{1, 2}), std::invalid_argument);
  }
}

TEST_CASE("curve: the uniform one is the general one on equal spacing") {
  Values x, y;
  for (int i = 0; i <= 24; ++i) {
    x.push_back(-2.0 + 0.25 * i);
    y.push_back(std::sin(1.3 * x.back()) + (i > 15 ? 0.4 : 0.0));
  }
  const Curve general(x, y);
  const UniformCurve uniform(x.front(), x.back(), y);
  for (double at = -3.0; at < 5.5; at += 0.0137) CHECK_THAT(uniform(at), WithinAbs(general(at), 1e-13));
  CHECK(uniform.low() == x.front());
  CHECK(uniform.high() == x.back());
  CHECK(uniform.covers(x.back()));
  CHECK_FALSE(uniform.covers(x.back() + 1e-9));
}

TEST_CASE("curve: several asked together are each alone") {
  const Values sine{0, 0.5, 0.9, 1, 0.8, 0.2}, fall{3, 2.5, 1, -1, -4, -8}, level{2, 2, 2, 2, 2, 2};
  const UniformCurves<5> together(-1.0, 4.0, {sine, fall, level, fall, sine});
  for (double x = -3.0; x < 6.0; x += 0.0173) {
    const auto values = together(x);
    CHECK(values[0] == UniformCurve(-1.0, 4.0, sine)(x));
    CHECK(values[1] == UniformCurve(-1.0, 4.0, fall)(x));
    CHECK(values[2] == 2.0);
    CHECK(values[3] == values[1]);
    CHECK(values[4] == values[0]);
  }
  CHECK_THROWS_AS(UniformCurves<5>(0, 1, {sine, fall, level, fall, Values{1, 2, 3, 4}}),
                  std::invalid_argument);
}

TEST_CASE("curve: the uniform one is C1 across its cells and its ends") {
  const Values y{3, 4, 4.2, 9, 9, 1, -2, -2.5};
  const UniformCurve curve(0.0, 7.0, y);
  for (int knot = 0; knot <= 7; ++knot) {
    const double x = knot, step = 1e-6;
    const double before = (curve(x) - curve(x - step)) / step, after = (curve(x + step) - curve(x)) / step;
    CHECK_THAT(curve(x), WithinAbs(y[static_cast<std::size_t>(knot)], 1e-14));
    CHECK_THAT(after - before, WithinAbs(0.0, 1e-4));
  }
}

TEST_CASE("curve: the uniform one refuses what makes no curve") {
  const Values four{1, 2, 3, 4};
  CHECK_THROWS_AS(UniformCurve(0, 1, Values{1, 2, 3}), std::invalid_argument);
  CHECK_THROWS_AS(UniformCurve(1, 1, four), std::invalid_argument);
  CHECK_THROWS_AS(UniformCurve(2, 1, four), std::invalid_argument);
  CHECK_THROWS_AS(UniformCurve(0, infinity, four), std::invalid_argument);
  CHECK_THROWS_AS(UniformCurve(not_a_number, 1, four), std::invalid_argument);
  CHECK_THROWS_AS(UniformCurve(0, 1, Values{1, not_a_number, 3, 4}), std::invalid_argument);
}

TEST_CASE("curve: what is no number stays none and reads no memory outside") {
  const Curve general(table_speed, table_torque);
  const UniformCurve uniform(0.0, 1.0, Values{1, 2, 3, 4});
  CHECK(std::isnan(general(not_a_number)));
  CHECK(std::isnan(general.slope(not_a_number)));
  CHECK(std::isnan(uniform(not_a_number)));
  CHECK(uniform(1e300) > 1e300);
  CHECK(uniform(-1e300) < -1e300);
}
