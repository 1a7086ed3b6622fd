// Purposes: what a craft may be set up for, each read down to one number of a setup.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string_view>

#include "models/setup.hpp"
#include "sim/results.hpp"
#include "sim/study/outcome.hpp"

namespace bowrise {

/// One row per purpose: how it is called, and the number it is judged by.
struct PurposeRow {
  std::string_view name, measure, unit, meaning;
  Better better;
};

enum class Purpose : std::size_t { holeshot, top, rough, life, price };
inline constexpr std::size_t purpose_count = 5;

/// By the order of `Purpose`.
[[nodiscard]] std::span<const PurposeRow> purpose_rows();
[[nodiscard]] const PurposeRow& row_of(Purpose purpose);

/// Nothing when there is none of that name.
[[nodiscard]] std::optional<Purpose> find_purpose(std::string_view name);

/// By the order of `Purpose`, each in the unit of its row; empty where the launch did not get there.
using PurposeValues = std::array<std::optional<double>, purpose_count>;

/// Height of the chop in which `rough` is judged.
inline constexpr double rough_chop_m = 0.3;

/// One setup tried for all purposes but the price, which is a matter of parts.
struct Trial {
  Outcome outcome;  ///< of the setup as it is
  PurposeValues purposes;
};

/// Launches a setup, and for `rough` once more in chop. A setup that fails a check of the whole craft is an
/// outcome without results, and its failure says what is wrong.
/// @param rough  also launch in chop; it costs as much again
/// @param offered  as in `outcome_of`
[[nodiscard]] Trial trial_of(const Setup& setup, bool rough, const Tables& offered = {});

}  // namespace bowrise
