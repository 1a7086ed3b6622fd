#include "sim/output/sweep_folder.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>

#include "sim/output/journal.hpp"
#include "sim/output/json.hpp"
#include "sim/output/sweep_csv.hpp"
#include "tests/support/folder.hpp"
#include "tests/support/scenarios.hpp"
#include "tests/support/text.hpp"

namespace bowrise {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t point_count = 6;

SweepPlan small_plan() {
  SweepAxis nozzle, blades;
  nozzle.key = find_key("nozzle.exit_diameter");
  nozzle.values = {82.0, 86.0, 170.0};  // the last one is larger than the bore
  nozzle.low = 82.0;
  nozzle.high = 170.0;
  blades.key = find_key("impeller.blades");
  blades.values = {3.0, 4.0};
  blades.low = 3.0;
  blades.high = 4.0;
  return {test::shipped("supercharged_three_seat", {{"run.duration", "0.5 s"}}), {nozzle, blades}, 0, 1};
}

SweepDefinition definition(Share share = {}) {
  SweepDefinition out;
  out.version = version();
  out.scenario_hash = "0123456789abcdef";
  out.title = "small";
  out.axes = small_plan().axes();
  out.points = point_count;
  out.weights = {{Purpose::life, 1.0}};
  out.share = share;
  return out;
}

void run(const fs::path& folder, FolderUse use, Share share = {}) {
  sweep_into(folder, use, definition(share), small_plan(), {false, 1}, [](std::size_t, std::size_t) {});
}

std::string rows_in(const fs::path& folder) { return content_of(folder / "sweep.csv"); }

template <class Error>
std::string message_of(const std::function<void()>& action) {
  try {
    action();
  } catch (const Error& error) {
    return error.what();
  }
  return "";
}

std::string undisturbed() {
  const Folder folder;
  run(folder.path / "whole", FolderUse::fresh);
  return rows_in(folder.path / "whole");
}

}  // namespace

TEST_CASE("a sweep has a column per axis and result with its unit, and a row per point") {
  const std::string text = undisturbed();
  const std::string header = text.substr(0, text.find('\n'));
  CHECK(header.find("index,nozzle.exit_diameter_mm,impeller.blades,time_to_30_mph_s,") == 0);
  CHECK(has(header, ",top_speed_m_s,top_rpm,"));
  CHECK(has(header, ",rough_time_to_100_m_s,price,reason"));
  CHECK(std::count(text.begin(), text.end(), '\n') == 1 + point_count);
  CHECK(has(text, "\n4,170,3,,"));
  CHECK(has(text, ",\"nozzle.exit_diameter: "));
}

TEST_CASE("a row gives back what ranking needs to the last bit") {
  SweepRow row;
  row.point.index = 12345678901234;
  row.point.values = {0.1 + 0.2, 1e-300};
  row.outcome.values.resize(result_rows().size());
  row.outcome.values[result_index("top_speed")] = 1.0 / 3.0;
  row.point.purposes[static_cast<std::size_t>(Purpose::top)] = 1.0 / 3.0;
  row.point.purposes[static_cast<std::size_t>(Purpose::price)] = 0.0;
  row.outcome.failure = "said \"no\", twice\nand more";
  const std::string line = sweep_line(row);
  CHECK(std::count(line.begin(), line.end(), '\n') == 1);
  CHECK(has(line, ",\"said \"\"no\"\", twice and more\"\n"));
  const auto back = read_sweep_line(std::string_view(line).substr(0, line.size() - 1), 2);
  REQUIRE(back.has_value());
  CHECK(back->index == row.point.index);
  CHECK(back->values == row.point.values);
  CHECK(back->purposes == row.point.purposes);
  CHECK_FALSE(read_sweep_line(line, 40).has_value());
  CHECK_FALSE(read_sweep_line("7,1,2", 2).has_value());
}

TEST_CASE("a sweep cut off anywhere is gone on with to the same bytes") {
  const std::string whole = undisturbed();
  for (std::size_t length = 0; length <= whole.size(); length += length < 40 ? 1 : 53) {
    const Folder folder;
    const fs::path place = folder.path / "cut";
    run(place, FolderUse::fresh);
    fs::remove(place / "sweep.csv");
    std::ofstream(place / "sweep.csv.part", std::ios::binary) << whole.substr(0, length);
    std::ofstream(place / ".ranking.csv.partial0") << "left by a kill";
    run(place, FolderUse::resume);
    INFO("cut after " << length);
    CHECK(rows_in(place) == whole);
    CHECK_FALSE(fs::exists(place / "sweep.csv.part"));
    CHECK_FALSE(fs::exists(place / ".ranking.csv.partial0"));
  }
}

