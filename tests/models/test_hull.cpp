#include <array>
#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <limits>

#include "models/constants.hpp"
#include "models/hull.hpp"
#include "tests/support/allocations.hpp"
#include "tests/support/units.hpp"

using namespace bowrise;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using test::degree;

namespace {

constexpr double not_given = std::numeric_limits<double>::quiet_NaN();

// The 460 kg craft of our separate calculation: 1 m beam, 20 deg deadrise, presets elsewhere.
Hull craft_hull() {
  Hull hull{};
  hull.beam_m = 1.0;
  hull.length_m = 3.3;
  hull.deadrise_rad = 20.0 * degree;
  hull.load_centre_m = 1.15;
  hull.centre_height_m = 0.35;
  hull.static_trim_rad = 2.0 * degree;
  hull.roughness_allowance = 0.0004;
  hull.spray_factor = 0.5;
  hull.air_drag_area_m2 = 0.55;
  hull.air_centre_height_m = 0.45;
  hull.hump_factor = 1.2;
  hull.drag_factor = 1.0;
  hull.appendage_drag_area_m2 = 1e-4;
  hull.waterline_length_m = 3.0;
  hull.entrance_angle_rad = 25.0 * degree;
  hull.transom_ratio = 0.95;
  hull.beam_draught_ratio = 3.9;
  hull.added_mass_fraction = 0.07;
  hull.trim_time_s = 0.3;
  hull.thrust_deduction = 0.07;
  return hull;
}

constexpr Plate flat_plate{0.0, 0.15, 0.4};

HullLoading craft_loading(double load_centre_m = 1.15) {
  return {460.0, load_centre_m, 1.2, {1000.0, 1.05e-3, 1.05e-6, 2300.0}};
}

PreparedHull craft() { return prepare_hull({craft_hull(), flat_plate, craft_loading()}); }

Hull bare_hull() {
  Hull hull = craft_hull();
  hull.spray_factor = hull.air_drag_area_m2 = hull.appendage_drag_area_m2 = 0.0;
  hull.hump_factor = 1.0;
  return hull;
}

double drag_at(const PreparedHull& hull, double speed, double trim_deg, double lift = 0.0) {
  return hull_forces(hull, speed, trim_deg * degree, lift).drag_N;
}
double moment_at(const PreparedHull& hull, double speed, double trim_deg, double lift = 0.0) {
  return hull_forces(hull, speed, trim_deg * degree, lift).bow_up_moment_Nm;
}
double speed_at(const PreparedHull& hull, double froude) { return froude / hull.volume_froude_per_speed_s_m; }

// Largest second difference of a function over step^2: a kink of slope s shows as s/step, so a finer step
// tells it from curvature.
template <class Function>
double largest_curvature(Function&& function, double low, double high, double spacing, double step) {
  double largest = 0.0;
  for (double x = low; x <= high; x += spacing)
    largest = std::max(largest,
                       std::abs(function(x + step) - 2.0 * function(x) + function(x - step)) / (step * step));
  return largest;
}

// C1: with a ten times finer step the second difference quotient must not grow (a kink would make it grow
// tenfold).
template <class Function>
void check_smooth(Function&& function, double low, double high, double step) {
  const double coarse = largest_curvature(function, low, high, step, step);
  const double fine = largest_curvature(function, low, high, 0.1 * step, 0.1 * step);
  INFO("coarse " << coarse << " fine " << fine);
  CHECK(fine < 2.0 * coarse);
}

}  // namespace

