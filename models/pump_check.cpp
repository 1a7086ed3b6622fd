// What can be wrong with the parts of a pump against each other.
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "models/blade_row.hpp"
#include "models/constants.hpp"
#include "models/pump.hpp"
#include "models/pump_curve.hpp"

namespace bowrise {
namespace {

bool two_stages(const Pump& pump) noexcept { return pump.stages > 1.5; }

/// For messages, to a tenth.
std::string tenths(double value) {
  const auto count = static_cast<long>(std::lround(value * 10.0));
  return std::to_string(count / 10) + "." + std::to_string(std::abs(count % 10));
}

std::string millimetres(double length_m) { return tenths(length_m * 1e3) + " mm"; }

void check_outline(const std::string& name, const Pump& pump, const Rotor& rotor, Problems& problems) {
  const std::string below_bore = "below the bore, " + millimetres(pump.bore_m);
  if (!(rotor.hub_in_m < pump.bore_m))
    problems.push_back(
        {name + ".hub_in", "no room for blades between hub and ring at the leading edge", below_bore});
  if (!(rotor.hub_out_m < pump.bore_m))
    problems.push_back(
        {name + ".hub_out", "no room for blades between hub and ring at the trailing edge", below_bore});
}

void check_gap(const std::string& name, const Pump& pump, const Rotor& rotor, Problems& problems) {
  const double height_m = 0.5 * (pump.bore_m - std::max(rotor.hub_in_m, rotor.hub_out_m));
  if (!(height_m > 0.0)) return;  // already reported
  const std::string below_height = "below the blade height of " + name + ", " + millimetres(height_m);
  if (!(pump.clearance_m < height_m))
    problems.push_back({"pump.clearance", "larger than the blades are high", below_height});
  if (!(pump.clearance_new_m < height_m))
    problems.push_back({"pump.clearance_new", "larger than the blades are high", below_height});
}

void check_pitch_radius(const std::string& name, const Pump& pump, const Rotor& rotor, Problems& problems) {
  if (!(rotor.pitch_radius_m <= 0.5 * pump.bore_m))
    problems.push_back({name + ".pitch_radius", "outside the blade",
                        "from the hub to the blade tip, " + millimetres(0.5 * pump.bore_m)});
}

/// What a rotor says about one edge.
struct Edge {
  std::string key;  ///< of the angle
  double given_rad, length_m, whole_rad;
  Range possible_deg;
};

void check_edge(const Edge& edge, const Rotor& given, Problems& problems) {
  constexpr double same_angle_deg = 0.5;  // as well as a pitch block is read
  const double whole_deg = edge.whole_rad / radians_per_degree;
  const bool tabulated = !given.blade_angles.empty();
  const bool long_said = !std::isnan(edge.length_m);
  if (std::isnan(edge.whole_rad)) {
    problems.push_back({edge.key, "missing", "the blade angle, or the pitch as a length"});
    return;
  }
  if (!std::isnan(edge.given_rad) && long_said)
    problems.push_back(
        {edge.key + "_length", "says the same as " + edge.key + " in another way", "one of the two"});
  const auto contradicts = [&](double angle_rad) {
    return !(std::abs(angle_rad / radians_per_degree - whole_deg) <= same_angle_deg);
  };
  const std::string table_says = tenths(whole_deg) + " deg at the pitch radius there";
  if (tabulated && !std::isnan(edge.given_rad) && contradicts(edge.given_rad))
    problems.push_back({edge.key, "contradicts the table of blade angles", table_says});
  if (tabulated && long_said && contradicts(helix_angle_rad(edge.length_m, given.pitch_radius_m)))
    problems.push_back({edge.key + "_length", "contradicts the table of blade angles", table_says});
  if (!tabulated && long_said && !(edge.possible_deg.low <= whole_deg && whole_deg <= edge.possible_deg.high))
    problems.push_back({edge.key + "_length", "makes a blade angle of " + tenths(whole_deg) + " deg",
                        tenths(edge.possible_deg.low) + " deg to " + tenths(edge.possible_deg.high) +
                            " deg at the pitch radius"});
}

void check_chord(const std::string& name, const Rotor& given, const Rotor& whole, Problems& problems) {
  constexpr Range possible{0.3, 4.0};  // of rotor_parameters
  if (std::isnan(given.tip_chord_m)) return;
  if (!std::isnan(given.solidity))
    problems.push_back(
        {name + ".tip_chord", "says the same as " + name + ".solidity in another way", "one of the two"});
  else if (!(possible.low <= whole.solidity && whole.solidity <= possible.high))
    problems.push_back({name + ".tip_chord", "makes a solidity of " + tenths(whole.solidity), "0.3 to 4"});
}

void check_blades(const std::string& name, const Rotor& given, const Rotor& whole, Problems& problems) {
  check_edge({name + ".pitch_leading", given.pitch_leading_rad, given.pitch_leading_length_m,
              whole.pitch_leading_rad, leading_angles_deg},
             given, problems);
  check_edge({name + ".pitch_trailing", given.pitch_trailing_rad, given.pitch_trailing_length_m,
              whole.pitch_trailing_rad, trailing_angles_deg},
             given, problems);
  check_chord(name, given, whole, problems);
  // Constant pitch still works at a flow below the one it screws through; falling pitch brakes the water.
  if (given.blade_angles.empty() && whole.pitch_trailing_rad < whole.pitch_leading_rad)
    problems.push_back({name + ".pitch_trailing", "below the leading pitch: the blades would brake the water",
                        "at or above " + name + ".pitch_leading"});
}

/// Rows that make a blade at all; a table of which the rest can be asked.
bool check_table(const std::string& name, const Pump& pump, const Rotor& rotor, Problems& problems) {
  const TableRows& rows = rotor.blade_angles;
  const std::size_t before = problems.size();
  const auto complain = [&](const std::string& what, const std::string& allowed) {
    problems.push_back({name + ".blade_angles", what, allowed});
  };
  if (rows.size() < 2) {
    complain("too few rows", "at least 2");
    return false;
  }
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (i > 0 && !(rows[i][0] > rows[i - 1][0])) complain("radius does not rise", "rising rows");
    if (!(rows[i][2] >= rows[i][1]))
      complain("trailing below leading angle: the blades would brake the water",
               "trailing at or above leading in every row");
  }
  const double hub_m = 0.5 * std::min(rotor.hub_in_m, rotor.hub_out_m);
  const double tip_m = 0.5 * pump.bore_m - pump.clearance_m;
  constexpr double caliper_m = 0.05e-3;  // as well as a radius is read
  if (rows.front()[0] > hub_m + caliper_m || rows.back()[0] < tip_m - caliper_m)
    complain("radii do not cover the blade",
             "from hub to tip, " + millimetres(hub_m) + " to " + millimetres(tip_m));
  return problems.size() == before;
}

void check_curve(const Pump& pump, Problems& problems) {
  const auto complain = [&](const char* what, const char* allowed) {
    problems.push_back({"pump.curve", what, allowed});
  };
  if (two_stages(pump))
    problems.push_back(
        {"pump.stages", "a measured curve stands for the whole pump", "1 together with pump.curve"});
  if (pump.curve.size() < 4) return complain("too few rows", "at least 4");
  std::vector<double> phi, input_head;
  for (const std::vector<double>& row : pump.curve) {
    if (!(row[1] > 0.0)) return complain("head coefficient not positive", "rows of a working pump");
    if (!(row[2] > 0.0)) return complain("efficiency not positive", "rows of a working pump");
    if (!phi.empty() && !(row[0] > phi.back()))
      return complain("flow coefficient does not rise", "rising rows");
    phi.push_back(row[0]);
    input_head.push_back(row[1] / row[2]);
  }
  // Rows below 0.2 of the best flow are not used; this leaves two at least, wherever the best lies.
  if (!(phi[phi.size() - 2] > 0.2 * phi.back()))
    complain("rows too far apart", "two rows or more around the best flow");
  if (!(straight_line(phi, input_head).slope < 0.0))
    complain("head over efficiency does not fall with flow",
             "an input head that falls, as Euler's work does");
}

void check_rotor(const std::string& name, const Pump& pump, const Rotor& rotor, bool measured,
                 Problems& problems) {
  Rotor bare = rotor;  // the outline is known before the table is trusted
  bare.blade_angles.clear();
  Rotor given = rotor;
  const Rotor outline = resolved(bare, pump.bore_m);
  given.pitch_radius_m = outline.pitch_radius_m;
  given.hub_in_m = outline.hub_in_m;
  given.hub_out_m = outline.hub_out_m;
  check_outline(name, pump, outline, problems);
  check_gap(name, pump, outline, problems);
  if (measured) return;
  check_pitch_radius(name, pump, outline, problems);
  if (rotor.blade_angles.empty() || check_table(name, pump, given, problems))
    check_blades(name, given, resolved(given, pump.bore_m), problems);
}

}  // namespace

Problems check(const Pump& pump, const Rotor& impeller, const Rotor& stage_2, const Cavitation& cavitation) {
  Problems problems;
  const bool measured = !pump.curve.empty();
  check_rotor("impeller", pump, impeller, measured, problems);
  if (two_stages(pump) && !measured) check_rotor("stage_2", pump, stage_2, measured, problems);
  if (measured) check_curve(pump, problems);
  if (cavitation.breakdown_inlet_factor > cavitation.inlet_factor)
    problems.push_back({"cavitation.breakdown_inlet_factor",
                        "breakdown would need more suction head than its onset",
                        "at or below cavitation.inlet_factor"});
  return problems;
}

}  // namespace bowrise
