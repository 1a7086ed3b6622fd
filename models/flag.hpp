// Validity and warning flags: a model that is asked outside its range says so here instead of clamping
// silently.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace bowrise {

enum class Flag : std::uint8_t {
  trim_below_range,
  trim_above_range,
  trim_held,
  chines_dry,
  keel_longer_than_hull,
  wetted_length_above_range,
  speed_coefficient_below_range,
  plate_lift_limited,
  plate_outside_range,
  porpoising,
  no_bottom_load,
  pump_outside_table,
  pump_turbining,
  flow_reversed,
  cavitating,
  stuffing,
  low_inlet_velocity_ratio,
  air_in_pump,
  limiter,
  wear_held,
  count
};
inline constexpr std::size_t flag_count = static_cast<std::size_t>(Flag::count);

struct FlagText {
  Flag flag;
  std::string_view name, meaning, remedy;
};

/// In the order of the enum (checked by a static_assert below).
// clang-format off
inline constexpr std::array<FlagText, flag_count> flag_texts{{
    {Flag::trim_below_range, "trim_below_range", "trim under 2 deg: below the tests behind the planing formulae",
     "read drag as an extrapolation"},
    {Flag::trim_above_range, "trim_above_range", "trim over 15 deg: above the tests behind the planing formulae",
     "read drag as an extrapolation"},
    {Flag::trim_held, "trim_held", "the hull model was held to a trim between 0.5 and 15 deg",
     "check load centre, nozzle angle and plate"},
    {Flag::chines_dry, "chines_dry", "the chines run dry: the wetted beam is narrower than the hull",
     "usual at speed; drag there leans on an extrapolation"},
    {Flag::keel_longer_than_hull, "keel_longer_than_hull", "the planing formulae ask for more keel than there is",
     "move the load aft or trim up"},
    {Flag::wetted_length_above_range, "wetted_length_above_range",
     "mean wetted length over 4 beams: outside the planing formulae", "read drag as an extrapolation"},
    {Flag::speed_coefficient_below_range, "speed_coefficient_below_range",
     "speed coefficient under 1: below the procedure of the planing formulae", "short-lived in any launch"},
    {Flag::plate_lift_limited, "plate_lift_limited", "ride-plate lift held near 0.3 of the weight",
     "outside flap data: reduce plate angle"},
    {Flag::plate_outside_range, "plate_outside_range", "plate angle outside 0 to 15 deg of the flap data",
     "read plate lift as a trend"},
    {Flag::porpoising, "porpoising", "trim above the published porpoising limit for this load and speed",
     "trim down, load forward or lower plate"},
    {Flag::no_bottom_load, "no_bottom_load", "jet and plate carry the craft: no load is left on the bottom",
     "check nozzle angle and plate"},
    {Flag::pump_outside_table, "pump_outside_table", "pump flow coefficient outside the prepared curve",
     "head follows the straight input-head line there"},
    {Flag::pump_turbining, "pump_turbining", "the flow drives the pump", "expected with the throttle shut"},
    {Flag::flow_reversed, "flow_reversed", "flow ran backwards through the pump", "check the start of the run"},
    {Flag::cavitating, "cavitating", "cavitation takes more than 3 % of the pump head",
     "less rpm at low speed, smaller gap, flatter leading edge"},
    {Flag::stuffing, "stuffing", "spill ahead of the intake lip is over 5 % of all drag",
     "less aggressive grate, smaller intake, larger nozzle, plate angle"},
    {Flag::low_inlet_velocity_ratio, "low_inlet_velocity_ratio", "inlet velocity ratio under intake.lip_ratio: lip separates",
     "smaller intake or larger nozzle"},
    {Flag::air_in_pump, "air_in_pump", "air takes more than 3 % of the pump head", "seal leaks; grate for chop"},
    {Flag::limiter, "limiter", "the rev limiter cuts torque", "more pitch, smaller nozzle, or ease the throttle"},
    {Flag::wear_held, "wear_held", "ring gap or edge loss is beyond wear.gap_limit or wear.edge_limit: its growth or effect is held",
     "renew ring and impeller; read the results as too kind"},
}};
// clang-format on

/// A set of flags as a value; merging is or.
class FlagSet {
 public:
  constexpr void raise(Flag flag, bool when = true) noexcept {
    bits_ |= (when ? std::uint32_t{1} : std::uint32_t{0}) << static_cast<unsigned>(flag);
  }
  [[nodiscard]] constexpr bool has(Flag flag) const noexcept {
    return (bits_ >> static_cast<unsigned>(flag)) & 1U;
  }
  constexpr FlagSet& operator|=(FlagSet other) noexcept {
    bits_ |= other.bits_;
    return *this;
  }
  [[nodiscard]] constexpr bool none() const noexcept { return bits_ == 0; }

 private:
  std::uint32_t bits_ = 0;
};

static_assert([] {
  for (std::size_t i = 0; i < flag_count; ++i)
    if (static_cast<std::size_t>(flag_texts[i].flag) != i) return false;
  return flag_count <= 32;
}());

}  // namespace bowrise
