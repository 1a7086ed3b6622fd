// bowrise curves: one component over imposed axes.
#include <fmt/format.h>

#include <memory>
#include <optional>

#include "sim/curves.hpp"
#include "sim/output/csv.hpp"
#include "sim/output/json.hpp"
#include "sim/output/text.hpp"
#include "sim/output/whole_file.hpp"
#include "sim/scenario/range.hpp"
#include "tools/verb.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct CurvesArguments {
  ScenarioOptions scenario;
  CommonOptions common;
  std::string kind;
  std::optional<std::string> file;
  std::vector<std::string> at;
  bool csv = false;
};

const CurveRow& kind_of(const std::string& name) {
  std::string known;
  for (const CurveRow& row : curve_rows()) {
    if (row.name == name) return row;
    known += (known.empty() ? "" : ", ") + std::string(row.name);
  }
  throw Stop{bad_input, "bowrise: --of " + name + ": unknown; one of " + known};
}

AxisValues axis_of(const std::string& text, const CurveRow& kind) {
  const auto stop = [&text](const std::string& what) {
    return Stop{bad_input, "--at " + text + ": " + what};
  };
  const auto equals = text.find('=');
  if (equals == std::string::npos)
    throw stop("write AXIS=LOW..HIGH:COUNT or AXIS=VALUE, e.g. speed=5..30m/s:6");
  std::string allowed;
  for (const Axis axis : kind.axes) {
    const AxisRow& row = axis_rows()[static_cast<std::size_t>(axis)];
    allowed += (allowed.empty() ? "" : ", ") + std::string(row.name);
    if (row.name != text.substr(0, equals)) continue;
    auto values = parse_range(text.substr(equals + 1), row.dimension, axis_range(kind.kind, axis));
    if (const auto* error = std::get_if<QuantityError>(&values)) throw stop(error->what);
    return {axis, std::get<std::vector<double>>(values)};
  }
  throw stop("not an axis of --of " + std::string(kind.name) + "; one of " + allowed);
}

Needs needs_of(CurveKind kind) {
  switch (kind) {
    case CurveKind::water:
      return Needs::water;
    case CurveKind::air:
      return Needs::air;
    case CurveKind::engine:
      return Needs::engine;
    case CurveKind::hull:
      return Needs::hull;
    case CurveKind::pump:
    case CurveKind::intake:
    case CurveKind::cavitation:
    case CurveKind::thrust:
      return Needs::pump;
    case CurveKind::cruise:
      break;
  }
  return Needs::run;
}

std::vector<AxisValues> axes_of(const CurvesArguments& options, const CurveRow& kind) {
  std::vector<AxisValues> axes;
  for (const std::string& text : options.at) {
    axes.push_back(axis_of(text, kind));
    for (std::size_t i = 0; i + 1 < axes.size(); ++i)
      if (axes[i].axis == axes.back().axis)
        throw Stop{bad_input, "--at " + text + ": this axis is given twice"};
  }
  const auto given = [&axes](Axis axis) {
    return std::any_of(axes.begin(), axes.end(), [axis](const AxisValues& a) { return a.axis == axis; });
  };
  for (const auto& [one, other] : kind.exclusive)
    if (given(one) && given(other))
      throw Stop{bad_input,
                 fmt::format("bowrise: --of {}: --at {} and --at {} exclude each other; impose one",
                             kind.name, axis_rows()[static_cast<std::size_t>(one)].name,
                             axis_rows()[static_cast<std::size_t>(other)].name)};
  for (const Axis axis : kind.required) {
    if (!given(axis))
      throw Stop{bad_input, fmt::format("bowrise: --of {} needs --at {}=...", kind.name,
                                        axis_rows()[static_cast<std::size_t>(axis)].name)};
  }
  return axes;
}

// A hull with a jet and nothing imposed needs the whole craft; a test hull on its thrust line does not.
Scenario load_for(const CurvesArguments& options, const CurveRow& kind, const std::vector<AxisValues>& axes) {
  Scenario scenario = load(options.scenario, needs_of(kind.kind));
  const bool driven = std::any_of(axes.begin(), axes.end(), [](const AxisValues& a) {
    return a.axis == Axis::shaft_power || a.axis == Axis::shaft_speed;
  });
  const bool jet_unit =
      kind.kind == CurveKind::thrust || kind.kind == CurveKind::intake || kind.kind == CurveKind::cavitation;
  if (jet_unit && !driven && !check(scenario.setup.engine).empty())
    throw Stop{
        bad_input,
        fmt::format(
            "bowrise: --of {}: the scenario has no engine; impose --at shaft_power or --at shaft_speed",
            kind.name)};
  if (kind.kind == CurveKind::hull && !hull_stands_alone(scenario.setup, axes))
    return load(options.scenario, Needs::run);
  return scenario;
}

void run(const CurvesArguments& options) {
  const CurveRow& kind = kind_of(options.kind);
  const std::vector<AxisValues> axes = axes_of(options, kind);
  const Scenario scenario = load_for(options, kind, axes);
  const CurveTable table = curve_table(scenario.setup, kind.kind, axes);
  for (const std::string& point : table.missing)
    std::fprintf(stderr, "no steady answer at %s\n", point.c_str());
  if (table.rows.empty())
    throw Stop{computation_failed,
               "bowrise: no point of this curve has a steady answer; nothing was written"};
  if (options.file)
    if (const auto error = write_whole_file(*options.file, curve_csv(table)))
      throw Stop{not_written, "bowrise: " + *error};
  if (!options.common.quiet)
    print(options.common.json ? curve_json(table) : options.csv ? curve_csv(table) : curve_text(table));
}

std::string kinds_text() {
  std::string text = "Kinds:\n";
  for (const CurveRow& row : curve_rows()) {
    text += fmt::format("  {:<11} {}; axes:", row.name, row.meaning);
    for (const Axis axis : row.axes)
      text += fmt::format(" {}", axis_rows()[static_cast<std::size_t>(axis)].name);
    text += '\n';
  }
  text.pop_back();
  return text;
}

}  // namespace

void add_curves(CLI::App& app) {
  const auto options = std::make_shared<CurvesArguments>();
  Verb verb(app, "curves", "lay a component out over imposed axes, to compare with published tables");
  add_scenario_options(verb, options->scenario);
  add_common_options(verb, options->common);
  verb.add_option("--of", options->kind, "what: see below").required().type("KIND");
  verb.add_option("--at", options->at, "AXIS=LOW..HIGH:COUNT, AXIS=VALUE or AXIS=V1,V2,...; repeatable")
      .type("AXIS=VALUES")
      .repeatable();
  verb.add_flag("--csv", options->csv, "print comma-separated values with all digits");
  verb.add_option("--out", options->file, "write the curve as CSV to this file").type("FILE");
  verb.set_footer(kinds_text());
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
