// A prism afloat against closed forms.
#include <catch2/catch.hpp>
#include <cmath>

#include "models/constants.hpp"
#include "models/hydrostatics.hpp"
#include "tests/support/units.hpp"

namespace bowrise {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using test::degree;

}  // namespace

// Closed form: draught = volume/(length * beam), centre at mid length and half draught.
TEST_CASE("A box barge floats level at its displacement") {
  const PrismaticHull box{2.0, 10.0, 0.0};
  CHECK_THAT(floating_draught_m(box, 8.0, 0.0), WithinRel(0.4, 1e-12));
  const auto flotation = free_flotation(box, 8.0, 5.0, 0.3);
  REQUIRE(flotation);
  CHECK_THAT(flotation->draught_m, WithinRel(0.4, 1e-9));
  CHECK_THAT(flotation->trim_rad, WithinAbs(0.0, 1e-9));
  const Immersion under = immersion(box, 0.4, 0.0);
  CHECK_THAT(under.centre_m, WithinRel(5.0, 1e-12));
  CHECK_THAT(under.centre_height_m, WithinRel(0.2, 1e-12));
}

// Closed form: area = draught^2/tan(deadrise) below the chine, so draught = sqrt(volume
// tan(deadrise)/length), centre of buoyancy at two thirds of it.
TEST_CASE("A wedge floats at the root of its displacement") {
  const PrismaticHull wedge{1.0, 4.0, 20.0 * degree};
  const double volume = 0.2, draught = std::sqrt(volume * std::tan(20.0 * degree) / 4.0);
  REQUIRE(draught < 0.5 * std::tan(20.0 * degree));
  CHECK_THAT(floating_draught_m(wedge, volume, 0.0), WithinRel(draught, 1e-12));
  CHECK_THAT(immersion(wedge, draught, 0.0).centre_height_m, WithinRel(2.0 / 3.0 * draught, 1e-12));
}

// Closed form: above the chine the area is beam (depth - quarter of the beam's rise).
TEST_CASE("A deep prism floats on its sides") {
  const PrismaticHull prism{1.0, 4.0, 20.0 * degree};
  const double rise = 0.25 * std::tan(20.0 * degree);
  CHECK_THAT(floating_draught_m(prism, 1.6, 0.0), WithinRel(0.4 + rise, 1e-12));
}

// Closed form: trimmed, a wedge whose keel leaves the water before the bow is a pyramid of transom area A and
// length l: volume A l/3, centre at l/4; a box is a triangle's prism: volume A l/2, centre at l/3.
TEST_CASE("A trimmed prism whose bow is dry") {
  const double trim = 4.0 * degree, depth = 0.1, draught = depth * std::cos(trim),
               wetted = depth / std::tan(trim);
  const Immersion pyramid = immersion({1.0, 4.0, 20.0 * degree}, draught, trim);
  CHECK_THAT(pyramid.volume_m3, WithinRel(depth * depth / std::tan(20.0 * degree) * wetted / 3.0, 1e-12));
  CHECK_THAT(pyramid.centre_m, WithinRel(0.25 * wetted, 1e-12));
  const Immersion triangle = immersion({1.0, 4.0, 0.0}, draught, trim);
  CHECK_THAT(triangle.volume_m3, WithinRel(0.5 * depth * wetted, 1e-12));
  CHECK_THAT(triangle.centre_m, WithinRel(wetted / 3.0, 1e-12));
}

// Closed form for small angles: a box with its weight a little aft trims by offset/GM_L, GM_L = L^2/(12 T) +
// T/2 - VCG.
TEST_CASE("A box with its weight a little aft trims by its metacentric height") {
  const double draught = 0.4, height = 0.3, offset = 0.01;
  const auto flotation = free_flotation({2.0, 10.0, 0.0}, 8.0, 5.0 - offset, height);
  REQUIRE(flotation);
  const double metacentric = 100.0 / (12.0 * draught) + 0.5 * draught - height;
  CHECK_THAT(flotation->trim_rad, WithinRel(offset / metacentric, 1e-4));
}

TEST_CASE("A hull with its weight off its bottom does not float freely") {
  CHECK_FALSE(free_flotation({1.0, 4.0, 20.0 * degree}, 0.2, 5.0, 0.3));
}

// Level keel at draught 0.2: a point 0.5 above the keel is 0.3 above the water; 30 deg up it gains half its
// way forward.
TEST_CASE("Height above the water") {
  CHECK_THAT(height_above_water_m(0.2, 0.0, 1.0, 0.5), WithinRel(0.3, 1e-12));
  CHECK_THAT(height_above_water_m(0.2, 30.0 * degree, 1.0, 0.0), WithinRel(0.3, 1e-12));
}

}  // namespace bowrise
