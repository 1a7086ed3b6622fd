#include "models/setup.hpp"

#include <cmath>

#include "models/hull.hpp"
#include "models/intake.hpp"
#include "models/nozzle.hpp"
#include "models/pump.hpp"

namespace bowrise {
namespace {

void append(Problems& problems, Problems more) {
  for (Problem& problem : more) problems.push_back(std::move(problem));
}

// The water column's momentum and energy belong together: a column of length L and inertance I holds at least
// rho L^2/I of water (Cauchy-Schwarz), else the coupled masses could be negative.
void check_water_column(const Setup& setup, Problems& problems) {
  constexpr double water_density_kg_m3 = 1000.0;
  const double inertance = setup.intake.suction_inertance_1_m + setup.pump.discharge_inertance_1_m;
  const double length = setup.pump.column_length_m;
  if (inertance <= 0.0)
    problems.push_back(
        {"pump.discharge_inertance", "no water column is left to accelerate", "20 1/m to 60 1/m is usual"});
  else if (setup.intake.water_mass_kg * inertance < water_density_kg_m3 * length * length)
    problems.push_back({"intake.water_mass", "less water than a column of this length and inertance holds",
                        "at least 1000 kg/m3 x pump.column_length^2 / (intake.suction_inertance + "
                        "pump.discharge_inertance)"});
  if (setup.intake.suction_length_m > length)
    problems.push_back({"intake.suction_length", "longer than pump.column_length",
                        "the suction side is part of the column"});
}

void check_start(const Setup& setup, Problems& problems) {
  if (setup.start.shaft_speed_rad_s >= limiter_speed_rad_s(setup.engine))
    problems.push_back(
        {"start.shaft_speed", "not below the rev limiter", "an idle speed, 1200 rpm to 2500 rpm"});
  if (setup.rider.position_m > setup.hull.length_m)
    problems.push_back({"rider.position", "ahead of the bow", "at most hull.length"});
  if (setup.intake.lip_position_m > setup.hull.length_m)
    problems.push_back({"intake.lip_position", "ahead of the bow", "at most hull.length"});
  if (setup.output.step_s > setup.run.duration_s)
    problems.push_back({"output.step", "longer than run.duration", "at most run.duration"});
}

}  // namespace

const Rotor& last_rotor(const Setup& setup) {
  return setup.pump.stages > 1.0 ? setup.stage_2 : setup.impeller;
}

WearState wear_state(const Setup& setup) noexcept { return {setup.pump.clearance_m, setup.wear.edge_loss_m}; }

Setup worn_to(Setup setup, const WearState& state) {
  setup.pump.clearance_m = state.clearance_m;
  setup.wear.edge_loss_m = state.edge_loss_m;
  return setup;
}

Problems check(const Setup& setup) {
  Problems problems;
  append(problems, check(setup.hull, setup.plate));
  append(problems, check(setup.intake, setup.grate));
  append(problems, check(setup.pump, setup.impeller, setup.stage_2, setup.cavitation));
  append(problems, check(setup.cone, setup.nozzle, setup.pump, last_rotor(setup)));
  append(problems, check(setup.engine));
  append(problems, check(setup.throttle));
  check_water_column(setup, problems);
  check_start(setup, problems);
  return problems;
}

}  // namespace bowrise
