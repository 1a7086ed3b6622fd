#include "sim/scenario/layers.hpp"

#include <algorithm>
#include <map>
#include <system_error>

namespace bowrise {
namespace {

using Kind = DocumentNode::Kind;

bool is_section(std::string_view name) {
  const auto sections = all_sections();
  return std::find(sections.begin(), sections.end(), name) != sections.end();
}

/// Turns the tree of one file into a Layer.
class LayerReader {
 public:
  LayerReader(const std::string& file, std::vector<Complaint>& complaints) : complaints_(complaints) {
    layer_.file = file;
  }

  Layer read(DocumentNode& root) {
    for (DocumentNode& entry : root.items) top_level(entry);
    return std::move(layer_);
  }

  /// The value of `from`, empty when it is not usable, and the place of its key.
  [[nodiscard]] const std::optional<std::string>& from() const { return from_; }
  [[nodiscard]] bool has_from() const { return has_from_; }
  [[nodiscard]] Position from_position() const { return from_position_; }

 private:
  void complain(Position position, std::string_view key, std::string what) {
    complaints_.push_back(
        {{layer_.file, position.line, position.column}, short_name(key), std::move(what), false});
  }

  void top_level(DocumentNode& entry) {
    if (entry.key == "title") return text_entry(entry, layer_.title);
    if (entry.key == "note") return text_entry(entry, layer_.note);
    if (entry.key == "from") {
      has_from_ = true;
      from_position_ = entry.key_position;
      return text_entry(entry, from_);
    }
    if (entry.key == "parts") return parts(entry);
    if (entry.key == "uncertain") return fits(entry);
    if (is_section(entry.key)) return section(entry);
    if (entry.kind == Kind::map && entry.key.find('.') == std::string::npos) {
      const std::string_view meant = nearest_name(all_sections(), entry.key);
      return complain(
          entry.key_position, entry.key,
          "unknown section" + (meant.empty() ? "" : "; did you mean " + std::string{meant} + "?"));
    }
    value(std::string{entry.key}, entry);
  }

  void text_entry(DocumentNode& entry, std::optional<std::string>& target) {
    if (!first_time(entry.key, entry.key_position)) return;
    if (entry.kind != Kind::text || entry.text.empty()) {
      return complain(entry.kind == Kind::nothing ? entry.key_position : entry.position, entry.key,
                      entry.key == "from" ? "write the name of a scenario file" : "write a text");
    }
    target = std::move(entry.text);
  }

  void section(DocumentNode& entry) {
    first_time(entry.key, entry.key_position);
    if (entry.kind == Kind::nothing) {
      return complain(entry.key_position, entry.key,
                      "nothing under this section; leave it out or write its keys");
    }
    if (entry.kind != Kind::map) {
      return complain(entry.position, entry.key, "a section; write its keys with their values under it");
    }
    for (DocumentNode& item : entry.items) value(entry.key + "." + item.key, item);
  }

  void parts(DocumentNode& entry) {
    first_time(entry.key, entry.key_position);
    if (entry.kind != Kind::map)
      return complain(
          entry.kind == Kind::nothing ? entry.key_position : entry.position, entry.key,
          "write keys with the sizes that can be bought, e.g. nozzle.exit_diameter: [84 mm, 86 mm]");
    for (DocumentNode& item : entry.items) part(item);
  }

  void part(DocumentNode& entry) {
    const std::string name = "parts: " + entry.key;
    const Key* const key = find_key(entry.key);
    if (key == nullptr) return complain(entry.key_position, name, unknown_key_text(entry.key));
    if (key->kind != KeyKind::number)
      return complain(entry.key_position, name, "not a number; only numbers come in sizes");
    if (!first_time(name, entry.key_position)) return;
    GivenPart given{key, entry.key_position, {}, std::nullopt};
    if (entry.kind == Kind::list) given.sizes = std::move(entry.items);
    if (entry.kind == Kind::map && !part_map(entry, name, given)) return;
    const bool texts = std::all_of(given.sizes.begin(), given.sizes.end(),
                                   [](const DocumentNode& size) { return size.kind == Kind::text; });
    if (given.sizes.empty() || !texts)
      return complain(entry.key_position, name, "write a list of sizes, e.g. [84 mm, 86 mm]");
    layer_.parts.push_back(std::move(given));
  }

  bool part_map(DocumentNode& entry, const std::string& name, GivenPart& given) {
    for (DocumentNode& item : entry.items) {
      if (item.key == "sizes" && item.kind == Kind::list) {
        given.sizes = std::move(item.items);
      } else if (item.key == "price" && item.kind == Kind::text) {
        given.price = std::move(item);
      } else {
        complain(item.key_position, name,
                 "\"" + short_name(item.key) + "\": write sizes: [...] and price: NUMBER");
        return false;
      }
    }
    return true;
  }

