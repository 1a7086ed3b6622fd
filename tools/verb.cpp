#include "tools/verb.hpp"

#include <algorithm>
#include <cstdio>

#include "sim/output/json.hpp"
#include "sim/output/text.hpp"
#include "sim/output/whole_file.hpp"
#include "sim/scenario/layers.hpp"
#include "sim/scenario/range.hpp"
#include "sim/study/outcome.hpp"

namespace bowrise::tools {
namespace {

std::string meant_result(const std::string& typed) {
  std::vector<std::string_view> names;
  for (const ResultRow& row : result_rows()) names.push_back(row.name);
  if (const std::string_view near = nearest_name(names, typed); !near.empty())
    return "; did you mean " + std::string(near) + "?";
  std::string all;
  for (const std::string_view name : names) all += (all.empty() ? "; one of " : ", ") + std::string(name);
  return all;
}

}  // namespace

void add_common_options(Verb& verb, CommonOptions& options) {
  verb.add_flag("--json", options.json, "print the result as JSON");
  verb.add_flag("--quiet", options.quiet, "print nothing on success");
  verb.add_option("--threads", options.threads,
                  "threads for studies; 0: one per core. Results do not depend on it")
      .type("N")
      .between(0, 1024);
}

ScenarioArguments add_scenario_options(Verb& verb, ScenarioOptions& options) {
  Argument path = verb.add_option("SCENARIO", options.path, "scenario file (YAML)").type("FILE").required();
  return {path, add_set_option(verb, options.set)};
}

Argument add_set_option(Verb& verb, std::vector<std::string>& set) {
  return verb
      .add_option("--set", set, "KEY=VALUE over the file, e.g. --set nozzle.exit_diameter=84mm; repeatable")
      .type("KEY=VALUE")
      .repeatable();
}

void add_scenario_list(Verb& verb, std::vector<std::string>& paths, std::vector<std::string>& set,
                       const std::string& how_many) {
  verb.add_option("SCENARIO", paths, "scenario files (YAML), " + how_many).type("FILE").required();
  add_set_option(verb, set);
}

void add_html_option(Verb& verb, std::optional<std::string>& file) {
  verb.add_option("--html", file, "also write the answer as one HTML page; a file of this name is replaced")
      .type("FILE.html");
}

void write_page(const std::string& file, const std::string& page, const CommonOptions& options) {
  if (const auto error = write_whole_file(file, page)) throw Stop{not_written, "bowrise: " + *error};
  if (options.quiet || options.json) return;
  print("Wrote " + file + ", " + std::to_string((page.size() + 999) / 1000) +
        " kB: open it in any browser, no network needed\n");
}

void add_band_options(Verb& verb, BandArguments& options) {
  verb.add_option("--band", options.draws,
                  "draw the uncertain inputs so many times and give 5-95 %: a power of two")
      .type("N")
      .power_of_two();
  verb.add_option("--seed", options.seed, "seed of the draws").type("N").show_preset();
}

BandOptions band_options(const BandArguments& band, const CommonOptions& common) {
  BandOptions options;
  options.draws = band.draws;
  options.seed = band.seed;
  options.threads = thread_count(common.threads);
  return options;
}

Scenario load(const ScenarioOptions& options, Needs needs) {
  ReadOptions read;
  read.needs = needs;
  for (const std::string& text : options.set) {
    const auto equals = text.find('=');
    if (equals == std::string::npos || equals == 0)
      throw Stop{bad_input, "--set " + text + ": write KEY=VALUE, e.g. nozzle.exit_diameter=84mm"};
    read.set.emplace_back(text.substr(0, equals), text.substr(equals + 1));
  }
  auto result = read_scenario(options.path, read);
  if (auto* scenario = std::get_if<Scenario>(&result)) return std::move(*scenario);
  std::string message;
  for (const Complaint& complaint : std::get<std::vector<Complaint>>(result))
    message += (message.empty() ? "" : "\n") + to_string(complaint);
  throw Stop{bad_input, message};
}

const Key& number_key(const std::string& name, const std::string& option) {
  const Key* key = find_key(name);
  if (key == nullptr) throw Stop{bad_input, option + ": " + name + ": " + unknown_key_text(name)};
  if (key->kind != KeyKind::number)
    throw Stop{bad_input, option + ": " + name + ": not a number; only numbers can be varied"};
  return *key;
}

const Key& changeable_key(const Scenario& scenario, const std::string& name, const std::string& option) {
  const Key& key = number_key(name, option);
  const bool from_table = !scenario.setup.engine.torque_table.empty() &&
                          (name == "engine.peak_power" || name == "engine.peak_speed");
  if (from_table)
    throw Stop{bad_input, option + ": comes from engine.torque_table; change engine.power_factor"};
  return key;
}

const PartSizes* part_sizes(const Scenario& scenario, const Key& key) {
  const auto part = std::find_if(scenario.parts.begin(), scenario.parts.end(),
                                 [&](const PartSizes& sizes) { return sizes.key == &key; });
  return part == scenario.parts.end() ? nullptr : &*part;
}

std::vector<double> key_values(const Key& key, const std::string& text, const std::string& option) {
  const Range possible{from_unit(key.possible.low, *key.unit), from_unit(key.possible.high, *key.unit)};
  auto values = parse_range(text, key.unit->dimension, possible);
  if (const auto* error = std::get_if<QuantityError>(&values))
    throw Stop{bad_input, option + ": " + key.name + ": " + error->what};
  std::vector<double> in_unit;
  for (const double value : std::get<std::vector<double>>(values))
    in_unit.push_back(to_unit(value, *key.unit));
  return in_unit;
}

std::size_t result_named(const std::string& name, const std::string& option) {
  if (const auto result = find_result(name)) return *result;
  throw Stop{bad_input, option + ": unknown result" + meant_result(name)};
}

std::pair<std::size_t, double> result_value(const std::string& text, const std::string& option) {
  const auto equals = text.find('=');
  if (equals == std::string::npos || equals == 0)
    throw Stop{bad_input, option + ": write RESULT=VALUE, e.g. top_rpm=7900rpm"};
  const std::string name = text.substr(0, equals);
  const std::size_t result = result_named(name, option);
  const Unit& unit = *find_unit(result_rows()[result].unit);
  const auto value = parse_quantity(text.substr(equals + 1), unit.dimension);
  if (const auto* error = std::get_if<QuantityError>(&value))
    throw Stop{bad_input, option + ": " + name + ": " + error->what};
  return {result, to_unit(std::get<double>(value), unit)};
}

void print(const std::string& text) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0)
    throw Stop{not_written, "bowrise: could not write to standard output"};
}

Contender contender_of(const Scenario& scenario) {
  return {name_of(scenario), scenario.setup, scenario.posterior};
}

}  // namespace bowrise::tools
