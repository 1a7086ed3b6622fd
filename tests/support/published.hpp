// Checks against published values that also fill the validation table: tools/validation_table.sh runs them
// with BOWRISE_VALIDATION naming a file, to which each adds its row. Without it they are checks like any
// other.
#pragma once

#include <string>

namespace bowrise::test {

/// How the published value came to us.
enum class Known {
  read,             ///< in the source itself, or in a public transcription of its table
  second_hand,      ///< quoted by another work
  from_memory,      ///< recalled, and worked out anew where it is a formula
  worked_out,       ///< the published formula or a reference program evaluated apart from this one
  common_practice,  ///< what the trade knows; no source
};

/// What is published: one value, or from lowest to highest.
struct Published {
  Published(double value) : low(value), high(value) {}  // NOLINT: a plain number is a published value
  Published(double lowest, double highest) : low(lowest), high(highest) {}
  double low, high;
};

/// How far ours may be from it: in its unit, or as a share of it.
struct Allowed {
  double size;
  bool is_share;
};
constexpr Allowed within_abs(double size) { return {size, false}; }
constexpr Allowed within_rel(double share) { return {share, true}; }
/// No further than what is published reaches.
constexpr Allowed inside() { return {0.0, false}; }

/// A row's head: `quantity` is "part: what, where, unit"; rows are sorted by it. `in_readme` shows it in the
/// README too.
struct Quantity {
  std::string quantity, source;
  Known known;
  bool in_readme = false;
};

/// A row among the most important.
constexpr bool headline = true;

/// Checks ours against what is published and records the row.
void check_published(const Quantity& head, Published published, double ours, Allowed allowed);

/// Of several comparisons with one tolerance the one that misses most: no choosing what to show.
class WorstOf {
 public:
  explicit WorstOf(Allowed allowed) : allowed_(allowed) {}
  void add(double published, double ours);
  /// Checks and records the worst; fails when nothing was added.
  void check(const Quantity& head) const;

 private:
  Allowed allowed_;
  double miss_ = -1.0, published_ = 0.0, ours_ = 0.0;
};

}  // namespace bowrise::test
