// Section `uncertain` of a scenario: what a fit knows of the uncertain inputs, read and written.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "models/setup.hpp"
#include "sim/posterior.hpp"
#include "sim/scenario/layers.hpp"

namespace bowrise {

/// The joint distribution that one file gives; what is wrong with it goes to the complaints.
[[nodiscard]] Posterior posterior_of(const Layer& layer, std::vector<Complaint>& complaints);

/// Section `uncertain`; empty without a posterior.
/// @param setup  the fitted one, for the comments in plain units
[[nodiscard]] std::string posterior_text(const Setup& setup, const Posterior& posterior);

/// What a fitted scenario says beyond the file that it starts from.
struct FittedFile {
  std::string title, note;
  std::string from;                  ///< as `from:` takes it, relative to the new file
  std::vector<const Key*> also_set;  ///< changed for the fit with --set
};
[[nodiscard]] std::string fitted_scenario_text(const FittedFile& file, const Setup& fitted,
                                               const Posterior& posterior);

}  // namespace bowrise
