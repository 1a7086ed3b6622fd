#include "sim/output/whole_file.hpp"

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <system_error>
#include <vector>

namespace bowrise {
namespace {

namespace fs = std::filesystem;

std::string refusal(const fs::path& path, const std::string& why) { return path.string() + ": " + why; }

std::string refusal(const fs::path& path, const std::error_code& error) {
  return refusal(path, "cannot be written: " + error.message());
}

std::error_code last_error() { return {errno, std::generic_category()}; }

/// Files that are removed again unless their names are taken off the list.
struct TemporaryFiles {
  std::vector<fs::path> paths;

  TemporaryFiles() = default;
  TemporaryFiles(const TemporaryFiles&) = delete;
  TemporaryFiles& operator=(const TemporaryFiles&) = delete;
  ~TemporaryFiles() {
    std::error_code ignored;
    for (const fs::path& path : paths) {
      if (!path.empty()) fs::remove(path, ignored);
    }
  }
};

/// Creates a file that nobody else has, beside `target`; leftovers of a killed run are stepped over.
std::FILE* create_beside(const fs::path& target, const std::string& purpose, fs::path& created) {
  constexpr int most_leftovers = 1000;
  for (int i = 0; i < most_leftovers; ++i) {
    std::string name = ".";
    name.append(target.filename().string()).append(".").append(purpose).append(std::to_string(i));
    created = target.parent_path() / name;
    std::FILE* const file = std::fopen(created.c_str(), "wbx");
    if (file != nullptr || errno != EEXIST) return file;
  }
  return nullptr;
}

std::error_code write_temporary(const fs::path& target, const std::string& content,
                                TemporaryFiles& temporary) {
  fs::path path;
  std::FILE* const file = create_beside(target, "partial", path);
  if (file == nullptr) return last_error();
  temporary.paths.push_back(path);
  std::error_code error;
  if (std::fwrite(content.data(), 1, content.size(), file) != content.size()) error = last_error();
  if (std::fclose(file) != 0 && !error) error = last_error();
  return error;
}

/// A second name, or else a copy, of what stands under `target`; an empty path when nothing does.
std::error_code keep_old(const fs::path& target, TemporaryFiles& old) {
  std::error_code error;
  old.paths.emplace_back();
  if (!fs::is_regular_file(target, error)) return {};
  fs::path path;
  std::FILE* const file = create_beside(target, "old", path);
  if (file == nullptr) return last_error();
  std::fclose(file);
  old.paths.back() = path;
  fs::remove(path, error);
  fs::create_hard_link(target, path, error);
  if (error) fs::copy_file(target, path, error);  // some file systems know no second names
  return error;
}

/// Only files are replaced: neither directories nor devices.
std::error_code not_replaceable(const fs::path& target) {
  std::error_code ignored;
  const fs::file_status status = fs::status(target, ignored);
  if (!fs::exists(status) || fs::is_regular_file(status)) return {};
  return std::make_error_code(fs::is_directory(status) ? std::errc::is_a_directory
                                                       : std::errc::operation_not_permitted);
}

/// Renames every temporary to its target, or puts the old files back.
std::optional<std::string> put_in_place(const std::vector<fs::path>& targets, TemporaryFiles& temporary) {
  TemporaryFiles old;
  for (const fs::path& target : targets) {
    if (const std::error_code error = keep_old(target, old)) return refusal(target, error);
  }
  for (std::size_t i = 0; i < targets.size(); ++i) {
    std::error_code error = not_replaceable(targets[i]);
    if (!error) fs::rename(temporary.paths[i], targets[i], error);
    if (!error) {
      temporary.paths[i].clear();
      continue;
    }
    for (std::size_t done = i; done-- > 0;) {
      std::error_code ignored;
      if (old.paths[done].empty()) {
        fs::remove(targets[done], ignored);
      } else {
        fs::rename(old.paths[done], targets[done], ignored);
        old.paths[done].clear();  // should even this fail, the old content stays under its second name
      }
    }
    return refusal(targets[i], error);
  }
  return std::nullopt;
}

bool is_plain_name(const std::string& name) {
  return !name.empty() && name != "." && name != ".." && name.find('/') == std::string::npos &&
         name.find('\0') == std::string::npos;
}

}  // namespace

std::optional<std::string> write_whole_files(const fs::path& directory, std::span<const WholeFile> files) {
  TemporaryFiles temporary;
  std::vector<fs::path> targets;
  for (const WholeFile& file : files) {
    const fs::path target = directory / file.name;
    if (!is_plain_name(file.name)) return refusal(target, "not a plain file name");
    if (std::find(targets.begin(), targets.end(), target) != targets.end()) {
      return refusal(target, "would be written twice");
    }
    targets.push_back(target);
  }
  for (std::size_t i = 0; i < files.size(); ++i) {
    if (const std::error_code error = write_temporary(targets[i], files[i].content, temporary)) {
      return refusal(targets[i], error);
    }
  }
  return put_in_place(targets, temporary);
}

std::optional<std::string> write_whole_file(const fs::path& path, std::string content) {
  const WholeFile file{path.filename().string(), std::move(content)};
  const fs::path directory = path.parent_path();
  return write_whole_files(directory.empty() ? fs::path{"."} : directory, {&file, 1});
}

std::optional<std::string> prepare_output_directory(const fs::path& directory, bool force) {
  if (directory.empty()) return "the output directory has no name";
  std::error_code error;
  const fs::file_status status = fs::status(directory, error);
  if (fs::exists(status) && !fs::is_directory(status)) {
    return refusal(directory, "exists and is not a directory");
  }
  if (!fs::exists(status)) {
    fs::create_directories(directory, error);
    std::error_code ignored;
    if (!fs::is_directory(directory, ignored)) {
      return refusal(directory, "cannot be created: " + error.message());
    }
    return std::nullopt;
  }
  const bool empty = fs::is_empty(directory, error);
  if (error) return refusal(directory, "cannot be read: " + error.message());
  if (!empty && !force) {
    return refusal(directory, "not empty; give --force to write into it, or name another directory");
  }
  return std::nullopt;
}

}  // namespace bowrise
