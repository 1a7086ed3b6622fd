#include "sim/scenario/write.hpp"

#include <cstddef>
#include <vector>

#include "sim/key_text.hpp"
#include "sim/scenario/uncertain.hpp"

namespace bowrise {
namespace {

constexpr std::string_view hexadecimal = "0123456789abcdef";

/// A comment that stays on its line whatever the name of a file is.
std::string comment(std::string text) {
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';
  }
  return "  # " + text;
}

std::string entry(const Setup& setup, const Key& key, const std::string& remark) {
  const std::string start = "  " + std::string{key.local_name} + ":";
  if (key.kind != KeyKind::table) return start + " " + text_of(setup, key) + remark + "\n";
  std::string text = start + remark + "\n";
  for (const std::vector<double>& row : key.read_table(setup)) {
    text += "    - [";
    const std::vector<std::string> cells = cell_texts(key, row);
    for (std::size_t i = 0; i < cells.size(); ++i) text += (i == 0 ? "" : ", ") + cells[i];
    text += "]\n";
  }
  return text;
}

/// The key that says the same in another way; empty if none does.
std::string said_by(const Setup& setup, const Key& key) {
  for (const Key& other : all_keys()) {
    if (other.section != key.section || !has_value(setup, other)) continue;
    for (const std::string_view name : other.instead_of)
      if (name == key.local_name) return std::string{other.local_name};
  }
  return {};
}

/// Why a key has no value, as a comment line in its place.
std::string without_value(const Setup& setup, const Key& key) {
  const std::string other = said_by(setup, key);
  const std::string reason = !other.empty()               ? "said by " + other
                             : key.kind == KeyKind::table ? "none"
                                                          : text_of(setup, key);
  return "  # " + std::string{key.local_name} + ": " + reason + "\n";
}

std::string parts_text(const std::vector<PartSizes>& parts) {
  if (parts.empty()) return "";
  std::string text = "parts:\n";
  Setup scratch = preset_setup();
  for (const PartSizes& part : parts) {
    std::string sizes;
    for (const double size : part.sizes) {
      set_in_unit(scratch, *part.key, size);
      sizes += (sizes.empty() ? "" : ", ") + text_of(scratch, *part.key);
    }
    text += "  " + part.key->name + ":\n    sizes: [" + sizes + "]\n";
    if (part.price) text += "    price: " + shortest(*part.price) + "\n";
  }
  return text;
}

std::string sections_text(const Setup& setup, const Scenario* scenario) {
  std::string text;
  for (const std::string_view section : all_sections()) {
    if (section == "stage_2" && setup.pump.stages != 2.0) continue;
    std::string entries;
    bool any_value = false;
    for (const Key& key : all_keys()) {
      if (key.section != section) continue;
      if (!has_value(setup, key)) {
        if (scenario != nullptr) entries += without_value(setup, key);
        continue;
      }
      any_value = true;
      std::string remark;
      if (scenario != nullptr) {
        const auto found = scenario->origin.find(key.name);
        if (found != scenario->origin.end()) remark = comment(to_string(found->second));
      }
      entries += entry(setup, key, remark);
    }
    if (entries.empty()) continue;
    // a section without values would be an empty one for the reader
    text += (any_value ? "" : "# ") + std::string{section} + ":\n" + entries;
  }
  return text;
}

}  // namespace

std::string quoted_text(std::string_view text) {
  std::string quoted = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') quoted += '\\';
    if (byte < 0x20 || byte == 0x7f) {
      quoted += "\\x";
      quoted += hexadecimal[byte / 16];
      quoted += hexadecimal[byte % 16];
    } else {
      quoted += c;
    }
  }
  return quoted + "\"";
}

std::string write_setup(const Setup& setup) { return sections_text(setup, nullptr); }

std::string write_scenario(const Scenario& scenario) {
  std::string text;
  if (!scenario.title.empty()) text += "title: " + quoted_text(scenario.title) + "\n";
  if (!scenario.note.empty()) text += "note: " + quoted_text(scenario.note) + "\n";
  return text + sections_text(scenario.setup, &scenario) + parts_text(scenario.parts) +
         posterior_text(scenario.setup, scenario.posterior);
}

std::uint64_t fnv1a_64(std::string_view text) noexcept {
  std::uint64_t hash = 0xcbf29ce484222325U;
  for (const char c : text) {
    hash ^= static_cast<unsigned char>(c);
    hash *= 0x100000001b3U;
  }
  return hash;
}

std::string scenario_hash(const Setup& setup, const Posterior& posterior) {
  std::uint64_t hash = fnv1a_64(write_setup(setup) + posterior_text(setup, posterior));
  std::string digits(16, '0');
  for (std::size_t i = digits.size(); i-- > 0; hash >>= 4U) digits[i] = hexadecimal[hash & 0xfU];
  return digits;
}

std::string scenario_hash(const Scenario& scenario) {
  return scenario_hash(scenario.setup, scenario.posterior);
}

}  // namespace bowrise
