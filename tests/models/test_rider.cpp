// Throttle plans as lever segments: what each plan does, the hand, the idle floor,
// continuity, and its checks.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "models/rider.hpp"
#include "tests/support/whole_setup.hpp"

using namespace bowrise;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

using Segments = std::vector<LeverSegment>;

Throttle throttle(Plan plan, double hand_rate_1_s = 5.0) {
  Throttle out{};
  test::set_presets(out, throttle_parameters);
  out.plan = plan;
  out.hand_rate_1_s = hand_rate_1_s;
  return out;
}

Throttle by_table(TableRows rows, double hand_rate_1_s = 5.0) {
  Throttle out = throttle(Plan::table, hand_rate_1_s);
  out.table = std::move(rows);
  return out;
}

double lever_at(const Segments& segments, double time_s) {
  const LeverSegment* current = &segments.front();
  for (const LeverSegment& segment : segments)
    if (segment.start_s <= time_s) current = &segment;
  return current->lever(time_s);
}

/// What holds for any plan: starts at 0, starts rise strictly, no jump, not below the floor, no faster than
/// the hand, rests at the end.
void check_sound(const Segments& segments, double floor, double hand_rate_1_s) {
  REQUIRE_FALSE(segments.empty());
  CHECK(segments.front().start_s == 0.0);
  CHECK_THAT(segments.front().level, WithinAbs(floor, 1e-12));
  CHECK(segments.back().rate_1_s == 0.0);
  for (std::size_t i = 0; i < segments.size(); ++i) {
    CHECK(segments[i].level >= floor - 1e-12);
    CHECK(segments[i].level <= std::max(floor, 1.0) + 1e-12);
    CHECK(std::abs(segments[i].rate_1_s) <= hand_rate_1_s * (1.0 + 1e-9));
    if (i == 0) continue;
    CHECK(segments[i].start_s > segments[i - 1].start_s);
    CHECK_THAT(segments[i].level, WithinAbs(segments[i - 1].lever(segments[i].start_s), 1e-12));
  }
}

}  // namespace

TEST_CASE("rider: pinned opens as fast as the hand and stays open") {
  const Segments segments = lever_segments(throttle(Plan::pinned), 0.0);
  check_sound(segments, 0.0, 5.0);
  REQUIRE(segments.size() == 2);
  CHECK(segments[0].rate_1_s == 5.0);
  CHECK_THAT(segments[1].start_s, WithinRel(0.2, 1e-14));
  CHECK(segments[1].level == 1.0);
}

TEST_CASE("rider: ramp takes its time, but no less than the hand's") {
  Throttle ramp = throttle(Plan::ramp);
  ramp.ramp_time_s = 2.0;
  const Segments slow = lever_segments(ramp, 0.0);
  check_sound(slow, 0.0, 5.0);
  CHECK_THAT(lever_at(slow, 0.5), WithinRel(0.25, 1e-14));
  CHECK(lever_at(slow, 2.0) == 1.0);
  CHECK(lever_at(slow, 60.0) == 1.0);
  ramp.ramp_time_s = 0.0;
  const Segments hand = lever_segments(ramp, 0.0);
  check_sound(hand, 0.0, 5.0);
  CHECK_THAT(hand.back().start_s, WithinRel(0.2, 1e-14));
}

TEST_CASE("rider: staged holds a level, then opens") {
  Throttle staged = throttle(Plan::staged);
  staged.stage_level = 0.4;
  staged.stage_time_s = 1.0;
  const Segments segments = lever_segments(staged, 0.0);
  check_sound(segments, 0.0, 5.0);
  REQUIRE(segments.size() == 4);
  CHECK_THAT(lever_at(segments, 0.04), WithinRel(0.2, 1e-12));
  CHECK_THAT(lever_at(segments, 0.9), WithinRel(0.4, 1e-12));
  CHECK_THAT(lever_at(segments, 1.06), WithinRel(0.7, 1e-12));
  CHECK_THAT(segments[3].start_s, WithinRel(1.0 + 0.6 / 5.0, 1e-14));
  CHECK(segments[3].level == 1.0);
}

