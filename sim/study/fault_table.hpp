// Faults that the physics can show, as changes of a setup, and faults that it cannot, with their tell-tale.
#pragma once

#include <array>
#include <span>
#include <string_view>

#include "models/setup.hpp"

namespace bowrise {

/// One thing that can have changed about a craft.
struct Fault {
  std::string_view name;           ///< "ring_gap"
  std::string_view meaning;        ///< in a tuner's words
  std::string_view unit, of_what;  ///< of a size: "mm", "more gap than when sound"
  std::array<double, 6> sizes;     ///< tried, rising from above 0; closer where small
  double prior;                    ///< how often it is met, relative to the others
  double suddenly;                 ///< share of its cases that come from one run or ride to the next
  std::string_view onset;          ///< how it usually comes
  std::string_view check;          ///< what proves it, without running the engine where a hand goes in
  bool on_blades;                  ///< needs a pump described by its blades, not by a measured curve

  /// The setup with this much of the fault. @param sound_top_speed_m_s  NaN where there is none
  Setup (*with)(Setup setup, double size, double sound_top_speed_m_s);
};

/// How a trouble came, as far as the rider knows.
enum class Came { unknown, suddenly, slowly };

/// How often a fault is met that came in this way, relative to the others: its prior where that is not known.
[[nodiscard]] double prior_of(const Fault& fault, Came came);

/// Commonest first. Ranges and onsets: common practice, no source. Priors: a rough tally of how many of about
/// a hundred accounts by owners and workshops named the fault; where none did, engineering judgement. Shares
/// that come suddenly: engineering judgement from the onset.
[[nodiscard]] std::span<const Fault> fault_table();

/// A fault that no input of a setup stands for.
struct HiddenFault {
  std::string_view name, meaning, tell_tale, check;
};
[[nodiscard]] std::span<const HiddenFault> hidden_faults();

}  // namespace bowrise
