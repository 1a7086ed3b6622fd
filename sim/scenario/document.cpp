#include "sim/scenario/document.hpp"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/mark.h>
#include <yaml-cpp/parser.h>

#include <array>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <memory>
#include <optional>
#include <sstream>
#include <system_error>

namespace bowrise {
namespace {

/// Why a document is given up, with the place. Thrown through the parser, caught in parse_document.
struct Refusal {
  Position position;
  std::string what;
};

constexpr const char* alias_refused = "aliases (*name) are not allowed; write the value out";

Position position_of(const YAML::Mark& mark) {
  return mark.is_null() ? Position{} : Position{mark.line + 1, mark.column + 1};
}

/// Builds the tree from the parser's events and gives up on anything a scenario has no use for, before it can
/// grow.
class TreeBuilder final : public YAML::EventHandler {
 public:
  [[nodiscard]] DocumentNode take_root() { return std::move(root_); }

  void OnDocumentStart(const YAML::Mark&) override {}
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    refuse_anchor(mark, anchor);
    place(mark, DocumentNode::Kind::nothing, {});
  }

  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    throw Refusal{position_of(mark), alias_refused};
  }

  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    refuse_anchor(mark, anchor);
    refuse_tag(mark, tag);
    if (expects_key()) {
      key_ = value;
      key_position_ = position_of(mark);
      has_key_ = true;
      return;
    }
    place(mark, DocumentNode::Kind::text, value);
  }

  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    begin(mark, tag, anchor, DocumentNode::Kind::list);
  }
  void OnSequenceEnd() override { open_.pop_back(); }

  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    begin(mark, tag, anchor, DocumentNode::Kind::map);
  }
  void OnMapEnd() override { open_.pop_back(); }

 private:
  // the deepest sound scenario has a map, a section, a table and a row
  static constexpr std::size_t deepest = 8;
  static constexpr std::size_t most_nodes = 10000;

  static void refuse_anchor(const YAML::Mark& mark, YAML::anchor_t anchor) {
    if (anchor != 0) throw Refusal{position_of(mark), "anchors (&name) are not allowed; write the value out"};
  }

  static void refuse_tag(const YAML::Mark& mark, const std::string& tag) {
    const bool plain =
        tag.empty() || tag == "?" || tag == "!";  // the parser's own marks of unquoted and quoted
    if (!plain) throw Refusal{position_of(mark), "tags (!name) are not allowed; write the plain value"};
  }

  [[nodiscard]] bool expects_key() const {
    return !open_.empty() && open_.back()->kind == DocumentNode::Kind::map && !has_key_;
  }

  void begin(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor, DocumentNode::Kind kind) {
    refuse_anchor(mark, anchor);
    refuse_tag(mark, tag);
    if (open_.size() >= deepest) throw Refusal{position_of(mark), "nested too deeply for a scenario"};
    open_.push_back(place(mark, kind, {}));
  }

  // Pointers in open_ stay valid: a list of items grows only while its last item is closed.
  DocumentNode* place(const YAML::Mark& mark, DocumentNode::Kind kind, std::string text) {
    if (expects_key()) throw Refusal{position_of(mark), "a key is expected here, a name like exit_diameter"};
    if (++nodes_ > most_nodes) throw Refusal{position_of(mark), "too many values for a scenario"};
    DocumentNode* node = &root_;
    if (!open_.empty()) node = &open_.back()->items.emplace_back();
    node->kind = kind;
    node->text = std::move(text);
    node->position = position_of(mark);
    if (has_key_) {
      node->key = std::move(key_);
      node->key_position = key_position_;
      has_key_ = false;
    }
    return node;
  }

  DocumentNode root_;
  std::vector<DocumentNode*> open_;
  std::string key_;
  Position key_position_;
  bool has_key_ = false;
  std::size_t nodes_ = 0;
};

/// Gives up at the start of a document: a file holds one.
class SecondDocument final : public YAML::EventHandler {
 public:
  void OnDocumentStart(const YAML::Mark& mark) override {
    throw Refusal{position_of(mark), "a second document begins here; a file holds one scenario"};
  }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark&, YAML::anchor_t) override {}
  void OnAlias(const YAML::Mark&, YAML::anchor_t) override {}
  void OnScalar(const YAML::Mark&, const std::string&, YAML::anchor_t, const std::string&) override {}
  void OnSequenceStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                       YAML::EmitterStyle::value) override {}
  void OnSequenceEnd() override {}
  void OnMapStart(const YAML::Mark&, const std::string&, YAML::anchor_t, YAML::EmitterStyle::value) override {
  }
  void OnMapEnd() override {}
};

