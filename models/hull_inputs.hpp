// What a user says about the hull and its ride plate: two parts of the setup, one row per input.
#pragma once

#include "models/parameter.hpp"

namespace bowrise {

enum class FrictionLine : int { ittc57, schoenherr };
enum class ThrustLine : int { jet, single };
enum class WettedLengthForm : int { savitsky_1964, savitsky_brown_1976 };

struct Hull {
  double beam_m, length_m, deadrise_rad, load_centre_m, centre_height_m, static_trim_rad;
  double load_centre_shift_m, roughness_allowance, spray_factor, air_drag_area_m2, air_centre_height_m,
      hump_factor, drag_factor;
  double appendage_drag_area_m2, waterline_length_m, entrance_angle_rad, transom_ratio, beam_draught_ratio;
  double added_mass_fraction, trim_time_s, thrust_deduction, thrust_line_angle_rad, thrust_line_depth_m;
  FrictionLine friction_line;
  ThrustLine thrust_line;
  WettedLengthForm wetted_lengths;
};

// clang-format off
inline constexpr std::array hull_parameters{
    Parameter<Hull>{"beam", &Hull::beam_m, "m", required, {0.1, 10}, {0.8, 1.3}, {},
                    "beam between the chines where the hull planes", "tape measure"},
    Parameter<Hull>{"length", &Hull::length_m, "m", required, {0.5, 40}, {2.2, 3.8}, {},
                    "keel length that can be wetted", "tape measure"},
    Parameter<Hull>{"deadrise", &Hull::deadrise_rad, "deg", required, {0, 35}, {10, 25}, {},
                    "deadrise of the aft half, prismatic equivalent", "angle gauge"},
    Parameter<Hull>{"load_centre", &Hull::load_centre_m, "m", required, {0.1, 30}, {0.7, 1.5}, {},
                    "centre of gravity of craft and fuel, without rider, forward of the trailing edge of the bottom or plate",
                    "balance the craft on a bar"},
    Parameter<Hull>{"centre_height", &Hull::centre_height_m, "m", 0.35, {0, 5}, {0.2, 0.6}, {},
                    "centre of gravity above the keel", "engineering judgement"},
    Parameter<Hull>{"static_trim", &Hull::static_trim_rad, "deg", 2.0, {-3, 8}, {0, 4}, {}, "trim of the keel at rest",
                    "engineering judgement; spirit level"},
    Parameter<Hull>{"load_centre_shift", &Hull::load_centre_shift_m, "m", 0.0, {-0.6, 0.6}, {-0.25, 0.25},
                    {Shape::uniform, -0.05, 0.05},
                    "calibration: forward shift of the effective load centre (rocker, hook, strakes, hull lift)",
                    "engineering judgement"},
    Parameter<Hull>{"roughness_allowance", &Hull::roughness_allowance, "1", 0.0006, {0, 0.003}, {0, 0.0008},
                    {Shape::uniform, 0.0004, 0.0008}, "calibration: allowance added to the friction coefficient",
                    "engineering judgement: Savitsky 1964 has 0.0004 for a clean hull, strakes and fittings add"},
    Parameter<Hull>{"spray_factor", &Hull::spray_factor, "1", 0.6, {0, 1.5}, {0.3, 0.8}, {Shape::uniform, 0.4, 0.8},
                    "calibration: share of the whisker-spray drag that spray rails leave",
                    "engineering judgement on Savitsky, DeLorme & Datla 2007"},
    Parameter<Hull>{"air_drag_area", &Hull::air_drag_area_m2, "m2", 0.60, {0, 20}, {0.4, 0.7},
                    {Shape::uniform, 0.5, 0.7}, "drag area of craft and rider in air",
                    "engineering judgement; motorcycles with rider 0.18-0.7 (Cossalter, Motorcycle Dynamics, quoted)"},
    Parameter<Hull>{"air_centre_height", &Hull::air_centre_height_m, "m", 0.45, {-1, 5}, {0.3, 0.6}, {},
                    "air drag acts this far above the centre of gravity", "engineering judgement"},
    Parameter<Hull>{"hump_factor", &Hull::hump_factor, "1", 1.3, {0.5, 2.5}, {1.0, 1.5}, {Shape::uniform, 1.0, 1.5},
                    "calibration: factor on bare-hull resistance around the hump",
                    "engineering judgement: stopping distances of SAE 2005-01-1176 ask for 1.3 to 1.5"},
    Parameter<Hull>{"drag_factor", &Hull::drag_factor, "1", 1.0, {0.1, 5}, {0.8, 1.3},
                    {Shape::uniform, 0.85, 1.2},
                    "calibration: factor on every drag of water and air on the hull; also growth, damage, what-if questions",
                    "engineering judgement: planing formulae on a hull with strakes and intake, presets set on the class of craft"},
    Parameter<Hull>{"appendage_drag_area", &Hull::appendage_drag_area_m2, "cm2", 5.0, {0, 500}, {0, 8}, {Shape::uniform, 3.0, 7.0},
                    "drag area in water of sponsons, sensors and fittings", "engineering judgement"},
    Parameter<Hull>{"waterline_length", &Hull::waterline_length_m, "m", derived, {0.4, 40}, {2.0, 3.6}, {},
                    "waterline length at rest; derived: 0.91 of the length", "engineering judgement"},
    Parameter<Hull>{"entrance_angle", &Hull::entrance_angle_rad, "deg", 25.0, {2, 60}, {10, 40}, {},
                    "half angle of entrance of the waterline at rest", "engineering judgement"},
    Parameter<Hull>{"transom_ratio", &Hull::transom_ratio, "1", 0.95, {0, 1}, {0.6, 1}, {},
                    "immersed transom area over largest section area at rest", "engineering judgement"},
    Parameter<Hull>{"beam_draught_ratio", &Hull::beam_draught_ratio, "1", 3.9, {1.5, 12}, {2.5, 6}, {},
                    "beam over draught at rest", "engineering judgement"},
    Parameter<Hull>{"added_mass", &Hull::added_mass_fraction, "1", 0.07, {0, 0.5}, {0.05, 0.10},
                    {Shape::uniform, 0.05, 0.10}, "surge added mass at rest over the mass; fades to 0.02 when planing",
                    "engineering judgement"},
    Parameter<Hull>{"trim_time", &Hull::trim_time_s, "s", 0.3, {0.05, 2}, {0.2, 0.4}, {Shape::uniform, 0.2, 0.4},
                    "time in which trim follows its moment", "engineering judgement"},
    Parameter<Hull>{"thrust_deduction", &Hull::thrust_deduction, "1", 0.07, {-0.1, 0.6}, {0, 0.15},
                    {Shape::uniform, 0.0, 0.15}, "thrust deduction before planing; fades to 0 when planing",
                    "engineering judgement"},
    Parameter<Hull>{"thrust_line_angle", &Hull::thrust_line_angle_rad, "deg", 0.0, {-15, 20}, {-5, 5}, {},
                    "single thrust line to the keel, bow up (test hulls without a jet)", "definition"},
    Parameter<Hull>{"thrust_line_depth", &Hull::thrust_line_depth_m, "m", 0.0, {-5, 5}, {-0.3, 0.3}, {},
                    "single thrust line below the centre of gravity (test hulls without a jet)", "definition"}};
// clang-format on

inline constexpr std::array<std::string_view, 2> friction_line_words{"ittc57", "schoenherr"};
inline constexpr std::array<std::string_view, 2> thrust_line_words{"jet", "single"};
inline constexpr std::array<std::string_view, 2> wetted_length_words{"savitsky_1964", "savitsky_brown_1976"};
inline constexpr std::array hull_choices{
    choice<&Hull::friction_line, Hull>("friction_line", friction_line_words, 0,
                                       "friction line of the wetted bottom", "ITTC 7.5-02-02-01; ATTC 1947"),
    choice<&Hull::thrust_line, Hull>(
        "thrust_line", thrust_line_words, 0,
        "jet: nozzle and intake forces each on its own line; single: one thrust line", "definition"),
    choice<&Hull::wetted_lengths, Hull>("wetted_lengths", wetted_length_words, 0,
                                        "form of the wetted keel and chine lengths reported; resistance "
                                        "changes only where the keel is longer "
                                        "than the hull, by what is cut off",
                                        "Savitsky 1964; Savitsky & Brown 1976")};
static_assert(sizeof(Hull) == part_size(hull_parameters.size(), hull_choices.size()),
              "a field of Hull has no row");

struct Plate {
  double angle_rad, length_m, span_m;
};

// clang-format off
inline constexpr std::array plate_parameters{
    Parameter<Plate>{"angle", &Plate::angle_rad, "deg", 0.0, {-10, 20}, {-2, 4}, {},
                     "ride-plate angle to the keel, trailing edge down positive", "angle gauge"},
    Parameter<Plate>{"length", &Plate::length_m, "m", 0.15, {0, 3}, {0.05, 0.5}, {}, "length of the movable plate", "tape measure"},
    Parameter<Plate>{"span", &Plate::span_m, "m", 0.4, {0, 10}, {0.2, 0.6}, {}, "width of the plate", "tape measure"}};
// clang-format on
static_assert(sizeof(Plate) == part_size(plate_parameters.size()), "a field of Plate has no row");

}  // namespace bowrise
