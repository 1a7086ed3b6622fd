#include "sim/units.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <numeric>
#include <system_error>

#include "models/constants.hpp"
#include "sim/trimmed.hpp"

namespace bowrise {

namespace {

// Definitions. Foot and pound: international agreement of 1959; these and everything built from them as in
// NIST SP 811 (2008), appendix B.
constexpr double foot_m = 0.3048;
constexpr double inch_m = foot_m / 12;
constexpr double mile_m = 5280 * foot_m;
constexpr double nautical_mile_m = 1852;  // International Hydrographic Conference 1929
constexpr double pound_kg = 0.45359237;
constexpr double pound_force_N = pound_kg * gravity_m_s2;
constexpr double mechanical_horsepower_W = 550 * foot_m * pound_force_N;  // 550 ft lbf/s = 745.69987 W
constexpr double metric_horsepower_W = 75 * gravity_m_s2;                 // 75 kgf m/s = 735.49875 W
constexpr double hour_s = 3600;
constexpr double fahrenheit_K = 5.0 / 9.0;
constexpr double fahrenheit_zero_K = 459.67 * 5.0 / 9.0;

using enum Dimension;

struct DimensionName {
  Dimension dimension;
  std::string_view name;
};

// clang-format off
constexpr std::array<DimensionName, 23> dimension_names{{
    {dimensionless, "pure number"}, {count, "count"}, {length, "length"}, {area, "area"}, {volume, "volume"},
    {mass, "mass"}, {time, "time"}, {angle, "angle"}, {speed, "speed"}, {angular_speed, "angular speed"},
    {power, "power"}, {torque, "torque"}, {inertia, "moment of inertia"}, {force, "force"},
    {pressure, "pressure"}, {temperature, "temperature"}, {salinity, "salinity"}, {density, "density"},
    {flow, "flow"}, {inverse_length, "inverse length"}, {rate, "rate"}, {acceleration, "acceleration"},
    {wear_rate, "wear rate"}}};

// Each unit: spelling, dimension, factor, offset. Those without a constant above are SI or accepted beside it
// (BIPM brochure, 9th edition; ISO 80000). thou is the trade's word for a thousandth of an inch.
constexpr std::array<Unit, 65> units{{
    {"1", dimensionless, 1, 0}, {"%", dimensionless, 0.01, 0},
    {"count", count, 1, 0},
    {"mm", length, 1e-3, 0}, {"cm", length, 1e-2, 0}, {"m", length, 1, 0}, {"km", length, 1e3, 0},
    {"in", length, inch_m, 0}, {"ft", length, foot_m, 0}, {"mile", length, mile_m, 0},
    {"thou", length, inch_m / 1000, 0},
    {"mm2", area, 1e-6, 0}, {"cm2", area, 1e-4, 0}, {"m2", area, 1, 0}, {"in2", area, inch_m * inch_m, 0},
    {"mL", volume, 1e-6, 0}, {"cm3", volume, 1e-6, 0}, {"L", volume, 1e-3, 0}, {"m3", volume, 1, 0},
    {"g", mass, 1e-3, 0}, {"kg", mass, 1, 0}, {"lb", mass, pound_kg, 0},
    {"ms", time, 1e-3, 0}, {"s", time, 1, 0}, {"min", time, 60, 0}, {"h", time, hour_s, 0},
    {"deg", angle, radians_per_degree, 0}, {"rad", angle, 1, 0},
    {"m/s", speed, 1, 0}, {"km/h", speed, 1000 / hour_s, 0}, {"mph", speed, mile_m / hour_s, 0},
    {"kn", speed, nautical_mile_m / hour_s, 0}, {"ft/s", speed, foot_m, 0},
    {"rpm", angular_speed, 2 * pi / 60, 0}, {"rad/s", angular_speed, 1, 0},
    {"W", power, 1, 0}, {"kW", power, 1e3, 0}, {"MW", power, 1e6, 0},
    {"hp", power, mechanical_horsepower_W, 0}, {"metric_hp", power, metric_horsepower_W, 0},
    {"PS", power, metric_horsepower_W, 0},
    {"Nm", torque, 1, 0}, {"lbf ft", torque, pound_force_N * foot_m, 0},
    {"kg m2", inertia, 1, 0},
    {"N", force, 1, 0}, {"kN", force, 1e3, 0}, {"lbf", force, pound_force_N, 0},
    {"Pa", pressure, 1, 0}, {"hPa", pressure, 1e2, 0}, {"kPa", pressure, 1e3, 0}, {"MPa", pressure, 1e6, 0},
    {"mbar", pressure, 1e2, 0}, {"bar", pressure, 1e5, 0},
    {"psi", pressure, pound_force_N / (inch_m * inch_m), 0},
    {"degC", temperature, 1, zero_celsius_K}, {"degF", temperature, fahrenheit_K, fahrenheit_zero_K},
    {"K", temperature, 1, 0},
    {"g/kg", salinity, 1, 0},
    {"kg/m3", density, 1, 0},
    {"L/s", flow, 1e-3, 0}, {"m3/s", flow, 1, 0},
    {"1/m", inverse_length, 1, 0},
    {"1/s", rate, 1, 0},
    {"m/s2", acceleration, 1, 0},
    {"mm/s", wear_rate, 1e-3, 0}}};
// clang-format on

struct Spelling {
  std::string_view typed;
  std::string_view meant;
};

// clang-format off
constexpr std::array<Spelling, 7> aliases{{
    {"inch", "in"}, {"mi", "mile"}, {"cc", "cm3"}, {"N m", "Nm"},
    {"lb ft", "lbf ft"}, {"ft lb", "lbf ft"}, {"ft lbf", "lbf ft"}}};

/// Refused although the meaning can be guessed, with what to say about them.
constexpr std::array<Spelling, 13> hints{{
    {"bhp", "hp is 745.7 W, PS is 735.5 W; bhp does not say which"}, {"HP", "hp is 745.7 W, PS is 735.5 W"},
    {"kph", "did you mean km/h?"}, {"knots", "did you mean kn?"}, {"percent", "did you mean %?"},
    {"C", "did you mean degC?"}, {"\u00b0C", "did you mean degC?"}, {"F", "did you mean degF?"},
    {"\u00b0F", "did you mean degF?"}, {"\u00b0", "did you mean deg?"}, {"\"", "did you mean in?"},
    {"'", "did you mean ft?"}, {"mil", "did you mean thou or mile?"}}};
// clang-format on

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
constexpr bool is_ascii(char c) { return static_cast<unsigned char>(c) < 0x80; }
constexpr bool is_control(char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }
constexpr char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// The text in double quotes, safe to print: control characters become '?', a long text is cut.
std::string quoted(std::string_view text) {
  constexpr std::size_t longest = 60;
  std::string shown{text.substr(0, longest)};
  if (text.size() > longest) {
    while (!shown.empty() && !is_ascii(shown.back())) shown.pop_back();  // no half of a UTF-8 character
    shown += "...";
  }
  std::replace_if(shown.begin(), shown.end(), is_control, '?');
  return '"' + shown + '"';
}

/// A unit that stands for a bare number: it is neither typed nor written.
bool is_bare(const Unit& unit) { return unit.name == "1" || unit.name == "count"; }

/// 1/factor if that is a whole number (1 mm = 1 m / 1000), else 0. Dividing by it is exact to the last bit
/// where multiplying by 0.001 is not: 86 mm is then the double nearest to 0.086.
double whole_inverse(double factor) {
  const double inverse = 1 / factor;
  return factor < 1 && inverse == std::round(inverse) ? inverse : 0;
}

/// Edits (insert, delete, replace; half for a change of case) that turn one spelling into the other.
double edits_between(std::string_view typed, std::string_view name) {
  constexpr std::size_t longest = 16;
  std::array<double, longest + 1> row{};
  std::iota(row.begin(), row.end(), 0.0);
  for (std::size_t i = 0; i < typed.size(); ++i) {
    double diagonal = row[0];
    row[0] = static_cast<double>(i + 1);
    for (std::size_t j = 0; j < name.size(); ++j) {
      const double change = typed[i] == name[j] ? 0 : (lower(typed[i]) == lower(name[j]) ? 0.5 : 1);
      const double best = std::min({diagonal + change, row[j] + 1, row[j + 1] + 1});
      diagonal = row[j + 1];
      row[j + 1] = best;
    }
  }
  return row[name.size()];
}

/// The nearest spelling if it is near at all; one of the wanted dimension wins a tie.
const Unit* nearest_unit(std::string_view typed, Dimension wanted) {
  constexpr double farthest = 2;
  constexpr double other_dimension = 0.25;
  const Unit* nearest = nullptr;
  double least = std::min(farthest, static_cast<double>(typed.size()) - 0.5);
  const auto consider = [&](std::string_view spelling, const Unit& unit) {
    if (is_bare(unit)) return;
    const double edits = edits_between(typed, spelling) + (unit.dimension == wanted ? 0 : other_dimension);
    if (edits > least || (edits == least && nearest != nullptr)) return;
    least = edits;
    nearest = &unit;
  };
  for (const Unit& unit : units) consider(unit.name, unit);
  for (const Spelling& alias : aliases) consider(alias.typed, *find_unit(alias.meant));
  return nearest;
}

std::string advice_for(std::string_view typed, Dimension wanted) {
  const auto* const hint =
      std::find_if(hints.begin(), hints.end(), [&](const Spelling& h) { return h.typed == typed; });
  if (hint != hints.end()) return std::string{hint->meant};
  const Unit* const nearest = nearest_unit(typed, wanted);
  return nearest == nullptr ? std::string{} : "did you mean " + std::string{nearest->name} + "?";
}

/// "write a length in mm, cm, m", "write a plain number or %", "write a whole number".
std::string instruction(Dimension wanted) {
  if (wanted == count || wanted == dimensionless) return "write " + units_of(wanted);
  return "write " + with_article(wanted) + " in " + units_of(wanted);
}

struct LeadingNumber {
  double value;
  std::string_view rest;
};

/// The number at the start of the text; what follows it is left for the unit.
std::variant<LeadingNumber, QuantityError> leading_number(std::string_view text) {
  const std::string shown = quoted(text);
  std::string_view digits = text;
  if (digits.size() > 1 && digits[0] == '+' && digits[1] != '-') digits.remove_prefix(1);
  const std::string_view magnitude = digits.substr(!digits.empty() && digits[0] == '-' ? 1 : 0);
  if (magnitude.starts_with("0x") || magnitude.starts_with("0X")) {
    return QuantityError{shown + " is hexadecimal; write a decimal number"};
  }
  if (magnitude.starts_with(',')) {
    return QuantityError{shown + " begins with a comma; write a decimal point"};
  }
  double value = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error == std::errc::result_out_of_range) {
    return QuantityError{shown + " is too large or too small a number"};
  }
  if (error != std::errc{}) return QuantityError{shown + " does not begin with a number"};
  if (!std::isfinite(value)) return QuantityError{shown + " is not a finite number"};

