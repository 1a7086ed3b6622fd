// What one part change does to the craft pump, against a separate mean-line calculation (no publication: a
// second hand at the same equations). 160 mm bore, 86 mm nozzle, 7600 rpm; its onset coefficients were 0.060
// and 0.012 a degree.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "models/cavitation.hpp"
#include "models/constants.hpp"
#include "models/pump.hpp"
#include "tests/support/units.hpp"
#include "tests/support/whole_pump.hpp"

using namespace bowrise;
using namespace bowrise::test;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// The jet unit of that calculation: inflow 0.95 V, intake loss 0.15 c^2/2 + 0.25 (vi - c)^2/2, nozzle loss
/// 0.02; 4 J/kg for cone and nozzle height close its quoted point.
struct JetUnit {
  WholePump pump = craft_pump();
  double nozzle_diameter_m = 0.086, craft_speed_m_s = 30.0, shaft_speed_rad_s = 7600 * rpm;
  bool cavitates = false;
};

struct UnitRunning {
  double power_W, thrust_N, efficiency;
};

/// First balance from high flow to low: the stable one.
UnitRunning running(const JetUnit& unit) {
  const PreparedPump pump = unit.pump.prepared();
  const double jet_area = 0.99 * pi / 4 * unit.nozzle_diameter_m * unit.nozzle_diameter_m,
               duct_area = pi / 4 * 0.16 * 0.16, inflow = 0.95 * unit.craft_speed_m_s;
  const auto left = [&](double flow) {
    if (!unit.cavitates) return 1.0;
    const double duct = flow / duct_area;
    const double loss = 0.15 * 0.5 * duct * duct + 0.25 * 0.5 * (inflow - duct) * (inflow - duct);
    const StagePoint at = pump_point(pump, flow, unit.shaft_speed_rad_s).stage[0];
    const double available = 99.5 + gravity_m_s2 * 0.05 + 0.5 * inflow * inflow - loss;
    return head_factor_target(available, at.energy_onset_J_kg, at.energy_breakdown_J_kg);
  };
  const auto surplus = [&](double flow) {
    const double jet = flow / jet_area, duct = flow / duct_area;
    const double loss = 0.15 * 0.5 * duct * duct + 0.25 * 0.5 * (inflow - duct) * (inflow - duct);
    return pump_point(pump, flow, unit.shaft_speed_rad_s).stage[0].energy_J_kg * left(flow) -
           (1.02 * 0.5 * jet * jet - 0.5 * inflow * inflow + loss + (inflow > 0.0 ? 4.0 : 0.0));
  };
  double high = 0.40;
  while (high > 0.0 && surplus(high) < 0.0) high -= 1e-3;
  double low = high;
  high += 1e-3;
  for (int i = 0; i < 40; ++i) (surplus(0.5 * (low + high)) > 0 ? low : high) = 0.5 * (low + high);
  const StagePoint at = pump_point(pump, low, unit.shaft_speed_rad_s).stage[0];
  const double power = at.torque_Nm * unit.shaft_speed_rad_s * torque_factor(0.85, left(low));
  return {power, density * low * (low / jet_area - inflow), density * low * at.energy_J_kg / power};
}

/// At rest and cavitating, with the onset coefficients of that calculation.
JetUnit at_rest(double breakdown_coefficient, double speed_rpm) {
  JetUnit unit;
  unit.craft_speed_m_s = 0.0;
  unit.cavitates = true;
  unit.shaft_speed_rad_s = speed_rpm * rpm;
  unit.pump.cavitation.blade_factor = 0.060;
  unit.pump.cavitation.incidence_slope_per_deg = 0.012;
  unit.pump.cavitation.breakdown_factor = breakdown_coefficient / inducer_cavitation_number(15.4);
  return unit;
}

}  // namespace

// Two hands at the same equations differ most in deep breakdown, where the velocity ahead of the blades
// counts squared (here the annulus less its boundary layers, as inducer tests are stated): level at 5500 rpm
// within 10 %, at 7600 rpm within the -25/+50 % to which static thrust is known at all, but what the
// coefficient changes there within 30 %.
TEST_CASE("breakdown coefficient sets the static thrust") {
  struct Row {
    double coefficient, thrust_7600_N, thrust_5500_N;
  };
  constexpr std::array<Row, 4> rows{
      {{0.010, 3790, 3780}, {0.015, 3350, 3680}, {0.020, 2900, 3550}, {0.030, 1940, 3240}}};
  double before_N = 0.0, published_before_N = 0.0;
  for (const Row& row : rows) {
    CAPTURE(row.coefficient);
    const double thrust_N = running(at_rest(row.coefficient, 7600)).thrust_N;
    CHECK(thrust_N > 0.75 * row.thrust_7600_N);
    CHECK(thrust_N < 1.50 * row.thrust_7600_N);
    if (before_N > 0.0)
      CHECK_THAT(thrust_N - before_N, WithinRel(row.thrust_7600_N - published_before_N, 0.30));
    CHECK_THAT(running(at_rest(row.coefficient, 5500)).thrust_N, WithinRel(row.thrust_5500_N, 0.10));
    before_N = thrust_N;
    published_before_N = row.thrust_7600_N;
  }
  // holding revs down helps the first metres where breakdown is deep
  CHECK(running(at_rest(0.020, 5500)).thrust_N > running(at_rest(0.020, 7600)).thrust_N);
  CHECK(running(at_rest(0.030, 5500)).thrust_N > running(at_rest(0.030, 7600)).thrust_N);
}

