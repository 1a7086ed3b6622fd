// Balances on the written trace: from its columns, and from differences along it. A balance of columns alone
// closes by construction; the differences of speed and shaft speed do not.
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <sstream>

#include "sim/output/csv.hpp"
#include "tests/support/scenarios.hpp"

using namespace bowrise;
using namespace bowrise::test;

namespace {

/// The trace as anyone would read it: text, split at commas.
struct Table {
  std::map<std::string, std::vector<double>> column;
  std::size_t rows = 0;
  [[nodiscard]] const std::vector<double>& operator[](const std::string& name) const {
    return column.at(name);
  }
};

std::vector<std::string> split(const std::string& line) {
  std::vector<std::string> cells;
  std::stringstream stream(line);
  for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(cell);
  return cells;
}

Table read_trace(const Outcome& outcome) {
  std::stringstream text(trace_csv(outcome.craft, outcome.launch));
  std::string line;
  std::getline(text, line);
  const std::vector<std::string> names = split(line);
  Table table;
  while (std::getline(text, line)) {
    const std::vector<std::string> cells = split(line);
    for (std::size_t i = 0; i < cells.size(); ++i)
      if (names[i] != "limited_by") table.column[names[i]].push_back(std::stod(cells[i]));
    ++table.rows;
  }
  return table;
}

double largest(const std::vector<double>& values) {
  double most = 0.0;
  for (const double value : values) most = std::max(most, std::abs(value));
  return most;
}

// Derivative at row i by a parabola through three neighbours, which need not be equally spaced.
double slope(const std::vector<double>& t, const std::vector<double>& y, std::size_t i) {
  const double before = t[i] - t[i - 1], after = t[i + 1] - t[i];
  return ((y[i + 1] - y[i]) / after * before + (y[i] - y[i - 1]) / before * after) / (before + after);
}

// fine enough for the steepest moment: the limiter takes the torque away within 14 ms
// A row written for an event may lie so close to its neighbour that the difference is all rounding.
bool beside_an_event(const std::vector<double>& t, std::size_t i) {
  return t[i] - t[i - 1] < 1e-4 || t[i + 1] - t[i] < 1e-4;
}

const Changes fine{{"output.step", "0.2 ms"}, {"run.tolerance", "1e-8"}, {"run.duration", "5 s"}};

}  // namespace

TEST_CASE("thrust less drag is effective mass times acceleration, from the columns and from differences") {
  for (const std::string name : {"supercharged_three_seat", "two_stage", "light_two_seat", "air_leak"}) {
    INFO(name);
    const Table trace = read_trace(outcome_of(name, fine, true));
    const auto &t = trace["time_s"], &speed = trace["speed_m_s"], &thrust = trace["thrust_N"],
               &drag = trace["drag_N"], &mass = trace["effective_mass_kg"],
               &acceleration = trace["acceleration_m_s2"];
    const double allowed = 1e-3 * largest(thrust);
    std::size_t looked_at = 0;
    for (std::size_t i = 1; i + 1 < trace.rows; ++i) {
      const double force = thrust[i] - drag[i];
      REQUIRE(std::abs(force - mass[i] * acceleration[i]) < allowed);
      if (beside_an_event(t, i)) continue;
      REQUIRE(std::abs(force - mass[i] * slope(t, speed, i)) < allowed);
      ++looked_at;
    }
    CHECK(looked_at > 2000);
  }
}

TEST_CASE("shaft torques accelerate the shaft, from differences") {
  for (const std::string name : {"supercharged_three_seat", "two_stage", "naturally_aspirated_three_seat"}) {
    INFO(name);
    const Outcome outcome = outcome_of(name, fine, true);
    const Table trace = read_trace(outcome);
    const auto &t = trace["time_s"], &rpm = trace["shaft_rpm"], &engine = trace["engine_torque_Nm"],
               &pump = trace["pump_torque_Nm"];
    const double inertia = outcome.craft.engine->inertia_kg_m2;
    const double allowed = 1e-3 * largest(engine);
    for (std::size_t i = 1; i + 1 < trace.rows; ++i) {
      if (beside_an_event(t, i)) continue;
      // at a corner of the throttle the torques bend, so a parabola over it is off: skip the two corners of a
      // pinned plan
      if (t[i] < 0.12) continue;
      const double net = engine[i] - pump[i];
      REQUIRE(std::abs(net - inertia * slope(t, rpm, i) * 3.14159265358979 / 30.0) < allowed);
    }
  }
}

