// The layers of the tree, read from its #include lines: physics knows no files, the integrator knows no
// craft, each library stays behind its wall. And what no file of the tree may hold.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <set>

#include "tests/support/folder.hpp"
#include "tests/support/program.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

struct Source {
  std::string name;  ///< from the top of the tree, "models/water.cpp"
  std::string text;
  Words lines, includes;
};

bool starts(const std::string& text, std::string_view with) { return text.rfind(with, 0) == 0; }
bool ends(const std::string& text, std::string_view with) {
  return text.size() >= with.size() && text.compare(text.size() - with.size(), with.size(), with) == 0;
}
bool is_cpp(const std::string& name) { return ends(name, ".cpp") || ends(name, ".hpp"); }

/// What stands between the quotes or brackets of an #include; empty for any other line.
std::string included(const std::string& line) {
  const std::size_t word = line.find("#include");
  if (word == std::string::npos || line.find_first_not_of(" \t") != word) return {};
  const std::size_t open = line.find_first_of("<\"", word);
  if (open == std::string::npos) return {};
  const std::size_t close = line.find_first_of(">\"", open + 1);
  return line.substr(open + 1, close - open - 1);
}

Source read_source(const fs::path& path, const std::string& name) {
  Source source{name, content_of(path), {}, {}};
  source.lines = lines_of(source.text);
  for (const std::string& line : source.lines)
    if (const std::string what = included(line); !what.empty()) source.includes.push_back(what);
  return source;
}

/// Every text file of the tree that belongs to the repository: build folders and hidden folders are left out.
const std::vector<Source>& tree() {
  static const std::vector<Source> all = [] {
    std::vector<Source> found;
    const fs::path top = in_source_tree(".").lexically_normal();
    for (auto entry = fs::recursive_directory_iterator(top); entry != fs::recursive_directory_iterator();
         ++entry) {
      const std::string leaf = entry->path().filename().string();
      if (entry->is_directory() && (starts(leaf, ".git") || starts(leaf, "build") || leaf == "out"))
        entry.disable_recursion_pending();
      if (entry->is_regular_file())
        found.push_back(read_source(entry->path(), fs::relative(entry->path(), top).string()));
    }
    std::sort(found.begin(), found.end(), [](const Source& a, const Source& b) { return a.name < b.name; });
    return found;
  }();
  return all;
}

std::vector<const Source*> sources(std::string_view folder) {
  std::vector<const Source*> found;
  for (const Source& source : tree())
    if (starts(source.name, folder) && is_cpp(source.name)) found.push_back(&source);
  return found;
}

/// Core of the simulation: files directly in sim/.
std::vector<const Source*> sim_core() {
  std::vector<const Source*> found;
  for (const Source* source : sources("sim/"))
    if (source->name.find('/', 4) == std::string::npos) found.push_back(source);
  return found;
}

bool includes_any(const Source& source, const Words& prefixes) {
  return std::any_of(source.includes.begin(), source.includes.end(), [&](const std::string& include) {
    return std::any_of(prefixes.begin(), prefixes.end(),
                       [&](const std::string& prefix) { return starts(include, prefix); });
  });
}

Words files_that_include(const std::string& prefix) {
  Words names;
  for (const Source& source : tree())
    if (is_cpp(source.name) && includes_any(source, {prefix})) names.push_back(source.name);
  return names;
}

/// Headers of the C++ standard library have neither a folder nor an ending; those of its technical
/// specifications have a folder.
bool is_standard(const std::string& include) {
  return include.find_first_of("./") == std::string::npos || starts(include, "experimental/");
}

}  // namespace

TEST_CASE("the tree is read") {
  CHECK(sources("models/").size() > 20);
  CHECK(sim_core().size() > 15);
  CHECK(sources("tools/").size() > 5);
  CHECK(included("#include \"models/water.hpp\"") == "models/water.hpp");
  CHECK(included("  #include <cmath>  // why") == "cmath");
  CHECK(included("// #include <cmath>").empty());
}

TEST_CASE("lanes, which take a second to compile, are included by sources alone") {
  for (const std::string& name : files_that_include("models/lanes.hpp")) {
    INFO(name);
    CHECK(name.ends_with(".cpp"));
  }
}

TEST_CASE("models include models, the standard library, Eigen and Boost.Math only") {
  for (const Source* source : sources("models/"))
    for (const std::string& include : source->includes) {
      INFO(source->name << ": " << include);
      CHECK((starts(include, "models/") || starts(include, "Eigen/") || starts(include, "boost/math/") ||
             is_standard(include)));
    }
}

TEST_CASE("models do no input or output and throw dice nowhere") {
  const std::set<std::string> forbidden{"iostream", "fstream",    "sstream", "ostream", "istream",
                                        "cstdio",   "filesystem", "chrono",  "random",  "thread",
                                        "locale",   "ctime",      "regex"};
  for (const Source* source : sources("models/"))
    for (const std::string& include : source->includes) {
      INFO(source->name << ": " << include);
      CHECK(forbidden.count(include) == 0);
    }
}

