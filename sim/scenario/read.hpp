// A scenario file, the files it starts from and --set options -> a checked Setup with the origin of every
// value.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "models/setup.hpp"
#include "sim/keys.hpp"
#include "sim/posterior.hpp"
#include "sim/scenario/document.hpp"

namespace bowrise {

/// Where the value of a key comes from.
struct Origin {
  enum class Kind { preset, file, command_line, worked_out };
  Kind kind = Kind::preset;
  Place place;  ///< of the value; empty for presets and what is derived without having been asked for
};

/// "preset", "derived", "lake.yaml:14:18" or "--set nozzle.exit_diameter=84 mm"
[[nodiscard]] std::string to_string(const Origin& origin);

/// The sizes in which a part can be bought.
struct PartSizes {
  const Key* key;
  std::vector<double> sizes;    ///< rising, in the unit of the key's row
  std::optional<double> price;  ///< of fitting any of them instead of what is there; in the user's money
};

struct Scenario {
  Setup setup;
  std::string title, note;  ///< empty when not given; the outermost file that gives one wins
  std::map<std::string, Origin, std::less<>>
      origin;                    ///< by key; a required key that was not needed is absent
  std::vector<PartSizes> parts;  ///< in the order of `all_keys`
  Posterior posterior;           ///< what a fit knows of the uncertain inputs; empty without one
  std::vector<Complaint> warnings;
  std::vector<std::string> files;  ///< the file asked for, the one it starts from, ...
};

/// Which required keys must be there, and which parts are checked. `run` needs all and checks the whole
/// craft; a test hull (`hull`: craft and hull) needs no pump, a pump rig (`pump`: pump, impeller, stage_2) no
/// hull, `engine` an engine, the rest nothing.
enum class Needs { run, hull, pump, engine, water, air };

struct ReadOptions {
  std::vector<std::pair<std::string, std::string>>
      set;  ///< key and text of each --set; they win over the files
  Needs needs = Needs::run;
};

/// Reads, checks and resolves a scenario.
/// @return the scenario, or everything that is wrong with it (never empty, no warnings among it): file by
/// file in the order of lines, then --set, then what is missing. Throws nothing but std::bad_alloc.
[[nodiscard]] std::variant<Scenario, std::vector<Complaint>> read_scenario(const std::filesystem::path& path,
                                                                           const ReadOptions& options = {});

/// The same with the content of the file at hand; `path` names it and is where its `from` starts.
[[nodiscard]] std::variant<Scenario, std::vector<Complaint>> read_scenario_text(
    std::string text, const std::filesystem::path& path, const ReadOptions& options = {});

}  // namespace bowrise