TEST_CASE("distance is the integral of speed") {
  const Table trace = read_trace(outcome_of("supercharged_three_seat", fine, true));
  double distance = 0.0;
  for (std::size_t i = 1; i < trace.rows; ++i)
    distance += 0.5 * (trace["speed_m_s"][i] + trace["speed_m_s"][i - 1]) *
                (trace["time_s"][i] - trace["time_s"][i - 1]);
  CHECK(distance == Approx(trace["distance_m"].back()).epsilon(1e-5));
}

TEST_CASE("the jet speed is flow over jet area and the ram and loss make the suction head") {
  const Outcome outcome = outcome_of("supercharged_three_seat", fine, true);
  const Table trace = read_trace(outcome);
  const double area =
      3.14159265358979 / 4 * 0.086 * 0.086 * 0.99;  // exit bore and contraction of the scenario
  for (std::size_t i = 0; i < trace.rows; i += 50)
    CHECK(trace["jet_speed_m_s"][i] == Approx(trace["flow_m3_s"][i] / area).epsilon(1e-9));
}

TEST_CASE("the explicit check method gives the same marks as the stiff one") {
  const Setup setup = shipped("supercharged_three_seat", {{"run.tolerance", "1e-8"}});
  const Craft craft = prepare(setup);
  LaunchOptions options = launch_options(setup, false);
  const Launch stiff = launch(craft, setup.run, options);
  options.method = Method::runge_kutta;
  const Launch explicit_check = launch(craft, setup.run, options);
  const Summary a = summarise(craft, stiff), b = summarise(craft, explicit_check);
  REQUIRE(a.marks.size() == b.marks.size());
  for (std::size_t i = 0; i < a.marks.size(); ++i) {
    if (!a.marks[i].time_s) continue;
    REQUIRE(b.marks[i].time_s);
    CHECK(*a.marks[i].time_s == Approx(*b.marks[i].time_s).epsilon(2e-6));
  }
  CHECK(*a.hook_up_s == Approx(*b.hook_up_s).epsilon(2e-6));
}

TEST_CASE("marks at the default tolerance are within 1e-4 of a tight run, over all shipped craft") {
  for (const std::string name :
       {"supercharged_three_seat", "naturally_aspirated_three_seat", "light_two_seat", "two_stage",
        "worn_ring", "modified_400", "press_test_two_seat", "air_leak"}) {
    INFO(name);
    const Summary usual = outcome_of(name).summary,
                  tight = outcome_of(name, {{"run.tolerance", "1e-11"}}).summary;
    for (std::size_t i = 0; i < usual.marks.size(); ++i) {
      INFO(usual.marks[i].name);
      REQUIRE(usual.marks[i].time_s.has_value() == tight.marks[i].time_s.has_value());
      if (usual.marks[i].time_s)
        CHECK(*usual.marks[i].time_s == Approx(*tight.marks[i].time_s).epsilon(1e-4));
    }
  }
}

TEST_CASE("results do not depend on the output step") {
  const Summary a = outcome_of("supercharged_three_seat", {{"output.step", "10 ms"}}, true).summary;
  const Summary b = outcome_of("supercharged_three_seat", {{"output.step", "7 ms"}}, true).summary;
  const Summary c = outcome_of("supercharged_three_seat").summary;
  CHECK(a.marks[0].time_s == b.marks[0].time_s);
  CHECK(a.cavitating_s == b.cavitating_s);
  CHECK(a.wear.erosion_index_s == c.wear.erosion_index_s);
  CHECK(a.limited_s == c.limited_s);
}
