#include "tools/manual_pages.hpp"

#include <algorithm>
#include <array>

namespace bowrise::tools {
namespace {

// Examples stand on one line each, as they are typed.
// clang-format off
const std::array<ManualPage, 13>& pages() {
  static const std::array<ManualPage, 13> all{{
    {"bowrise",
     "A scenario file tells hull, engine, pump, nozzle, rider, water and weather; the launch from rest is\n"
     "computed from them, and every verb below asks a question about it. bowrise VERB --help tells more.",
     {"bowrise run scenarios/supercharged_three_seat.yaml",
      "bowrise compare scenarios/supercharged_three_seat.yaml scenarios/two_stage.yaml"},
     "README.md, for each question with its answer"},
    {"run",
     "Computes one launch at full throttle, or by the scenario's throttle plan: times to speeds and\n"
     "distances, top speed and its rpm, when the pump cavitates and hooks up, what holds the craft back\n"
     "at each moment and what each of these limits costs. --out keeps the trace (a row each 10 ms), the\n"
     "summary and the setup with every input filled in; report takes that folder again.",
     {"bowrise run scenarios/supercharged_three_seat.yaml --set nozzle.exit_diameter=84mm",
      "bowrise run scenarios/worn_ring.yaml --coast --plot",
      "bowrise run scenarios/two_stage.yaml --band 32 --out out/two_stage"},
     "compare, report, check, parameters"},
    {"check",
     "Reads a scenario with all files it starts from, says everything that is wrong with it at once, with\n"
     "file, line, column and key, and prints every input with its unit and where it comes from: a file,\n"
     "--set, a preset, or worked out from others. What it prints is a scenario again.",
     {"bowrise check scenarios/two_stage.yaml",
      "bowrise check scenarios/supercharged_three_seat.yaml --set site.altitude=4000ft --json"},
     "parameters, run"},
    {"curves",
     "Lays one component out over axes that you impose, without a launch: to look at it, or to hold it\n"
     "against a published table. Names of columns end in their unit.",
     {"bowrise curves scenarios/supercharged_three_seat.yaml --of hull --at speed=5..30m/s:6",
      "bowrise curves scenarios/two_stage.yaml --of pump --at flow=0.15..0.25m3/s:5 --at shaft_speed=7600rpm",
      "bowrise curves scenarios/reference/full_scale_mixed_flow_unit.yaml --of thrust --at speed=11kn --at shaft_power=705.6kW --csv"},
     "report, which draws steady curves; run"},
    {"compare",
     "Sets two or more setups side by side and says of every difference to the first how sure it is: both\n"
     "are drawn with the same uncertain inputs, so that what they have in common cancels. Says how many\n"
     "logged runs would show the difference. --over finds where two setups change places.",
     {"bowrise compare scenarios/supercharged_three_seat.yaml scenarios/two_stage.yaml --band 32",
      "bowrise compare scenarios/supercharged_three_seat.yaml scenarios/two_stage.yaml --over engine.peak_power=150..400hp:6"},
     "report, match, sweep"},
    {"match",
     "Finds the value of an input that gives a wanted result, one input at a time, and says what else\n"
     "each would change: which nozzle, pitch or power gives back the rpm that a larger cone cost?",
     {"bowrise match scenarios/larger_cone.yaml --adjust nozzle.exit_diameter --adjust impeller.pitch_trailing --until top_rpm=7680rpm",
      "bowrise match scenarios/smaller_nozzle.yaml --until top_speed=71.2mph"},
     "sweep, compare"},
    {"sweep",
     "Tries all combinations of the inputs that you vary, or evenly spread samples, ranks them by weighted\n"
     "purposes, lists what no other setup beats, and tells which input matters. With --out it can be\n"
     "killed and resumed, and divided over machines.",
     {"bowrise sweep scenarios/supercharged_three_seat.yaml --vary nozzle.exit_diameter=82..90mm:5 --vary impeller.pitch_trailing=24..27deg:4 --rank holeshot=2 --rank top=1",
      "bowrise sweep scenarios/supercharged_three_seat.yaml --vary pump.clearance=0.2,0.5,1mm --out out/gaps --html gaps.html"},
     "match, compare"},
    {"throttle",
     "Tries ways to open the throttle, pinned, ramp, held, eased, staged and one found by search, each from\n"
     "rest and rolling, with the pump as given and worn: which is quickest, which spares the pump, and\n"
     "what a hand that is late or off costs.",
     {"bowrise throttle scenarios/supercharged_three_seat.yaml --pump given --start rest",
      "bowrise throttle scenarios/supercharged_three_seat.yaml --pump worn --worn 0.8mm --start rolling --rolling 8mph"},
     "wear, run"},
    {"wear",
     "Follows the ring gap launch after launch as cavitation and grit widen it: what the growing gap costs,\n"
     "when it turns amber and red, and which throttle plan slows it. Rates are known to a factor of three\n"
     "(--band shows it), ratios between ways of driving far better.",
     {"bowrise wear scenarios/supercharged_three_seat.yaml --launches 1000 --strategy pinned --strategy hold",
      "bowrise wear scenarios/worn_ring.yaml --launches 200 --slower 0.3s"},
     "throttle, diagnose"},
    {"diagnose",
     "Takes two to six numbers of a craft that has changed, and if there are any the same numbers from when\n"
     "it was sound, and ranks 21 single faults by how well each explains them; says what to read off or\n"
     "look at next, and what these numbers can hide. The scenario is the craft when sound.",
     {"bowrise diagnose scenarios/supercharged_three_seat.yaml --sound top_speed=71mph --sound top_rpm=7700rpm --seen top_speed=63mph --seen top_rpm=7600rpm",
      "bowrise diagnose scenarios/supercharged_three_seat.yaml --seen time_to_30_mph=3.0s --seen top_speed=70mph --came slowly"},
     "fit, wear"},
    {"fit",
     "Makes the model agree with logged launches, or with a few numbers seen, by moving every uncertain\n"
     "input within its spread; says how well each is known then, what the log does not tell, and what is\n"
     "left over. --out writes a fitted scenario, which carries what was learned into every verb.",
     {"bowrise fit scenarios/supercharged_three_seat.yaml scenarios/fitted/generated_run.csv --out fitted.yaml",
      "bowrise fit scenarios/supercharged_three_seat.yaml --seen top_speed=68mph --seen top_rpm=7500rpm"},
     "compare and diagnose with the fitted scenario"},
    {"report",
     "Lays setups over each other on one HTML page that opens in any browser without a network: launch\n"
     "traces, steady curves, what limits when, results with differences and bands, inputs that differ. A\n"
     "folder of run --out is run again from the setup in it, and the page tells which version made it and\n"
     "which numbers have changed since.",
     {"bowrise report scenarios/supercharged_three_seat.yaml scenarios/two_stage.yaml --band 32 --out two_stage.html",
      "bowrise report scenarios/worn_ring.yaml --coast --out worn.html"},
     "run, compare"},
    {"parameters",
     "Prints every key that a scenario may set: its unit, its preset, what is possible and usual, how\n"
     "uncertain the preset is, what it means and where the preset comes from.",
     {"bowrise parameters", "bowrise parameters --json"},
     "check"},
  }};
  return all;
}
// clang-format on

}  // namespace

const ManualPage* manual_page(const std::string& verb) {
  const auto found =
      std::find_if(pages().begin(), pages().end(), [&](const ManualPage& page) { return page.verb == verb; });
  return found == pages().end() ? nullptr : &*found;
}

}  // namespace bowrise::tools
