// Comparison of setups: every difference to the first, with a band of its own from paired draws, and what to
// make of it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/study/band.hpp"
#include "sim/study/limit_costs.hpp"
#include "sim/study/purpose.hpp"

namespace bowrise {

struct Contender {
  std::string name;
  Setup setup;
  Posterior posterior{};  ///< of a fitted setup
};

/// What a difference means for somebody who has to decide.
enum class Verdict {
  better,     ///< of the same sign in 90 % of the draws and large enough to measure
  worse,      ///< the same the other way
  differs,    ///< sure and measurable, of a result of which neither way is better
  same,       ///< too small for any sensible number of runs to show, over the whole band
  undecided,  ///< the band holds both signs and differences that could be measured
  no_answer   ///< one of the two did not get there
};

/// One result of one setup, less that of the first.
struct Difference {
  std::optional<double> nominal;
  std::optional<Band> band;              ///< of the paired differences; only with draws
  std::optional<std::size_t> runs_each;  ///< runs with each setup that would show it
  Verdict verdict = Verdict::no_answer;
};

struct Comparison {
  std::vector<std::string> names;
  std::vector<Outcome> nominal;                         ///< by setup
  std::vector<PurposeValues> purposes;                  ///< by setup; no price
  std::vector<std::vector<LimitCost>> costs;            ///< by setup: what each limit takes from it
  std::vector<std::vector<std::optional<Band>>> bands;  ///< [setup][result]; empty without draws
  std::vector<std::vector<Difference>> differences;     ///< [setup][result]; that of the first is unused
  std::size_t draws = 0;
  std::vector<std::size_t> failed;  ///< draws without an answer, by setup
};

/// Largest number of runs each that counts as measurable.
inline constexpr std::size_t sensible_runs = 12;

/// @param contenders  at least two; @param options.draws  0: nominal values only
[[nodiscard]] Comparison compare(const std::vector<Contender>& contenders, const BandOptions& options);

}  // namespace bowrise
