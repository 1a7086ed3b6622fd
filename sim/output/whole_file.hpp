// Results reach the disk whole or not at all: written under a temporary name in the same folder, then
// renamed.
#pragma once

#include <filesystem>
#include <optional>
#include <span>
#include <string>

namespace bowrise {

struct WholeFile {
  std::string name;  ///< plain name, no folder
  std::string content;
};

/// Writes all files into an existing directory, replacing files of the same name.
/// @return nothing, or one line that says what could not be written; the directory then holds what it held
/// before
[[nodiscard]] std::optional<std::string> write_whole_files(const std::filesystem::path& directory,
                                                           std::span<const WholeFile> files);

/// The same for one file, named with its folder.
[[nodiscard]] std::optional<std::string> write_whole_file(const std::filesystem::path& path,
                                                          std::string content);

/// Makes sure that results can go into a directory: creates it, parents included. Removes nothing, `force` or
/// not.
/// @param force  accept a directory that already holds something
/// @return nothing, or one line that says why not
[[nodiscard]] std::optional<std::string> prepare_output_directory(const std::filesystem::path& directory,
                                                                  bool force);

}  // namespace bowrise
