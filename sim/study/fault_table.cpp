#include "sim/study/fault_table.hpp"

#include <algorithm>
#include <cmath>

#include "models/blade_row.hpp"
#include "models/constants.hpp"

namespace bowrise {
namespace {

constexpr double millimetre = 1e-3, degree = radians_per_degree, percent = 0.01;

// A blade that has lost metal at its edge is blunt there too: 1.5 mm thicker per mm lost, from the wedge of a
// usual leading edge (engineering judgement).
Setup with_lost_edges(Setup setup, double lost_mm, double) {
  setup.wear.edge_loss_m += lost_mm * millimetre;
  setup.impeller.edge_thickness_m += 1.5 * lost_mm * millimetre;
  return setup;
}

// Vanes bent or gone both lose head and leave swirl: 0.8 deg per percent of head (engineering judgement).
Setup with_damaged_stator(Setup setup, double loss_percent, double) {
  setup.pump.stator_loss += loss_percent * percent;
  setup.pump.residual_swirl_rad += 0.8 * loss_percent * degree;
  return setup;
}

Setup with_pitch(Setup setup, double more_deg) {
  Rotor& rotor = setup.impeller;
  for (auto& row : rotor.blade_angles) row.back() += more_deg * degree;
  if (!rotor.blade_angles.empty()) return setup;
  rotor.pitch_trailing_rad = resolved(rotor, setup.pump.bore_m).pitch_trailing_rad + more_deg * degree;
  rotor.pitch_trailing_length_m = std::nan("");
  return setup;
}

Setup with_power(Setup setup, double factor) {
  setup.engine.power_factor *= factor;
  return setup;
}

Setup with_mass(Setup setup, double more_kg) {
  setup.craft.mass_kg += more_kg;
  return setup;
}

Setup with_nozzle(Setup setup, double more_mm) {
  setup.nozzle.exit_diameter_m += more_mm * millimetre;
  return setup;
}

Setup with_nozzle_trim(Setup setup, double down_deg) {
  setup.nozzle.angle_rad += down_deg * degree;
  for (auto& row : setup.nozzle.angle_schedule) row.back() += down_deg * degree;
  return setup;
}

Setup with_plate(Setup setup, double down_deg) {
  setup.plate.angle_rad += down_deg * degree;
  return setup;
}

// clang-format off
constexpr std::array faults{
    Fault{"ring_gap", "worn ring or impeller: gap between blade tips and ring", "mm", "more gap than when sound",
          {0.15, 0.3, 0.5, 0.8, 1.2, 1.8}, 10, 0.1, "slowly, over seasons; in an hour in sand",
          "engine off, lanyard out: feeler blade 0.3 m long at four places, every blade, the worst counts (amber 0.5 mm, red 1.0 mm)", false,
          [](Setup s, double size, double) { s.pump.clearance_m += size * millimetre; return s; }},
    Fault{"air_leak", "air drawn in past shaft seal, bellows, plate or pump joint, grate edges", "mm2", "of openings",
          {10, 25, 50, 80, 120, 250}, 10, 0.4, "slowly, or after the pump or plate was off",
          "engine off: water that seeps in at rest past seal or joints (a seal can suck air without dripping); seal all joints anew and repeat the launch", false,
          [](Setup s, double size, double) { s.intake.leak_area_m2 += size * 1e-6; return s; }},
    Fault{"lost_power", "engine gives less: throttle not opening, fuel, air box, plug, boost leak", "%", "of the power lost",
          {5, 10, 15, 20, 30, 40}, 8, 0.6, "suddenly (plug, hose) or slowly (compression)",
          "compression, fuel pressure and boost; does the lever open the throttle fully; is the air box free", false,
          [](Setup s, double size, double) { return with_power(s, 1.0 - size * percent); }},
    Fault{"blockage", "weed, rope, bag, stick or stone on grate or blades", "%", "of the intake closed",
          {10, 20, 30, 40, 55, 70}, 8, 0.95, "suddenly, often with noise",
          "stop, let it fall off, rock the craft, engine off; else engine off, lanyard out, lift out and look up the intake", false,
          [](Setup s, double size, double) { s.grate.blockage = std::min(0.9, s.grate.blockage + size * percent); return s; }},
    Fault{"blade_edges", "blunt, chewed or nicked blade edges", "mm", "of metal gone from the edges",
          {0.2, 0.5, 0.8, 1.2, 1.6, 2.0}, 7, 0.4, "suddenly after a stone or stick; slowly in sand",
          "engine off, lanyard out: look up the intake with a lamp, a fingernail catches on nicks; caliper at the edges", true, with_lost_edges},
    Fault{"hull_drag", "dirty or damaged hull: growth, blisters, a bent plate or sponson, head wind", "%", "more drag of the hull",
          {7, 15, 25, 35, 45, 60}, 7, 0.3, "slowly (growth) or suddenly (damage, wind)",
          "run both directions in calm; on the trailer: feel the bottom for growth, a straightedge along the last metre", false,
          [](Setup s, double size, double) { s.hull.drag_factor *= 1.0 + size * percent; return s; }},
    Fault{"speed_cap", "electronic speed limit: learner or cruise mode, wrong key", "%", "below the sound top speed",
          {2, 6, 12, 20, 35, 60}, 6, 0.95, "suddenly, the same speed every run",
          "the speed is the same to 1 mph whatever rider, fuel and water; try the other key or mode", false,
          [](Setup s, double size, double top) { s.engine.speed_cap_m_s = std::fmin(s.engine.speed_cap_m_s, (1.0 - size * percent) * top); return s; }},
    Fault{"water_in_hull", "heavier: water in the hull, passenger, gear", "kg", "more mass",
          {10, 30, 60, 90, 120, 150}, 5, 0.6, "suddenly (plug, hose, gear) or in a day's ride",
          "on the trailer: open the drain plugs, nose up; weigh craft and load", false,
          [](Setup s, double size, double) { return with_mass(s, size); }},
    Fault{"aerated_water", "air in the water at the grate: chop, wakes, following another craft", "m", "of chop",
          {0.05, 0.1, 0.15, 0.2, 0.3, 0.4}, 5, 0.8, "with the water of the day",
          "repeat in flat water, alone", false,
          [](Setup s, double size, double) { s.water.chop_height_m += size; return s; }},
    Fault{"stator", "bent, chipped or missing stator vanes", "%", "more of the head entering the stator lost",
          {3, 6, 10, 15, 20, 28}, 4, 0.8, "suddenly after a stone",
          "engine off, lanyard out: look in from the nozzle end with a lamp, count and feel the vanes", true, with_damaged_stator},
    Fault{"more_pitch", "impeller of more pitch than thought, re-pitched or swapped", "deg", "more pitch at the trailing edge",
          {0.7, 1.3, 2.0, 2.7, 3.3, 4.0}, 3, 0.95, "with a change of impeller",
          "number stamped on the hub; pitch block on every blade, off the craft", true,
          [](Setup s, double size, double) { return with_pitch(s, size); }},
    Fault{"less_pitch", "impeller of less pitch than thought, blades bent open or swapped", "deg", "less pitch at the trailing edge",
          {0.7, 1.3, 2.0, 2.7, 3.3, 4.0}, 3, 0.9, "with a change of impeller, or suddenly (bent)",
          "number stamped on the hub; pitch block on every blade, off the craft", true,
          [](Setup s, double size, double) { return with_pitch(s, -size); }},
    Fault{"more_power", "no fault: cool, dense air or a stronger engine than when sound was measured", "%", "more power",
          {2, 4, 6, 8, 11, 15}, 3, 0.6, "with the weather",
          "compare air temperature and altitude of both days", false,
          [](Setup s, double size, double) { return with_power(s, 1.0 + size * percent); }},
    Fault{"lighter_load", "no fault: less fuel, gear or rider than when sound was measured", "kg", "less mass",
          {5, 10, 20, 30, 45, 60}, 3, 0.8, "with the load",
          "compare rider, fuel and gear of both days", false,
          [](Setup s, double size, double) { return with_mass(s, -size); }},
    Fault{"gate_in_jet", "reverse gate or bucket dips into the jet, dirt in the nozzle", "%", "of the head behind the pump lost at the nozzle",
          {2, 5, 10, 15, 25, 40}, 2, 0.8, "suddenly, after a knock or a new cable",
          "engine off, lanyard out: gate fully up and locked, clear of the jet; look into the nozzle", false,
          [](Setup s, double size, double) { s.nozzle.loss += size * percent; return s; }},
    Fault{"plate_down", "ride plate or tabs set lower: bow pressed down", "deg", "lower",
          {1, 2, 3, 4.5, 6, 8}, 2, 0.8, "after work on the plate",
          "engine off: straightedge along the bottom over the plate", false,
          [](Setup s, double size, double) { return with_plate(s, size); }},
    Fault{"plate_up", "ride plate bent or set higher: bow free to bounce", "deg", "higher",
          {1, 2, 3, 4, 5, 6}, 2, 0.8, "after work on the plate or a knock",
          "engine off: straightedge along the bottom over the plate", false,
          [](Setup s, double size, double) { return with_plate(s, -size); }},
    Fault{"nozzle_trim_down", "nozzle trimmed further down", "deg", "further down",
          {1, 2, 4, 6, 8, 10}, 2, 0.8, "with the trim switch, or after a new cable",
          "engine off, lanyard out: angle of the nozzle against the keel with trim at its upper end", false,
          [](Setup s, double size, double) { return with_nozzle_trim(s, size); }},
    Fault{"nozzle_trim_up", "nozzle trimmed further up", "deg", "further up",
          {1, 2, 3, 4, 6, 8}, 2, 0.8, "with the trim switch, or after a new cable",
          "engine off, lanyard out: angle of the nozzle against the keel with trim at its lower end", false,
          [](Setup s, double size, double) { return with_nozzle_trim(s, -size); }},
    Fault{"smaller_nozzle", "smaller nozzle, or a larger cone that reaches into it", "mm", "smaller",
          {1, 2, 3, 4, 5, 6}, 2, 0.95, "with a change of parts",
          "engine off, lanyard out: caliper across the exit, two directions", false,
          [](Setup s, double size, double) { return with_nozzle(s, -size); }},
    Fault{"larger_nozzle", "larger or bored nozzle, or a cone lost", "mm", "larger",
          {1, 2, 3, 4, 5, 6}, 2, 0.95, "with a change of parts",
          "engine off, lanyard out: caliper across the exit, two directions; is the cone there", false,
          [](Setup s, double size, double) { return with_nozzle(s, size); }}};

constexpr std::array unseen{
    HiddenFault{"limp_mode", "limp mode, overheat or oil limit, reverse or no-wake mode",
                "rpm stuck at 3000 to 4500 whatever the throttle, engine smooth",
                "stop, restart, read the codes and the temperature; not a pump matter"},
    HiddenFault{"limiter_or_ignition", "faulty limiter, ignition or fuel cut", "rpm hunts or stutters at full throttle; speed follows rpm",
                "read the codes and a log of rpm: a cut is sharp, slip is smooth"},
    HiddenFault{"bearing_or_shaft", "stick in the impeller, bent blade or shaft, bearing play, loose impeller",
                "vibration that rises with rpm; a knock at low rpm that goes under load",
                "engine off, lanyard out: spin by hand, look for contact, feel end play; do not run it"},
    HiddenFault{"tight_ring", "corrosion behind the ring squeezes it onto the blades", "gap nil at one side, rubbing, rpm down at first",
                "engine off, lanyard out: turn by hand, feeler blade at four places"},
    HiddenFault{"bouncing", "weight too far aft, nozzle trimmed up, plate short, high or loose, a hook or rocker in the bottom",
                "bounces at one band of speed, in flat water too",
                "nozzle down, weight forward; plate or tabs lower; straightedge along the last metre of the bottom"},
    HiddenFault{"leaping", "power comes on with the weight too far aft", "leaps or bounces at the start only",
                "rider forward and trim down for the launch"},
    HiddenFault{"burnt_blades", "cavitation that lasted: trimmed too far up, blunt edge, too much pitch",
                "burnt or pitted blades, numbers still nearly right",
                "engine off, lanyard out: look up the intake with a lamp; dress the edges, trim down"},
    HiddenFault{"dash_reading", "dash speed or rpm reads wrong", "speed differs from a GPS, or rpm changes and speed does not",
                "GPS in both directions; rpm against a second instrument"}};
// clang-format on

}  // namespace

double prior_of(const Fault& fault, Came came) {
  if (came == Came::unknown) return fault.prior;
  return fault.prior * (came == Came::suddenly ? fault.suddenly : 1.0 - fault.suddenly);
}

std::span<const Fault> fault_table() { return faults; }

std::span<const HiddenFault> hidden_faults() { return unseen; }

}  // namespace bowrise