// Fridsma 1969, Davidson Laboratory R-1275 (DTIC AD0708694), smooth water, case A: V/sqrt(L) = 4 kn/ft^0.5,
// load centre 59 % of the length aft of the stem; measured, by way of a public transcription; rows FRI-A-rw,
// FRI-A-trim. Towed level through the centre of gravity, so that the tow carries no weight.
TEST_CASE("Fridsma's prism, case A") {
  constexpr double beam = 0.2286, weight = 71.2;
  Hull hull = bare_hull();
  hull.beam_m = beam;
  hull.length_m = 5.0 * beam;
  hull.waterline_length_m = not_given;
  hull.load_centre_m = 0.41 * hull.length_m;
  hull.centre_height_m = 0.294 * beam;
  hull.roughness_allowance = 0.0;
  const HullLoading loading{
      weight / gravity_m_s2, hull.load_centre_m, 1.2, {999.1, 1.14e-3, 1.14e-6, 1700.0}};
  const PreparedHull prism = prepare_hull({hull, Plate{0.0, 0.0, 0.0}, loading});
  const auto trim = equilibrium_trim(prism, 3.985, 0.0);
  REQUIRE(trim);
  CHECK_THAT(*trim / degree, WithinAbs(4.0, 0.5));
  CHECK_THAT(hull_forces(prism, 3.985, *trim, 0.0).drag_N / weight, WithinRel(0.158, 0.06));
}

// A separate calculation of ours with the same equations (level tow through the centre of gravity, bare hull,
// keel not held): a guard against slips, no evidence of accuracy.
TEST_CASE("bare craft against a separate calculation") {
  struct Row {
    double speed_m_s, trim_deg, lam, keel_m, chine_m, drag_N;
  };
  constexpr std::array rows{Row{4, 11.4, 2.31, 2.60, 2.03, 973}, Row{5, 11.7, 2.01, 2.29, 1.73, 1016},
                            Row{6, 10.7, 1.85, 2.16, 1.54, 959}, Row{8, 8.1, 1.71, 2.12, 1.30, 818},
                            Row{10, 6.2, 1.66, 2.19, 1.12, 753}, Row{12, 4.8, 1.63, 2.32, 0.95, 756},
                            Row{16, 3.3, 1.62, 2.63, 0.61, 903}, Row{20, 2.4, 1.64, 3.00, 0.27, 1182},
                            Row{24, 1.95, 1.70, 3.32, 0, 1535},  Row{28, 1.74, 1.91, 3.37, 0, 1826},
                            Row{30, 1.65, 2.02, 3.40, 0, 1981},  Row{32, 1.56, 2.12, 3.43, 0, 2143}};
  Hull hull = bare_hull();
  hull.length_m = 5.0;
  const PreparedHull bare = prepare_hull({hull, flat_plate, craft_loading()});
  for (const Row& row : rows) {
    INFO("speed " << row.speed_m_s);
    const auto trim = equilibrium_trim(bare, row.speed_m_s, 0.0);
    REQUIRE(trim);
    const HullForces forces = hull_forces(bare, row.speed_m_s, *trim, 0.0);
    CHECK_THAT(*trim / degree, WithinAbs(row.trim_deg, 0.02 * row.trim_deg));
    CHECK_THAT(forces.wetted_length_beams, WithinRel(row.lam, 0.02));
    CHECK_THAT(forces.wetted_keel_m, WithinRel(row.keel_m, 0.02));
    CHECK_THAT(forces.wetted_chine_m, WithinAbs(row.chine_m, 0.02 * row.keel_m));
    CHECK_THAT(forces.drag_N, WithinRel(row.drag_N, 0.02));
  }
}

TEST_CASE("spray and air against a separate calculation") {
  Hull hull = craft_hull();
  hull.length_m = 5.0;
  hull.hump_factor = 1.0;
  hull.air_centre_height_m = hull.appendage_drag_area_m2 = 0.0;
  const PreparedHull prepared = prepare_hull({hull, flat_plate, craft_loading()});
  for (const auto& [speed, drag] : {std::pair{8.0, 843.0}, {12.0, 831.0}, {20.0, 1492.0}, {30.0, 2714.0}}) {
    const auto steady = steady_hull(prepared, speed);
    REQUIRE(steady);
    CHECK_THAT(steady->forces.drag_N, WithinRel(drag, 0.03));  // its spray did not count in the trim
    CHECK_THAT(steady->thrust_N * std::cos(steady->trim_rad), WithinRel(steady->forces.drag_N, 1e-9));
  }
}

