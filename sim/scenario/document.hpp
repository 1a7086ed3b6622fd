// A scenario file as a small tree of texts with their positions, and complaints that carry a place. Only
// plain YAML is accepted: no anchors, aliases, tags or second document, nothing deep, nothing binary.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace bowrise {

/// Where something was written.
struct Place {
  std::string file;  ///< as the user named it; for the command line the option, "--set water.salinity=35"
  int line = 0, column = 0;  ///< from 1; 0 when the whole file is meant or there is no file
};

/// One thing wrong with what the user wrote, or doubtful when `warning`.
struct Complaint {
  Place place;
  std::string key;   ///< empty when no key is concerned
  std::string what;  ///< what is wrong; what is allowed
  bool warning = false;
};

/// "lake.yaml:14:18"
[[nodiscard]] std::string to_string(const Place& place);

/// "lake.yaml:14:18: nozzle.exit_diameter: what", one line
[[nodiscard]] std::string to_string(const Complaint& complaint);

/// Line and column, both from 1.
struct Position {
  int line = 0, column = 0;
};

/// A value of the file with, under a map, the key that leads to it.
struct DocumentNode {
  enum class Kind { nothing, text, list, map };
  Kind kind = Kind::nothing;
  std::string key, text;
  Position key_position, position;
  std::vector<DocumentNode> items;
};

inline constexpr std::size_t largest_document_bytes = 1 << 20;

/// Reads the text as one YAML document whose root is a map. Keys are kept in order, twice the same key
/// included.
/// @param file  name used in complaints
/// @return the root, or the first thing that makes the text unusable
[[nodiscard]] std::variant<DocumentNode, Complaint> parse_document(std::string_view text,
                                                                   const std::string& file);

/// The bytes of a file. @param only_regular  refuse pipes and devices, which a reading could wait for
/// @param largest  of a larger file only a beginning longer than this is returned, so that the caller sees it
/// @return the text, or why there is none; the place of that complaint is the file
[[nodiscard]] std::variant<std::string, Complaint> load_text(const std::filesystem::path& path,
                                                             bool only_regular,
                                                             std::size_t largest = largest_document_bytes);

}  // namespace bowrise
