#include "tools/command_line.hpp"

#include <CLI/CLI.hpp>
#include <bit>
#include <charconv>
#include <system_error>

#include "tools/manual.hpp"

namespace bowrise::tools {
namespace {

std::string complaint_unless_power_of_two(const std::string& text) {
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc{} && end == text.data() + text.size();
  if (whole && std::has_single_bit(value) && value >= 2 && value <= 65536) return {};
  return "write a power of two from 2 to 65536, e.g. 256";
}

}  // namespace

Argument& Argument::type(const std::string& shown) {
  option_->type_name(shown);
  return *this;
}

Argument& Argument::required(bool yes) {
  option_->required(yes);
  return *this;
}

Argument& Argument::repeatable() {
  option_->allow_extra_args(false);
  return *this;
}

Argument& Argument::split_at_commas() {
  option_->delimiter(',');
  return *this;
}

Argument& Argument::show_preset() {
  option_->capture_default_str();
  return *this;
}

Argument& Argument::one_of(const std::vector<std::string>& words) {
  option_->check(CLI::IsMember(words));
  return *this;
}

Argument& Argument::between(std::uint64_t low, std::uint64_t high) {
  option_->check(CLI::Range(low, high).description(""));
  return *this;
}

Argument& Argument::power_of_two() {
  option_->check(CLI::Validator(complaint_unless_power_of_two, ""));
  return *this;
}

Argument& Argument::excludes(const Argument& other) {
  option_->excludes(other.option_);
  return *this;
}

Verb::Verb(CLI::App& program, const std::string& name, const std::string& purpose)
    : verb_(program.add_subcommand(name, purpose)) {
  verb_->set_version_flag("--version", version_text(), "version and licence");
}

Argument Verb::add_option(const std::string& name, std::string& into, const std::string& meaning) {
  return Argument(verb_->add_option(name, into, meaning));
}

Argument Verb::add_option(const std::string& name, std::optional<std::string>& into,
                          const std::string& meaning) {
  return Argument(verb_->add_option(name, into, meaning));
}

Argument Verb::add_option(const std::string& name, std::vector<std::string>& into,
                          const std::string& meaning) {
  return Argument(verb_->add_option(name, into, meaning));
}

Argument Verb::add_option(const std::string& name, int& into, const std::string& meaning) {
  return Argument(verb_->add_option(name, into, meaning));
}

Argument Verb::add_option(const std::string& name, std::uint64_t& into, const std::string& meaning) {
  return Argument(verb_->add_option(name, into, meaning));
}

Argument Verb::add_flag(const std::string& name, bool& into, const std::string& meaning) {
  return Argument(verb_->add_flag(name, into, meaning));
}

void Verb::set_footer(const std::string& text) { verb_->footer(text); }

void Verb::set_action(const std::function<void()>& action) { verb_->callback(action); }

}  // namespace bowrise::tools