TEST_CASE("rider: a stage shorter than the hand needs is left out of") {
  Throttle staged = throttle(Plan::staged, 1.0);
  staged.stage_level = 0.5;
  staged.stage_time_s = 0.1;  // the hand needs 0.5 s to the stage
  const Segments segments = lever_segments(staged, 0.0);
  check_sound(segments, 0.0, 1.0);
  CHECK_THAT(lever_at(segments, 0.25), WithinRel(0.25, 1e-12));
  CHECK_THAT(segments.back().start_s, WithinRel(1.0, 1e-12));
  for (const double level : {0.0, 1.0}) {
    for (const double time_s : {0.0, 0.4, 2.0}) {
      staged.stage_level = level;
      staged.stage_time_s = time_s;
      check_sound(lever_segments(staged, 0.0), 0.0, 1.0);
    }
  }
}

TEST_CASE("rider: table is straight between rows and held after the last") {
  const Segments segments = lever_segments(by_table({{0.5, 0.5}, {1.0, 0.5}, {1.5, 1.0}, {2.5, 0.2}}), 0.0);
  check_sound(segments, 0.0, 5.0);
  CHECK(segments.size() == 5);
  CHECK_THAT(lever_at(segments, 0.25), WithinRel(0.25, 1e-12));
  CHECK_THAT(lever_at(segments, 0.75), WithinRel(0.50, 1e-12));
  CHECK_THAT(lever_at(segments, 1.25), WithinRel(0.75, 1e-12));
  CHECK_THAT(lever_at(segments, 2.00), WithinRel(0.60, 1e-12));
  CHECK_THAT(lever_at(segments, 99.0), WithinRel(0.20, 1e-12));
}

TEST_CASE("rider: a table that begins at once is reached by the hand") {
  const Segments segments = lever_segments(by_table({{0.0, 0.6}, {2.0, 1.0}}), 0.0);
  check_sound(segments, 0.0, 5.0);
  CHECK_THAT(lever_at(segments, 0.06), WithinRel(0.3, 1e-12));
  CHECK_THAT(segments[1].start_s, WithinRel(0.12, 1e-12));
  CHECK_THAT(lever_at(segments, 0.12 + 0.94), WithinRel(0.8, 1e-12));  // half way from there to the next row
}

TEST_CASE("rider: the idle floor is held, and leaving it is a corner") {
  const double floor = 0.08;
  const Segments segments = lever_segments(throttle(Plan::pinned), floor);
  check_sound(segments, floor, 5.0);
  REQUIRE(segments.size() == 3);
  CHECK(segments[0].rate_1_s == 0.0);
  CHECK_THAT(segments[1].start_s, WithinRel(floor / 5.0, 1e-12));
  CHECK(segments[1].level == floor);
  CHECK_THAT(segments[2].start_s, WithinRel(0.2, 1e-12));
}

TEST_CASE("rider: falling back to idle is a corner too") {
  const double floor = 0.1;
  const Segments segments = lever_segments(by_table({{1.0, 1.0}, {2.0, 0.0}, {3.0, 0.0}, {4.0, 0.5}}), floor);
  check_sound(segments, floor, 5.0);
  const auto starts_at = [&](double time_s) {
    return std::any_of(segments.begin(), segments.end(), [&](const LeverSegment& segment) {
      return std::abs(segment.start_s - time_s) < 1e-12;
    });
  };
  CHECK(starts_at(0.1));  // up through the floor
  CHECK(starts_at(1.9));  // down to it
  CHECK(starts_at(3.2));  // up again
  CHECK(lever_at(segments, 2.5) == floor);
  CHECK(std::count_if(segments.begin(), segments.end(),
                      [](const LeverSegment& segment) { return segment.rate_1_s == 0.0; }) == 3);
}

TEST_CASE("rider: a lever that only touches the floor makes no segment without length") {
  const double floor = 0.2;
  Throttle staged = throttle(Plan::staged);
  staged.stage_level = floor;
  check_sound(lever_segments(staged, floor), floor, 5.0);
  CHECK(lever_segments(staged, floor).size() == 3);  // at the floor, up, open
  check_sound(lever_segments(by_table({{1.0, 0.2}, {2.0, 0.9}, {3.0, 0.2}, {4.0, 0.0}, {5.0, 0.2}}), floor),
              floor, 5.0);
  check_sound(lever_segments(by_table({{1.0, 0.2}, {2.0, 0.1}, {3.0, 0.2}, {4.0, 0.2}, {5.0, 1.0}}), floor),
              floor, 5.0);
}

