/// Text <-> SI: "86 mm", "255 hp", "24 degC". The only place in the project that knows a non-SI factor.
///
/// Spelling is strict and case sensitive (mW is not MW); a few aliases are accepted. Numbers are read and
/// written without any locale. Inside the project every quantity is in SI and radians, except salinity, which
/// is in g/kg.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <variant>

namespace bowrise {

enum class Dimension {
  dimensionless,
  count,  ///< a whole number of things
  length,
  area,
  volume,
  mass,
  time,
  angle,
  speed,
  angular_speed,
  power,
  torque,
  inertia,
  force,
  pressure,
  temperature,
  salinity,
  density,
  flow,
  inverse_length,
  rate,
  acceleration,
  wear_rate  ///< a gap that grows; the same dimension as speed, kept apart because nobody wears at 3 km/h
};

/// One spelling of a unit: SI value = value * factor + offset. "1" and "count" stand for bare numbers.
struct Unit {
  std::string_view name;
  Dimension dimension;
  double factor;
  double offset;
};

/// Why a text is not the quantity that was wanted, e.g. `"86" has no unit`.
struct QuantityError {
  std::string what;
};

/// Every unit once, grouped by dimension; aliases are left out.
[[nodiscard]] std::span<const Unit> all_units() noexcept;

/// The unit with this spelling or alias, or null.
[[nodiscard]] const Unit* find_unit(std::string_view name) noexcept;

/// "length"; for sentences see `with_article`.
[[nodiscard]] std::string_view name_of(Dimension dimension) noexcept;

/// "a length", "an angle".
[[nodiscard]] std::string with_article(Dimension dimension);

/// Accepted spellings, for messages: "mm, cm, m, km, in, ft, mile, thou".
[[nodiscard]] std::string units_of(Dimension dimension);

/// Reads a number followed by a unit, with or without blanks between and around them: "86 mm", "-2.5deg",
/// "1e3 kg". A pure number or a count is bare ("0.03", "4"); a pure number may also be a percentage.
/// @return the value in SI, finite; or an error for: no number, no unit, unknown unit (with the nearest
/// spelling), unit of another dimension, a count that is not whole, a temperature below absolute zero, NaN,
/// infinity, hexadecimal, a decimal comma, digits in groups, a number that a double cannot hold.
[[nodiscard]] std::variant<double, QuantityError> parse_quantity(std::string_view text, Dimension wanted);

/// SI to unit and back. No range check.
[[nodiscard]] double to_unit(double si, const Unit& unit) noexcept;
[[nodiscard]] double from_unit(double value, const Unit& unit) noexcept;

/// SI to a unit that the program names itself, for its texts: one of the table.
[[nodiscard]] double in_unit(double si, std::string_view unit);

/// The shortest text that reads back as the same double, with a decimal point and never "-0".
/// Values that are not finite give "inf", "-inf" or "nan".
[[nodiscard]] std::string shortest(double value);

/// "86 mm": the value in the unit, in as few digits as read well. If up to 12 digits give `si` back to 1e-15
/// (relative), they are what was meant and the rest is rounding noise; otherwise the fewest digits that
/// `parse_quantity` turns back into `si` exactly, or to one rounding (2.2e-16) where the factor of the unit
/// allows no exact way. "1" and "count" are not written. For an exact record of any double use `shortest` in
/// SI.
[[nodiscard]] std::string format_quantity(double si, const Unit& unit);

}  // namespace bowrise
