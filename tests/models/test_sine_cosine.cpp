#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "models/sine_cosine.hpp"

namespace bowrise {

// The C++ library is the reference.
TEST_CASE("sine and cosine of any angle") {
  for (double angle = -4.0; angle <= 4.0; angle += 1.37e-4) {
    const SineCosine got = sine_cosine(angle);
    INFO(angle);
    REQUIRE(std::abs(got.sine - std::sin(angle)) <= 3e-16);
    REQUIRE(std::abs(got.cosine - std::cos(angle)) <= 3e-16);
  }
  CHECK(sine_cosine(0.0).sine == 0.0);
  CHECK(sine_cosine(0.0).cosine == 1.0);
  CHECK(std::isnan(sine_cosine(std::numeric_limits<double>::quiet_NaN()).sine));
}

// Where the series hands over to the library nothing may jump by more than rounding.
TEST_CASE("sine and cosine have no step where the series ends") {
  const double end = 0.35, before = std::nextafter(end, 0.0);
  CHECK(std::abs(sine_cosine(end).sine - sine_cosine(before).sine) <= 2e-16);
  CHECK(std::abs(sine_cosine(end).cosine - sine_cosine(before).cosine) <= 2e-16);
}

}  // namespace bowrise
