// bowrise sweep: many setups, ranked; resumable, and divisible over machines.
#include <algorithm>
#include <memory>
#include <optional>

#include "sim/output/journal.hpp"
#include "sim/output/json_study.hpp"
#include "sim/output/page_studies.hpp"
#include "sim/output/sweep_folder.hpp"
#include "sim/output/sweep_text.hpp"
#include "sim/output/text.hpp"
#include "tools/progress.hpp"
#include "tools/sweep_arguments.hpp"
#include "tools/verbs.hpp"

namespace bowrise::tools {
namespace {

struct SweepCommand {
  SweepArguments sweep;
  CommonOptions common;
  std::optional<std::string> out, resume, html;
  std::vector<std::string> merge;
};

constexpr std::size_t most_in_memory = 100'000;

void answer(const SweepCommand& options, const SweepDefinition& definition, const Points& points,
            const std::optional<Sensitivity>& sensitivity, const std::optional<std::string>& folder) {
  const Ranking ranking = rank(points, definition.weights);
  if (folder) write_answers(*folder, definition, ranking, sensitivity);
  if (ranking.ranked == 0)
    throw Stop{computation_failed, "bowrise: sweep: no point has a value for every purpose that counts"};
  if (!options.common.quiet)
    print(options.common.json ? sweep_json(definition, ranking, sensitivity)
                              : sweep_text(definition, ranking, sensitivity) + cautions_text());
  if (!options.html) return;
  const SweepOverview overview = overview_of(points, definition.points, definition.axes);
  write_page(*options.html, sweep_page(definition, ranking, overview, sensitivity), options.common);
}

void merge(const SweepCommand& options) {
  if (!options.out) throw Stop{bad_input, "bowrise: sweep --merge needs --out DIR"};
  const SweepDefinition whole = merge_parts(options.merge, *options.out, weights_of(options.sweep.rank));
  answer(options, whole, points_in(*options.out, whole), std::nullopt, options.out);
}

/// Runs the points of this share; they are then read from their folder or from memory.
Points swept_points(const SweepCommand& options, const PlannedSweep& sweep, const SweepOptions& how,
                    const std::optional<std::string>& folder) {
  ProgressLine line(options.common.quiet);
  const Progress show = [&](std::size_t done, std::size_t total) { line.show(done, total); };
  if (folder) {
    sweep_into(*folder, options.resume ? FolderUse::resume : FolderUse::fresh, sweep.definition, sweep.plan,
               how, show);
    return points_in(*folder, sweep.definition);
  }
  const KeptSweep kept = keep_sweep(sweep.plan, how, show);
  line.clear();
  if (!options.common.quiet && !kept.first_failure.empty())
    std::fprintf(stderr, "without a result: %s\n", kept.first_failure.c_str());
  return [points = kept.points](const PointVisitor& visit) {
    std::for_each(points.begin(), points.end(), visit);
  };
}

void sweep(const SweepCommand& options) {
  const std::optional<std::string> folder = options.resume ? options.resume : options.out;
  const PlannedSweep planned = planned_sweep(options.sweep);
  const SweepDefinition& definition = planned.definition;
  const bool in_parts = definition.share.parts > 1;
  if (!folder && in_parts) throw Stop{bad_input, "bowrise: sweep --part needs --out DIR"};
  if (options.html && in_parts)
    throw Stop{bad_input, "bowrise: sweep --html goes with the whole, not with --part; give it to --merge"};
  if (!folder && definition.points > most_in_memory)
    throw Stop{bad_input, "bowrise: sweep: more than 100000 points go to a folder; give --out DIR"};
  const SweepOptions how{definition.rough(), thread_count(options.common.threads)};
  const Points points = swept_points(options, planned, how, folder);
  if (in_parts) return;  // the ranking belongs to the whole: --merge
  std::optional<Sensitivity> sensitivity;
  if (definition.sensitivity > 0)
    sensitivity =
        sensitivity_of(planned.plan, definition.sensitivity, definition.seed, how.rough, how.threads);
  answer(options, definition, points, sensitivity, folder);
}

void run(const SweepCommand& options) {
  try {
    options.merge.empty() ? sweep(options) : merge(options);
  } catch (const NotWritten& error) {
    throw Stop{not_written, std::string("bowrise: ") + error.what()};
  } catch (const BadFolder& error) {
    throw Stop{bad_input, std::string("bowrise: ") + error.what()};
  }
}

}  // namespace

void add_sweep(CLI::App& app) {
  const auto options = std::make_shared<SweepCommand>();
  Verb verb(app, "sweep", "try many setups: which part first for which purpose, and which input matters");
  const std::vector<Argument> of_a_sweep = add_sweep_arguments(verb, options->sweep);
  add_common_options(verb, options->common);
  add_html_option(verb, options->html);
  const Argument out =
      verb.add_option("--out", options->out, "write every point and the ranking into this new directory")
          .type("DIR");
  const Argument resume =
      verb.add_option("--resume", options->resume, "go on in a directory of --out with the same sweep")
          .type("DIR")
          .excludes(out);
  Argument merge = verb.add_option("--merge", options->merge,
                                   "join the directories of all parts; needs --out, no scenario")
                       .type("DIR...")
                       .excludes(resume);
  for (const Argument& option : of_a_sweep) merge.excludes(option);
  verb.set_footer(
      "Purposes: holeshot (time to 30 mph), top (steady top speed), rough (100 m in 0.3 m of chop: a second\n"
      "launch a point, made only when rough is ranked), life (wear index), price (of the parts that "
      "differ).");
  verb.set_action([options] { run(*options); });
}

}  // namespace bowrise::tools