TEST_CASE("the core of the simulation knows neither files nor formats") {
  for (const Source* source : sim_core()) {
    INFO(source->name);
    CHECK_FALSE(includes_any(
        *source, {"sim/scenario/", "sim/output/", "sim/study/", "tools/", "yaml-cpp/", "nlohmann/", "CLI/"}));
  }
}

TEST_CASE("the integrator knows no craft") {
  std::size_t seen = 0;
  for (const Source* source : sim_core()) {
    const bool part = source->name == "sim/integrate.hpp" || source->name == "sim/guards.hpp" ||
                      source->name == "sim/rosenbrock.hpp" || source->name == "sim/rosenbrock_types.hpp" ||
                      source->name == "sim/rodas.hpp" || source->name == "sim/small_inverse.hpp" ||
                      source->name == "sim/floating_point.hpp";
    if (!part) continue;
    ++seen;
    INFO(source->name);
    CHECK_FALSE(includes_any(*source, {"models/", "yaml-cpp/", "sim/craft", "sim/evaluate", "sim/state",
                                       "sim/events", "sim/launch"}));
  }
  CHECK(seen >= 2);
}

TEST_CASE("studies know neither files nor formats") {
  for (const Source* source : sources("sim/study/")) {
    INFO(source->name);
    CHECK_FALSE(includes_any(
        *source, {"sim/scenario/", "sim/output/", "tools/", "yaml-cpp/", "nlohmann/", "CLI/", "cstdio"}));
  }
}

TEST_CASE("scenarios know neither results nor the program") {
  for (const Source* source : sources("sim/scenario/")) {
    INFO(source->name);
    CHECK_FALSE(includes_any(*source, {"sim/output/", "tools/", "nlohmann/", "CLI/"}));
  }
  for (const Source* source : sources("sim/output/")) {
    INFO(source->name);
    CHECK_FALSE(includes_any(*source, {"tools/", "yaml-cpp/", "CLI/"}));
  }
}

TEST_CASE("each library stays behind its wall") {
  const Words yaml = files_that_include("yaml-cpp/");
  CHECK(yaml.size() <= 2);
  for (const std::string& name : yaml) CHECK(starts(name, "sim/scenario/"));

  Words json;
  for (const std::string& name : files_that_include("nlohmann/"))
    if (!starts(name, "tests/")) json.push_back(name);
  CHECK(json == Words{"sim/output/json_value.hpp"});
  for (const std::string& name : files_that_include("sim/output/json_value.hpp"))
    CHECK((starts(name, "sim/output/json") && ends(name, ".cpp")));

  CHECK(files_that_include("CLI/") ==
        Words{"tools/bowrise.cpp", "tools/command_line.cpp", "tools/completion.hpp", "tools/manual.hpp"});
  for (const std::string& name : files_that_include("nlopt")) CHECK(starts(name, "sim/study/"));
  for (const std::string& name : files_that_include("catch2/")) CHECK(starts(name, "tests/"));
}

TEST_CASE("every header is guarded, every include starts at the top of the tree") {
  for (const Source& source : tree()) {
    if (!is_cpp(source.name)) continue;
    INFO(source.name);
    if (ends(source.name, ".hpp"))
      CHECK(std::find(source.lines.begin(), source.lines.end(), "#pragma once") != source.lines.end());
    for (const std::string& include : source.includes) {
      INFO(include);
      CHECK_FALSE(starts(include, "."));
      const bool own = starts(include, "models/") || starts(include, "sim/") || starts(include, "tools/") ||
                       starts(include, "tests/");
      if (own) CHECK(fs::exists(in_source_tree(include)));
    }
  }
}

TEST_CASE("no source file is longer than 500 lines") {
  for (const Source& source : tree()) {
    if (!is_cpp(source.name)) continue;
    INFO(source.name << " has " << source.lines.size() << " lines");
    CHECK(source.lines.size() <= 500);
  }
}

TEST_CASE("nothing unfinished and no path of a machine is left in the tree") {
  // put together here, so that this file does not hold them itself
  const Words unfinished{std::string("TO") + "DO", std::string("FIX") + "ME"};
  const Words paths{std::string("/wo") + "rk/", std::string("/tm") + "p/", std::string("/ho") + "me/",
                    std::string("/ro") + "ot/"};
  for (const Source& source : tree()) {
    INFO(source.name);
    for (const std::string& word : unfinished) {
      INFO(word);
      CHECK_FALSE(has(source.text, word));
    }
    const bool may_name_places =
        starts(source.name, "tests/") || ends(source.name, ".sh") || starts(source.name, ".ci/");
    if (may_name_places) continue;
    for (const std::string& path : paths) {
      INFO(path);
      CHECK_FALSE(has(source.text, path));
    }
  }
}

TEST_CASE("physics and simulation read no clock and no dice without a seed") {
  for (const std::string_view folder : {"models/", "sim/"})
    for (const Source* source : sources(folder)) {
      INFO(source->name);
      for (const char* word : {"random_device", "system_clock", "steady_clock", "std::rand(", "setlocale",
                               "getenv", "unordered_"})
        CHECK_FALSE(has(source->text, word));
    }
}

}  // namespace bowrise