  const std::string_view rest = digits.substr(static_cast<std::size_t>(end - digits.data()));
  if (rest.starts_with(',')) {
    return QuantityError{shown + " has a comma; write a decimal point, and no thousands separators"};
  }
  const std::string_view after_blanks = trimmed(rest);
  const bool second_number =
      !after_blanks.empty() && is_digit(after_blanks.front()) && !after_blanks.starts_with("1/");
  const bool goes_on = rest.starts_with('.') || rest.starts_with('_') || second_number;
  if (goes_on) return QuantityError{shown + " is not one number; write its digits without separators"};
  return LeadingNumber{value, after_blanks};
}

/// The unit a text names after its number, if it has the wanted dimension.
std::variant<const Unit*, QuantityError> wanted_unit(const std::string& shown, std::string_view name,
                                                     Dimension wanted) {
  if (name.empty()) {
    if (wanted == dimensionless || wanted == count) return find_unit(wanted == count ? "count" : "1");
    return QuantityError{shown + " has no unit"};
  }
  const Unit* const unit = find_unit(name);
  if (unit == nullptr || is_bare(*unit)) {
    const std::string advice = advice_for(name, wanted);
    const std::string suggestion = advice.empty() ? "" : " (" + advice + ")";
    return QuantityError{shown + ": unknown unit " + quoted(name) + suggestion + "; " + instruction(wanted)};
  }
  if (unit->dimension != wanted) {
    return QuantityError{shown + " is " + with_article(unit->dimension) + "; " + instruction(wanted)};
  }
  return unit;
}

std::string general_text(double value, int digits) {
  std::array<char, 40> text{};
  const auto written =
      std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::general, digits);
  return {text.data(), written.ptr};
}

