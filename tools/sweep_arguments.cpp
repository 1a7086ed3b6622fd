#include "tools/sweep_arguments.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <tuple>

#include "sim/output/json.hpp"
#include "sim/scenario/write.hpp"

namespace bowrise::tools {
namespace {

bool is_count(const Key& key) { return key.unit->dimension == Dimension::count; }

std::vector<double> sizes_of(const Scenario& scenario, const Key& key, const std::string& option) {
  const PartSizes* const part = part_sizes(scenario, key);
  if (part == nullptr)
    throw Stop{bad_input, option +
                              ": the scenario lists no sizes of it under parts:; write KEY=LOW..HIGH:COUNT "
                              "or KEY=V1,V2,..."};
  return part->sizes;
}

/// Ends of a range that is drawn from; a count behind it means nothing here.
void set_range(SweepAxis& axis, std::string text, const std::string& option) {
  if (text.find(':') == std::string::npos) text += ":2";
  const std::vector<double> values = key_values(*axis.key, text, option);
  std::tie(axis.low, axis.high) = std::minmax(values.front(), values.back());
  axis.is_range = true;
}

/// Evenly spaced in the unit of the row, where they are shown: in SI 70 mm would become 69.99999999999999.
std::vector<double> spaced_values(const Key& key, const std::string& text, const std::string& option) {
  std::vector<double> values = key_values(key, text, option);
  const double low = values.front(), high = values.back(), steps = static_cast<double>(values.size() - 1);
  for (std::size_t i = 0; i + 1 < values.size(); ++i)
    values[i] = low + (high - low) * static_cast<double>(i) / steps;
  return values;
}

void require_whole(const SweepAxis& axis, const std::string& option) {
  const auto is_whole = [](double value) { return value == std::round(value); };
  const bool whole = axis.is_range ? is_whole(axis.low) && is_whole(axis.high)
                                   : std::all_of(axis.values.begin(), axis.values.end(), is_whole);
  if (is_count(*axis.key) && !whole)
    throw Stop{bad_input, option + ": " + axis.key->name + " is a count; every value must be a whole number"};
}

SweepAxis axis_of(const Scenario& scenario, const std::string& text, bool samples) {
  const std::string option = "--vary " + text;
  const auto equals = text.find('=');
  SweepAxis axis;
  axis.key = &changeable_key(scenario, text.substr(0, equals), option);
  const std::string values = equals == std::string::npos ? "" : text.substr(equals + 1);
  if (equals == std::string::npos)
    axis.values = sizes_of(scenario, *axis.key, option);
  else if (values.find("..") == std::string::npos)
    axis.values = key_values(*axis.key, values, option);
  else if (samples)
    set_range(axis, values, option);
  else
    axis.values = spaced_values(*axis.key, values, option);
  require_whole(axis, option);
  if (const PartSizes* const part = part_sizes(scenario, *axis.key)) axis.price = part->price;
  return axis;
}

std::vector<SweepAxis> axes_of(const Scenario& scenario, const SweepArguments& arguments) {
  if (arguments.vary.empty())
    throw Stop{bad_input, "bowrise: sweep needs --vary, e.g. --vary nozzle.exit_diameter=82..90mm:5"};
  std::vector<SweepAxis> axes;
  for (const std::string& text : arguments.vary) {
    axes.push_back(axis_of(scenario, text, arguments.samples > 0));
    for (std::size_t i = 0; i + 1 < axes.size(); ++i) {
      if (axes[i].key == axes.back().key)
        throw Stop{bad_input, "--vary " + text + ": this key is given twice"};
      if (says_the_same(*axes[i].key, *axes.back().key))
        throw Stop{bad_input, "--vary " + text + ": says the same as " + axes[i].key->name + "; keep one"};
    }
  }
  const auto varies = [&](std::string_view name) {
    return std::any_of(axes.begin(), axes.end(), [&](const SweepAxis& a) { return a.key->name == name; });
  };
  for (const SweepAxis& axis : axes)
    if (axis.key->section == "stage_2" && scenario.setup.pump.stages != 2.0 && !varies("pump.stages"))
      throw Stop{bad_input, "--vary " + axis.key->name + ": pump.stages is 1, there is no second stage"};
  return axes;
}

std::vector<Weight> usual_weights(const std::vector<SweepAxis>& axes) {
  std::vector<Weight> weights{
      {Purpose::holeshot, 1.0}, {Purpose::top, 1.0}, {Purpose::rough, 1.0}, {Purpose::life, 1.0}};
  if (std::any_of(axes.begin(), axes.end(), [](const SweepAxis& axis) { return axis.price.has_value(); }))
    weights.push_back({Purpose::price, 1.0});
  return weights;
}

template <class Number>
bool read_number(std::string_view text, Number& number) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  return error == std::errc{} && end == text.data() + text.size();
}

Share share_of(const std::string& text) {
  constexpr std::size_t most_parts = 1'000'000;
  const auto slash = text.find('/');
  Share share;
  const bool read = slash != std::string::npos &&
                    read_number(std::string_view(text).substr(0, slash), share.part) &&
                    read_number(std::string_view(text).substr(slash + 1), share.parts);
  if (!read || share.part < 1 || share.part > share.parts || share.parts > most_parts)
    throw Stop{bad_input, "--part " + text + ": write K/N with K from 1 to N, e.g. 2/8"};
  return share;
}

Weight weight_of(const std::string& text) {
  const std::string option = "--rank " + text;
  const auto equals = text.find('=');
  if (equals == std::string::npos) throw Stop{bad_input, option + ": write PURPOSE=WEIGHT, e.g. holeshot=2"};
  const auto purpose = find_purpose(text.substr(0, equals));
  if (!purpose) {
    std::string names;
    for (const PurposeRow& row : purpose_rows()) names += (names.empty() ? "" : ", ") + std::string(row.name);
    throw Stop{bad_input, option + ": no such purpose; one of " + names};
  }
  Weight weight{*purpose, 0.0};
  if (!read_number(std::string_view(text).substr(equals + 1), weight.weight) ||
      !std::isfinite(weight.weight) || weight.weight < 0.0)
    throw Stop{bad_input,
               option + ": a weight is a number from 0 up; 0 counts for the undominated set alone"};
  return weight;
}

}  // namespace

