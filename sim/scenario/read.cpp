#include "sim/scenario/read.hpp"

#include <algorithm>
#include <optional>
#include <set>
#include <tuple>

#include "models/hull.hpp"
#include "models/pump.hpp"
#include "sim/key_text.hpp"
#include "sim/scenario/layers.hpp"
#include "sim/scenario/uncertain.hpp"

namespace bowrise {
namespace {

using Kind = DocumentNode::Kind;

/// What is known about a key while the layers are laid over one another.
struct Resolved {
  Origin origin;
  bool given = false;  ///< also when the value was refused
  bool refused = false;
  int layer = -1;  ///< 0 for the innermost file, rising; -1 for a preset
  std::string typed;
};

Resolved untouched(const Key& key) {
  Resolved resolved;
  const bool derived = key.kind == KeyKind::number && key.preset.kind == Preset::Kind::derived;
  resolved.origin.kind = derived ? Origin::Kind::worked_out : Origin::Kind::preset;
  return resolved;
}

/// What is wrong with the parts that will be used.
Problems problems_of(const Setup& setup, Needs needs) {
  switch (needs) {
    case Needs::run:
      return check(setup);
    case Needs::hull:
      return check(setup.hull, setup.plate);
    case Needs::pump:
      return check(setup.pump, setup.impeller, setup.stage_2, setup.cavitation);
    case Needs::engine:
      return check(setup.engine);
    case Needs::water:
    case Needs::air:
      break;
  }
  return {};
}

class Resolver {
 public:
  explicit Resolver(Layers layers) : layers_(std::move(layers)) {
    for (const Key& key : all_keys()) resolved_[&key] = untouched(key);
  }

  std::variant<Scenario, std::vector<Complaint>> resolve(const ReadOptions& options) {
    for (std::size_t i = layers_.layers.size(); i-- > 0;) apply(layers_.layers[i], level_of(i));
    in_order(layers_.complaints);
    for (const auto& [key, text] : options.set) apply_option(key, text);
    settle_alternatives();
    if (layers_.complete) complain_about_missing(options.needs);
    settle_second_stage();
    if (layers_.complaints.empty()) complain_about_problems(options.needs);
    if (!layers_.complaints.empty()) return first_of(std::move(layers_.complaints));
    return scenario();
  }

 private:
  [[nodiscard]] int level_of(std::size_t layer) const {
    return static_cast<int>(layers_.layers.size() - 1 - layer);
  }

  void complain(Place place, std::string key, std::string what) {
    layers_.complaints.push_back({std::move(place), std::move(key), std::move(what), false});
  }

  void apply(const Layer& layer, int level) {
    for (const GivenValue& given : layer.values) {
      const DocumentNode& value = given.value;
      const Position position = value.kind == Kind::nothing ? given.key_position : value.position;
      const Place place{layer.file, position.line, position.column};
      note_origin(*given.key, {Origin::Kind::file, place}, level, value.text);
      if (given.key->kind == KeyKind::table && value.kind == Kind::list) {
        apply_table(*given.key, value, layer.file);
      } else if (auto error = apply_single(*given.key, value)) {
        complain(place, given.key->name, std::move(*error));
        resolved_[given.key].refused = true;
      }
      note_derived(*given.key);
    }
    for (const GivenPart& part : layer.parts) apply_part(part, layer.file);
    if (!layer.fits.empty()) scenario_.posterior = posterior_of(layer, layers_.complaints);
    if (layer.title) scenario_.title = *layer.title;
    if (layer.note) scenario_.note = *layer.note;
  }

  std::optional<std::string> apply_single(const Key& key, const DocumentNode& value) {
    if (value.kind == Kind::text) return set_from_text(scenario_.setup, key, value.text);
    const std::string_view found = value.kind == Kind::nothing ? "no value"
                                   : value.kind == Kind::list  ? "a list where one value is wanted"
                                                               : "a group of keys where a value is wanted";
    return std::string{found} + "; write " + allowed_text(key);
  }

  void apply_table(const Key& key, const DocumentNode& table, const std::string& file) {
    const auto place = [&](const DocumentNode& node) {
      return Place{file, node.position.line, node.position.column};
    };
    std::vector<std::vector<std::string>> cells;
    bool sound = true;
    for (const DocumentNode& row : table.items) {
      const bool list_of_values =
          row.kind == Kind::list && std::all_of(row.items.begin(), row.items.end(),
                                                [](const auto& cell) { return cell.kind == Kind::text; });
      if (!list_of_values) {
        complain(place(row), key.name, "a row is a list of single values; write " + allowed_text(key));
        sound = false;
        continue;
      }
      cells.emplace_back();
      for (const DocumentNode& cell : row.items) cells.back().push_back(cell.text);
    }
    if (!sound) return;
    for (const CellError& error : set_from_cells(scenario_.setup, key, cells)) {
      const DocumentNode* node = &table;
      if (error.row != CellError::whole) node = &node->items[error.row];
      if (error.column != CellError::whole) node = &node->items[error.column];
      complain(place(*node), key.name, error.what);
    }
  }