TEST_CASE("rest: no drag, and the craft sits at its static trim") {
  const PreparedHull hull = craft();
  for (const double trim : {-2.0, 0.0, 2.0, 9.0, 20.0}) {
    const HullForces forces = hull_forces(hull, 0.0, trim * degree, 0.0);
    CHECK(forces.drag_N == 0.0);
    CHECK(forces.plate_lift_N == 0.0);
    CHECK(forces.flags.none());
  }
  const HullForces forces = hull_forces(hull, 0.0, 2.0 * degree, 0.0);
  CHECK_THAT(trim_rate(hull, 2.0 * degree, answer_of(forces), forces.bow_up_moment_Nm),
             WithinAbs(0.0, 1e-12));
  CHECK_THAT(*equilibrium_trim(hull, 0.0, 0.0), WithinRel(2.0 * degree, 1e-12));
}

TEST_CASE("components sum to the drag and the drag follows the direction of motion") {
  const PreparedHull hull = prepare_hull({craft_hull(), Plate{3.0 * degree, 0.15, 0.4}, craft_loading()});
  for (double speed = -1.0; speed < 45.0; speed += 0.31) {
    const HullForces f = hull_forces(hull, speed, 4.0 * degree, 300.0);
    CHECK_THAT(f.pressure_drag_N + f.friction_drag_N + f.spray_drag_N + f.plate_drag_N + f.appendage_drag_N +
                   f.air_drag_N,
               WithinRel(f.drag_N, 1e-12));
    CHECK(f.drag_N * speed >= 0.0);
    CHECK(f.spray_drag_N >= 0.0);
  }
  const PreparedHull flat = craft();
  CHECK_THAT(drag_at(flat, -0.7, 2.0), WithinRel(-drag_at(flat, 0.7, 2.0), 1e-12));
}

TEST_CASE("vertical balance of bottom, plate, jet and friction") {
  const PreparedHull hull = prepare_hull({bare_hull(), Plate{2.0 * degree, 0.15, 0.4}, craft_loading()});
  const HullForces f = hull_forces(hull, 15.0, 4.0 * degree, 500.0);
  CHECK_THAT(f.bottom_lift_N + f.plate_lift_N + 500.0 - f.friction_drag_N * std::tan(4.0 * degree),
             WithinRel(hull.weight_N, 1e-9));
  CHECK_THAT(f.pressure_drag_N, WithinRel(f.bottom_lift_N * std::tan(4.0 * degree), 1e-9));
}

TEST_CASE("finite for absurd trims, speeds and lifts") {
  for (const double deadrise : {0.0, 10.0, 35.0}) {
    Hull extreme = craft_hull();
    extreme.deadrise_rad = deadrise * degree;
    const PreparedHull hull = prepare_hull({extreme, Plate{20.0 * degree, 0.5, 1.0}, craft_loading()});
    for (double speed = -1.0; speed <= 60.0; speed += 0.37)
      for (const double trim : {-1e6, -90.0, -3.0, 0.0, 0.5, 0.7, 3.0, 14.8, 15.0, 60.0, 1e9})
        for (const double lift : {-20000.0, 0.0, 4000.0, 1e5}) {
          const HullForces f = hull_forces(hull, speed, trim * degree, lift);
          const double rate = trim_rate(hull, trim * degree, answer_of(f), f.bow_up_moment_Nm + 500.0);
          const bool finite = std::isfinite(f.drag_N) && std::isfinite(f.bow_up_moment_Nm) &&
                              std::isfinite(f.bottom_lift_N) && std::isfinite(f.wetted_length_beams) &&
                              std::isfinite(f.mean_bottom_speed_m_s) && std::isfinite(rate);
          if (!finite)
            FAIL_CHECK("deadrise " << deadrise << " speed " << speed << " trim " << trim << " lift " << lift);
          if (f.spray_drag_N < 0.0) FAIL_CHECK("negative spray at " << speed << ", " << trim);
        }
  }
}

