// A Setup back to scenario text, every key with its unit, and a fingerprint of it.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "models/setup.hpp"
#include "sim/scenario/read.hpp"

namespace bowrise {

/// A text in double quotes that YAML reads back unchanged.
[[nodiscard]] std::string quoted_text(std::string_view text);

/// The setup as a scenario file: sections and keys in the order of for_each_part. Reading it gives the same
/// setup bit for bit. Left out: what has no value (derived, or required and not needed), and stage_2 when
/// there is one stage, where it means nothing. The canonical text of these inputs.
[[nodiscard]] std::string write_setup(const Setup& setup);

/// The same with title and note, the origin of each value as a comment, and a comment line for each key left
/// out.
[[nodiscard]] std::string write_scenario(const Scenario& scenario);

/// The 64-bit FNV-1a hash of Fowler, Noll and Vo: the same on every machine.
[[nodiscard]] std::uint64_t fnv1a_64(std::string_view text) noexcept;

/// 16 hexadecimal digits that depend on the resolved inputs, and what a fit knows of them, alone, not on
/// their spelling or origin: FNV-1a of `write_setup` and the section `uncertain`.
[[nodiscard]] std::string scenario_hash(const Setup& setup, const Posterior& posterior = {});
/// Of a scenario, with all that a fit knows of it.
[[nodiscard]] std::string scenario_hash(const Scenario& scenario);

}  // namespace bowrise
