// The folder of a sweep: definition.txt says what it is, sweep.csv holds a row per point, ranking.csv and
// summary.json what they come to. A sweep that was killed is gone on with; parts are joined.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "sim/output/sweep_definition.hpp"
#include "sim/study/ranking.hpp"
#include "sim/study/sensitivity.hpp"
#include "sim/study/sweep.hpp"

namespace bowrise {

/// A folder that cannot be used as asked; one line that says why. Nothing in it was changed.
struct BadFolder : std::runtime_error {
  using std::runtime_error::runtime_error;
};

enum class FolderUse {
  fresh,  ///< must be new or empty
  resume  ///< goes on with the same sweep; begins it where there is nothing yet
};

/// Runs the share of a sweep into a folder, until sweep.csv is complete.
/// @throws NotWritten, BadFolder
void sweep_into(const std::filesystem::path& folder, FolderUse use, const SweepDefinition& definition,
                const SweepPlan& plan, const SweepOptions& options, const Progress& progress);

/// The points of a complete sweep.csv. Reading throws BadFolder when it is not the one of this definition.
[[nodiscard]] Points points_in(const std::filesystem::path& folder, const SweepDefinition& definition);

/// Joins all parts of a sweep, in any order, into a new folder: the bytes of a run in one piece.
/// @param weights  rank by these and not by those of the parts; empty: by the same
/// @return the definition of the whole; @throws NotWritten, BadFolder
SweepDefinition merge_parts(const std::vector<std::string>& folders, const std::filesystem::path& out,
                            const std::vector<Weight>& weights);

/// Writes ranking.csv and summary.json. @throws NotWritten
void write_answers(const std::filesystem::path& folder, const SweepDefinition& definition,
                   const Ranking& ranking, const std::optional<Sensitivity>& sensitivity);

}  // namespace bowrise
