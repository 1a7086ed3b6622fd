// What a user says about the pump: the casing, and one rotor per stage.
#pragma once

#include "models/parameter.hpp"

namespace bowrise {

enum class YesNo : int { no, yes };
inline constexpr std::array<std::string_view, 2> yes_no_words{"no", "yes"};

/// Casing, stators and the things shared by the stages.
struct Pump {
  double bore_m, clearance_m, clearance_new_m, stages, stator_vanes, residual_swirl_rad, stator_loss;
  double efficiency_factor, mechanical_efficiency, roughness_factor, edge_drag, gap_head_slope,
      gap_efficiency_slope;
  double shutoff_head_ratio, shutoff_torque_ratio, discharge_inertance_1_m, column_length_m, depth_m;
  YesNo interstage_stator;
  TableRows curve;  ///< phi, psi, efficiency, NPSH at 1 % drop over head
};

// clang-format off
inline constexpr std::array pump_parameters{
    Parameter<Pump>{"bore", &Pump::bore_m, "mm", required, {30, 2500}, {120, 170}, {},
                     "bore of the ring in which the impeller turns", "caliper"},
    Parameter<Pump>{"clearance", &Pump::clearance_m, "mm", 0.20, {0, 20}, {0.1, 1.5}, {},
                     "gap between blade tip and ring, per side; the worst of four places", "feeler blade"},
    Parameter<Pump>{"clearance_new", &Pump::clearance_new_m, "mm", 0.20, {0.01, 20}, {0.1, 0.3}, {},
                     "gap of a new ring, at which the other losses are stated", "common practice, no source"},
    Parameter<Pump>{"stages", &Pump::stages, "count", 1.0, {1, 2}, {1, 2}, {}, "impellers on the shaft", "definition"},
    Parameter<Pump>{"stator_vanes", &Pump::stator_vanes, "count", 7.0, {3, 25}, {5, 9}, {},
                     "vanes of each stator", "count them"},
    Parameter<Pump>{"residual_swirl", &Pump::residual_swirl_rad, "deg", 3.0, {0, 30}, {1, 8}, {},
                     "swirl left after a stator of 7 vanes, as an angle to the axis", "engineering judgement"},
    Parameter<Pump>{"stator_loss", &Pump::stator_loss, "1", 0.07, {0, 0.5}, {0.04, 0.12}, {Shape::uniform, 0.05, 0.09},
                     "stator loss over the velocity head entering it", "engineering judgement"},
    Parameter<Pump>{"efficiency_factor", &Pump::efficiency_factor, "1", 0.94, {0.5, 1.05}, {0.88, 1.0}, {Shape::uniform, 0.88, 1.0},
                     "calibration: factor on head at equal torque for what the mean line misses",
                     "engineering judgement on small cast pumps"},
    Parameter<Pump>{"mechanical_efficiency", &Pump::mechanical_efficiency, "1", 0.985, {0.8, 1}, {0.97, 0.995}, {},
                     "bearings, seals and hub disc", "engineering judgement"},
    Parameter<Pump>{"roughness", &Pump::roughness_factor, "1", 1.6, {0.8, 4}, {1.0, 2.0}, {Shape::uniform, 1.25, 1.9},
                     "factor on friction loss: 1 polished, 1.25 cast, 1.6 small cast or nicked", "engineering judgement"},
    Parameter<Pump>{"edge_drag",
                    &Pump::edge_drag,
                    "1",
                    0.15,
                    {0, 1},
                    {0.05, 0.4},
                    {Shape::log_uniform, 0.05, 0.4},
                    "drag coefficient of a leading edge on its thickness above 1 mm",
                    "engineering judgement: a blunt nose, part of whose drag its own suction gives back"},
    Parameter<Pump>{"gap_head_slope", &Pump::gap_head_slope, "1", 0.9, {0, 2}, {0.5, 1.0}, {Shape::uniform, 0.5, 1.0},
                     "head lost per root of gap over blade height", "NASA SP-8052 (1971) eq. 55 has 1 for inducers"},
    Parameter<Pump>{"gap_efficiency_slope", &Pump::gap_efficiency_slope, "1", 2.0, {0, 5}, {1, 3}, {Shape::uniform, 1.5, 2.5},
                     "efficiency lost per gap over blade height", "from memory: about 2 points per 1 %"},
    Parameter<Pump>{"shutoff_head_ratio", &Pump::shutoff_head_ratio, "1", 1.1, {0.5, 2.5}, {0.9, 1.4}, {Shape::uniform, 0.9, 1.4},
                     "head at no flow over head at 0.6 of best flow", "engineering judgement"},
    Parameter<Pump>{"shutoff_torque_ratio", &Pump::shutoff_torque_ratio, "1", 0.6, {0.1, 2}, {0.3, 1.0}, {Shape::uniform, 0.3, 1.0},
                     "torque at no flow over torque at best flow", "engineering judgement"},
    Parameter<Pump>{"discharge_inertance", &Pump::discharge_inertance_1_m, "1/m", 40.0, {0, 500}, {20, 60}, {},
                     "integral of length over area from impeller to nozzle", "engineering judgement"},
    Parameter<Pump>{"column_length", &Pump::column_length_m, "m", 1.2, {0, 30}, {0.8, 1.6}, {},
                     "length of the moving water column from intake to nozzle", "engineering judgement"},
    Parameter<Pump>{"depth", &Pump::depth_m, "m", 0.05, {-2, 5}, {0, 0.2}, {},
                     "shaft below the waterline", "engineering judgement"}};
// clang-format on
inline constexpr std::array pump_choices{choice<&Pump::interstage_stator, Pump>(
    "interstage_stator", yes_no_words, 1, "a stator stands between two stages", "definition")};
inline constexpr std::array<std::string_view, 4> pump_curve_names{"flow_coefficient", "head_coefficient",
                                                                  "efficiency", "npsh_1_over_head"};
inline constexpr std::array<std::string_view, 4> pump_curve_units{"1", "1", "1", "1"};
inline constexpr std::array<Range, 4> pump_curve_ranges{{{0, 5}, {-5, 50}, {0.01, 1}, {0, 10}}};
inline constexpr std::array pump_tables{TableParameter<Pump>{
    "curve", &Pump::curve, pump_curve_names, pump_curve_units, pump_curve_ranges, 4, 60,
    "measured pump curve instead of the blade geometry: Q/(n D^3), g H/(n D)^2, efficiency, "
    "NPSH at 1 % head drop over head",
    "a pump test"}};
static_assert(sizeof(Pump) == part_size(pump_parameters.size(), 1, 1), "a field of Pump has no row");

/// One rotor. The same rows serve `impeller` and `stage_2`. The pitch of an edge is said in one of three
/// ways: as an angle, as a length, or by the rows of a table over the span.
struct Rotor {
  double blades, pitch_leading_rad, pitch_trailing_rad, pitch_leading_length_m, pitch_trailing_length_m,
      pitch_radius_m;
  double hub_in_m, hub_out_m, solidity, tip_chord_m, edge_thickness_m;
  TableRows blade_angles;  ///< radius [m], leading and trailing blade angle [rad]
};

inline constexpr Range leading_angles_deg{1, 60}, trailing_angles_deg{2, 80};
inline constexpr std::array<std::string_view, 1> says_pitch_leading{"pitch_leading"},
    says_pitch_leading_length{"pitch_leading_length"}, says_pitch_trailing{"pitch_trailing"},
    says_pitch_trailing_length{"pitch_trailing_length"}, says_solidity{"solidity"},
    says_tip_chord{"tip_chord"};
inline constexpr std::array<std::string_view, 4> says_every_pitch{"pitch_leading", "pitch_leading_length",
                                                                  "pitch_trailing", "pitch_trailing_length"};

// clang-format off
inline constexpr std::array rotor_parameters{
    Parameter<Rotor>{"blades", &Rotor::blades, "count", 4.0, {1, 12}, {3, 5}, {}, "blades of the rotor", "count them"},
    Parameter<Rotor>{"pitch_leading", &Rotor::pitch_leading_rad, "deg", required, leading_angles_deg, {8, 22}, {},
                     "blade angle at the leading edge, from the plane of rotation, at the pitch radius; or give "
                     "pitch_leading_length or blade_angles",
                     "pitch block", says_pitch_leading_length},
    Parameter<Rotor>{"pitch_trailing", &Rotor::pitch_trailing_rad, "deg", required, trailing_angles_deg, {12, 32}, {},
                     "blade angle at the trailing edge, from the plane of rotation, at the pitch radius; or give "
                     "pitch_trailing_length or blade_angles",
                     "pitch block", says_pitch_trailing_length},
    Parameter<Rotor>{"pitch_leading_length", &Rotor::pitch_leading_length_m, "mm", derived, {5, 25000}, {60, 220}, {},
                     "pitch at the leading edge as the advance in one turn, 2 pi radius tan(angle), often told in inches; "
                     "derived: from the angle",
                     "pitch block", says_pitch_leading},
    Parameter<Rotor>{"pitch_trailing_length", &Rotor::pitch_trailing_length_m, "mm", derived, {5, 90000}, {100, 330}, {},
                     "pitch at the trailing edge as the advance in one turn; derived: from the angle", "pitch block",
                     says_pitch_trailing},
    Parameter<Rotor>{"pitch_radius", &Rotor::pitch_radius_m, "mm", derived, {5, 1250}, {30, 85}, {},
                     "radius at which the pitch angles are measured; derived: the blade tip", "definition"},
    Parameter<Rotor>{"hub_in", &Rotor::hub_in_m, "mm", derived, {1, 2000}, {40, 90}, {},
                     "hub diameter at the leading edge; derived: 0.40 of the bore", "caliper"},
    Parameter<Rotor>{"hub_out", &Rotor::hub_out_m, "mm", derived, {1, 2200}, {55, 110}, {},
                     "hub diameter at the trailing edge; derived: 0.52 of the bore", "caliper"},
    Parameter<Rotor>{"solidity", &Rotor::solidity, "1", derived, {0.3, 4}, {0.8, 2}, {},
                     "blade chord at the tip over tip spacing; derived: from tip_chord, else 1.15", "tape along the blade tip", says_tip_chord},
    Parameter<Rotor>{"tip_chord", &Rotor::tip_chord_m, "mm", derived, {5, 8000}, {80, 260}, {},
                     "blade chord at the tip, instead of solidity; derived: from solidity",
                     "tape along the blade tip", says_solidity},
    Parameter<Rotor>{"edge_thickness", &Rotor::edge_thickness_m, "mm", 1.0, {0.1, 60}, {0.5, 3.5}, {},
                     "thickness of the leading edge", "caliper"}};
// clang-format on
inline constexpr std::array<std::string_view, 3> blade_angle_names{"radius", "leading", "trailing"};
inline constexpr std::array<std::string_view, 3> blade_angle_units{"mm", "deg", "deg"};
inline constexpr std::array<Range, 3> blade_angle_ranges{
    {{1, 1250}, leading_angles_deg, trailing_angles_deg}};
inline constexpr std::array rotor_tables{TableParameter<Rotor>{
    "blade_angles", &Rotor::blade_angles, blade_angle_names, blade_angle_units, blade_angle_ranges, 2, 40,
    "blade angles at the leading and the trailing edge over the radius, hub to tip, instead of a pitch that "
    "is "
    "the same over the span; between rows the pitch 2 pi radius tan(angle) follows a monotone cubic",
    "pitch block at several radii", says_every_pitch}};
static_assert(sizeof(Rotor) == part_size(rotor_parameters.size(), 0, 1), "a field of Rotor has no row");

/// Coefficients of required suction head and of what cavitation does to head and torque.
struct Cavitation {
  double inlet_factor, blade_factor, incidence_slope_per_deg, breakdown_inlet_factor, breakdown_factor;
  double gap_onset_slope, gap_breakdown_slope, torque_share, lag_s, edge_slope_per_m, edge_incidence_1_m;
};

// clang-format off
inline constexpr std::array cavitation_parameters{
    Parameter<Cavitation>{"inlet_factor",
                          &Cavitation::inlet_factor,
                          "1",
                          1.10,
                          {0.8, 2},
                          {1.0, 1.3},
                          {},
                          "share of the inlet velocity head in NPSH at 3 % head drop",
                          "engineering judgement"},
    Parameter<Cavitation>{"blade_factor",
                          &Cavitation::blade_factor,
                          "1",
                          0.033,
                          {0.002, 0.3},
                          {0.025, 0.06},
                          {Shape::log_uniform, 0.025, 0.06},
                          "share of the relative velocity head at the tip, 3 % head drop",
                          "inducers in water, NASA SP-8052 (1971) table I, read second-hand"},
    Parameter<Cavitation>{"incidence_slope",
                          &Cavitation::incidence_slope_per_deg,
                          "1",
                          0.001,
                          {0, 0.05},
                          {0, 0.004},
                          {Shape::uniform, 0.0, 0.004},
                          "added to the blade factor per degree off the design incidence",
                          "engineering judgement on NASA SP-8052 (1971) p. 57"},
    Parameter<Cavitation>{"breakdown_inlet_factor",
                          &Cavitation::breakdown_inlet_factor,
                          "1",
                          1.05,
                          {0.8, 2},
                          {1.0, 1.2},
                          {},
                          "share of the inlet velocity head in NPSH at full breakdown",
                          "engineering judgement"},
    Parameter<Cavitation>{"breakdown_factor",
                          &Cavitation::breakdown_factor,
                          "1",
                          0.6,
                          {0.05, 2},
                          {0.4, 0.95},
                          {Shape::uniform, 0.4, 0.95},
                          "calibration: factor on the measured inducer law 0.00072 angle^1.42",
                          "NASA SP-8052 (1971) table I, read second-hand, fit of our own"},
    Parameter<Cavitation>{"gap_onset_slope",
                          &Cavitation::gap_onset_slope,
                          "1",
                          0.575,
                          {0, 1},
                          {0.5, 0.65},
                          {Shape::uniform, 0.5, 0.65},
                          "suction speed lost per root of gap over blade height",
                          "NASA SP-8052 (1971) eq. 54, read second-hand"},
    Parameter<Cavitation>{"gap_breakdown_slope",
                          &Cavitation::gap_breakdown_slope,
                          "1",
                          20.0,
                          {0, 100},
                          {0, 60},
                          {Shape::uniform, 0.0, 60.0},
                          "breakdown NPSH gained per gap over blade height",
                          "engineering judgement: inducers show none, riders much"},
    Parameter<Cavitation>{"torque_share",
                          &Cavitation::torque_share,
                          "1",
                          0.85,
                          {0, 1},
                          {0.7, 0.95},
                          {Shape::uniform, 0.75, 0.95},
                          "torque lost per share of head lost",
                          "engineering judgement"},
    Parameter<Cavitation>{"lag",
                          &Cavitation::lag_s,
                          "ms",
                          15.0,
                          {1, 200},
                          {10, 20},
                          {Shape::uniform, 10.0, 20.0},
                          "time in which the cavity follows",
                          "engineering judgement on Brennen, Hydrodynamics of Pumps"},
    Parameter<Cavitation>{"edge_slope",
                          &Cavitation::edge_slope_per_m,
                          "1/m",
                          5.0,
                          {0, 100},
                          {0, 20},
                          {Shape::uniform, 2.0, 10.0},
                          "blade factor gained per metre of edge thickness above 1 mm",
                          "engineering judgement"},
    Parameter<Cavitation>{"edge_incidence",
                          &Cavitation::edge_incidence_1_m,
                          "1/m",
                          500.0,
                          {0, 5000},
                          {0, 1000},
                          {Shape::uniform, 0.0, 1000.0},
                          "share by which incidence_slope grows per metre of edge lost or too thick: half in a millimetre",
                          "engineering judgement: a spoilt edge stands less incidence"}};
// clang-format on
static_assert(sizeof(Cavitation) == part_size(cavitation_parameters.size()),
              "a field of Cavitation has no row");

}  // namespace bowrise
