// What a user says about the water's way in and out: intake and grate, cone and nozzle.
#pragma once

#include "models/parameter.hpp"

namespace bowrise {

/// Where the wake of the swallowed boundary layer comes from: given, or worked out from flow and speed.
enum class WakeLaw : int { constant, boundary_layer };
inline constexpr std::array<std::string_view, 2> wake_law_words{"constant", "boundary_layer"};

struct Intake {
  double throat_area_m2, leak_area_m2, wake_fraction, wetted_length_m, duct_loss, mismatch_loss,
      capture_depth_m, lip_position_m;
  double spill_onset, grate_onset_slope, plate_onset_slope_per_rad, spill_factor, stern_lift_ratio,
      suction_inertance_1_m, suction_length_m, water_mass_kg;
  double void_volume_m3, chop_factor, lip_ratio, lip_void, prime_void;
  WakeLaw wake_law;
};

// clang-format off
inline constexpr std::array intake_parameters{
    Parameter<Intake>{"throat_area", &Intake::throat_area_m2, "cm2", derived, {1, 50000}, {120, 240}, {},
                      "area of the throat behind the lip; derived: 0.9 of the bore area", "template and squared paper"},
    Parameter<Intake>{"leak_area", &Intake::leak_area_m2, "mm2", 0.0, {0, 2000}, {0, 60}, {},
                      "openings that let air into the suction side: shaft seal, plate and pump joints",
                      "common practice, no source"},
    Parameter<Intake>{"wake_fraction", &Intake::wake_fraction, "1", 0.05, {0, 0.5}, {0.02, 0.10}, {Shape::uniform, 0.03, 0.08},
                      "momentum-mean speed deficit of the swallowed boundary layer", "1/7-power boundary layer, own evaluation"},
    Parameter<Intake>{"wetted_length", &Intake::wetted_length_m, "m", derived, {0.05, 100}, {0.8, 2.5}, {},
                      "bottom wetted ahead of the intake, along which the boundary layer grows (wake_law boundary_layer); "
                      "derived: half of hull.length", "engineering judgement: what a planing craft wets"},
    Parameter<Intake>{"duct_loss", &Intake::duct_loss, "1", 0.15, {0, 2}, {0.10, 0.25}, {Shape::uniform, 0.10, 0.20},
                      "loss over the duct velocity head", "engineering judgement"},
    Parameter<Intake>{"mismatch_loss", &Intake::mismatch_loss, "1", 0.25, {0, 2}, {0.15, 0.35}, {Shape::uniform, 0.15, 0.35},
                      "loss over the head of the speed difference between inflow and duct", "engineering judgement"},
    Parameter<Intake>{"capture_depth", &Intake::capture_depth_m, "m", 0.05, {0, 1}, {0.02, 0.10}, {Shape::uniform, 0.02, 0.10},
                      "inflow momentum acts this far below the keel", "engineering judgement"},
    Parameter<Intake>{"lip_position", &Intake::lip_position_m, "m", 0.45, {0, 20}, {0.2, 0.9}, {},
                      "intake lip forward of the trailing edge", "tape measure"},
    Parameter<Intake>{"spill_onset", &Intake::spill_onset, "1", 0.50, {0.1, 1}, {0.40, 0.65}, {Shape::uniform, 0.40, 0.60},
                      "inlet velocity ratio below which water spills ahead of the lip", "engineering judgement"},
    Parameter<Intake>{"grate_onset_slope", &Intake::grate_onset_slope, "1", 0.30, {0, 2}, {0, 0.6}, {Shape::uniform, 0.1, 0.5},
                      "spill onset gained per grate feed above 0.25: a scoop takes in what the pump cannot swallow",
                      "engineering judgement"},
    Parameter<Intake>{"plate_onset_slope", &Intake::plate_onset_slope_per_rad, "1", 0.6, {0, 5}, {0, 1.2}, {Shape::uniform, 0.2, 1.0},
                      "spill onset gained per radian of ride-plate angle (0.01 a degree): pressure under the stern",
                      "engineering judgement"},
    Parameter<Intake>{"spill_factor", &Intake::spill_factor, "1", 0.2, {0, 2}, {0.05, 0.5}, {Shape::uniform, 0.05, 0.5},
                      "spill drag over the momentum of the throat area", "engineering judgement"},
    Parameter<Intake>{"stern_lift_ratio", &Intake::stern_lift_ratio, "1", 3.0, {0, 10}, {1, 6}, {Shape::uniform, 1.0, 6.0},
                      "stern lift over spill drag", "engineering judgement"},
    Parameter<Intake>{"suction_inertance", &Intake::suction_inertance_1_m, "1/m", 55.0, {0, 500}, {30, 80}, {},
                      "integral of length over area from the free stream to the impeller", "engineering judgement"},
    Parameter<Intake>{"suction_length", &Intake::suction_length_m, "m", 0.8, {0, 20}, {0.5, 1.1}, {},
                      "length of the water column ahead of the impeller", "tape measure"},
    Parameter<Intake>{"water_mass", &Intake::water_mass_kg, "kg", 16.0, {0, 20000}, {12, 25}, {},
                      "water in duct and pump, which moves with the craft", "engineering judgement"},
    Parameter<Intake>{"void_volume", &Intake::void_volume_m3, "L", 6.0, {0.1, 20000}, {3, 12}, {Shape::uniform, 3.0, 12.0},
                      "volume through which swallowed air is carried", "engineering judgement"},
    Parameter<Intake>{"chop_factor", &Intake::chop_factor, "1", 0.08, {0, 1}, {0.02, 0.20}, {Shape::uniform, 0.02, 0.20},
                      "void fraction swallowed at 0.3 m chop and 15 m/s without help of a grate", "engineering judgement"},
    Parameter<Intake>{"lip_ratio", &Intake::lip_ratio, "1", 0.35, {0.05, 1}, {0.30, 0.40}, {Shape::uniform, 0.30, 0.40},
                      "inlet velocity ratio below which the outer lip separates and breathes air", "engineering judgement"},
    Parameter<Intake>{"lip_void", &Intake::lip_void, "1", 0.10, {0, 0.5}, {0.03, 0.20}, {Shape::uniform, 0.03, 0.20},
                      "void fraction that a lip separated all along lets in", "engineering judgement"},
    Parameter<Intake>{"prime_void", &Intake::prime_void, "1", 0.12, {0.02, 0.9}, {0.10, 0.15}, {Shape::uniform, 0.10, 0.15},
                      "void fraction at which the pump loses prime", "engineering judgement: 10 to 15 %"}};
// clang-format on
inline constexpr std::array intake_choices{
    choice<&Intake::wake_law, Intake>("wake_law", wake_law_words, 0,
                                      "constant: intake.wake_fraction; boundary_layer: what the flow "
                                      "swallows of a layer of intake.wetted_length",
                                      "definition")};
static_assert(sizeof(Intake) == part_size(intake_parameters.size(), 1), "a field of Intake has no row");

struct Grate {
  double feed, loss, drag_area_m2, blockage, blockage_swing_deg;
};

// clang-format off
inline constexpr std::array grate_parameters{
    Parameter<Grate>{"feed", &Grate::feed, "1", 0.25, {0, 0.9}, {0, 0.7}, {},
                     "how far the grate keeps the intake fed in chop: 0 none, 0.7 the most aggressive", "engineering judgement"},
    Parameter<Grate>{"loss", &Grate::loss, "1", 0.04, {0, 2}, {0.02, 0.12}, {Shape::uniform, 0.02, 0.08},
                     "loss of the bars over the duct velocity head", "Kirschmer's bar formula, from memory"},
    Parameter<Grate>{"drag_area", &Grate::drag_area_m2, "cm2", 1.5, {0, 1000}, {0.5, 8}, {},
                     "drag area of bars and scoop outside the duct", "engineering judgement"},
    Parameter<Grate>{"blockage", &Grate::blockage, "1", 0.0, {0, 0.9}, {0, 0.6}, {},
                     "share of the intake closed by weed or debris", "look up the intake, engine off"},
    Parameter<Grate>{"blockage_swing", &Grate::blockage_swing_deg, "1", 10.0, {0, 60}, {5, 15}, {Shape::uniform, 5.0, 15.0},
                     "degrees of incidence that blade tips swing through per share blocked: a dead sector lacks the whole flow angle",
                     "engineering judgement"}};
// clang-format on
static_assert(sizeof(Grate) == part_size(grate_parameters.size()), "a field of Grate has no row");

struct Cone {
  double base_diameter_m, tip_diameter_m, length_m, position_m;
};

// clang-format off
inline constexpr std::array cone_parameters{
    Parameter<Cone>{"base_diameter", &Cone::base_diameter_m, "mm", derived, {1, 2200}, {40, 110}, {},
                    "cone diameter at its root; derived: the hub at the last trailing edge", "caliper"},
    Parameter<Cone>{"tip_diameter", &Cone::tip_diameter_m, "mm", derived, {0, 2000}, {5, 50}, {},
                    "cone diameter at its tip; derived: 0.40 of the root", "caliper"},
    Parameter<Cone>{"length", &Cone::length_m, "mm", derived, {0, 3000}, {40, 200}, {},
                    "cone length; derived: 1.3 of the root diameter", "caliper"},
    Parameter<Cone>{"position", &Cone::position_m, "mm", 0.0, {-200, 1000}, {0, 40}, {},
                    "cone root aft of the stator's end face (an adjustable cone)", "caliper"}};
// clang-format on
static_assert(sizeof(Cone) == part_size(cone_parameters.size()), "a field of Cone has no row");

struct Nozzle {
  double exit_diameter_m, angle_rad, loss, contraction, length_m, height_m, overhang_m;
  TableRows angle_schedule;  ///< [m/s, rad]
};

// clang-format off
inline constexpr std::array nozzle_parameters{
    Parameter<Nozzle>{"exit_diameter", &Nozzle::exit_diameter_m, "mm", required, {10, 1500}, {76, 96}, {},
                      "bore at the exit", "caliper"},
    Parameter<Nozzle>{"angle", &Nozzle::angle_rad, "deg", 0.0, {-20, 20}, {-6, 6}, {},
                      "jet force to the keel: positive points the jet down, lifts the stern and trims the bow down",
                      "definition"},
    Parameter<Nozzle>{"loss", &Nozzle::loss, "1", 0.02, {0, 0.5}, {0.01, 0.05}, {Shape::uniform, 0.01, 0.03},
                      "loss over the jet velocity head", "nozzle efficiency 0.98 of a full-scale unit (Zurcher 2013-2015 data)"},
    Parameter<Nozzle>{"contraction", &Nozzle::contraction, "1", 0.99, {0.6, 1}, {0.96, 1}, {Shape::uniform, 0.97, 1.0},
                      "jet area over open exit area: 0.99 with a short parallel land, 0.96-0.98 without", "from memory"},
    Parameter<Nozzle>{"length", &Nozzle::length_m, "mm", derived, {5, 5000}, {100, 250}, {},
                      "from the stator's end face to the exit plane; derived: 1.1 of the bore", "tape measure"},
    Parameter<Nozzle>{"height", &Nozzle::height_m, "m", 0.15, {-1, 5}, {0.08, 0.25}, {}, "jet axis above the keel at the exit",
                      "tape measure"},
    Parameter<Nozzle>{"overhang", &Nozzle::overhang_m, "m", 0.10, {-2, 5}, {-0.1, 0.3}, {},
                      "exit plane aft of the trailing edge of the planing bottom", "tape measure"}};
// clang-format on
inline constexpr std::array<std::string_view, 2> angle_column_names{"speed", "angle"};
inline constexpr std::array<std::string_view, 2> angle_column_units{"m/s", "deg"};
inline constexpr std::array<Range, 2> angle_column_ranges{{{0, 100}, {-20, 20}}};
inline constexpr std::array nozzle_tables{
    TableParameter<Nozzle>{"angle_schedule", &Nozzle::angle_schedule, angle_column_names, angle_column_units,
                           angle_column_ranges, 2, 20,
                           "nozzle angle against craft speed instead of nozzle.angle, held beyond the ends: "
                           "positive (bow down) at the launch, "
                           "negative (bow up) for speed",
                           "definition"}};
static_assert(sizeof(Nozzle) == part_size(nozzle_parameters.size(), 0, 1), "a field of Nozzle has no row");

}  // namespace bowrise