TEST_CASE("rider: sound for any plan, hand and floor") {
  for (const double hand : {0.5, 3.7, 20.0}) {
    for (const double floor : {0.0, 0.05, 0.3, 0.999, 1.0}) {
      for (const Plan plan : {Plan::pinned, Plan::ramp, Plan::staged}) {
        INFO("plan " << static_cast<int>(plan) << ", hand " << hand << ", floor " << floor);
        check_sound(lever_segments(throttle(plan, hand), floor), floor, hand);
      }
    }
  }
}

TEST_CASE("rider: checks of a table") {
  CHECK(check(throttle(Plan::pinned)).empty());
  CHECK(check(throttle(Plan::ramp)).empty());
  CHECK(check(throttle(Plan::staged)).empty());
  CHECK(test::complains_about(check(by_table({})), "throttle.table"));
  CHECK(check(by_table({{0.0, 1.0}})).empty());
  CHECK(check(by_table({{0.2, 1.0}})).empty());  // exactly what the hand can
  CHECK(test::complains_about(check(by_table({{0.19, 1.0}})), "throttle.table"));
  CHECK(test::complains_about(check(by_table({{1.0, 1.0}, {1.1, 0.2}})), "throttle.table"));
  CHECK(check(by_table({{1.0, 1.0}, {1.1, 0.2}}, 10.0)).empty());
  // the first row takes the hand 0.12 s, so nothing can be asked for before that
  CHECK(test::complains_about(check(by_table({{0.0, 0.6}, {0.1, 0.6}})), "throttle.table"));
  CHECK(check(by_table({{0.0, 0.6}, {0.2, 1.0}})).empty());
}

TEST_CASE("rider: late and held too far open, in closed form") {
  Throttle staged = throttle(Plan::staged);
  staged.stage_level = 0.4;
  staged.stage_time_s = 1.0;
  staged.timing_error_s = 0.1;
  staged.lever_error = 0.25;
  const Segments segments = lever_segments(staged, 0.0);
  check_sound(segments, 0.0, 5.0);
  CHECK_THAT(lever_at(segments, 0.9), WithinRel(0.4 * 1.25, 1e-12));
  CHECK_THAT(lever_at(segments, 1.1), WithinRel(0.5, 1e-12));
  CHECK_THAT(lever_at(segments, 1.1 + 0.05), WithinRel(0.5 + 5.0 * 0.05, 1e-12));
  CHECK(segments.back().level == 1.0);  // full is a stop: no error there
  Throttle ramp = throttle(Plan::ramp);
  ramp.ramp_time_s = 1.0;
  ramp.timing_error_s = -0.5;
  CHECK_THAT(lever_at(lever_segments(ramp, 0.0), 0.25), WithinRel(0.5, 1e-12));
}

TEST_CASE("rider: a table with errors stays within the hand") {
  Throttle table = by_table({{0.2, 1.0}, {1.0, 0.5}, {1.2, 1.0}});
  for (const double late_s : {-0.1, 0.0, 0.1}) {
    for (const double error : {-0.3, 0.0, 0.3}) {
      table.timing_error_s = late_s;
      table.lever_error = error;
      check_sound(lever_segments(table, 0.05), 0.05, 5.0);
    }
  }
}

TEST_CASE("rider: a decision moves the lever as far as the hand can, not below the floor") {
  Throttle plan = throttle(Plan::ideal);  // hand 5 1/s
  plan.decision_time_s = 0.02;
  CHECK(decided_segment(plan, 1.0, 0.5, 1.0, 0.1).rate_1_s == 5.0);
  CHECK(decided_segment(plan, 1.0, 0.5, 0.0, 0.1).rate_1_s == -5.0);
  const LeverSegment small = decided_segment(plan, 1.0, 0.5, 0.52, 0.1);
  CHECK_THAT(small.rate_1_s, WithinRel(1.0, 1e-12));
  CHECK_THAT(small.lever(1.02), WithinRel(0.52, 1e-12));
  CHECK_THAT(decided_segment(plan, 1.0, 0.12, 0.0, 0.1).lever(1.02), WithinRel(0.1, 1e-12));
  for (const Plan kind : {Plan::hold, Plan::rider, Plan::ideal}) {
    CHECK(is_feedback(kind));
    const Segments known = lever_segments(throttle(kind), 0.1);
    REQUIRE(known.size() == 1);
    CHECK(known.front().level == 0.1);
    CHECK(known.front().rate_1_s == 0.0);
  }
}
