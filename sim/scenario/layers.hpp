// A scenario file and the files it starts from, as lists of known keys with the values given for them.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "sim/keys.hpp"
#include "sim/scenario/document.hpp"

namespace bowrise {

struct GivenValue {
  const Key* key;
  Position key_position;
  DocumentNode value;
};

/// Sizes in which a part can be bought, as written.
struct GivenPart {
  const Key* key;
  Position key_position;
  std::vector<DocumentNode> sizes;
  std::optional<DocumentNode> price;
};

/// What a fit knows of one input, as written.
struct GivenFit {
  const Key* key;
  Position key_position;
  DocumentNode at;
  std::vector<DocumentNode> factor;
};

/// What one file says.
struct Layer {
  std::string file;
  std::vector<GivenValue> values;
  std::vector<GivenPart> parts;
  std::vector<GivenFit> fits;  ///< of section `uncertain`
  std::optional<std::string> title, note;
};

struct Layers {
  std::vector<Layer> layers;  ///< the file asked for, the one it starts from, ...
  std::vector<Complaint> complaints;
  bool complete = true;  ///< false when a file could not be read, so that nobody can say what is missing
};

/// The longest chain of `from`.
inline constexpr std::size_t most_layers = 16;

/// Follows `from` to its end. @param text  content of the first file if it is already known
[[nodiscard]] Layers read_layers(const std::filesystem::path& path, std::optional<std::string> text = {});

/// A name that may be long, for a message.
[[nodiscard]] std::string short_name(std::string_view name);

/// "unknown key; did you mean impeller.blades?"
[[nodiscard]] std::string unknown_key_text(std::string_view name);

}  // namespace bowrise
