#include <catch2/catch.hpp>
#include <cmath>

#include "models/slope_table.hpp"

using namespace bowrise;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

SlopeTable<2> sine_and_cosine(std::size_t cells) {
  return {-1.0, 3.0, cells, [](double x) -> SlopeTable<2>::Row {
            return {ValueAndSlope{std::sin(x), std::cos(x)}, ValueAndSlope{std::cos(x), -std::sin(x)}};
          }};
}

}  // namespace

TEST_CASE("slope table errs by no more than step^4/384 of the fourth derivative") {
  for (const std::size_t cells : {std::size_t{8}, std::size_t{40}}) {
    const SlopeTable<2> table = sine_and_cosine(cells);
    const double step = 4.0 / static_cast<double>(cells), error = step * step * step * step / 384.0;
    for (double x = -1.0; x <= 3.0; x += 0.0037) {
      const auto [sine, cosine] = table(x);
      CHECK_THAT(sine, WithinAbs(std::sin(x), error + 1e-14));
      CHECK_THAT(cosine, WithinAbs(std::cos(x), error + 1e-14));
      CHECK_THAT(table.value_and_slope(x).value, WithinAbs(sine, 1e-15));
      CHECK_THAT(table.value_and_slope(x).slope, WithinAbs(std::cos(x), 20.0 * error / step));
    }
  }
}

TEST_CASE("slope table goes on straight beyond its ends") {
  const SlopeTable<2> table = sine_and_cosine(40);
  for (const double beyond : {1e-9, 0.3, 1e3}) {
    CHECK_THAT(table(-1.0 - beyond)[0], WithinRel(std::sin(-1.0) - std::cos(1.0) * beyond, 1e-12));
    CHECK_THAT(table(3.0 + beyond)[1], WithinRel(std::cos(3.0) - std::sin(3.0) * beyond, 1e-12));
    CHECK_THAT(table.value_and_slope(3.0 + beyond).slope, WithinRel(std::cos(3.0), 1e-12));
    CHECK_THAT(table.value_and_slope(-1.0 - beyond).slope, WithinRel(std::cos(-1.0), 1e-12));
  }
}