TEST_CASE("drag and moment are smooth in speed") {
  const PreparedHull hull = craft();
  for (const double trim : {2.0, 5.0, 9.0}) {
    INFO("trim " << trim);
    const auto drag = [&](double speed) { return drag_at(hull, speed, trim); };
    const auto moment = [&](double speed) { return moment_at(hull, speed, trim); };
    check_smooth(drag, 1.9, 4.2, 0.01);  // Fn_vol 0.8, 1.0 and 1.3
    check_smooth(moment, 2.0, 4.2, 0.01);
    check_smooth(drag, 6.0, 16.0, 0.02);   // the hump factor's fade
    check_smooth(drag, 18.0, 34.0, 0.02);  // chines from wet to dry, keel held
    check_smooth(moment, 18.0, 34.0, 0.02);
  }
  check_smooth([&](double speed) { return drag_at(hull, speed, 2.0); }, -0.3, 0.3, 0.002);
}

TEST_CASE("drag and moment are smooth in trim and in the lift of others") {
  const PreparedHull hull = prepare_hull({craft_hull(), Plate{3.0 * degree, 0.15, 0.4}, craft_loading()});
  for (const double speed : {2.5, 3.4, 8.0, 14.0, 22.0, 30.0}) {
    INFO("speed " << speed);
    check_smooth([&](double trim) { return drag_at(hull, speed, trim); }, 0.1, 15.6, 0.01);
    check_smooth([&](double trim) { return moment_at(hull, speed, trim); }, 0.1, 15.6, 0.01);
    check_smooth([&](double lift) { return drag_at(hull, speed, 3.0, lift); }, 3000.0, 5000.0, 2.0);
  }
}

// engineering judgement: facts that any hull obeys
TEST_CASE("load aft lifts the bow") {
  for (const double speed : {6.0, 12.0, 20.0}) {
    const auto forward =
        equilibrium_trim(prepare_hull({craft_hull(), flat_plate, craft_loading(1.15)}), speed, 0.0);
    const auto aft =
        equilibrium_trim(prepare_hull({craft_hull(), flat_plate, craft_loading(1.0)}), speed, 0.0);
    REQUIRE((forward && aft));
    CHECK(*aft > *forward + 0.1 * degree);
  }
}

// common practice, no source: plate down is bow down
TEST_CASE("plate down is bow down, and its lift is limited") {
  const PreparedHull hull = craft();
  const PreparedHull down = prepare_hull({craft_hull(), Plate{2.0 * degree, 0.15, 0.4}, craft_loading()});
  CHECK(moment_at(down, 12.0, 5.0) < moment_at(hull, 12.0, 5.0) - 50.0);
  CHECK(*equilibrium_trim(down, 12.0, 0.0) < *equilibrium_trim(hull, 12.0, 0.0) - 0.1 * degree);
  const HullForces fast = hull_forces(down, 35.0, 2.0 * degree, 0.0);
  CHECK(fast.plate_lift_N < 0.3 * down.weight_N);
  CHECK(fast.flags.has(Flag::plate_lift_limited));
  CHECK_FALSE(hull_forces(down, 12.0, 4.0 * degree, 0.0).flags.has(Flag::plate_lift_limited));
  const PreparedHull up = prepare_hull({craft_hull(), Plate{-2.0 * degree, 0.15, 0.4}, craft_loading()});
  CHECK(moment_at(up, 12.0, 5.0) > moment_at(hull, 12.0, 5.0) + 50.0);
  CHECK(hull_forces(up, 12.0, 4.0 * degree, 0.0).flags.has(Flag::plate_outside_range));
}

TEST_CASE("a load that never balances still gives constants") {
  for (const double load_centre : {0.05, 3.2}) {
    Hull odd = craft_hull();
    odd.load_centre_m = load_centre;
    const PreparedHull hull = prepare_hull({odd, flat_plate, craft_loading(load_centre)});
    CHECK(hull.pitch_stiffness_Nm_rad >= 0.5 * hull.weight_N * 3.3);
    CHECK(std::isfinite(hull.low_speed_trim_growth_rad));
  }
}

