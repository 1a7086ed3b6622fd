// A long table that grows on disk and can be gone on with after the program was killed at any moment: rows
// go to NAME.part, which takes its own name only when it is complete.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <stdexcept>
#include <string>
#include <string_view>

namespace bowrise {

/// Something could not be written; one line that says what and why.
struct NotWritten : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// An open file or folder, closed at the end.
struct Descriptor {
  explicit Descriptor(int opened) : number(opened) {}
  ~Descriptor();
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  int number;
};

/// Keeps other runs of the program out of a folder while it lives, where the file system can.
class FolderLock {
 public:
  /// @throws NotWritten when another run is in it
  explicit FolderLock(const std::filesystem::path& directory);

 private:
  Descriptor folder_;
};

/// NAME.part, cut after its last whole line and open at its end; new ones get the header.
class Journal {
 public:
  /// @param header  the first line, with its end
  /// @throws NotWritten when it cannot be opened or holds another header
  Journal(std::filesystem::path path, const std::string& header);

  /// Whole lines only. They have left the program when this returns: a kill does not lose them.
  /// @throws NotWritten
  void append(std::string_view lines);

  /// Gives the file its own name. Nothing may be appended after it. @throws NotWritten
  void finish();

 private:
  std::filesystem::path path_, part_;
  Descriptor file_;
};

/// Name under which a table grows.
[[nodiscard]] std::filesystem::path part_of(const std::filesystem::path& path);

/// Calls the visitor with each line of a file, without its end; an unfinished last line is left out.
/// @return whether the file could be read
bool read_lines(const std::filesystem::path& path, const std::function<void(std::string_view)>& visit);

}  // namespace bowrise
