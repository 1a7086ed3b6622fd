#include <sys/resource.h>

#include <array>
#include <catch2/catch.hpp>
#include <csignal>
#include <fstream>
#include <vector>

#include "sim/output/whole_file.hpp"
#include "tests/support/folder.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

void put(const fs::path& path, const std::string& content) {
  std::ofstream(path, std::ios::binary) << content;
}

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("files are written whole and replace old ones, and nothing else is left") {
  const Folder folder;
  put(folder.path / "summary.json", "old");
  const std::string bytes("a\r\n\0b", 5);
  const std::array files{WholeFile{"trace.csv", bytes}, WholeFile{"summary.json", ""}};
  CHECK(write_whole_files(folder.path, files) == std::nullopt);
  CHECK(content_of(folder.path / "trace.csv") == bytes);
  CHECK(content_of(folder.path / "summary.json").empty());
  CHECK(names_in(folder.path) == Names{"summary.json", "trace.csv"});

  CHECK(write_whole_file(folder.path / "page.html", "<p>") == std::nullopt);
  CHECK(content_of(folder.path / "page.html") == "<p>");
}

TEST_CASE("a failure in the middle leaves what was there") {
  const Folder folder;
  put(folder.path / "a.csv", "old a");
  fs::create_directory(folder.path / "c.csv");  // cannot be replaced by a file
  const std::array files{WholeFile{"a.csv", "new a"}, WholeFile{"b.csv", "new b"},
                         WholeFile{"c.csv", "new c"}};
  const auto error = write_whole_files(folder.path, files);
  REQUIRE(error);
  CHECK(*error == (folder.path / "c.csv").string() + ": cannot be written: Is a directory");
  CHECK(content_of(folder.path / "a.csv") == "old a");
  CHECK(names_in(folder.path) == Names{"a.csv", "c.csv"});
}

TEST_CASE("a full disk leaves what was there") {
  const Folder folder;
  put(folder.path / "a.csv", "old a");
  rlimit before{};
  REQUIRE(getrlimit(RLIMIT_FSIZE, &before) == 0);
  const auto handler = std::signal(SIGXFSZ, SIG_IGN);
  const rlimit small{1000, before.rlim_max};
  REQUIRE(setrlimit(RLIMIT_FSIZE, &small) == 0);
  const std::array files{WholeFile{"a.csv", "new a"}, WholeFile{"b.csv", std::string(100000, 'b')}};
  const auto error = write_whole_files(folder.path, files);
  setrlimit(RLIMIT_FSIZE, &before);
  std::signal(SIGXFSZ, handler);
  REQUIRE(error);
  CHECK(error->find("b.csv: cannot be written: ") != std::string::npos);
  CHECK(content_of(folder.path / "a.csv") == "old a");
  CHECK(names_in(folder.path) == Names{"a.csv"});
}

TEST_CASE("names that are no plain names, missing folders and devices are refused") {
  const Folder folder;
  for (const char* name : {"", ".", "..", "a/b", "../a"}) {
    INFO(name);
    CHECK(write_whole_files(folder.path, std::array{WholeFile{name, "x"}}));
  }
  CHECK(write_whole_files(folder.path, std::array{WholeFile{"a", "1"}, WholeFile{"a", "2"}}));
  CHECK(write_whole_files(folder.path / "none", std::array{WholeFile{"a", "1"}}));
  CHECK(names_in(folder.path).empty());

  fs::create_symlink("/dev/null", folder.path / "null");
  CHECK(write_whole_file(folder.path / "null", "x"));
  CHECK(fs::is_symlink(folder.path / "null"));
}

TEST_CASE("leftovers of a killed run do no harm") {
  const Folder folder;
  put(folder.path / ".a.csv.partial0", "left over");
  CHECK(write_whole_files(folder.path, std::array{WholeFile{"a.csv", "new"}}) == std::nullopt);
  CHECK(content_of(folder.path / "a.csv") == "new");
  CHECK(content_of(folder.path / ".a.csv.partial0") == "left over");
}

TEST_CASE("the output directory is made, and a full one only taken by force") {
  const Folder folder;
  const fs::path deep = folder.path / "runs" / "today";
  CHECK(prepare_output_directory(deep, false) == std::nullopt);
  CHECK(fs::is_directory(deep));
  CHECK(prepare_output_directory(deep, false) == std::nullopt);
  put(deep / "trace.csv", "x");
  const auto full = prepare_output_directory(deep, false);
  REQUIRE(full);
  CHECK(*full == deep.string() + ": not empty; give --force to write into it, or name another directory");
  CHECK(prepare_output_directory(deep, true) == std::nullopt);
  CHECK(content_of(deep / "trace.csv") == "x");

  CHECK(prepare_output_directory(deep / "trace.csv", true) ==
        (deep / "trace.csv").string() + ": exists and is not a directory");
  CHECK(prepare_output_directory(deep / "trace.csv" / "below", true));
  CHECK(prepare_output_directory("", false));
  CHECK(prepare_output_directory(folder.path / "with_slash/", false) == std::nullopt);
}

}  // namespace bowrise
