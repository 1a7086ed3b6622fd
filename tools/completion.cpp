#include "tools/completion.hpp"

#include <fmt/format.h>

#include <string_view>

#include "sim/keys.hpp"

namespace bowrise::tools {
namespace {

// Names hold no blank and nothing that a shell reads in another way.
constexpr std::string_view script = R"bash(# bash: eval "$(bowrise --bash-completion)"
_bowrise() {{
  local word=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}} options=
  case ${{COMP_WORDS[1]}} in
{verbs}  esac
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "{names} --help --version" -- "$word"))
  elif [[ " {taking_keys} " == *" $before "* ]]; then
    COMPREPLY=($(compgen -W "{keys}" -- "$word"))
  elif [[ $word == -* ]]; then
    COMPREPLY=($(compgen -W "$options" -- "$word"))
  else
    compopt -o filenames 2>/dev/null
    mapfile -t COMPREPLY < <(compgen -d -- "$word"; compgen -f -X '!*.yaml' -- "$word"; compgen -f -X '!*.csv' -- "$word")
  fi
}}
complete -F _bowrise bowrise
)bash";

std::string long_options(const CLI::App& verb) {
  std::string names;
  for (const CLI::Option* const option : verb.get_options())
    for (const std::string& name : option->get_lnames()) names += (names.empty() ? "--" : " --") + name;
  return names;
}

std::string all_key_names() {
  std::string names;
  for (const Key& key : all_keys()) names += (names.empty() ? "" : " ") + key.name;
  return names;
}

}  // namespace

std::string bash_completion(const CLI::App& app) {
  std::string names, verbs;
  for (const CLI::App* const verb : app.get_subcommands([](const CLI::App*) { return true; })) {
    names += (names.empty() ? "" : " ") + verb->get_name();
    verbs += fmt::format("    {}) options=\"{}\" ;;\n", verb->get_name(), long_options(*verb));
  }
  return fmt::format(script, fmt::arg("verbs", verbs), fmt::arg("names", names),
                     fmt::arg("keys", all_key_names()),
                     fmt::arg("taking_keys", "--set --vary --adjust --over"));
}

}  // namespace bowrise::tools
