// bowrise parameters: every key, generated from the rows beside the models.
#include <memory>

#include "sim/output/json.hpp"
#include "sim/output/text.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {

void add_parameters(CLI::App& app) {
  const auto options = std::make_shared<CommonOptions>();
  Verb verb(app, "parameters", "list every scenario key: unit, preset, ranges, meaning, source");
  add_common_options(verb, *options);
  verb.set_action([options] {
    if (!options->quiet) print(options->json ? parameters_json() : parameters_text());
  });
}

}  // namespace bowrise::tools
