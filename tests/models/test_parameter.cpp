// The rows of all inputs: ranges in order, texts present, names and fields of their own.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <cmath>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "models/setup.hpp"

using namespace bowrise;

namespace {

bool is_plain_name(std::string_view name) {
  return !name.empty() && std::islower(static_cast<unsigned char>(name.front())) != 0 &&
         std::all_of(name.begin(), name.end(), [](unsigned char letter) {
           return std::islower(letter) != 0 || std::isdigit(letter) != 0 || letter == '_';
         });
}

bool within(double value, Range range) { return value >= range.low && value <= range.high; }
bool within(Range inner, Range outer) { return within(inner.low, outer) && within(inner.high, outer); }

/// Calls visit(key, row, rows of its part) for every number.
template <class Visit>
void for_each_number(Visit&& visit) {
  for_each_part([&](std::string_view section, auto, const auto& rows, const auto&, const auto&) {
    for (const auto& row : rows) visit(std::string(section) + "." + std::string(row.name), row, rows);
  });
}

}  // namespace

TEST_CASE("parameter: possible holds usual, preset and spread; usual holds preset and spread's preset") {
  std::size_t count = 0;
  for_each_number([&](const std::string& key, const auto& row, const auto&) {
    INFO(key);
    ++count;
    CHECK(std::isfinite(row.possible.low));
    CHECK(std::isfinite(row.possible.high));
    CHECK(row.possible.low < row.possible.high);
    CHECK(row.usual.low < row.usual.high);
    CHECK(within(row.usual, row.possible));
    if (row.preset.kind == Preset::Kind::value) {
      CHECK(within(row.preset.value, row.possible));
      CHECK(within(row.preset.value, row.usual));  // else a scenario that says nothing would be warned
    } else {
      CHECK(std::isnan(row.preset.value));
    }
    if (row.spread.shape == Shape::none) return;
    const Range spread{row.spread.low, row.spread.high};
    CHECK(spread.low < spread.high);
    if (row.spread.shape == Shape::setting) {
      CHECK(spread.low * spread.high == Approx(1.0).epsilon(1e-4));  // a fit begins at the scenario's value
      return;
    }
    CHECK(within(spread, row.possible));
    if (row.preset.kind == Preset::Kind::value) CHECK(within(row.preset.value, spread));
    if (row.spread.shape == Shape::log_uniform) CHECK(spread.low > 0.0);
  });
  CHECK(count > 100);  // the visit went through the whole list
}

TEST_CASE("parameter: every number has a name and a field of its own, a unit, a meaning and a source") {
  std::set<std::string> keys;
  for_each_number([&](const std::string& key, const auto& row, const auto& rows) {
    INFO(key);
    CHECK(is_plain_name(row.name));
    CHECK(keys.insert(key).second);
    CHECK_FALSE(row.unit.empty());
    CHECK(row.meaning.size() > 5);
    CHECK_FALSE(row.source.empty());
    CHECK(row.meaning.back() != '.');
    const auto same_field = [&](const auto& other) { return other.field == row.field; };
    CHECK(std::count_if(rows.begin(), rows.end(), same_field) == 1);
    // "derived: how" is the only explanation a user gets of such a value
    if (row.preset.kind == Preset::Kind::derived) {
      const bool explained = row.meaning.find("derived:") != std::string_view::npos ||
                             row.meaning.find("from the table") != std::string_view::npos;
      CHECK(explained);
    }
  });
}

TEST_CASE("parameter: a count is a whole number everywhere") {
  for_each_number([&](const std::string& key, const auto& row, const auto&) {
    if (row.unit != "count") return;
    INFO(key);
    for (const double value : {row.possible.low, row.possible.high, row.usual.low, row.usual.high})
      CHECK(value == std::round(value));
    if (row.preset.kind == Preset::Kind::value) CHECK(row.preset.value == std::round(row.preset.value));
  });
}

TEST_CASE("parameter: a choice knows its words, and what is set can be read") {
  Setup setup{};
  std::size_t count = 0;
  for_each_part([&](std::string_view section, auto part, const auto&, const auto& choices, const auto&) {
    for (const auto& row : choices) {
      INFO(section << "." << row.name);
      ++count;
      CHECK(is_plain_name(row.name));
      CHECK(row.words.size() >= 2);
      CHECK(std::set<std::string_view>(row.words.begin(), row.words.end()).size() == row.words.size());
      for (const std::string_view word : row.words) CHECK(is_plain_name(word));
      CHECK(row.preset >= 0);
      CHECK(row.preset < static_cast<int>(row.words.size()));
      CHECK_FALSE(row.meaning.empty());
      CHECK_FALSE(row.source.empty());
      for (int word = 0; word < static_cast<int>(row.words.size()); ++word) {
        row.set(setup.*part, word);
        CHECK(row.get(setup.*part) == word);
      }
    }
  });
  CHECK(count >= 4);
}

TEST_CASE("parameter: a table names each column, its unit and its range") {
  std::size_t count = 0;
  for_each_part(
      [&](std::string_view section, auto, const auto& numbers, const auto& choices, const auto& tables) {
        for (const auto& row : tables) {
          INFO(section << "." << row.name);
          ++count;
          CHECK(is_plain_name(row.name));
          CHECK(row.column_names.size() >= 2);
          CHECK(row.column_units.size() == row.column_names.size());
          CHECK(row.possible.size() == row.column_names.size());
          for (const std::string_view name : row.column_names) CHECK(is_plain_name(name));
          for (const std::string_view unit : row.column_units) CHECK_FALSE(unit.empty());
          for (const Range& range : row.possible) CHECK(range.low < range.high);
          CHECK(row.least_rows >= 1);
          CHECK(row.least_rows <= row.most_rows);
          CHECK_FALSE(row.meaning.empty());
          CHECK_FALSE(row.source.empty());
          for (const auto& number : numbers) CHECK(number.name != row.name);
          for (const auto& choice_row : choices) CHECK(choice_row.name != row.name);
        }
        for (const auto& choice_row : choices)
          for (const auto& number : numbers) CHECK(number.name != choice_row.name);
      });
  CHECK(count == 7);
}

TEST_CASE("parameter: every part of the setup is listed once") {
  std::vector<std::string_view> sections;
  for_each_part([&](std::string_view section, auto, const auto&, const auto&, const auto&) {
    CHECK(is_plain_name(section));
    sections.push_back(section);
  });
  CHECK(std::set<std::string_view>(sections.begin(), sections.end()).size() == sections.size());
  std::size_t listed_bytes = 0;
  for_each_part([&](std::string_view, auto part, const auto&, const auto&, const auto&) {
    const Setup setup{};
    listed_bytes += sizeof(setup.*part);
  });
  CHECK(listed_bytes == sizeof(Setup));  // a part without a line would be missing here
}

TEST_CASE("parameter: size of a part from its rows") {
  struct Three {
    double a, b, c;
  };
  struct WithChoices {
    double a;
    int first, second, third;
  };
  CHECK(part_size(3) == sizeof(Three));
  CHECK(part_size(1, 3) == sizeof(WithChoices));
  CHECK(part_size(2, 1, 1) == 2 * sizeof(double) + 8 + sizeof(TableRows));
}