TEST_CASE("single thrust line below the centre of gravity lifts the bow") {
  Hull low = craft_hull();
  low.thrust_line_depth_m = 0.2;
  const auto with_depth = equilibrium_trim(prepare_hull({low, flat_plate, craft_loading()}), 12.0, 1000.0);
  const auto without = equilibrium_trim(craft(), 12.0, 1000.0);
  REQUIRE((with_depth && without));
  CHECK(*with_depth > *without);
}

TEST_CASE("no equilibrium is said, not invented") {
  Hull low = craft_hull();
  low.thrust_line_depth_m = 1.0;
  CHECK_FALSE(equilibrium_trim(prepare_hull({low, flat_plate, craft_loading()}), 4.0, 8000.0));
}

TEST_CASE("the drag factor multiplies every drag and leaves lift and moment alone") {
  Hull grown = craft_hull();
  grown.drag_factor = 1.25;
  const PreparedHull clean = craft(), foul = prepare_hull({grown, flat_plate, craft_loading()});
  for (const double speed : {1.0, 3.0, 6.0, 20.0, 32.0}) {
    const HullForces a = hull_forces(clean, speed, 4.0 * degree, 200.0);
    const HullForces b = hull_forces(foul, speed, 4.0 * degree, 200.0);
    CHECK_THAT(b.drag_N, WithinRel(1.25 * a.drag_N, 1e-12));
    CHECK_THAT(b.pressure_drag_N + b.friction_drag_N + b.spray_drag_N + b.plate_drag_N + b.appendage_drag_N +
                   b.air_drag_N,
               WithinRel(b.drag_N, 1e-12));
    CHECK(b.bottom_lift_N == a.bottom_lift_N);
    CHECK(b.bow_up_moment_Nm == a.bow_up_moment_Nm);
  }
}

TEST_CASE("hump factor works around the hump only") {
  Hull plain = craft_hull();
  plain.hump_factor = 1.0;
  const PreparedHull one = prepare_hull({plain, flat_plate, craft_loading()}), raised = craft();
  const auto bare = [](const PreparedHull& hull, double froude) {
    const HullForces f = hull_forces(hull, speed_at(hull, froude), 6.0 * degree, 0.0);
    return f.pressure_drag_N + f.friction_drag_N;
  };
  CHECK_THAT(bare(raised, 0.7), WithinRel(bare(one, 0.7), 1e-12));
  CHECK_THAT(bare(raised, 2.0), WithinRel(1.2 * bare(one, 2.0), 1e-12));
  CHECK_THAT(bare(raised, 4.0), WithinRel(1.2 * bare(one, 4.0), 1e-12));
  CHECK_THAT(bare(raised, 5.0), WithinRel(1.1 * bare(one, 5.0), 1e-12));
  CHECK_THAT(bare(raised, 6.0), WithinRel(bare(one, 6.0), 1e-12));
}

