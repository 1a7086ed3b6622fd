#include "tests/support/published.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <fstream>

namespace bowrise::test {
namespace {

const char* word(Known known) {
  switch (known) {
    case Known::read:
      return "read";
    case Known::second_hand:
      return "second-hand";
    case Known::from_memory:
      return "from memory";
    case Known::worked_out:
      return "worked out";
    case Known::common_practice:
      return "common practice";
  }
  return "";
}

/// Decimals that show a size with two digits; what is smaller may differ between compilers.
int decimals_for(double size) {
  if (size <= 0.0) return 3;
  return std::max(0, 1 - static_cast<int>(std::floor(std::log10(size))));
}

double in_unit(Published published, Allowed allowed) {
  const double width = published.high - published.low;
  if (allowed.size == 0.0) return width;
  return allowed.is_share ? allowed.size * std::abs(published.high) : allowed.size;
}

/// From the nearer end of what is published; 0 between the two.
double miss(Published published, double ours) {
  if (ours < published.low) return ours - published.low;
  return ours > published.high ? ours - published.high : 0.0;
}

std::string miss_text(Published published, double ours, Allowed allowed) {
  const double by = miss(published, ours);
  if (published.low < published.high && by == 0.0) return "inside";
  const double end = by < 0.0 ? published.low : published.high;
  const double shown = allowed.is_share ? 100.0 * by / std::abs(end) : by;
  const double size = allowed.is_share ? 100.0 * allowed.size : allowed.size;
  const std::string text = fmt::format("{:+.{}f}", shown, decimals_for(size));
  const bool nothing = text.find_first_of("123456789") == std::string::npos;
  return fmt::format("{}{}", nothing ? std::string("0") : text, allowed.is_share ? " %" : "");
}

std::string allowed_text(Allowed allowed) {
  if (allowed.size == 0.0) return "inside";
  return allowed.is_share ? fmt::format("{:.3g} %", 100.0 * allowed.size)
                          : fmt::format("{:.3g}", allowed.size);
}

/// As it stands in the source; what was computed, no longer than the tolerance asks for.
std::string value_text(double value, int decimals) {
  const std::string whole = fmt::format("{}", value), rounded = fmt::format("{:.{}f}", value, decimals + 1);
  return whole.size() < rounded.size() ? whole : rounded;
}

/// One row of the table in Markdown, behind a mark that says where it is shown.
std::string row_text(const Quantity& head, Published published, double ours, Allowed allowed) {
  const int decimals = decimals_for(in_unit(published, allowed));
  std::string value = value_text(published.low, decimals);
  if (published.low < published.high) value += " to " + value_text(published.high, decimals);
  return fmt::format("{}| {} | {} | {} | {} | {:.{}f} | {} | {} |", head.in_readme ? "headline" : "row",
                     head.quantity, head.source, word(head.known), value, ours, decimals,
                     allowed_text(allowed), miss_text(published, ours, allowed));
}

void record(const std::string& row) {
  const char* const file = std::getenv("BOWRISE_VALIDATION");
  if (file == nullptr || *file == '\0') return;
  std::ofstream out(file, std::ios::app);
  out << row << '\n';
  REQUIRE(out.flush());
}

}  // namespace

void check_published(const Quantity& head, Published published, double ours, Allowed allowed) {
  INFO(head.quantity << ": " << head.source);
  const double low = allowed.is_share ? allowed.size * std::abs(published.low) : allowed.size,
               high = allowed.is_share ? allowed.size * std::abs(published.high) : allowed.size;
  CAPTURE(published.low, published.high, ours);
  CHECK(ours >= published.low - low);
  CHECK(ours <= published.high + high);
  record(row_text(head, published, ours, allowed));
}

void WorstOf::add(double published, double ours) {
  const double by = std::abs(allowed_.is_share ? ours / published - 1.0 : ours - published);
  if (by <= miss_) return;
  miss_ = by;
  published_ = published;
  ours_ = ours;
}

void WorstOf::check(const Quantity& head) const {
  REQUIRE(miss_ >= 0.0);
  check_published(head, published_, ours_, allowed_);
}

}  // namespace bowrise::test