// +-24 kW and +-510 N at 30 m/s, +-50 N at rest, for +-2 deg
TEST_CASE("outlet angle sets power and thrust at speed, hardly the static thrust") {
  const auto with = [](JetUnit unit, double trailing_deg) {
    unit.pump.impeller.pitch_trailing_rad = degrees(trailing_deg);
    return running(unit);
  };
  const UnitRunning more = with({}, 27.0), less = with({}, 23.0);
  CHECK_THAT(0.5 * (more.power_W - less.power_W), WithinRel(24e3, 0.15));
  CHECK_THAT(0.5 * (more.thrust_N - less.thrust_N), WithinRel(510, 0.15));
  const double at_rest_N =
      0.5 * (with(at_rest(0.015, 7600), 27.0).thrust_N - with(at_rest(0.015, 7600), 23.0).thrust_N);
  CHECK_THAT(at_rest_N, WithinAbs(50.0, 25.0));
}

// -+170 N at rest and +-9 kW at 30 m/s for +-2 deg; called doubtful there (leak of incidence through the
// overlap)
TEST_CASE("a steeper inlet costs static thrust") {
  const auto with = [](JetUnit unit, double leading_deg) {
    // that calculation kept its breakdown coefficient
    unit.pump.cavitation.breakdown_factor *=
        inducer_cavitation_number(15.4) / inducer_cavitation_number(leading_deg);
    unit.pump.impeller.pitch_leading_rad = degrees(leading_deg);
    return running(unit);
  };
  const double at_rest_N =
      0.5 * (with(at_rest(0.015, 7600), 17.4).thrust_N - with(at_rest(0.015, 7600), 13.4).thrust_N);
  CHECK(at_rest_N < -20.0);
  CHECK(at_rest_N > -170.0 * 1.3);
  const double power_W = 0.5 * (with({}, 17.4).power_W - with({}, 13.4).power_W);
  CHECK(power_W > 0.0);
  CHECK_THAT(power_W, WithinAbs(9e3, 9e3 * 0.5));
}

// 202 / 190 / 176 kW and 4195 / 3949 / 3647 N at 30 m/s, thrust per power equal within 0.4 %; 3470 / 3350 /
// 3220 N at rest
TEST_CASE("a smaller nozzle takes more power and gives more thrust at the same revs") {
  std::array<double, 3> per_power{}, at_rest_N{}, static_ratio{};
  std::size_t index = 0;
  for (const auto& [diameter_mm, power_kW, thrust_N, static_N] : std::array<std::array<double, 4>, 3>{
           {{82, 202, 4195, 3470}, {86, 190, 3949, 3350}, {90, 176, 3647, 3220}}}) {
    CAPTURE(diameter_mm);
    JetUnit unit, rest = at_rest(0.015, 7600);
    unit.nozzle_diameter_m = rest.nozzle_diameter_m = diameter_mm * 1e-3;
    const UnitRunning at = running(unit);
    CHECK_THAT(at.power_W, WithinRel(power_kW * 1e3, 0.04));
    CHECK_THAT(at.thrust_N, WithinRel(thrust_N, 0.03));
    static_ratio[index] = running(rest).thrust_N / static_N;
    at_rest_N[index] = running(rest).thrust_N;
    per_power[index++] = at.thrust_N / at.power_W;
  }
  CHECK(at_rest_N[0] > 1.02 * at_rest_N[1]);
  CHECK(at_rest_N[1] > 1.02 * at_rest_N[2]);
  for (const double ratio : static_ratio) CHECK((ratio > 0.75 && ratio < 1.50));
  CHECK_THAT(per_power[0], WithinRel(per_power[1], 0.01));
  CHECK_THAT(per_power[2], WithinRel(per_power[1], 0.01));
}

// gap 0.10 / 0.25 / 0.50 / 1.0 mm: 3980 / 3950 / 3900 / 3800 N at 30 m/s, efficiency 0.851 / 0.845 / 0.835 /
// 0.816. Its head fell with 2 points of efficiency only; the root law of SP-8052 eq. 55 used here takes 6.5 %
// of head at 1 mm, so thrust is compared with that law off, efficiency with it on.
TEST_CASE("tip gap costs thrust and efficiency") {
  const auto with = [](double gap_mm, double head_slope) {
    JetUnit unit;
    unit.pump.pump.clearance_m = gap_mm * 1e-3;
    unit.pump.pump.gap_head_slope = head_slope;
    return running(unit);
  };
  const UnitRunning stock = with(0.25, 0.9);
  for (const auto& [gap_mm, efficiency] :
       std::array<std::array<double, 2>, 3>{{{0.10, 0.851}, {0.50, 0.835}, {1.0, 0.816}}}) {
    CAPTURE(gap_mm);
    CHECK_THAT(with(gap_mm, 0.9).efficiency - stock.efficiency, WithinAbs(efficiency - 0.845, 0.004));
  }
  CHECK(with(0.10, 0.9).thrust_N > stock.thrust_N);
  CHECK(with(0.50, 0.9).thrust_N < stock.thrust_N);
  CHECK(with(1.0, 0.9).thrust_N < with(0.50, 0.9).thrust_N);
}