bool is_scientific(const std::string& text) { return text.find('e') != std::string::npos; }

double read_back(const std::string& text) {
  double value = 0;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

}  // namespace

std::span<const Unit> all_units() noexcept { return units; }

const Unit* find_unit(std::string_view name) noexcept {
  for (const Spelling& alias : aliases) {
    if (alias.typed == name) name = alias.meant;
  }
  const auto* const found =
      std::find_if(units.begin(), units.end(), [&](const Unit& unit) { return unit.name == name; });
  return found == units.end() ? nullptr : found;
}

std::string_view name_of(Dimension dimension) noexcept {
  const auto* const found = std::find_if(dimension_names.begin(), dimension_names.end(),
                                         [&](const DimensionName& d) { return d.dimension == dimension; });
  return found == dimension_names.end() ? "quantity" : found->name;
}

std::string with_article(Dimension dimension) {
  const std::string name{name_of(dimension)};
  const bool vowel = std::string_view{"aeiou"}.find(name.front()) != std::string_view::npos;
  return (vowel ? "an " : "a ") + name;
}

std::string units_of(Dimension dimension) {
  if (dimension == count) return "a whole number";
  std::string list = dimension == dimensionless ? "a plain number" : "";
  for (const Unit& unit : units) {
    if (unit.dimension != dimension || is_bare(unit)) continue;
    if (!list.empty()) list += dimension == dimensionless ? " or " : ", ";
    list += unit.name;
  }
  return list;
}