TEST_CASE("trim follows its moment, back from outside the range, with one law from rest to planing") {
  const PreparedHull hull = craft();
  CHECK(hull.pitch_stiffness_Nm_rad > 0.0);
  const auto rate = [&](double speed, double trim_deg, double jet_moment) {
    const HullForces f = hull_forces(hull, speed, trim_deg * degree, 0.0);
    return trim_rate(hull, trim_deg * degree, answer_of(f), f.bow_up_moment_Nm + jet_moment);
  };
  for (const double speed : {1.0, 3.0, 8.0, 20.0}) {
    const double trim_deg = *equilibrium_trim(hull, speed, 0.0) / degree;
    CHECK_THAT(rate(speed, trim_deg, 0.0), WithinAbs(0.0, 1e-6));
    CHECK(rate(speed, trim_deg - 0.3, 0.0) > 0.0);
    CHECK(rate(speed, trim_deg + 0.3, 0.0) < 0.0);
  }
  CHECK_THAT(rate(1.0, 3.0, 400.0),
             WithinRel(rate(1.0, 3.0, 0.0), 1e-12));  // no planing: the jet does not lift the bow
  CHECK(rate(8.0, 6.0, 400.0) > rate(8.0, 6.0, 0.0));
  CHECK(rate(8.0, 25.0, 3000.0) < 0.0);
  CHECK(rate(25.0, -10.0, -3000.0) > 0.0);
  check_smooth([&](double speed) { return rate(speed, 4.0, 300.0); }, 2.0, 4.2, 0.01);
  check_smooth([&](double trim) { return rate(25.0, trim, 0.0); }, -0.5, 3.0, 0.01);
  check_smooth([&](double trim) { return rate(8.0, trim, 0.0); }, 14.0, 16.0, 0.01);
}

TEST_CASE("low-speed trim meets the planing law at Fn_vol 1.2") {
  const PreparedHull hull = craft();
  const double speed = speed_at(hull, 1.2);
  const double low = hull.static_trim_rad + hull.low_speed_trim_growth_rad;
  CHECK_THAT(*equilibrium_trim(hull, speed, 0.0), WithinRel(low, 1e-6));
}

TEST_CASE("added mass and thrust deduction fade") {
  const PreparedHull hull = craft();
  CHECK_THAT(surge_added_mass_kg(hull, 0.0), WithinRel(0.07 * 460.0, 1e-12));
  CHECK_THAT(surge_added_mass_kg(hull, speed_at(hull, 2.6)), WithinRel(0.02 * 460.0, 1e-12));
  CHECK_THAT(surge_added_mass_kg(hull, -1.0), WithinRel(0.07 * 460.0, 1e-12));
  CHECK_THAT(thrust_deduction(hull, speed_at(hull, 1.0)), WithinRel(0.07, 1e-12));
  CHECK(thrust_deduction(hull, speed_at(hull, 2.1)) == 0.0);
}

TEST_CASE("flags say where the formulae end") {
  const PreparedHull hull = craft();
  const auto flags = [&](double speed, double trim_deg, double lift = 0.0) {
    return hull_forces(hull, speed, trim_deg * degree, lift).flags;
  };
  CHECK(flags(10.0, 5.0).none());
  CHECK(flags(25.0, 1.5).has(Flag::trim_below_range));
  CHECK_FALSE(flags(1.0, 1.5).has(Flag::trim_below_range));
  CHECK(flags(8.0, 16.0).has(Flag::trim_above_range));
  CHECK(flags(8.0, 16.0).has(Flag::trim_held));
  CHECK(flags(30.0, 1.6).has(Flag::chines_dry));
  CHECK(flags(30.0, 1.6).has(Flag::keel_longer_than_hull));
  CHECK(flags(5.0, 2.0).has(Flag::keel_longer_than_hull));
  CHECK(flags(3.0, 9.0).has(Flag::speed_coefficient_below_range));
  CHECK_FALSE(flags(3.3, 9.0).has(Flag::speed_coefficient_below_range));
  CHECK(flags(10.0, 8.0).has(Flag::porpoising));        // limit 6.3 deg there
  CHECK_FALSE(flags(20.0, 8.0).has(Flag::porpoising));  // lighter than the chart
  CHECK(flags(20.0, 3.0, 5000.0).has(Flag::no_bottom_load));
  CHECK_FALSE(flags(20.0, 3.0, 4000.0).has(Flag::no_bottom_load));
}

