#include "models/schedule.hpp"

#include <catch2/catch.hpp>

using bowrise::Schedule;

TEST_CASE("schedule: without rows the constant holds") {
  const Schedule plain({}, 0.3);
  CHECK_FALSE(plain.varies());
  CHECK(plain(-5.0) == 0.3);
  CHECK(plain(40.0) == 0.3);
}

TEST_CASE("schedule: passes its rows, is held beyond them, and has no corner") {
  const Schedule schedule({{2.0, 1.0}, {10.0, 1.0}, {20.0, -1.0}}, 0.0);
  CHECK(schedule.varies());
  CHECK(schedule(10.0) == Approx(1.0));
  CHECK(schedule(20.0) == Approx(-1.0));
  CHECK(schedule(0.0) == Approx(1.0));
  CHECK(schedule(60.0) == Approx(-1.0));
  for (double speed = 0.5; speed < 25.0; speed += 0.01) {
    const double before = schedule(speed) - schedule(speed - 1e-4),
                 after = schedule(speed + 1e-4) - schedule(speed);
    CHECK(std::abs(after - before) < 1e-6);  // slopes of at most 0.3 1/(m/s) change smoothly
    CHECK(schedule(speed) <= 1.0 + 1e-12);
    CHECK(schedule(speed) >= -1.0 - 1e-12);
  }
}
