// The command line as a verb describes it: its options and what it does. The parser library stays behind
// this wall, because its header takes a compiler longer than a verb itself.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace bowrise::tools {

/// An option or a positional argument that was added to a verb; each call tells more of it.
class Argument {
 public:
  explicit Argument(CLI::Option* option) : option_(option) {}

  Argument& type(const std::string& shown);  ///< what --help shows for the value
  Argument& required(bool yes = true);
  Argument& repeatable();  ///< given again for every further value
  Argument& split_at_commas();
  Argument& show_preset();  ///< in --help
  Argument& one_of(const std::vector<std::string>& words);
  Argument& between(std::uint64_t low, std::uint64_t high);  ///< of a whole number
  Argument& power_of_two();  ///< from 2 to 65536, for numbers of draws or samples
  Argument& excludes(const Argument& other);

 private:
  CLI::Option* option_;
};

/// A verb that was added to the program, with --help and --version. What its arguments are read into must
/// live as long as the program.
class Verb {
 public:
  Verb(CLI::App& program, const std::string& name, const std::string& purpose);

  /// @param name  "--html" of an option, "LOG" of a positional argument
  Argument add_option(const std::string& name, std::string& into, const std::string& meaning);
  Argument add_option(const std::string& name, std::optional<std::string>& into, const std::string& meaning);
  Argument add_option(const std::string& name, std::vector<std::string>& into, const std::string& meaning);
  Argument add_option(const std::string& name, int& into, const std::string& meaning);
  Argument add_option(const std::string& name, std::uint64_t& into, const std::string& meaning);
  Argument add_flag(const std::string& name, bool& into, const std::string& meaning);

  void set_footer(const std::string& text);  ///< under the options in --help
  void set_action(const std::function<void()>& action);

 private:
  CLI::App* verb_;
};

}  // namespace bowrise::tools