/// Bytes of the UTF-8 character at the start of the text; 0 when there is none (RFC 3629, table of section
/// 4).
std::size_t character_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U; };
  const auto follows = [&](std::size_t i, unsigned low = 0x80, unsigned high = 0xBF) {
    return byte(i) >= low && byte(i) <= high;
  };
  const unsigned first = byte(0);
  if (first < 0x80) return 1;
  if (first >= 0xC2 && first <= 0xDF) return follows(1) ? 2 : 0;
  if (first >= 0xE0 && first <= 0xEF) {
    const unsigned low = first == 0xE0 ? 0xA0 : 0x80, high = first == 0xED ? 0x9F : 0xBF;
    return follows(1, low, high) && follows(2) ? 3 : 0;
  }
  if (first >= 0xF0 && first <= 0xF4) {
    const unsigned low = first == 0xF0 ? 0x90 : 0x80, high = first == 0xF4 ? 0x8F : 0xBF;
    return follows(1, low, high) && follows(2) && follows(3) ? 4 : 0;
  }
  return 0;
}

/// The first byte that no text holds.
std::optional<Refusal> not_a_text(std::string_view text) {
  Position position{1, 1};
  while (!text.empty()) {
    const auto first = static_cast<unsigned char>(text.front());
    const std::size_t length = character_length(text);
    if (first == 0)
      return Refusal{position, "a zero byte: this is binary data or UTF-16; save it as UTF-8 text"};
    if (length == 0) return Refusal{position, "not UTF-8 text; save the file as UTF-8"};
    const bool control = (first < 0x20 && first != '\t' && first != '\n' && first != '\r') || first == 0x7f;
    if (control)
      return Refusal{position, "a control character: this is binary data; a scenario is plain text"};
    position = first == '\n' ? Position{position.line + 1, 1} : Position{position.line, position.column + 1};
    text.remove_prefix(length);
  }
  return std::nullopt;
}

/// The parser's own words, in ours where they are known to puzzle.
std::string explained(const std::string& message) {
  if (message == YAML::ErrorMsg::UNKNOWN_ANCHOR) return alias_refused;
  std::string text = "not readable as YAML: " + message;
  if (message == YAML::ErrorMsg::MAP_VALUE) {
    text += "; look for a second colon, a tab, or a line that is indented differently from its neighbours";
  }
  return text;
}

DocumentNode parse(std::string_view text) {
  if (text.size() > largest_document_bytes) throw Refusal{{}, "over 1 MiB; a scenario is a small text file"};
  if (auto refusal = not_a_text(text)) throw std::move(*refusal);
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());

  std::istringstream stream{std::string{text}};
  YAML::Parser parser(stream);
  TreeBuilder builder;
  const bool found = parser.HandleNextDocument(builder);
  DocumentNode root = builder.take_root();
  if (!found || root.kind == DocumentNode::Kind::nothing) {
    throw Refusal{{1, 1},
                  "nothing in the file; write keys with values, like \"nozzle.exit_diameter: 86 mm\""};
  }
  if (root.kind != DocumentNode::Kind::map) {
    throw Refusal{root.position, "not keys with values; write lines like \"nozzle.exit_diameter: 86 mm\""};
  }
  SecondDocument second;
  parser.HandleNextDocument(second);
  return root;
}

}  // namespace

std::string to_string(const Place& place) {
  if (place.line == 0) return place.file;
  return place.file + ":" + std::to_string(place.line) + ":" + std::to_string(place.column);
}

std::string to_string(const Complaint& complaint) {
  const bool key_is_in_place = complaint.place.file.starts_with("--set ");
  std::string text = to_string(complaint.place) + ": ";
  if (!complaint.key.empty() && !key_is_in_place) text += complaint.key + ": ";
  if (complaint.warning) text += "warning: ";
  text += complaint.what;
  for (char& c : text) {  // a key or file name may hold a line break
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';
  }
  return text;
}

std::variant<DocumentNode, Complaint> parse_document(std::string_view text, const std::string& file) {
  const auto complaint = [&](Position position, std::string what) {
    return Complaint{{file, position.line, position.column}, {}, std::move(what)};
  };
  try {
    return parse(text);
  } catch (const Refusal& refusal) {
    return complaint(refusal.position, refusal.what);
  } catch (const YAML::Exception& error) {
    return complaint(position_of(error.mark), explained(error.msg));
  }
}

std::variant<std::string, Complaint> load_text(const std::filesystem::path& path, bool only_regular,
                                               std::size_t largest) {
  const auto complaint = [&](std::string what) { return Complaint{{path.string()}, {}, std::move(what)}; };
  std::error_code error;
  const std::filesystem::file_status status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) {
    return complaint(error && status.type() != std::filesystem::file_type::not_found
                         ? "cannot be read: " + error.message()
                         : "no such file");
  }
  if (std::filesystem::is_directory(status)) return complaint("a directory, not a file");
  if (only_regular && !std::filesystem::is_regular_file(status)) return complaint("not a regular file");

  const auto close = [](std::FILE* file) { std::fclose(file); };
  const std::unique_ptr<std::FILE, decltype(close)> file(std::fopen(path.c_str(), "rb"), close);
  if (!file) return complaint("cannot be read: " + std::generic_category().message(errno));
  std::string text;
  std::array<char, 16384> block;
  while (text.size() <= largest) {
    const std::size_t got = std::fread(block.data(), 1, block.size(), file.get());
    if (got == 0) break;
    text.append(block.data(), got);
  }
  if (std::ferror(file.get()) != 0)
    return complaint("cannot be read: " + std::generic_category().message(errno));
  return text;
}

}  // namespace bowrise
