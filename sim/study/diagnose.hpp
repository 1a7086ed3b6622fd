// Diagnose: which single fault explains what a rider sees of a craft that is no longer what it was.
//
// Each fault is tried at several sizes under the same draws of the uncertain inputs as the sound craft; what
// it shifts is laid against what has shifted. Bayes' rule over the faults: how often a fault is met, times
// how well it meets the numbers on the average over its sizes and the draws. A fault that can explain
// anything thus stands behind one that says just this.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/posterior.hpp"
#include "sim/study/band.hpp"
#include "sim/study/fault_table.hpp"
#include "sim/study/rider_numbers.hpp"

namespace bowrise {

struct DiagnoseOptions {
  std::size_t draws = 16;  ///< a power of two
  std::uint64_t seed = 1;
  unsigned threads = 1;
  Came came = Came::unknown;
};

/// One explanation.
struct Suspect {
  const Fault* fault;        ///< null: the craft is sound
  double probability = 0.0;  ///< of all explanations and `Diagnosis::something_else`
  double evidence = 0.0;     ///< logarithm of the likelihood of the numbers, however common it is
  double misfit = 0.0;       ///< least chi-square of any size and draw
  double stands_out = 0.0;   ///< at a middling size: standard deviations out of the scatter
  std::optional<Band> size;  ///< in the unit of the fault; nothing for the sound craft
  std::vector<std::optional<double>> shows;  ///< what it makes of each number seen; empty: not reached

  [[nodiscard]] std::string_view name() const { return fault == nullptr ? "sound" : fault->name; }
};

/// A number not told yet that two explanations make different.
struct Reading {
  std::size_t result;
  std::optional<double> first, second;  ///< empty: not reached
  double separation;                    ///< difference over its standard deviation
};

struct Diagnosis {
  std::string failure;  ///< why there is no answer; then nothing else is filled
  Came came = Came::unknown;
  std::vector<Seen> seen;
  std::vector<std::size_t> sound_measured;  ///< results of the sound craft that were given
  bool sound_fits = true;  ///< the numbers of the sound craft are such as the scenario's craft can show
  std::vector<std::optional<double>> sound;          ///< what the sound craft shows of each number seen
  std::vector<std::optional<double>> sound_scatter;  ///< standard deviation of that, relative
  std::vector<Suspect> suspects;                     ///< most likely first, the sound craft among them
  double something_else = 0.0;        ///< probability of a fault beyond the table, or of several at once
  bool explained = false;             ///< some single fault, or none, meets the numbers
  std::optional<Reading> next;        ///< what best separates the first two
  const HiddenFault* hint = nullptr;  ///< a fault beyond the physics that the numbers point to
  std::size_t draws = 0, used = 0;

  /// Whether a number seen was given of the sound craft too. @param number  its place in `seen`
  [[nodiscard]] bool measured(std::size_t number) const {
    return std::find(sound_measured.begin(), sound_measured.end(), seen[number].result) !=
           sound_measured.end();
  }
};

/// Fewest and most numbers seen.
inline constexpr std::size_t least_seen = 2, most_seen = 6;

/// Explanations that the numbers do not tell from the first: they make the numbers seen at least half as
/// likely as the first does, or are themselves at least half as likely, and are not negligible.
/// @return places in `suspects`, the first among them; one place when it stands alone
[[nodiscard]] std::vector<std::size_t> not_told_apart(const Diagnosis& answer);

/// A reading separates two explanations from this many standard deviations on.
inline constexpr double clear_separation = 2.0;

/// @param sound  the craft when sound; @param posterior  what a fit knows of its uncertain inputs
/// @param seen  `least_seen` to `most_seen` different results
/// @param measured  the same craft's own numbers when sound, each with a value; may be empty: then the model
/// alone stands for it and the spread of its draws is added to that of the numbers
[[nodiscard]] Diagnosis diagnose(const Setup& sound, std::span<const Seen> seen,
                                 std::span<const Seen> measured, const DiagnoseOptions& options,
                                 const Posterior& posterior = {});

}  // namespace bowrise
