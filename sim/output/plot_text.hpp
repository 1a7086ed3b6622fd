// A launch as a chart of characters, for a terminal of 72 columns and a telephone over ssh.
#pragma once

#include <string>

#include "sim/launch.hpp"

namespace bowrise {

/// Speed, shaft speed and head lost to cavitation against time, one below the other, in plain ASCII.
/// @param launch  with rows; without any the text is empty
[[nodiscard]] std::string plot_text(const Launch& launch);

}  // namespace bowrise
