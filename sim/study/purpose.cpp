#include "sim/study/purpose.hpp"

#include <algorithm>

namespace bowrise {
namespace {

// clang-format off
constexpr std::array<PurposeRow, purpose_count> rows{
    PurposeRow{"holeshot", "time_to_30_mph", "s", "time from rest to 30 mph", Better::low},
    PurposeRow{"top", "top_speed", "m/s", "steady top speed", Better::high},
    PurposeRow{"rough", "rough_time_to_100_m", "s", "time over the first 100 m in 0.3 m of chop", Better::low},
    PurposeRow{"life", "wear_index", "s", "wear index of a launch", Better::low},
    PurposeRow{"price", "price", "1", "price of the parts that differ from the scenario's", Better::low}};
// clang-format on

std::string text_of(const Problem& problem) {
  return problem.key + ": " + problem.what + (problem.allowed.empty() ? "" : "; " + problem.allowed);
}

std::optional<double>& value_for(PurposeValues& values, Purpose purpose) {
  return values[static_cast<std::size_t>(purpose)];
}

}  // namespace

std::span<const PurposeRow> purpose_rows() { return rows; }

const PurposeRow& row_of(Purpose purpose) { return purpose_rows()[static_cast<std::size_t>(purpose)]; }

std::optional<Purpose> find_purpose(std::string_view name) {
  const auto found =
      std::find_if(rows.begin(), rows.end(), [&](const PurposeRow& row) { return row.name == name; });
  if (found == rows.end()) return std::nullopt;
  return static_cast<Purpose>(found - rows.begin());
}

Trial trial_of(const Setup& setup, bool rough, const Tables& offered) {
  Trial trial;
  if (const Problems problems = check(setup); !problems.empty()) {
    trial.outcome = {std::vector<std::optional<double>>(result_rows().size()), text_of(problems.front()), {}};
    return trial;
  }
  trial.outcome = outcome_of(setup, false, offered);
  for (const Purpose purpose : {Purpose::holeshot, Purpose::top, Purpose::life})
    value_for(trial.purposes, purpose) =
        trial.outcome.values[result_index(rows[static_cast<std::size_t>(purpose)].measure)];
  if (!rough || trial.outcome.failed()) return trial;
  Setup in_chop = setup;
  in_chop.water.chop_height_m = rough_chop_m;
  const Outcome outcome = outcome_of(in_chop, false, offered);
  value_for(trial.purposes, Purpose::rough) = outcome.values[result_index("time_to_100_m")];
  if (outcome.failed()) trial.outcome.failure = "in chop: " + outcome.failure;
  return trial;
}

}  // namespace bowrise
