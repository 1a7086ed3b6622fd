#include "sim/output/journal.hpp"

#include <sys/resource.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <filesystem>
#include <vector>

#include "tests/support/folder.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

std::string message_of(const std::function<void()>& action) {
  try {
    action();
  } catch (const NotWritten& error) {
    return error.what();
  }
  return "";
}

/// A disk with room for so many bytes per file.
class SmallDisk {
 public:
  explicit SmallDisk(rlim_t bytes) : old_handler_(std::signal(SIGXFSZ, SIG_IGN)) {
    getrlimit(RLIMIT_FSIZE, &old_);
    const rlimit small{bytes, old_.rlim_max};
    setrlimit(RLIMIT_FSIZE, &small);
  }
  ~SmallDisk() {
    setrlimit(RLIMIT_FSIZE, &old_);
    std::signal(SIGXFSZ, old_handler_);
  }
  SmallDisk(const SmallDisk&) = delete;
  SmallDisk& operator=(const SmallDisk&) = delete;

 private:
  void (*old_handler_)(int);
  rlimit old_{};
};

}  // namespace

TEST_CASE("a table has its own name only when it is complete") {
  const Folder folder;
  const fs::path path = folder.path / "t.csv";
  {
    Journal journal(path, "a,b\n");
    journal.append("1,2\n");
    CHECK_FALSE(fs::exists(path));
    CHECK(content_of(part_of(path)) == "a,b\n1,2\n");  // out of the program before the end
  }
  Journal again(path, "a,b\n");
  again.append("3,4\n5,6\n");
  again.finish();
  CHECK_FALSE(fs::exists(part_of(path)));
  CHECK(content_of(path) == "a,b\n1,2\n3,4\n5,6\n");
}

TEST_CASE("whatever was cut off, whole lines stay and the rest goes") {
  const std::string whole = "a,b\n1,2\n33,\"x,y\"\n";
  for (std::size_t length = 0; length <= whole.size(); ++length) {
    const Folder folder;
    const fs::path path = folder.path / "t.csv";
    folder.put("t.csv.part", whole.substr(0, length));
    Journal(path, "a,b\n").append("end\n");
    const std::size_t kept = length == 0 ? 0 : whole.rfind('\n', length - 1) + 1;  // npos + 1 is 0
    INFO("cut after " << length);
    CHECK(content_of(part_of(path)) == (kept == 0 ? "a,b\n" : whole.substr(0, kept)) + "end\n");
  }
}

TEST_CASE("a table of another sweep is left alone") {
  const Folder folder;
  folder.put("t.csv.part", "c,d\n1,2\n3");
  CHECK(message_of([&] { Journal(folder.path / "t.csv", "a,b\n"); }).find("written by another sweep") !=
        std::string::npos);
  CHECK(content_of(folder.path / "t.csv.part") == "c,d\n1,2\n3");
}

TEST_CASE("a full disk is told, and what was whole can be gone on with") {
  const Folder folder;
  const fs::path path = folder.path / "t.csv";
  {
    Journal journal(path, "a,b\n");
    const SmallDisk disk(10);
    const std::string message = message_of([&] { journal.append("1,2\n3,4\n"); });
    CHECK(message == part_of(path).string() + ": cannot be written: File too large");
  }
  CHECK_FALSE(fs::exists(path));
  Journal journal(path, "a,b\n");
  CHECK(content_of(part_of(path)) == "a,b\n1,2\n");
  journal.append("3,4\n");
  journal.finish();
  CHECK(content_of(path) == "a,b\n1,2\n3,4\n");
}

TEST_CASE("two runs do not write into one folder") {
  const Folder folder;
  const FolderLock first(folder.path);
  CHECK(message_of([&] { FolderLock{folder.path}; }) ==
        folder.path.string() + ": another run is writing into it");
  CHECK(has(message_of([&] { FolderLock{folder.path / "missing"}; }), "No such file"));
}

TEST_CASE("lines of any length are read, an unfinished one is not") {
  const Folder folder;
  const std::string longest(200'000, 'x');
  const fs::path path = folder.put("t", "\n" + longest + "\nshort\nunfinished");
  std::vector<std::string> lines;
  CHECK(read_lines(path, [&](std::string_view line) { lines.emplace_back(line); }));
  CHECK(lines == std::vector<std::string>{"", longest, "short"});
  CHECK_FALSE(read_lines(folder.path / "missing", [](std::string_view) {}));
}

}  // namespace bowrise
