#include "sim/output/journal.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <memory>
#include <system_error>
#include <utility>
#include <vector>

namespace bowrise {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const fs::path& path, const std::string& what) {
  throw NotWritten(path.string() + ": " + what);
}

[[noreturn]] void refuse_with_error(const fs::path& path) {
  refuse(path, "cannot be written: " + std::error_code(errno, std::generic_category()).message());
}

/// Length of the file up to the end of its last whole line.
std::uintmax_t whole_lines_bytes(const fs::path& path) {
  std::uintmax_t bytes = 0;
  if (!read_lines(path, [&](std::string_view line) { bytes += line.size() + 1; })) refuse_with_error(path);
  return bytes;
}

std::string first_line(const fs::path& path) {
  std::string first;
  const auto keep_first = [&](std::string_view line) {
    if (first.empty()) first = std::string(line) + "\n";
  };
  return read_lines(path, keep_first) ? first : "";
}

int opened(const fs::path& path, int how) {
  const int file = open(path.c_str(), how | O_CLOEXEC, 0666);
  if (file < 0) refuse_with_error(path);
  return file;
}

}  // namespace

Descriptor::~Descriptor() { close(number); }

FolderLock::FolderLock(const fs::path& directory) : folder_{opened(directory, O_RDONLY | O_DIRECTORY)} {
  // a file system without locks is no reason to stop
  if (flock(folder_.number, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK)
    refuse(directory, "another run is writing into it");
}

Journal::Journal(fs::path path, const std::string& header)
    : path_(std::move(path)), part_(part_of(path_)), file_{opened(part_, O_RDWR | O_CREAT)} {
  const std::uintmax_t bytes = whole_lines_bytes(part_);
  if (bytes > 0 && first_line(part_) != header)
    refuse(part_, "was written by another sweep or another version of the program");
  if (ftruncate(file_.number, static_cast<off_t>(bytes)) != 0 || lseek(file_.number, 0, SEEK_END) < 0)
    refuse_with_error(part_);
  if (bytes == 0) append(header);
}

void Journal::append(std::string_view lines) {
  while (!lines.empty()) {
    const ssize_t written = write(file_.number, lines.data(), lines.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) refuse_with_error(part_);
    lines.remove_prefix(static_cast<std::size_t>(written));
  }
}

void Journal::finish() {
  // the disk has it before the name says that it is complete
  if (fsync(file_.number) != 0 && errno != EINVAL) refuse_with_error(part_);
  if (std::rename(part_.c_str(), path_.c_str()) != 0) refuse_with_error(path_);
}

fs::path part_of(const fs::path& path) { return path.string() + ".part"; }

bool read_lines(const fs::path& path, const std::function<void(std::string_view)>& visit) {
  const auto close_file = [](std::FILE* open_file) { std::fclose(open_file); };
  const std::unique_ptr<std::FILE, decltype(close_file)> file(std::fopen(path.c_str(), "rb"), close_file);
  if (file == nullptr) return false;
  std::vector<char> block(std::size_t{1} << 16);
  std::string line;
  while (const std::size_t got = std::fread(block.data(), 1, block.size(), file.get())) {
    std::string_view rest(block.data(), got);
    for (auto end = rest.find('\n'); end != std::string_view::npos; end = rest.find('\n')) {
      line += rest.substr(0, end);
      visit(line);
      line.clear();
      rest.remove_prefix(end + 1);
    }
    line += rest;
  }
  return std::ferror(file.get()) == 0;
}

}  // namespace bowrise