  void fits(DocumentNode& entry) {
    first_time(entry.key, entry.key_position);
    if (entry.kind != Kind::map)
      return complain(entry.kind == Kind::nothing ? entry.key_position : entry.position, entry.key,
                      "write keys with what a fit knows of them, e.g. hull.drag_factor: {at: 0.2, factor: "
                      "[0.5]}");
    for (DocumentNode& item : entry.items) fit(item);
  }

  void fit(DocumentNode& entry) {
    const std::string name = "uncertain: " + entry.key;
    const Key* const key = find_key(entry.key);
    if (key == nullptr) return complain(entry.key_position, name, unknown_key_text(entry.key));
    if (key->kind != KeyKind::number || key->spread.shape == Shape::none)
      return complain(entry.key_position, name, "has no spread; only an uncertain input can be fitted");
    if (!first_time(name, entry.key_position)) return;
    GivenFit given{key, entry.key_position, {}, {}};
    for (DocumentNode& item : entry.items) {
      if (item.key == "at" && item.kind == Kind::text) given.at = std::move(item);
      if (item.key == "factor" && item.kind == Kind::list) given.factor = std::move(item.items);
    }
    const bool whole = entry.kind == Kind::map && entry.items.size() == 2 && given.at.kind == Kind::text &&
                       !given.factor.empty();
    if (!whole) return complain(entry.key_position, name, "write {at: NUMBER, factor: [NUMBERS]}");
    layer_.fits.push_back(std::move(given));
  }

  void value(const std::string& name, DocumentNode& entry) {
    const Key* const key = find_key(name);
    if (key == nullptr) return complain(entry.key_position, name, unknown_key_text(name));
    if (!first_time(name, entry.key_position)) return;
    layer_.values.push_back({key, entry.key_position, std::move(entry)});
  }

  /// Complains about a key or section that this file holds already.
  bool first_time(const std::string& name, Position position) {
    const auto [place, added] = first_places_.emplace(name, position);
    if (!added) {
      complain(
          position, name,
          "given twice in this file, first in line " + std::to_string(place->second.line) + "; keep one");
    }
    return added;
  }

  Layer layer_;
  std::vector<Complaint>& complaints_;
  std::map<std::string, Position> first_places_;
  std::optional<std::string> from_;
  Position from_position_;
  bool has_from_ = false;
};

/// One name for one file, whatever the way to it.
std::filesystem::path identity(const std::filesystem::path& path) {
  std::error_code error;
  const std::filesystem::path canonical = std::filesystem::weakly_canonical(path, error);
  return error ? path.lexically_normal() : canonical;
}

/// Why the chain cannot go on to this file, or nothing.
std::optional<std::string> cannot_follow(const std::vector<std::filesystem::path>& chain,
                                         const Layers& layers, const std::filesystem::path& next) {
  const auto seen = std::find(chain.begin(), chain.end(), identity(next));
  if (seen != chain.end()) {
    std::string circle;
    for (auto i = static_cast<std::size_t>(seen - chain.begin()); i < layers.layers.size(); ++i) {
      circle += layers.layers[i].file + " -> ";
    }
    return "leads in a circle: " + circle + next.string();
  }
  if (chain.size() < most_layers) return std::nullopt;
  return "more than " + std::to_string(most_layers) + " files start from one another; shorten the chain";
}

}  // namespace

std::string short_name(std::string_view name) {
  constexpr std::size_t longest = 80;
  return name.size() <= longest ? std::string{name} : std::string{name.substr(0, longest)} + "...";
}

std::string unknown_key_text(std::string_view name) {
  const Key* const meant = nearest_key(name);
  return "unknown key; " +
         (meant == nullptr ? "\"bowrise parameters\" lists all keys" : "did you mean " + meant->name + "?");
}

Layers read_layers(const std::filesystem::path& path, std::optional<std::string> text) {
  Layers result;
  std::vector<std::filesystem::path> chain;
  std::filesystem::path file = path;
  Place from_place;
  for (;;) {
    if (!text) {
      auto loaded = load_text(file, !chain.empty());
      if (auto* const complaint = std::get_if<Complaint>(&loaded)) {
        // a file that is not there is the fault of the line that names it
        if (!chain.empty()) *complaint = {from_place, "from", to_string(*complaint)};
        result.complaints.push_back(std::move(*complaint));
        break;
      }
      text = std::get<std::string>(std::move(loaded));
    }
    auto document = parse_document(*text, file.string());
    text.reset();
    if (auto* const complaint = std::get_if<Complaint>(&document)) {
      result.complaints.push_back(std::move(*complaint));
      break;
    }
    LayerReader reader(file.string(), result.complaints);
    result.layers.push_back(reader.read(std::get<DocumentNode>(document)));
    chain.push_back(identity(file));
    if (!reader.has_from()) return result;
    if (!reader.from()) break;

    from_place = {file.string(), reader.from_position().line, reader.from_position().column};
    file = (file.parent_path() / *reader.from()).lexically_normal();
    if (auto reason = cannot_follow(chain, result, file)) {
      result.complaints.push_back({from_place, "from", std::move(*reason)});
      break;
    }
  }
  result.complete = false;
  return result;
}

}  // namespace bowrise
