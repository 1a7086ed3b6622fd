#include "sim/output/sweep_folder.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <system_error>

#include "sim/output/journal.hpp"
#include "sim/output/json.hpp"
#include "sim/output/json_study.hpp"
#include "sim/output/sweep_csv.hpp"
#include "sim/output/whole_file.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

constexpr std::array own_files{"definition.txt", "sweep.csv", "ranking.csv", "summary.json"};

fs::path definition_file(const fs::path& folder) { return folder / own_files[0]; }
fs::path rows_file(const fs::path& folder) { return folder / own_files[1]; }

void require_written(const std::optional<std::string>& error) {
  if (error) throw NotWritten(*error);
}

/// Names of a file that a killed run had not finished: ".definition.txt.partial0"
bool is_leftover(const std::string& name) {
  return std::any_of(own_files.begin(), own_files.end(), [&](const char* own) {
    const std::string start = "." + std::string(own) + ".";
    return name.starts_with(start + "partial") || name.starts_with(start + "old");
  });
}

/// @return whether anything else is in the folder
bool remove_leftovers(const fs::path& folder) {
  bool holds_something = false;
  std::error_code ignored;
  std::vector<fs::path> leftovers;
  for (const auto& entry : fs::directory_iterator(folder, ignored)) {
    if (is_leftover(entry.path().filename().string()))
      leftovers.push_back(entry.path());
    else
      holds_something = true;
  }
  for (const fs::path& path : leftovers) fs::remove(path, ignored);
  return holds_something;
}

std::string text_of_file(const fs::path& path) {
  std::string text;
  if (!read_lines(path, [&](std::string_view line) { text += std::string(line) + "\n"; })) return "";
  return text;
}

void begin(const fs::path& folder, const SweepDefinition& definition) {
  require_written(write_whole_file(definition_file(folder), definition_text(definition)));
}

void require_fresh(const fs::path& folder) {
  std::error_code ignored;
  if (fs::is_directory(folder, ignored) && !fs::is_empty(folder, ignored))
    throw NotWritten(folder.string() +
                     ": not empty; go on with what is there by --resume, or name another directory");
}

void settle_definition(const fs::path& folder, const SweepDefinition& definition) {
  const bool holds_something = remove_leftovers(folder);
  std::error_code ignored;
  if (!fs::exists(definition_file(folder), ignored)) {
    if (holds_something) throw BadFolder(folder.string() + ": holds files, but no sweep to go on with");
    return begin(folder, definition);
  }
  const std::string difference =
      first_difference(text_of_file(definition_file(folder)), definition_text(definition));
  if (!difference.empty()) throw BadFolder(folder.string() + ": holds another sweep: " + difference);
}

/// Goes through the rows of a table and checks that they are the points from `first` on.
/// @return how many there are
std::size_t read_points(const fs::path& path, const SweepDefinition& definition, std::size_t first,
                        const PointVisitor& visit) {
  std::size_t line_number = 0;
  const std::string header = sweep_header(definition.axes);
  const auto visit_line = [&](std::string_view line) {
    const auto wrong = [&] {
      return BadFolder(fmt::format("{}:{}: not a line of this sweep", path.string(), line_number));
    };
    if (++line_number == 1) {
      if (header != std::string(line) + "\n") throw wrong();
      return;
    }
    const auto point = read_sweep_line(line, definition.axes.size());
    if (!point || point->index != first + line_number - 2) throw wrong();
    visit(*point);
  };
  if (!read_lines(path, visit_line)) throw BadFolder(path.string() + ": cannot be read");
  return line_number == 0 ? 0 : line_number - 1;
}

std::size_t share_begin(const SweepDefinition& d) { return d.share.begin(d.points); }
std::size_t share_end(const SweepDefinition& d) { return d.share.end(d.points); }

SweepDefinition definition_in(const std::string& folder) {
  const auto definition = read_definition(text_of_file(definition_file(folder)));
  if (!definition) throw BadFolder(folder + ": holds no definition of a sweep");
  if (definition->version != version())
    throw BadFolder(folder + ": written by version " + definition->version + ", this is " +
                    std::string(version()));
  return *definition;
}

struct Part {
  std::string folder;
  SweepDefinition definition;
};

std::string without_share(SweepDefinition definition) {
  definition.share = {};
  return definition_text(definition);
}

