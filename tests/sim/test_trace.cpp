#include "sim/trace.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "models/constants.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

using Catch::Matchers::WithinRel;

const TraceColumn& column(std::string_view name) {
  const auto columns = trace_columns();
  const auto found =
      std::find_if(columns.begin(), columns.end(), [name](const TraceColumn& c) { return c.name == name; });
  INFO("column " << name);
  REQUIRE(found != columns.end());
  return *found;
}

double read(std::string_view name, const TraceRow& row) { return column(name).number(Craft{}, row); }

const test::Outcome& demo_outcome() {
  static const test::Outcome outcome = test::outcome_of("supercharged_three_seat", {}, true);
  return outcome;
}

}  // namespace

TEST_CASE("every column has a name of its own, a meaning and exactly one reader") {
  std::set<std::string_view> names;
  for (const TraceColumn& c : trace_columns()) {
    INFO(c.name);
    CHECK(names.insert(c.name).second);
    CHECK_FALSE(c.meaning.empty());
    CHECK((c.number != nullptr) != (c.word != nullptr));
    CHECK(c.name.find_first_of(", \"") == std::string_view::npos);
  }
  CHECK(trace_columns().front().name == "time_s");
}

TEST_CASE("columns tell the unit of their name") {
  TraceRow row{};
  row.time_s = 1.25;
  row.state.distance_m = 7.0;
  row.state.speed_m_s = 3.0;
  row.state.trim_rad = 0.05;
  row.state.shaft_speed_rad_s = 800.0;
  row.state.flow_m3_s = 0.2;
  row.state.cavity_1 = 0.2;
  row.state.cavity_2 = 0.1;
  row.state.void_fraction = 0.03;
  row.now.head_factor = 0.8;
  row.now.npsh_available_J_kg = 98.0665;
  row.now.npsh_required_J_kg = 49.03325;
  row.now.limited_by = Limit::cavitation;
  CHECK(read("time_s", row) == 1.25);
  CHECK(read("distance_m", row) == 7.0);
  CHECK(read("speed_m_s", row) == 3.0);
  CHECK_THAT(read("trim_deg", row), WithinRel(0.05 * 180.0 / pi, 1e-14));
  CHECK_THAT(read("shaft_rpm", row), WithinRel(800.0 * 60.0 / (2.0 * pi), 1e-14));
  CHECK(read("flow_m3_s", row) == 0.2);
  CHECK_THAT(read("cavitation", row), WithinRel(0.2, 1e-14));
  CHECK(read("cavitation_stage_2", row) == 0.1);
  CHECK(read("void_fraction", row) == 0.03);
  CHECK_THAT(read("npsh_available_m", row), WithinRel(10.0, 1e-14));
  CHECK_THAT(read("npsh_required_m", row), WithinRel(5.0, 1e-14));
  CHECK(column("limited_by").word(Craft{}, row) == "cavitation");
  CHECK_THAT(read("npsh_margin", row), WithinRel(2.0, 1e-14));
  CHECK_THAT(read("suction_specific_speed", row),
             WithinRel(800.0 * std::sqrt(0.2) / std::pow(98.0665, 0.75), 1e-12));
  row.state.flow_m3_s = -0.1;
  CHECK(read("suction_specific_speed", row) == 0.0);
  row.state.flow_m3_s = 0.2;
  row.now.npsh_available_J_kg = -50.0;  // drawn empty: counts as 0.1 m
  CHECK_THAT(read("suction_specific_speed", row),
             WithinRel(800.0 * std::sqrt(0.2) / std::pow(0.980665, 0.75), 1e-12));
  CHECK(read("npsh_margin", row) < 0.0);
}

TEST_CASE("rows of a launch balance: thrust less drag is effective mass times acceleration") {
  REQUIRE(demo_outcome().launch.rows.size() > 500);
  for (const TraceRow& row : demo_outcome().launch.rows) {
    const double force = read("thrust_N", row) - read("drag_N", row);
    const double inertia = read("effective_mass_kg", row) * read("acceleration_m_s2", row);
    CHECK(std::abs(force - inertia) <
          1e-6 * (std::abs(read("thrust_N", row)) + std::abs(read("drag_N", row)) + 1.0));
  }
}

TEST_CASE("columns that do not apply hold 0") {
  for (const TraceRow& row : demo_outcome().launch.rows) {
    CHECK(read("cavitation_stage_2", row) == 0.0);  // one stage
    if (read("speed_m_s", row) < 1.0) CHECK(read("inlet_velocity_ratio", row) == 0.0);
  }
  CHECK(read("boost", demo_outcome().launch.rows.front()) == 1.0);  // no turbo
}

TEST_CASE("every recorded event has a row at its time") {
  const Launch& launch = demo_outcome().launch;
  REQUIRE(launch.events.size() > 5);
  for (const Event& event : launch.events) {
    const bool there = std::any_of(launch.rows.begin(), launch.rows.end(), [&](const TraceRow& row) {
      return row.time_s == event.time_s && row.at_event;
    });
    INFO(launch.event_rows[event.row].name << " at " << event.time_s);
    CHECK(there);
  }
}

TEST_CASE("a run ends half a second after its acceleration has died away, between steps or not") {
  for (const char* name : {"supercharged_three_seat", "light_two_seat", "worn_ring", "modified_400"}) {
    INFO(name);
    const Launch launch = test::outcome_of(name, {}, false).launch;
    REQUIRE(launch.end == LaunchEnd::top_speed);
    const auto last = std::find_if(launch.events.rbegin(), launch.events.rend(), [&](const Event& event) {
      return launch.event_rows[event.row].kind == EventKind::steady_speed;
    });
    REQUIRE(last != launch.events.rend());
    CHECK_FALSE(last->rising);
    CHECK(launch.end_time_s - last->time_s == Approx(0.5).margin(2e-7));
  }
}

}  // namespace bowrise
