#include "tools/result_arguments.hpp"

#include <filesystem>
#include <system_error>

#include "sim/output/json.hpp"
#include "sim/scenario/write.hpp"
#include "tools/verb.hpp"

namespace bowrise::tools {

ScenarioOrResult load_scenario_or_result(const std::string& path, const std::vector<std::string>& set) {
  std::error_code ignored;
  if (!std::filesystem::is_directory(path, ignored)) return {load({path, set}, Needs::run), std::nullopt};
  auto read = read_result(path);
  if (const auto* complaint = std::get_if<std::string>(&read))
    throw Stop{bad_input, "bowrise: " + *complaint};
  if (!set.empty())
    throw Stop{bad_input, "bowrise: " + path + ": the result of a run; --set would make another of it"};
  const std::string file = (std::filesystem::path(path) / setup_file).string();
  ScenarioOrResult loaded{load({file, {}}, Needs::run), std::get<StoredResult>(std::move(read))};
  // another version may know other inputs, so that its hash says nothing
  const bool same_inputs =
      loaded.stored->version != version() || loaded.stored->scenario_hash == scenario_hash(loaded.scenario);
  if (!same_inputs)
    throw Stop{bad_input, "bowrise: " + file + ": changed since the run in " + path + "; run it anew"};
  return loaded;
}

}  // namespace bowrise::tools
