#include "sim/scenario/log_columns.hpp"

#include <algorithm>
#include <array>

#include "models/constants.hpp"

namespace bowrise {
namespace {

// Names and spellings as loggers write them [common practice, no source].
// clang-format off
const std::vector<LogQuantity> quantities{
    {"time", Dimension::time, "s",
     {"elapsed_time", "elapsed", "time", "t", "seconds", "session_time", "run_time", "timer", "lap_time", "zeit",
      "temps", "timestamp", "time_stamp", "log_time", "gps_time", "utc_time", "time_utc", "utc", "local_time",
      "time_of_day", "clock", "date_time", "date/time", "datetime", "date_and_time", "epoch", "unix_time", "unix", "uhrzeit"},
     "time=t", -1e16, 1e16, "", nullptr},
    {"speed", Dimension::speed, "",
     {"speed", "velocity", "gps_speed", "speed_gps", "gps_velocity", "speed_over_ground", "ground_speed",
      "groundspeed", "sog", "gps", "v", "vel", "boat_speed", "craft_speed", "vehicle_speed",
      "geschwindigkeit", "gps_geschwindigkeit", "vitesse", "vitesse_gps"},
     "speed=gps_mph", -0.5, 100.0, "-0.5 to 100 m/s", &LoggedSample::speed_m_s},
    {"rpm", Dimension::angular_speed, "rpm",
     {"rpm", "shaft_rpm", "engine_rpm", "rpm_engine", "shaft_speed", "engine_speed", "revs", "engine_revs",
      "impeller_rpm", "pump_rpm", "n", "n_engine", "n_mot", "nmot", "tach", "tachometer", "crank_rpm",
      "drehzahl", "motordrehzahl", "regime", "regime_moteur"},
     "rpm=revs", 0.0, 20000.0 * pi / 30.0, "0 to 20000 rpm", &LoggedSample::shaft_speed_rad_s},
    {"throttle", Dimension::dimensionless, "1",
     {"throttle", "tps", "throttle_position", "throttle_pos", "throttle_angle", "lever", "throttle_lever",
      "gas", "gashebel", "drosselklappe"},
     "throttle=tps", -0.05, 1.1, "0 to 100 %", &LoggedSample::throttle},
    {"heading", Dimension::angle, "deg",
     {"heading", "course", "bearing", "cog", "course_over_ground", "track", "gps_heading", "gps_course", "kurs"},
     "heading=cog", -2.0 * pi, 4.0 * pi, "-360 to 720 degrees", &LoggedSample::heading_rad}};

/// Of two that end alike the longer stands first.
struct Spelling { std::string_view written, unit; };
constexpr std::array spellings{
    Spelling{"meters_per_second", "m/s"}, Spelling{"metres_per_second", "m/s"}, Spelling{"miles_per_hour", "mph"},
    Spelling{"milliseconds", "ms"}, Spelling{"m_per_s", "m/s"}, Spelling{"percent", "%"},
    Spelling{"seconds", "s"}, Spelling{"degrees", "deg"}, Spelling{"rev/min", "rpm"}, Spelling{"min^-1", "rpm"},
    Spelling{"knots", "kn"}, Spelling{"u/min", "rpm"}, Spelling{"r/min", "rpm"}, Spelling{"1/min", "rpm"},
    Spelling{"min-1", "rpm"}, Spelling{"min_1", "rpm"}, Spelling{"rad/s", "rad/s"}, Spelling{"km/h", "km/h"},
    Spelling{"km_h", "km/h"}, Spelling{"mi/h", "mph"}, Spelling{"m.p.h.", "mph"}, Spelling{"ft/s", "ft/s"},
    Spelling{"msec", "ms"}, Spelling{"knot", "kn"}, Spelling{"m_s", "m/s"}, Spelling{"m/s", "m/s"},
    Spelling{"mps", "m/s"}, Spelling{"kmh", "km/h"}, Spelling{"kph", "km/h"}, Spelling{"mph", "mph"},
    Spelling{"fps", "ft/s"}, Spelling{"min", "min"}, Spelling{"rpm", "rpm"}, Spelling{"deg", "deg"},
    Spelling{"rad", "rad"}, Spelling{"pct", "%"}, Spelling{"sec", "s"}, Spelling{"kts", "kn"},
    Spelling{"\xC2\xB0", "deg"}, Spelling{"kn", "kn"}, Spelling{"kt", "kn"}, Spelling{"ms", "ms"},
    Spelling{"ms", "m/s"}, Spelling{"us", "us"}, Spelling{"\xC2\xB5s", "us"}, Spelling{"%", "%"},
    Spelling{"s", "s"}};

constexpr std::array<std::string_view, 20> no_readings{
    "", "nan", "-nan", "n/a", "na", "#n/a", "#na", "-", "--", "---", "----", "null", "none", "nil", "?",
    "err", "error", "invalid", "***", "\xE2\x80\x93"};
// clang-format on

// A share is a bare number in the table of units, and no tuner measures in microseconds.
constexpr Unit percent{"%", Dimension::dimensionless, 0.01, 0.0};
constexpr Unit microsecond{"us", Dimension::time, 1e-6, 0.0};

std::string lower(std::string_view text) {
  std::string out{text};
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

/// Lower case, every row of blanks, dots, commas, colons and hyphens as one "_".
std::string plain_name(std::string_view text) {
  std::string name;
  for (const char c : lower(text)) {
    const bool mark = std::string_view{" \t-.,:_"}.find(c) != std::string_view::npos;
    if (!mark)
      name += c;
    else if (!name.empty() && name.back() != '_')
      name += '_';
  }
  while (name.ends_with('_')) name.pop_back();
  return name;
}

std::optional<std::size_t> rank_of(const LogQuantity& quantity, const std::string& name) {
  const auto found = std::find(quantity.names.begin(), quantity.names.end(), name);
  if (found == quantity.names.end()) return std::nullopt;
  return static_cast<std::size_t>(found - quantity.names.begin());
}

const Unit* unit_named(std::string_view name, Dimension dimension) {
  if (name == "%") return dimension == Dimension::dimensionless ? &percent : nullptr;
  if (name == "us") return dimension == Dimension::time ? &microsecond : nullptr;
  const Unit* const unit = find_unit(name);
  return unit != nullptr && unit->dimension == dimension ? unit : nullptr;
}

/// "speed_mph" is speed in mph.
std::optional<HeaderName> with_unit_cut_off(const LogQuantity& quantity, const std::string& name) {
  if (name.find('_') == std::string::npos) return std::nullopt;
  for (const Spelling& known : spellings) {
    if (name.size() <= known.written.size() + 1 || !name.ends_with(known.written)) continue;
    const std::size_t mark = name.size() - known.written.size() - 1;
    if (name[mark] == '_' && unit_named(known.unit, quantity.dimension) != nullptr)
      return HeaderName{name.substr(0, mark), std::string{known.unit}};
  }
  return std::nullopt;
}

}  // namespace

const std::vector<LogQuantity>& log_quantity_table() { return quantities; }

const Unit* log_unit(std::string_view text, Dimension dimension) {
  if (const Unit* const exact = unit_named(text, dimension)) return exact;
  const std::string small = lower(text);
  for (const Spelling& known : spellings)
    if (known.written == small)
      if (const Unit* const unit = unit_named(known.unit, dimension)) return unit;
  return nullptr;
}

HeaderName header_name(std::string_view cell) {
  HeaderName header;
  const auto open = cell.find_first_of("([");
  header.name = plain_name(cell.substr(0, open));
  if (open == std::string_view::npos) return header;
  const auto close = cell.find_first_of(")]", open);
  std::string_view unit = cell.substr(open + 1, close == std::string_view::npos ? close : close - open - 1);
  while (unit.starts_with(' ')) unit.remove_prefix(1);
  while (unit.ends_with(' ')) unit.remove_suffix(1);
  header.unit = std::string{unit};
  return header;
}

std::optional<HeaderMatch> header_match(const LogQuantity& quantity, std::string_view cell,
                                        const std::string* told) {
  const HeaderName header = header_name(cell);
  const auto cut_off = [&] {
    return header.unit.empty() ? with_unit_cut_off(quantity, header.name) : std::nullopt;
  };
  if (told != nullptr) {
    const auto cut = cut_off();
    const std::string wanted = plain_name(*told);
    if (*told != cell && (wanted.empty() || (wanted != header.name && (!cut || wanted != cut->name))))
      return std::nullopt;
    return HeaderMatch{0, cut ? cut->unit : header.unit};
  }
  if (const auto rank = rank_of(quantity, header.name)) {
    // "engine speed (rpm)" is no speed, "time (UTC)" and "time (hh:mm:ss)" have no unit
    const bool unit = header.unit.empty() || log_unit(header.unit, quantity.dimension) != nullptr;
    if (!unit && quantity.dimension == Dimension::time) return HeaderMatch{*rank, ""};
    return HeaderMatch{*rank, header.unit};
  }
  if (const auto cut = cut_off())
    if (const auto rank = rank_of(quantity, cut->name)) return HeaderMatch{*rank, cut->unit};
  return std::nullopt;
}

bool is_no_reading(std::string_view text) {
  return std::find(no_readings.begin(), no_readings.end(), lower(text)) != no_readings.end();
}

}  // namespace bowrise