/// All parts of one sweep by their number.
std::vector<Part> parts_in(const std::vector<std::string>& folders) {
  std::vector<Part> parts;
  for (const std::string& folder : folders) parts.push_back({folder, definition_in(folder)});
  std::stable_sort(parts.begin(), parts.end(), [](const Part& a, const Part& b) {
    return a.definition.share.part < b.definition.share.part;
  });
  const Part& first = parts.front();
  const std::size_t wanted = first.definition.share.parts;
  for (const Part& part : parts) {
    const std::string difference =
        first_difference(without_share(first.definition), without_share(part.definition));
    const Share& share = part.definition.share;
    if (!difference.empty() || share.parts != wanted)
      throw BadFolder(
          fmt::format("{} and {} are not parts of one sweep: {}", first.folder, part.folder,
                      difference.empty() ? fmt::format("{} and {} parts", wanted, share.parts) : difference));
  }
  for (std::size_t number = 1; number <= std::max(wanted, parts.size()); ++number) {
    if (number > parts.size() || parts[number - 1].definition.share.part > number)
      throw BadFolder(fmt::format("part {} of {} is missing", number, wanted));
    if (parts[number - 1].definition.share.part < number)
      throw BadFolder(fmt::format("part {} is there twice: {} and {}", number - 1, parts[number - 2].folder,
                                  parts[number - 1].folder));
  }
  return parts;
}

void require_complete(const Part& part) {
  std::error_code ignored;
  const Share& share = part.definition.share;
  const auto unfinished = [&] {
    return BadFolder(fmt::format("{}: part {} of {} is not complete; finish it with --resume", part.folder,
                                 share.part, share.parts));
  };
  if (!fs::exists(rows_file(part.folder), ignored)) throw unfinished();
  const std::size_t rows = read_points(rows_file(part.folder), part.definition, share_begin(part.definition),
                                       [](const SweepPoint&) {});
  if (rows != share_end(part.definition) - share_begin(part.definition)) throw unfinished();
}

void append_rows(const fs::path& from, Journal& to) {
  constexpr std::size_t block = std::size_t{1} << 16;
  std::string lines;
  bool header = true;
  const bool read = read_lines(from, [&](std::string_view line) {
    if (!header) lines.append(line) += '\n';
    header = false;
    if (lines.size() < block) return;
    to.append(lines);
    lines.clear();
  });
  if (!read) throw BadFolder(from.string() + ": cannot be read");
  to.append(lines);
}

void take_weights(SweepDefinition& definition, const std::vector<Weight>& weights) {
  const bool in_chop = definition.rough();
  if (weights.empty()) return;
  definition.weights = weights;
  if (definition.rough() && !in_chop)
    throw BadFolder("the parts were not launched in chop: they cannot be ranked by rough");
}

}  // namespace

void sweep_into(const fs::path& folder, FolderUse use, const SweepDefinition& definition,
                const SweepPlan& plan, const SweepOptions& options, const Progress& progress) {
  if (use == FolderUse::fresh) require_fresh(folder);
  require_written(prepare_output_directory(folder, true));
  const FolderLock lock(folder);
  settle_definition(folder, definition);
  std::error_code ignored;
  if (fs::exists(rows_file(folder), ignored)) return;
  const std::size_t begin = share_begin(definition), end = share_end(definition);
  Journal journal(rows_file(folder), sweep_header(definition.axes));
  const std::size_t there =
      read_points(part_of(rows_file(folder)), definition, begin, [](const SweepPoint&) {});
  if (there > end - begin) throw BadFolder(part_of(rows_file(folder)).string() + ": holds too many rows");
  std::size_t done = there;
  run_sweep(plan, begin + there, end, options, [&](std::span<const SweepRow> rows) {
    std::string lines;
    for (const SweepRow& row : rows) lines += sweep_line(row);
    journal.append(lines);
    done += rows.size();
    progress(done, end - begin);
  });
  journal.finish();
}

Points points_in(const fs::path& folder, const SweepDefinition& definition) {
  return [=](const PointVisitor& visit) {
    const std::size_t rows = read_points(rows_file(folder), definition, share_begin(definition), visit);
    if (rows != share_end(definition) - share_begin(definition))
      throw BadFolder(rows_file(folder).string() + ": rows are missing");
  };
}

SweepDefinition merge_parts(const std::vector<std::string>& folders, const fs::path& out,
                            const std::vector<Weight>& weights) {
  const std::vector<Part> parts = parts_in(folders);
  for (const Part& part : parts) require_complete(part);
  SweepDefinition whole = parts.front().definition;
  whole.share = {};
  whole.sensitivity = 0;  // asks for launches of its own, which nobody makes here
  take_weights(whole, weights);
  require_fresh(out);
  require_written(prepare_output_directory(out, true));
  const FolderLock lock(out);
  begin(out, whole);
  Journal journal(rows_file(out), sweep_header(whole.axes));
  for (const Part& part : parts) append_rows(rows_file(part.folder), journal);
  journal.finish();
  return whole;
}

void write_answers(const fs::path& folder, const SweepDefinition& definition, const Ranking& ranking,
                   const std::optional<Sensitivity>& sensitivity) {
  const std::array files{WholeFile{own_files[2], ranking_csv(definition.axes, ranking)},
                         WholeFile{own_files[3], sweep_json(definition, ranking, sensitivity)}};
  require_written(write_whole_files(folder, files));
}

}  // namespace bowrise