TEST_CASE("prepared spray and plate are the formulae") {
  const PreparedHull hull = craft();
  for (double reynolds = 1.6e6; reynolds < 1e10; reynolds *= 1.037)
    CHECK_THAT(hull.turbulent_spray_friction(std::sqrt(std::sqrt(reynolds)))[0],
               WithinRel(spray_friction(reynolds), 1e-5));
  for (double share = 0.0; share < 20.0; share += 0.0137)
    CHECK_THAT(hull.held_plate_share(share)[0],
               WithinAbs(share / std::pow(1.0 + std::pow(share, 8.0), 0.125), 1e-5));
  const HullForces forces = hull_forces(hull, 15.0, 4.0 * degree, 0.0);
  const WhiskerSpray spray = whisker_spray(4.0 * degree, 20.0 * degree);
  const double friction = spray_friction(15.0 * spray.spray_length_beams / 1.05e-6);
  CHECK_THAT(forces.spray_drag_N,
             WithinRel(0.5 * 500.0 * 225.0 * spray.added_length_beams * friction * std::cos(4.0 * degree),
                       1e-3));  // the held added length is 1e-4 beams more
}

TEST_CASE("whole-part checks") {
  CHECK(check(craft_hull(), flat_plate).empty());
  const auto key_of = [](const Hull& hull, const Plate& plate) {
    const Problems problems = check(hull, plate);
    return problems.size() == 1 ? problems.front().key : std::to_string(problems.size()) + " problems";
  };
  CHECK(key_of(craft_hull(), Plate{0.0, 0.15, 1.1}) == "plate.span");
  CHECK(key_of(craft_hull(), Plate{0.0, 1.8, 0.4}) == "plate.length");
  Hull hull = craft_hull();
  hull.load_centre_m = 3.4;
  CHECK(key_of(hull, flat_plate) == "hull.load_centre");
  hull = craft_hull();
  hull.load_centre_m = 0.3;
  hull.load_centre_shift_m = -0.4;
  CHECK(key_of(hull, flat_plate) == "hull.load_centre_shift");
  hull = craft_hull();
  hull.beam_m = 3.5;
  CHECK(key_of(hull, flat_plate) == "hull.beam");
  hull = craft_hull();
  hull.waterline_length_m = 4.2;
  CHECK(key_of(hull, flat_plate) == "hull.waterline_length");
}

TEST_CASE("a waterline length not given is 0.91 of the length") {
  Hull hull = craft_hull();
  hull.waterline_length_m = not_given;
  CHECK_THAT(prepare_hull({hull, flat_plate, craft_loading()}).waterline_length_m,
             WithinRel(0.91 * 3.3, 1e-12));
}

TEST_CASE("forces and trim rate allocate nothing") {
  const PreparedHull hull = craft();
  REQUIRE(test::allocations() > 0);  // the counter counts
  const std::size_t before = test::allocations();
  double sum = 0.0;
  for (double speed = -1.0; speed < 40.0; speed += 0.1) {
    const HullForces forces = hull_forces(hull, speed, 0.06, 200.0);
    sum +=
        trim_rate(hull, 0.06, answer_of(forces), forces.bow_up_moment_Nm) + surge_added_mass_kg(hull, speed);
  }
  const std::size_t after = test::allocations();
  CHECK(after == before);
  CHECK(std::isfinite(sum));
}

TEST_CASE("time of one evaluation", "[.bench]") {
  const PreparedHull hull = craft();
  const auto nanoseconds = [&](double low, double high) {
    double best = 1e9, sum = 0.0;
    for (int repeat = 0; repeat < 9; ++repeat) {
      const auto start = std::chrono::steady_clock::now();
      for (int i = 0; i < 30000; ++i)
        sum += hull_forces(hull, low + (high - low) * i / 30000.0, 0.08, 100.0).drag_N;
      const std::chrono::duration<double, std::nano> spent = std::chrono::steady_clock::now() - start;
      best = std::min(best, spent.count() / 30000.0);
    }
    CHECK(std::isfinite(sum));
    return best;
  };
  std::printf("hull_forces: low speed %.0f ns, hand-over %.0f ns, wet chines %.0f ns, dry chines %.0f ns\n",
              nanoseconds(0.1, 2.1), nanoseconds(2.4, 3.5), nanoseconds(4.0, 11.0), nanoseconds(28.0, 35.0));
}
