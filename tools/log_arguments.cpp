#include "tools/log_arguments.hpp"

#include <map>

#include "sim/scenario/log.hpp"
#include "tools/verb.hpp"

namespace bowrise::tools {
namespace {

constexpr std::size_t most_samples = 20'000;

std::map<std::string, std::string, std::less<>> by_quantity(const std::vector<std::string>& texts,
                                                            const std::string& option) {
  std::map<std::string, std::string, std::less<>> map;
  for (const std::string& text : texts) {
    const auto equals = text.find('=');
    const std::string quantity = text.substr(0, equals);
    if (equals == std::string::npos || equals + 1 == text.size() || !is_log_quantity(quantity))
      throw Stop{bad_input, option + " " + text + ": write QUANTITY=TEXT with one of " + log_quantities()};
    if (!map.emplace(quantity, text.substr(equals + 1)).second)
      throw Stop{bad_input, option + " " + text + ": given twice; keep one"};
  }
  return map;
}

template <class Value>
Value sound(std::variant<Value, Complaint> result) {
  if (const auto* complaint = std::get_if<Complaint>(&result)) throw Stop{bad_input, to_string(*complaint)};
  return std::get<Value>(std::move(result));
}

void set_courses(const std::vector<std::string>& words, std::vector<LoggedRun>& runs) {
  if (words.empty()) return;
  if (words.size() != runs.size())
    throw Stop{bad_input, "--course: the logs hold " + std::to_string(runs.size()) +
                              " runs; write out or back for each"};
  for (std::size_t i = 0; i < words.size(); ++i) runs[i].course = words[i] == words[0] ? 1.0 : -1.0;
}

}  // namespace

LoggedRuns runs_in(const LogArguments& options) {
  const LogOptions mapping{by_quantity(options.columns, "--column"), by_quantity(options.units, "--unit")};
  LoggedRuns out;
  std::size_t samples = 0;
  for (const std::string& path : options.paths) {
    const Log log = sound(read_log(path, mapping));
    for (const std::string& note : log.notes) out.notes.push_back(path + ": " + note);
    for (LoggedRun& run : sound(runs_of(log))) {
      samples += run.samples.size();
      for (const std::string& note : run.notes) out.notes.push_back(run.name + ": " + note);
      out.runs.push_back(std::move(run));
    }
  }
  if (samples > most_samples)
    throw Stop{bad_input, "bowrise: the runs hold more than 20000 samples; fit fewer of them"};
  set_courses(options.course, out.runs);
  return out;
}

}  // namespace bowrise::tools
