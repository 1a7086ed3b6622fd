#include "tools/manual.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

#include "sim/output/cautions.hpp"
#include "sim/output/json.hpp"
#include "tools/manual_pages.hpp"

namespace bowrise::tools {
namespace {

struct OptionGroup {
  std::string name;
  std::vector<std::string_view> options;  ///< what is in none is of the question itself
};

const std::array<OptionGroup, 4>& groups() {
  static const std::array<OptionGroup, 4> all{
      {{"Question", {}},
       {"How sure", {"--band", "--seed"}},
       {"Output", {"--json", "--csv", "--quiet", "--plot", "--html", "--out", "--force"}},
       {"Program", {"--threads", "--help", "--version", "--bash-completion"}}}};
  return all;
}

const OptionGroup& group_of(const CLI::Option& option) {
  const auto names_it = [&](std::string_view name) { return option.check_name(std::string(name)); };
  for (const OptionGroup& group : groups())
    if (std::any_of(group.options.begin(), group.options.end(), names_it)) return group;
  return groups().front();
}

}  // namespace

std::string ManualFormatter::make_description(const CLI::App* app) const {
  const ManualPage* const page = manual_page(app->get_name());
  const std::string first = CLI::Formatter::make_description(app);
  return page == nullptr ? first : first + "\n" + std::string(page->purpose) + "\n\n";
}

std::string ManualFormatter::make_help(const CLI::App* app, std::string name, CLI::AppFormatMode mode) const {
  if (mode == CLI::AppFormatMode::Sub) return CLI::Formatter::make_help(app, std::move(name), mode);
  return make_description(app) + make_usage(app, std::move(name)) + make_positionals(app) +
         option_groups(app) + make_subcommands(app, mode) + "\n" + make_footer(app);
}

std::string ManualFormatter::option_groups(const CLI::App* app) const {
  std::string text;
  for (const OptionGroup& group : groups()) {
    const std::vector<const CLI::Option*> options = app->get_options([&](const CLI::Option* option) {
      return option->nonpositional() && !option->get_group().empty() && &group_of(*option) == &group;
    });
    if (!options.empty()) text += make_group(group.name, false, options);
  }
  return text;
}

std::string ManualFormatter::make_footer(const CLI::App* app) const {
  std::string text = app->get_footer().empty() ? "" : app->get_footer() + "\n\n";
  if (const ManualPage* const page = manual_page(app->get_name())) {
    text += "Examples:\n";
    for (const std::string_view example : page->examples) text += "  " + std::string(example) + "\n";
    text += "\nSee also: " + std::string(page->see_also) + "\n\n";
  }
  text +=
      "Quantities carry their unit: 84mm, 250hp, 24degC, 7600rpm, 3deg, 8mph.\n"
      "Exit codes: 0 done, 1 computation failed, 2 bad input or usage, 3 could not write.\n\n";
  for (const std::string_view caution : cautions) text += std::string(caution) + "\n";
  return text;
}

std::string version_text() {
  return "bowrise " + std::string(version()) + "\nLicence: Apache-2.0, no warranty";
}

}  // namespace bowrise::tools