  void apply_part(const GivenPart& given, const std::string& file) {
    const Key& key = *given.key;
    const auto refuse = [&](const DocumentNode& node, std::string what) {
      complain({file, node.position.line, node.position.column}, "parts: " + key.name, std::move(what));
    };
    PartSizes part{&key, {}, std::nullopt};
    Setup scratch = preset_setup();
    for (const DocumentNode& size : given.sizes) {
      if (auto error = set_from_text(scratch, key, size.text)) return refuse(size, std::move(*error));
      part.sizes.push_back(get_in_unit(scratch, key));
    }
    std::sort(part.sizes.begin(), part.sizes.end());
    if (given.price) {
      const auto price = parse_quantity(given.price->text, Dimension::dimensionless);
      const double* const value = std::get_if<double>(&price);
      if (value == nullptr || *value < 0.0) return refuse(*given.price, "price: write a number from 0 up");
      part.price = *value;
    }
    parts_.insert_or_assign(&key, std::move(part));
  }

  void apply_option(const std::string& name, const std::string& text) {
    const Place place{"--set " + short_name(name + "=" + text)};
    const Key* const key = find_key(name);
    const bool repeated = !options_seen_.insert(name).second;
    if (repeated) return complain(place, name, "given twice with --set; keep one");
    if (name == "title" || name == "note") {
      (name == "title" ? scenario_.title : scenario_.note) = text;
      return;
    }
    if (name == "from") return complain(place, name, "can only be written in a scenario file");
    if (key == nullptr) return complain(place, name, unknown_key_text(name));
    note_origin(*key, {Origin::Kind::command_line, place}, static_cast<int>(layers_.layers.size()), text);
    if (auto error = set_from_text(scenario_.setup, *key, text)) {
      complain(place, name, std::move(*error));
      resolved_[key].refused = true;
    }
    note_derived(*key);
  }

  void note_origin(const Key& key, Origin origin, int level, std::string typed) {
    resolved_[&key] = {std::move(origin), true, false, level, std::move(typed)};
  }

  /// A key that was set back to "derived" keeps its place.
  void note_derived(const Key& key) {
    const bool derived = key.kind == KeyKind::number && key.preset.kind == Preset::Kind::derived;
    if (derived && !has_value(scenario_.setup, key)) resolved_[&key].origin.kind = Origin::Kind::worked_out;
  }

  /// Complaints so far, file by file in the order of lines.
  void in_order(std::vector<Complaint>& complaints) const {
    const auto file_index = [this](const std::string& file) {
      return std::find_if(layers_.layers.begin(), layers_.layers.end(),
                          [&](const Layer& layer) { return layer.file == file; }) -
             layers_.layers.begin();
    };
    std::stable_sort(complaints.begin(), complaints.end(), [&](const Complaint& a, const Complaint& b) {
      return std::tuple(file_index(a.place.file), a.place.line, a.place.column) <
             std::tuple(file_index(b.place.file), b.place.line, b.place.column);
    });
  }

  [[nodiscard]] bool two_stages() const { return scenario_.setup.pump.stages == 2.0; }

  [[nodiscard]] bool needed(const Key& key, Needs needs) const {
    if (key.kind != KeyKind::number || key.preset.kind != Preset::Kind::required) return false;
    const bool rotor = key.section == "impeller" || key.section == "stage_2";
    const bool pump = key.section == "pump" || rotor;
    const bool hull = key.section == "craft" || key.section == "hull";
    const bool wanted =
        needs == Needs::run || (needs == Needs::hull && hull) || (needs == Needs::pump && pump);
    if (key.section == "stage_2" && !two_stages()) return false;
    // a measured curve stands in for the blades
    const bool blade_angle = rotor && key.local_name.starts_with("pitch_");
    return wanted && !(blade_angle && !scenario_.setup.pump.curve.empty());
  }

  void complain_about_missing(Needs needs) {
    for (const Key& key : all_keys()) {
      if (!needed(key, needs) || resolved_[&key].given || said_otherwise(key)) continue;
      complain({layers_.layers.front().file, 1, 1}, key.name,
               "missing; write " + allowed_text(key) + " (" + std::string{key.meaning} + ")");
    }
  }

  static bool stands_in_for(const Key& key, const Key& other) {
    return key.section == other.section &&
           std::find(key.instead_of.begin(), key.instead_of.end(), other.local_name) != key.instead_of.end();
  }

