// Flags: the table of texts is complete, and a set of flags is a value.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <set>
#include <string>
#include <string_view>

#include "models/flag.hpp"

using namespace bowrise;

namespace {

bool is_plain_flag_name(std::string_view name) {
  return !name.empty() && std::all_of(name.begin(), name.end(), [](unsigned char letter) {
    return std::islower(letter) != 0 || std::isdigit(letter) != 0 || letter == '_';
  });
}

}  // namespace

TEST_CASE("flag: every flag has a name of its own, a meaning and a remedy") {
  std::set<std::string_view> names;
  for (const FlagText& text : flag_texts) {
    INFO(text.name);
    CHECK(is_plain_flag_name(text.name));
    CHECK(names.insert(text.name).second);
    CHECK(text.meaning.size() > 10);
    CHECK(text.remedy.size() > 10);
    CHECK(text.meaning != text.remedy);
    for (const std::string_view sentence : {text.meaning, text.remedy}) {
      CHECK(sentence.find('\n') == std::string_view::npos);
      CHECK(sentence.back() != '.');  // the writer joins and ends them
      CHECK(sentence.back() != ' ');
    }
  }
  CHECK(names.size() == flag_count);
}

TEST_CASE("flag: a set holds what was raised and nothing else") {
  for (const FlagText& raised : flag_texts) {
    FlagSet set;
    CHECK(set.none());
    set.raise(raised.flag, false);
    CHECK(set.none());
    set.raise(raised.flag);
    CHECK_FALSE(set.none());
    for (const FlagText& asked : flag_texts) CHECK(set.has(asked.flag) == (asked.flag == raised.flag));
    set.raise(raised.flag, false);  // raising on a condition never lowers
    CHECK(set.has(raised.flag));
  }
}

TEST_CASE("flag: merging is or") {
  FlagSet first, second;
  first.raise(Flag::stuffing);
  second.raise(Flag::limiter);
  first |= second;
  CHECK(first.has(Flag::stuffing));
  CHECK(first.has(Flag::limiter));
  CHECK_FALSE(second.has(Flag::stuffing));
  CHECK_FALSE(first.has(Flag::cavitating));
}
