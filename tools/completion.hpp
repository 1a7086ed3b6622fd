// Completion in bash, made out of the verbs and options of the program itself.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace bowrise::tools {

/// A script that bash evaluates: verbs, options of each, scenario keys after the options that take one, and
/// files.
/// @param app  with all its verbs
[[nodiscard]] std::string bash_completion(const CLI::App& app);

}  // namespace bowrise::tools