std::variant<double, QuantityError> parse_quantity(std::string_view text, Dimension wanted) {
  const std::string_view content = trimmed(text);
  const std::string shown = quoted(content);
  if (content.empty()) return QuantityError{"nothing is given; " + instruction(wanted)};

  const auto number = leading_number(content);
  if (const auto* const error = std::get_if<QuantityError>(&number)) return *error;
  const auto [value, unit_text] = std::get<LeadingNumber>(number);

  const auto unit = wanted_unit(shown, unit_text, wanted);
  if (const auto* const error = std::get_if<QuantityError>(&unit)) return *error;
  const double si = from_unit(value, *std::get<const Unit*>(unit));

  if (!std::isfinite(si)) return QuantityError{shown + " is too large a quantity"};
  if (wanted == count && si != std::trunc(si)) return QuantityError{shown + " is not a whole number"};
  if (wanted == temperature && si < 0) return QuantityError{shown + " is below absolute zero"};
  return si;
}

double in_unit(double si, std::string_view unit) { return to_unit(si, *find_unit(unit)); }

double to_unit(double si, const Unit& unit) noexcept {
  const double inverse = whole_inverse(unit.factor);
  return inverse > 0 ? (si - unit.offset) * inverse : (si - unit.offset) / unit.factor;
}

double from_unit(double value, const Unit& unit) noexcept {
  const double inverse = whole_inverse(unit.factor);
  return (inverse > 0 ? value / inverse : value * unit.factor) + unit.offset;
}

std::string shortest(double value) {
  std::array<char, 32> text{};
  // adding zero turns -0 into 0 and changes nothing else
  const auto written = std::to_chars(text.data(), text.data() + text.size(), value + 0.0);
  return {text.data(), written.ptr};
}

std::string format_quantity(double si, const Unit& unit) {
  constexpr int readable_digits = 12;  // as many as anyone types; a nearer match means rounding noise
  constexpr double noise_relative = 1e-15;
  const double value = to_unit(si, unit) + 0.0;
  const bool scientific = is_scientific(general_text(value, 17));
  std::string text = shortest(value);
  double least_error = std::numeric_limits<double>::infinity();
  for (int digits = 1; digits <= 17 && least_error > 0; ++digits) {
    const std::string shorter = general_text(value, digits);
    if (is_scientific(shorter) != scientific) continue;  // 7600, not 7.6e+03
    const double error = std::abs(from_unit(read_back(shorter), unit) - si);
    if (!(error < least_error)) continue;
    text = shorter;
    least_error = digits <= readable_digits && error <= noise_relative * std::abs(si) ? 0 : error;
  }
  return is_bare(unit) ? text : text + " " + std::string{unit.name};
}

}  // namespace bowrise
