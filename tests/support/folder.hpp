// An empty folder for one test.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <system_error>
#include <vector>

namespace bowrise {

/// A new empty folder, gone with all it holds at the end of the test.
struct Folder {
  std::filesystem::path path = std::filesystem::temp_directory_path() / "bowrise_test_XXXXXX";
  Folder() {
    std::string name = path.string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
  }

  /// Writes a file and returns its path.
  std::filesystem::path put(const std::string& name, const std::string& content) const {
    std::ofstream(path / name, std::ios::binary) << content;
    return path / name;
  }
};

/// What lies in a folder, in alphabetical order.
inline std::vector<std::string> names_in(const std::filesystem::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

inline std::string content_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace bowrise
