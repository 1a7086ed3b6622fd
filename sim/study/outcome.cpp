#include "sim/study/outcome.hpp"

#include <algorithm>
#include <stdexcept>

#include "sim/craft.hpp"
#include "sim/launch.hpp"

namespace bowrise {
namespace {

Summary summary_of(const Setup& setup, bool coast, const Tables& offered) {
  const Craft craft = prepare(setup, offered);
  const LaunchOptions options = launch_options(setup, false);
  const Launch run = launch(craft, setup.run, options);
  if (run.end == LaunchEnd::failed) throw std::runtime_error(run.failure);
  Summary summary = summarise(craft, run);
  if (!coast) return summary;
  const Launch down = coast_down(craft, setup.run, options, run.end_state);
  if (down.end == LaunchEnd::failed) throw std::runtime_error("coast-down: " + down.failure);
  summary.coast_down = read_coast_down(down, run.end_state);
  return summary;
}

}  // namespace

Outcome outcome_of(const Summary& summary) {
  Outcome outcome;
  for (const ResultRow& row : result_rows()) outcome.values.push_back(row.get(summary));
  outcome.limited_s = summary.limited_s;
  return outcome;
}

Outcome outcome_of(const Setup& setup, bool coast, const Tables& offered) {
  try {
    return outcome_of(summary_of(setup, coast, offered));
  } catch (const std::runtime_error& error) {
    return {std::vector<std::optional<double>>(result_rows().size()), error.what(), {}};
  }
}

std::optional<std::size_t> find_result(std::string_view name) {
  const auto rows = result_rows();
  const auto found =
      std::find_if(rows.begin(), rows.end(), [&](const auto& row) { return row.name == name; });
  if (found == rows.end()) return std::nullopt;
  return static_cast<std::size_t>(found - rows.begin());
}

std::size_t result_index(std::string_view name) {
  if (const auto index = find_result(name)) return *index;
  throw std::logic_error("no result is called " + std::string(name));
}

}  // namespace bowrise
