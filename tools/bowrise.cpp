// bowrise: the program. Parses arguments, calls one function of the library, chooses a writer, returns the
// exit code.
#include <CLI/CLI.hpp>
#include <array>
#include <cstdio>
#include <exception>
#include <memory>
#include <new>
#include <string>

#include "tools/completion.hpp"
#include "tools/manual.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace {

using namespace bowrise;

constexpr std::array verbs{tools::add_run,      tools::add_check, tools::add_curves,   tools::add_compare,
                           tools::add_match,    tools::add_sweep, tools::add_throttle, tools::add_wear,
                           tools::add_diagnose, tools::add_fit,   tools::add_report,   tools::add_parameters};

int complain(tools::ExitCode code, const std::string& message) {
  std::fprintf(stderr, "%s\n", message.c_str());
  return code;
}

/// What is wrong with the command line: a first word that is no verb before anything that follows from it.
std::string usage_error(const CLI::App& app, int argc, char** argv, const CLI::ParseError& error) {
  const std::string first = argc > 1 ? argv[1] : "";
  const auto all = app.get_subcommands([](const CLI::App*) { return true; });
  std::string names;
  bool known = first.empty() || first.front() == '-';
  for (const CLI::App* verb : all) {
    known = known || verb->get_name() == first;
    names += (names.empty() ? "" : ", ") + verb->get_name();
  }
  if (!known) return first + ": no such verb; one of " + names;
  return argc > 1 ? std::string(error.what()) : "no verb; one of " + names;
}

int run(int argc, char** argv) {
  CLI::App app{"Predicts launch, rpm and top speed of a jet-pump personal watercraft for a proposed setup.",
               "bowrise"};
  app.formatter(std::make_shared<tools::ManualFormatter>());  // verbs take it over
  app.set_help_flag("-h,--help", "this text");                // and this
  app.set_version_flag("--version", tools::version_text(), "version and licence");
  app.require_subcommand(1);
  for (const auto add : verbs) add(app);
  const auto print_completion = [&app] {
    tools::print(tools::bash_completion(app));
    throw CLI::Success{};
  };
  app.add_flag_callback("--bash-completion", print_completion,
                        "print what bash needs to complete verbs and options");
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& wanted) {
    return app.exit(wanted);
  } catch (const CLI::ParseError& error) {
    return complain(tools::bad_input,
                    "bowrise: " + usage_error(app, argc, argv, error) + "; see bowrise --help");
  }
  return tools::done;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(argc, argv);
  } catch (const bowrise::tools::Stop& stop) {
    return complain(stop.code, stop.message);
  } catch (const std::bad_alloc&) {
    return complain(tools::computation_failed, "bowrise: out of memory");
  } catch (const std::exception& error) {
    return complain(tools::computation_failed, std::string("bowrise: ") + error.what());
  }
}