  /// Given by another key that stands in for this one.
  [[nodiscard]] bool said_otherwise(const Key& key) const {
    const auto keys = all_keys();
    return std::any_of(keys.begin(), keys.end(), [&](const Key& other) {
      return stands_in_for(other, key) && resolved_.at(&other).given;
    });
  }

  /// Of two ways to say the same thing the one said later holds and the other goes back to its preset.
  void settle_alternatives() {
    for (const Key& key : all_keys()) {
      const Resolved& said = resolved_[&key];
      if (!said.given || !has_value(scenario_.setup, key)) continue;
      for (const std::string_view name : key.instead_of) {
        const Key& other = *find_key(std::string{key.section} + "." + std::string{name});
        Resolved& rival = resolved_[&other];
        if (!rival.given || !has_value(scenario_.setup, other)) continue;
        if (rival.layer < said.layer) {
          rival = untouched(other);
          set_preset(scenario_.setup, other);
        } else if (rival.layer == said.layer && stands_in_for(other, key) && &other < &key) {
          complain(said.origin.place, key.name,
                   "says the same as " + other.name + " in another way; keep one");
        }
      }
    }
  }

  /// A second stage that is described and not there is an error, unless a file that says "one stage"
  /// inherited it: then it is dropped, so that two setups that behave the same are the same.
  void settle_second_stage() {
    const Resolved& stages = resolved_[find_key("pump.stages")];
    if (two_stages() || stages.refused) return;
    for (const Key& key : all_keys()) {
      const Resolved& value = resolved_[&key];
      if (key.section != "stage_2" || !value.given) continue;
      if (value.layer >= stages.layer) {
        return complain(
            value.origin.place, key.name,
            "stage_2 is described but pump.stages is 1; write pump.stages: 2 or leave stage_2 out");
      }
      resolved_[&key] = untouched(key);
    }
    scenario_.setup.stage_2 = preset_setup().stage_2;
  }

  void complain_about_problems(Needs needs) {
    for (const Problem& problem : problems_of(scenario_.setup, needs)) {
      const Key* const key = find_key(problem.key);
      Place place{layers_.layers.front().file, 1, 1};
      if (key != nullptr && resolved_[key].given) place = resolved_[key].origin.place;
      complain(place, problem.key,
               problem.allowed.empty() ? problem.what : problem.what + "; " + problem.allowed);
    }
    in_order(layers_.complaints);
  }

  /// Nobody reads more; a damaged file can give thousands.
  static std::vector<Complaint> first_of(std::vector<Complaint> complaints) {
    constexpr std::size_t most = 100;
    if (complaints.size() <= most) return complaints;
    const std::size_t left_out = complaints.size() - most;
    complaints.resize(most);
    Complaint rest;
    rest.place = complaints.front().place;
    rest.place.line = rest.place.column = 0;
    rest.what = std::to_string(left_out) + " more problems";
    complaints.push_back(rest);
    return complaints;
  }

  Scenario scenario() {
    for (const Key& key : all_keys()) {
      const Resolved& value = resolved_[&key];
      const bool absent =
          key.kind == KeyKind::number && key.preset.kind == Preset::Kind::required && !value.given;
      if (!absent) scenario_.origin.emplace(key.name, value.origin);
      if (!value.given) continue;
      if (auto doubt = doubt_about(scenario_.setup, key, value.typed)) {
        scenario_.warnings.push_back({value.origin.place, key.name, std::move(*doubt), true});
      }
    }
    in_order(scenario_.warnings);
    for (const Key& key : all_keys())
      if (const auto part = parts_.find(&key); part != parts_.end()) scenario_.parts.push_back(part->second);
    for (const Layer& layer : layers_.layers) scenario_.files.push_back(layer.file);
    return std::move(scenario_);
  }

  Layers layers_;
  Scenario scenario_{.setup = preset_setup(),
                     .title = {},
                     .note = {},
                     .origin = {},
                     .parts = {},
                     .posterior = {},
                     .warnings = {},
                     .files = {}};
  std::map<const Key*, PartSizes> parts_;
  std::map<const Key*, Resolved> resolved_;
  std::set<std::string, std::less<>> options_seen_;
};

}  // namespace

std::string to_string(const Origin& origin) {
  if (origin.kind == Origin::Kind::preset) return "preset";
  if (origin.kind == Origin::Kind::worked_out) return "derived";
  return to_string(origin.place);
}

std::variant<Scenario, std::vector<Complaint>> read_scenario(const std::filesystem::path& path,
                                                             const ReadOptions& options) {
  return Resolver(read_layers(path)).resolve(options);
}

std::variant<Scenario, std::vector<Complaint>> read_scenario_text(std::string text,
                                                                  const std::filesystem::path& path,
                                                                  const ReadOptions& options) {
  return Resolver(read_layers(path, std::move(text))).resolve(options);
}

}  // namespace bowrise