TEST_CASE("a sweep can be gone on with before it began, and after it was complete") {
  const Folder folder;
  run(folder.path / "new", FolderUse::resume);
  CHECK(rows_in(folder.path / "new") == undisturbed());
  run(folder.path / "new", FolderUse::resume);
  CHECK(rows_in(folder.path / "new") == undisturbed());
}

TEST_CASE("folders that cannot be used are refused and left as they are") {
  const Folder folder;
  const fs::path place = folder.path / "a";
  run(place, FolderUse::fresh);
  CHECK(has(message_of<NotWritten>([&] { run(place, FolderUse::fresh); }), "not empty"));
  const auto other = [&] {
    SweepDefinition changed = definition();
    changed.seed = 9;
    sweep_into(place, FolderUse::resume, changed, small_plan(), {false, 1}, [](std::size_t, std::size_t) {});
  };
  CHECK(has(message_of<BadFolder>(other), "holds another sweep: \"seed: 1\" there, \"seed: 9\" now"));
  CHECK(rows_in(place) == undisturbed());

  const Folder foreign;
  foreign.put("letter.txt", "dear");
  CHECK(has(message_of<BadFolder>([&] { run(foreign.path, FolderUse::resume); }), "no sweep to go on with"));

  fs::remove(place / "sweep.csv");
  std::ofstream(place / "sweep.csv.part") << sweep_header(definition().axes) << "5,nonsense\n";
  CHECK(has(message_of<BadFolder>([&] { run(place, FolderUse::resume); }), ":2: not a line of this sweep"));
}

TEST_CASE("parts in any order join to the bytes of the whole") {
  const Folder folder;
  std::vector<std::string> parts;
  for (const std::size_t part : {3, 1, 4, 2}) {
    parts.push_back(folder.path / std::to_string(part));
    run(parts.back(), FolderUse::fresh, {part, 4});
  }
  const fs::path out = folder.path / "out";
  const SweepDefinition whole = merge_parts(parts, out, {});
  CHECK(rows_in(out) == undisturbed());
  CHECK(content_of(out / "definition.txt") == definition_text(definition()));
  CHECK(definition_text(whole) == definition_text(definition()));
  std::size_t seen = 0;
  points_in(out, whole)([&](const SweepPoint& point) { CHECK(point.index == seen++); });
  CHECK(seen == point_count);
}

TEST_CASE("parts that are missing, doubled, unfinished or strangers are refused") {
  const Folder folder;
  const auto part = [&](std::size_t k, std::size_t n) {
    const fs::path place = folder.path / (std::to_string(k) + "of" + std::to_string(n));
    run(place, FolderUse::resume, {k, n});
    return place.string();
  };
  const auto refused = [&](const std::vector<std::string>& parts) {
    const std::string message = message_of<BadFolder>([&] { merge_parts(parts, folder.path / "out", {}); });
    CHECK_FALSE(fs::exists(folder.path / "out"));
    return message;
  };
  CHECK(has(refused({part(1, 3), part(3, 3)}), "part 2 of 3 is missing"));
  CHECK(has(refused({part(2, 3), part(3, 3)}), "part 1 of 3 is missing"));
  CHECK(has(refused({part(1, 3), part(2, 3)}), "part 3 of 3 is missing"));
  CHECK(has(refused({part(1, 3), part(2, 3), part(2, 3), part(3, 3)}), "part 2 is there twice"));
  CHECK(has(refused({part(1, 3), part(2, 3), part(3, 3), part(3, 3)}), "part 3 is there twice"));
  CHECK(has(refused({part(1, 3), part(2, 2)}), "are not parts of one sweep: 3 and 2 parts"));
  CHECK(has(refused({folder.path.string()}), "holds no definition"));
  fs::rename(fs::path(part(2, 3)) / "sweep.csv", fs::path(part(2, 3)) / "sweep.csv.part");
  // `part` would finish it again: name the folder
  CHECK(
      has(refused({part(1, 3), (folder.path / "2of3").string(), part(3, 3)}), "part 2 of 3 is not complete"));
  const auto by_rough = [&] { merge_parts({part(1, 1)}, folder.path / "out", {{Purpose::rough, 1.0}}); };
  CHECK(has(message_of<BadFolder>(by_rough), "cannot be ranked by rough"));
}

}  // namespace bowrise
