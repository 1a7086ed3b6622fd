#include "sim/keys.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <utility>

namespace bowrise {
namespace {

template <class Part>
Key number_key(Part Setup::*part, const Parameter<Part>& row) {
  Key key{};
  key.kind = KeyKind::number;
  key.unit = find_unit(row.unit);
  key.preset = row.preset;
  key.possible = row.possible;
  key.usual = row.usual;
  key.spread = row.spread;
  key.instead_of = row.instead_of;
  key.read_number = [part, field = row.field](const Setup& setup) { return setup.*part.*field; };
  key.write_number = [part, field = row.field](Setup& setup, double value) { setup.*part.*field = value; };
  return key;
}

template <class Part>
Key choice_key(Part Setup::*part, const Choice<Part>& row) {
  Key key{};
  key.kind = KeyKind::choice;
  key.words = row.words;
  key.preset_word = row.preset;
  key.read_word = [part, get = row.get](const Setup& setup) { return get(setup.*part); };
  key.write_word = [part, set = row.set](Setup& setup, int index) { set(setup.*part, index); };
  return key;
}

template <class Part>
Key table_key(Part Setup::*part, const TableParameter<Part>& row) {
  Key key{};
  key.kind = KeyKind::table;
  for (std::size_t i = 0; i < row.column_names.size(); ++i) {
    key.columns.push_back({row.column_names[i], find_unit(row.column_units[i]), row.possible[i]});
  }
  key.least_rows = row.least_rows;
  key.most_rows = row.most_rows;
  key.instead_of = row.instead_of;
  key.read_table = [part, field = row.field](const Setup& setup) -> const TableRows& {
    return setup.*part.*field;
  };
  key.write_table = [part, field = row.field](Setup& setup, TableRows rows) {
    setup.*part.*field = std::move(rows);
  };
  return key;
}

struct KeyList {
  std::vector<Key> keys;
  std::vector<std::string_view> sections;
};

const KeyList& key_list() {
  static const KeyList list = [] {
    KeyList built;
    const auto add = [&built](std::string_view section, const auto& row, Key key) {
      key.name = std::string{section} + "." + std::string{row.name};
      key.section = section;
      key.local_name = row.name;
      key.meaning = row.meaning;
      key.source = row.source;
      built.keys.push_back(std::move(key));
    };
    for_each_part([&](std::string_view section, auto part, const auto& numbers, const auto& choices,
                      const auto& tables) {
      built.sections.push_back(section);
      for (const auto& row : numbers) add(section, row, number_key(part, row));
      for (const auto& row : choices) add(section, row, choice_key(part, row));
      for (const auto& row : tables) add(section, row, table_key(part, row));
    });
    return built;
  }();
  return list;
}

constexpr std::size_t longest_name = 64;

/// Letters to insert, delete, replace or swap with a neighbour; or any number from `enough` up where they are
/// not fewer. A hostile file may hold thousands of names to compare with every key, so what cannot be near is
/// left early.
std::size_t letters_off(std::string_view typed, std::string_view name, std::size_t enough) {
  if (typed.size() > longest_name || name.size() > longest_name) return 2 * longest_name;
  if (std::max(typed.size(), name.size()) - std::min(typed.size(), name.size()) >= enough) return enough;
  std::array<std::array<std::size_t, longest_name + 1>, 3> rows{};
  std::iota(rows[0].begin(), rows[0].end(), std::size_t{0});
  std::size_t least_before = 0;
  for (std::size_t i = 1; i <= typed.size(); ++i) {
    auto& row = rows[i % 3];
    const auto &before = rows[(i + 2) % 3], &second_before = rows[(i + 1) % 3];
    // further from the diagonal lie only values from `enough` up
    const std::size_t first = i > enough ? i - enough : 1, last = std::min(i + enough, name.size());
    row[first - 1] = first == 1 ? i : enough;
    if (last < name.size()) row[last + 1] = enough;
    std::size_t least = row[first - 1];
    for (std::size_t j = first; j <= last; ++j) {
      const std::size_t change = typed[i - 1] == name[j - 1] ? 0 : 1;
      row[j] = std::min({before[j - 1] + change, before[j] + 1, row[j - 1] + 1});
      const bool swapped = i > 1 && j > 1 && typed[i - 1] == name[j - 2] && typed[i - 2] == name[j - 1];
      if (swapped) row[j] = std::min(row[j], second_before[j - 2] + 1);
      least = std::min(least, row[j]);
    }
    // every way to the end leaves from this row, or from the one before by a swap
    if (std::min(least, least_before + 1) >= enough) return enough;
    least_before = least;
  }
  return rows[typed.size() % 3][name.size()];
}

/// More letters off than this and a guess would only confuse.
std::size_t farthest_guess(std::string_view typed) {
  return typed.size() > longest_name ? 0 : std::max<std::size_t>(typed.size() / 3, 1);
}

}  // namespace

std::span<const Key> all_keys() { return key_list().keys; }

std::span<const std::string_view> all_sections() { return key_list().sections; }

const Key* find_key(std::string_view name) {
  const auto keys = all_keys();
  const auto found = std::find_if(keys.begin(), keys.end(), [&](const Key& key) { return key.name == name; });
  return found == keys.end() ? nullptr : &*found;
}

const Key* nearest_key(std::string_view typed) {
  const std::size_t dot = typed.rfind('.');
  const std::string_view local = dot == std::string_view::npos ? typed : typed.substr(dot + 1);
  const Key* nearest = nullptr;
  std::size_t least = 2 * (farthest_guess(local) + 1);  // in half letters
  for (const Key& key : all_keys()) {
    constexpr std::size_t other_section = 3;  // one slip within the section is likelier than a wrong section
    const auto consider = [&](std::string_view said, std::string_view name, std::size_t handicap) {
      if (least <= handicap) return;
      const std::size_t off = 2 * letters_off(said, name, (least - handicap + 1) / 2) + handicap;
      if (off >= least) return;
      least = off;
      nearest = &key;
    };
    consider(typed, key.name, 0);
    consider(local, key.local_name, other_section);
  }
  return nearest;
}

std::string_view nearest_name(std::span<const std::string_view> names, std::string_view typed) {
  std::string_view nearest;
  std::size_t least = farthest_guess(typed) + 1;
  for (const std::string_view name : names) {
    const std::size_t off = letters_off(typed, name, least);
    if (off < least) {
      least = off;
      nearest = name;
    }
  }
  return nearest;
}

double get_SI(const Setup& setup, const Key& key) { return key.read_number(setup); }
void set_SI(Setup& setup, const Key& key, double value) { key.write_number(setup, value); }
double get_in_unit(const Setup& setup, const Key& key) { return to_unit(get_SI(setup, key), *key.unit); }
void set_in_unit(Setup& setup, const Key& key, double value) {
  set_SI(setup, key, from_unit(value, *key.unit));
}

bool has_value(const Setup& setup, const Key& key) {
  if (key.kind == KeyKind::number) return !std::isnan(get_SI(setup, key));
  return key.kind == KeyKind::choice || !key.read_table(setup).empty();
}

void set_preset(Setup& setup, const Key& key) {
  if (key.kind == KeyKind::number) set_in_unit(setup, key, key.preset.value);
  if (key.kind == KeyKind::choice) key.write_word(setup, key.preset_word);
  if (key.kind == KeyKind::table) key.write_table(setup, {});
}

Setup preset_setup() {
  Setup setup{};
  for (const Key& key : all_keys()) set_preset(setup, key);
  return setup;
}

}  // namespace bowrise
