// Shipped scenarios as setups, with one input changed at a time, for tests across files.
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <utility>
#include <vector>

#include "sim/craft.hpp"
#include "sim/launch.hpp"
#include "sim/results.hpp"
#include "sim/scenario/read.hpp"
#include "tests/support/curve_of.hpp"

namespace bowrise::test {

using Changes = std::vector<std::pair<std::string, std::string>>;

inline const std::string demo = "supercharged_three_seat";

/// A shipped scenario with inputs changed as --set would; fails the test when it cannot be read.
inline Setup shipped(const std::string& name, const Changes& changes = {}) {
  return shipped_scenario(name + ".yaml", Needs::run, changes).setup;
}

struct Outcome {
  Craft craft;
  Launch launch;
  Summary summary;
};

inline Outcome outcome_of(const Setup& setup, bool keep_rows = false) {
  Craft craft = prepare(setup);
  Launch run = launch(craft, setup.run, launch_options(setup, keep_rows));
  REQUIRE(run.failure.empty());
  Summary summary = summarise(craft, run);
  return {std::move(craft), std::move(run), std::move(summary)};
}

inline Outcome outcome_of(const std::string& name, const Changes& changes = {}, bool keep_rows = false) {
  return test::outcome_of(shipped(name, changes), keep_rows);
}

/// A result by name, in the unit of its row; fails the test when it did not happen.
inline double result(const Outcome& outcome, std::string_view name) {
  for (const ResultRow& row : result_rows()) {
    if (row.name != name) continue;
    const auto value = row.get(outcome.summary);
    REQUIRE(value.has_value());
    return *value;
  }
  FAIL("no result of this name");
  return 0.0;
}

}  // namespace bowrise::test