std::vector<Argument> add_sweep_arguments(Verb& verb, SweepArguments& arguments) {
  auto [path, set] = add_scenario_options(verb, arguments.scenario);
  path.required(false);  // not to join parts
  std::vector<Argument> of_a_sweep{path, set};
  of_a_sweep.push_back(
      verb.add_option("--vary", arguments.vary,
                      "KEY=LOW..HIGH:COUNT, KEY=V1,V2,... or KEY alone: the sizes listed under "
                      "parts: in the scenario; repeatable, all combinations are tried")
          .type("KEY=VALUES")
          .repeatable());
  of_a_sweep.push_back(
      verb.add_option("--samples", arguments.samples,
                      "so many evenly spread points instead of all combinations; best a power of "
                      "two. Ranges are then LOW..HIGH")
          .type("N")
          .between(1, most_points));
  of_a_sweep.push_back(verb.add_option("--seed", arguments.seed, "seed of the samples and of --sensitivity")
                           .type("N")
                           .show_preset());
  verb.add_option("--rank", arguments.rank,
                  "PURPOSE=WEIGHT, repeatable. Without it every purpose counts alike; see below")
      .type("PURPOSE=WEIGHT")
      .repeatable();
  of_a_sweep.push_back(
      verb.add_option("--sensitivity", arguments.sensitivity,
                      "which input matters: each alone, and Sobol indices from N base points, a "
                      "power of two; N x (inputs + 2) launches more")
          .type("N")
          .power_of_two());
  of_a_sweep.push_back(
      verb.add_option("--part", arguments.part,
                      "run only the K-th of N shares of the points, to be joined by --merge; needs --out")
          .type("K/N"));
  return of_a_sweep;
}

std::vector<Weight> weights_of(const std::vector<std::string>& rank) {
  std::vector<Weight> weights;
  double sum = 0.0;
  for (const std::string& text : rank) {
    weights.push_back(weight_of(text));
    sum += weights.back().weight;
    for (std::size_t i = 0; i + 1 < weights.size(); ++i)
      if (weights[i].purpose == weights.back().purpose)
        throw Stop{bad_input, "--rank " + text + ": this purpose is given twice"};
  }
  if (!rank.empty() && sum == 0.0) throw Stop{bad_input, "bowrise: --rank: no weight is above 0"};
  // one order whatever the order typed: the same ranking is the same text
  std::sort(weights.begin(), weights.end(),
            [](const Weight& a, const Weight& b) { return a.purpose < b.purpose; });
  return weights;
}

PlannedSweep planned_sweep(const SweepArguments& arguments) {
  if (arguments.scenario.path.empty()) throw Stop{bad_input, "bowrise: sweep: SCENARIO is required"};
  const Scenario scenario = load(arguments.scenario, Needs::run);
  SweepPlan plan(scenario.setup, axes_of(scenario, arguments), arguments.samples, arguments.seed);
  if (!plan.count()) throw Stop{bad_input, "bowrise: sweep: more than a thousand million points"};
  SweepDefinition definition;
  definition.version = version();
  definition.scenario_hash = scenario_hash(scenario);
  definition.title = scenario.title.empty()
                         ? std::filesystem::path(scenario.files.front()).filename().string()
                         : scenario.title;
  definition.axes = plan.axes();
  definition.samples = arguments.samples;
  definition.seed = arguments.seed;
  definition.points = *plan.count();
  definition.weights = weights_of(arguments.rank);
  if (definition.weights.empty()) definition.weights = usual_weights(plan.axes());
  definition.sensitivity = arguments.sensitivity;
  definition.share = share_of(arguments.part);
  if (definition.share.parts > 1 && definition.sensitivity > 0)
    throw Stop{bad_input,
               "bowrise: sweep --part: --sensitivity belongs to the whole; ask for it in a run of its own"};
  if (std::none_of(plan.axes().begin(), plan.axes().end(),
                   [](const SweepAxis& a) { return a.price.has_value(); }))
    for (const Weight& weight : definition.weights)
      if (weight.purpose == Purpose::price)
        throw Stop{bad_input,
                   "--rank price: no varied part has a price; give them under parts: in the scenario"};
  // as a later run will read it, so that this one cannot say anything else
  return {std::move(plan), *read_definition(definition_text(definition))};
}

}  // namespace bowrise::tools
