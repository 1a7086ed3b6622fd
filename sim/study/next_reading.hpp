// Which number to read off next: the one that two explanations make most different.
#pragma once

#include <optional>
#include <span>

#include "sim/study/diagnose.hpp"

namespace bowrise {

/// The craft with one fault; without any result where that craft cannot be or be computed.
/// @param drawn  the craft under a draw; @param sound  what it shows without the fault
/// @param offered  as in `outcome_of`
[[nodiscard]] Outcome outcome_with(const Fault& fault, double size, const Setup& drawn, const Outcome& sound,
                                   bool coast, const Tables& offered = {});

/// Compares two explanations, each at its most likely size, in all numbers that a rider can take and has not
/// told yet, under every usable draw.
/// @param drawn  the craft under each draw; @param sound  what it shows then
/// @return nothing when no number is left
[[nodiscard]] std::optional<Reading> next_reading(std::span<const Setup> drawn, const Suspect& first,
                                                  const Suspect& second, std::span<const Seen> seen,
                                                  const Baseline& base, std::span<const Outcome> sound,
                                                  unsigned threads);

}  // namespace bowrise
