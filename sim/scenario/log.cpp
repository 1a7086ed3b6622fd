#include "sim/scenario/log.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>

#include "models/constants.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

using Names = std::vector<std::string_view>;

/// What a log can hold. Names as loggers write them [common practice, no source], lower case, blanks as "_".
struct Quantity {
  std::string_view name;
  Dimension dimension;
  std::string_view assumed_unit;  ///< empty: the unit must be told
  Names names;
  std::string_view example;
  double least, most;  ///< SI; what lies outside is no reading
  std::string_view limits;
  std::optional<double> LoggedSample::*field;  ///< null for time
};

constexpr double fastest_m_s = 100.0;

const std::vector<Quantity>& quantities() {
  static const std::vector<Quantity> all{
      {"time",
       Dimension::time,
       "s",
       {"time", "t", "elapsed", "elapsed_time", "timestamp", "seconds", "time_stamp"},
       "time=t",
       -1e15,
       1e15,
       "",
       nullptr},
      {"speed",
       Dimension::speed,
       "",
       {"speed", "velocity", "gps_speed", "speed_over_ground", "ground_speed", "sog", "gps", "v", "vel"},
       "speed=gps_mph",
       -0.5,
       fastest_m_s,
       "-0.5 to 100 m/s",
       &LoggedSample::speed_m_s},
      {"rpm",
       Dimension::angular_speed,
       "rpm",
       {"rpm", "shaft_rpm", "engine_rpm", "shaft_speed", "engine_speed", "revs", "impeller_rpm"},
       "rpm=revs",
       0.0,
       20000.0 * pi / 30.0,
       "0 to 20000 rpm",
       &LoggedSample::shaft_speed_rad_s},
      {"throttle",
       Dimension::dimensionless,
       "1",
       {"throttle", "tps", "throttle_position", "lever"},
       "throttle=tps",
       -0.05,
       1.1,
       "0 to 100 %",
       &LoggedSample::throttle},
      {"heading",
       Dimension::angle,
       "deg",
       {"heading", "course", "bearing", "cog", "course_over_ground"},
       "heading=cog",
       -2.0 * pi,
       4.0 * pi,
       "-360 to 720 degrees",
       &LoggedSample::heading_rad}};
  return all;
}

/// Units as headers spell them, the longest first where one ends like another.
struct HeaderUnit {
  std::string_view written, unit;
};
constexpr std::array header_units{HeaderUnit{"meters_per_second", "m/s"},
                                  HeaderUnit{"m_per_s", "m/s"},
                                  HeaderUnit{"percent", "%"},
                                  HeaderUnit{"seconds", "s"},
                                  HeaderUnit{"degrees", "deg"},
                                  HeaderUnit{"knots", "kn"},
                                  HeaderUnit{"km_h", "km/h"},
                                  HeaderUnit{"km/h", "km/h"},
                                  HeaderUnit{"rad/s", "rad/s"},
                                  HeaderUnit{"ft/s", "ft/s"},
                                  HeaderUnit{"m_s", "m/s"},
                                  HeaderUnit{"m/s", "m/s"},
                                  HeaderUnit{"mps", "m/s"},
                                  HeaderUnit{"kmh", "km/h"},
                                  HeaderUnit{"kph", "km/h"},
                                  HeaderUnit{"mph", "mph"},
                                  HeaderUnit{"min", "min"},
                                  HeaderUnit{"rpm", "rpm"},
                                  HeaderUnit{"deg", "deg"},
                                  HeaderUnit{"pct", "%"},
                                  HeaderUnit{"sec", "s"},
                                  HeaderUnit{"kts", "kn"},
                                  HeaderUnit{"kn", "kn"},
                                  HeaderUnit{"kt", "kn"},
                                  HeaderUnit{"ms", "ms"},
                                  HeaderUnit{"%", "%"},
                                  HeaderUnit{"s", "s"}};

/// Percent is no unit of the table of units, a share is a bare number there.
constexpr Unit percent{"%", Dimension::dimensionless, 0.01, 0.0};

const Unit* unit_called(std::string_view text, Dimension dimension) {
  if (text == "%") return dimension == Dimension::dimensionless ? &percent : nullptr;
  const Unit* found = find_unit(text);
  if (found == nullptr || found->dimension != dimension) {
    found = nullptr;
    for (const HeaderUnit& known : header_units)
      if (known.written == text && known.unit != text) return unit_called(known.unit, dimension);
  }
  return found;
}

std::string lower_name(std::string_view text) {
  std::string name;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '-' || c == '.';
    name += blank ? '_' : (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return name;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t' || text.back() == '\r'))
    text.remove_suffix(1);
  return text;
}

struct Cell {
  std::string text;
  int column;  ///< in characters of the line, from 1
};

/// Cuts a line at the separator; quotes keep a separator and, doubled, a quote (RFC 4180).
std::vector<Cell> cells_of_line(std::string_view line, char separator) {
  std::vector<Cell> cells(1, {"", 1});
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      cells.back().text += '"';
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == separator && !quoted) {
      cells.push_back({"", static_cast<int>(i) + 2});
    } else {
      cells.back().text += c;
    }
  }
  for (Cell& cell : cells) cell.text = std::string{trimmed(cell.text)};
  return cells;
}

/// A header cell: name without its unit, and the unit as written.
struct Header {
  std::string whole, name, unit;
};

Header header_of(const std::string& text) {
  Header header{lower_name(text), lower_name(text), ""};
  const auto open = text.find_first_of("([");
  if (open != std::string::npos) {
    const auto close = text.find_first_of(")]", open);
    header.unit = std::string{trimmed(
        std::string_view{text}.substr(open + 1, close == std::string::npos ? close : close - open - 1))};
    header.name = lower_name(trimmed(std::string_view{text}.substr(0, open)));
  }
  return header;
}

/// "speed_mph" is speed in mph.
std::optional<Header> with_unit_cut_off(const Header& header) {
  if (!header.unit.empty()) return std::nullopt;
  for (const HeaderUnit& known : header_units) {
    const std::string ending = "_" + std::string{known.written};
    if (header.name.size() > ending.size() && header.name.ends_with(ending))
      return Header{header.whole, header.name.substr(0, header.name.size() - ending.size()),
                    std::string{known.unit}};
  }
  return std::nullopt;
}

bool names(const Quantity& quantity, const std::string& name) {
  return std::find(quantity.names.begin(), quantity.names.end(), name) != quantity.names.end();
}

struct Column {
  const Quantity* quantity;
  std::size_t index;
  Unit unit;
};

struct Refused {
  Complaint complaint;
};

class LogReader {
 public:
  LogReader(std::string_view text, std::string file, const LogOptions& options)
      : rest_(text), options_(options) {
    log_.file = std::move(file);
    if (rest_.starts_with("\xEF\xBB\xBF")) rest_.remove_prefix(3);
  }

  Log read() {
    if (rest_.size() > largest_log_bytes) refuse(0, 0, "larger than 32 MB; cut the log to the runs");
    if (rest_.find('\0') != std::string_view::npos) refuse(0, 0, "not a text file");
    if (!next_line()) refuse(0, 0, "empty; write a header and samples");
    read_header();
    while (next_line()) read_sample();
    check_whole();
    return std::move(log_);
  }

 private:
  [[noreturn]] void refuse(int line, int column, std::string what, std::string_view key = "") const {
    throw Refused{{{log_.file, line, column}, std::string{key}, std::move(what), false}};
  }

  /// The next line that holds something; comments begin with #.
  bool next_line() {
    while (!rest_.empty()) {
      const auto end = rest_.find('\n');
      text_ = rest_.substr(0, end);
      rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
      ++line_;
      const std::string_view content = trimmed(text_);
      if (!content.empty() && content.front() != '#') {
        text_ = text_.substr(0, text_.find_last_not_of(" \t\r") + 1);
        return true;
      }
    }
    return false;
  }

  void read_header() {
    for (const char candidate : {',', ';', '\t'})
      if (text_.find(candidate) != std::string_view::npos) {
        separator_ = candidate;
        break;
      }
    const std::vector<Cell> cells = cells_of_line(text_, separator_);
    header_cells_ = cells.size();
    for (const Quantity& quantity : quantities()) find_column(quantity, cells);
    for (const char* needed : {"time", "speed"}) {
      const bool there = std::any_of(columns_.begin(), columns_.end(),
                                     [&](const Column& column) { return column.quantity->name == needed; });
      if (there) continue;
      const Quantity& quantity = *std::find_if(quantities().begin(), quantities().end(),
                                               [&](const Quantity& q) { return q.name == needed; });
      refuse(line_, 1, "no column of this name; name it, e.g. --column " + std::string{quantity.example},
             needed);
    }
  }

  void find_column(const Quantity& quantity, const std::vector<Cell>& cells) {
    const auto wanted = options_.columns.find(quantity.name);
    std::optional<Column> found;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const Header plain = header_of(cells[i].text);
      const std::optional<Header> cut = with_unit_cut_off(plain);
      const bool by_cut = cut && (names(quantity, cut->name) || wanted != options_.columns.end()) &&
                          unit_called(cut->unit, quantity.dimension) != nullptr;
      const bool meant = wanted != options_.columns.end()
                             ? wanted->second == cells[i].text || lower_name(wanted->second) == plain.name
                             : names(quantity, plain.name) || (by_cut && names(quantity, cut->name));
      if (!meant) continue;
      if (found)
        refuse(line_, cells[i].column,
               "two columns could be meant, \"" + cells[found->index].text + "\" and \"" + cells[i].text +
                   "\"; name one with --column",
               quantity.name);
      found = Column{&quantity, i, unit_of(quantity, by_cut ? cut->unit : plain.unit, cells[i])};
    }
    if (found) columns_.push_back(*found);
    if (!found && wanted != options_.columns.end())
      refuse(line_, 1, "no column is called \"" + wanted->second + "\"", quantity.name);
  }

  [[nodiscard]] Unit unit_of(const Quantity& quantity, const std::string& written, const Cell& cell) const {
    const auto told = options_.units.find(quantity.name);
    std::string text = told == options_.units.end() ? written : told->second;
    if (text.empty()) text = quantity.assumed_unit;
    if (text.empty())
      refuse(line_, cell.column, "no unit in the header; say which, e.g. --unit speed=mph", quantity.name);
    const Unit* const unit = unit_called(text, quantity.dimension);
    if (unit == nullptr)
      refuse(line_, cell.column,
             "\"" + text + "\" is no unit of " + with_article(quantity.dimension) + "; use " +
                 units_of(quantity.dimension),
             quantity.name);
    return *unit;
  }

  void read_sample() {
    if (log_.samples.size() >= most_log_samples)
      refuse(line_, 0, "more than 400000 samples; cut the log to the runs");
    const std::vector<Cell> cells = cells_of_line(text_, separator_);
    if (cells.size() > header_cells_)
      refuse(line_, cells[header_cells_].column, "more cells than the header has columns");
    LoggedSample sample{};
    bool any = false;
    std::optional<double> time;
    int time_column = 1;
    for (const Column& column : columns_) {
      if (column.index >= cells.size() || cells[column.index].text.empty()) continue;
      const double value = reading(column, cells[column.index]);
      if (column.quantity->field == nullptr) {
        time = value;
        time_column = cells[column.index].column;
      } else {
        sample.*(column.quantity->field) = value;
        any = true;
      }
    }
    if (!any) return;  // a gap
    if (!time) refuse(line_, 1, "a sample without a time", "time");
    sample.time_s = *time;
    if (!log_.samples.empty() && *time <= log_.samples.back().time_s)
      refuse(line_, time_column, "does not rise: not after that of the sample before", "time");
    log_.samples.push_back(sample);
  }

  [[nodiscard]] double reading(const Column& column, const Cell& cell) const {
    double value = 0.0;
    const char* const end = cell.text.data() + cell.text.size();
    const auto [stop, error] = std::from_chars(cell.text.data(), end, value);
    const Quantity& quantity = *column.quantity;
    if (error != std::errc{} || stop != end || !std::isfinite(value))
      refuse(line_, cell.column, "\"" + cell.text.substr(0, 40) + "\" is not a number", quantity.name);
    const double si = from_unit(value, column.unit);
    const bool share = quantity.name == "throttle" && column.unit.factor == 1.0;
    if (!share && (si < quantity.least || si > quantity.most))
      refuse(line_, cell.column,
             cell.text + " " + std::string{column.unit.name} + " cannot be; outside " +
                 std::string{quantity.limits} + "; is the unit right?",
             quantity.name);
    return si;
  }

  void check_whole() {
    auto& samples = log_.samples;
    if (samples.size() < 2)
      refuse(0, 0, samples.empty() ? "no samples under the header" : "one sample is no run");
    const double origin = samples.front().time_s;
    std::vector<double> steps;
    double fastest = 0.0, widest_throttle = 0.0;
    for (std::size_t i = 0; i < samples.size(); ++i) {
      if (i > 0) steps.push_back(samples[i].time_s - samples[i - 1].time_s);
      fastest = std::max(fastest, samples[i].speed_m_s.value_or(0.0));
      widest_throttle = std::max(widest_throttle, std::abs(samples[i].throttle.value_or(0.0)));
    }
    for (LoggedSample& sample : samples) {
      sample.time_s -= origin;
      if (sample.throttle && widest_throttle > 1.5) *sample.throttle *= 0.01;
    }
    if (widest_throttle > 110.0) refuse(0, 0, "goes above 110 %", "throttle");
    if (fastest == 0.0) refuse(0, 0, "all readings are 0", "speed");
    std::nth_element(steps.begin(), steps.begin() + static_cast<long>(steps.size() / 2), steps.end());
    const double step = steps[steps.size() / 2];
    if (step < 0.005 || step > 1.1)
      refuse(0, 0,
             "samples " + format_quantity(step, *find_unit("s")) +
                 " apart; loggers write 1 to 100 a second: is the unit right? Say it, e.g. --unit time=ms",
             "time");
  }

  std::string_view rest_, text_;
  const LogOptions& options_;
  Log log_;
  std::vector<Column> columns_;
  std::size_t header_cells_ = 0;
  char separator_ = ',';
  int line_ = 0;
};

}  // namespace

std::string log_quantities() {
  std::string text;
  for (const Quantity& quantity : quantities())
    text += (text.empty() ? "" : ", ") + std::string{quantity.name};
  return text;
}

bool is_log_quantity(std::string_view name) {
  return std::any_of(quantities().begin(), quantities().end(),
                     [name](const Quantity& quantity) { return quantity.name == name; });
}

std::variant<Log, Complaint> read_log_text(std::string_view text, const std::string& file,
                                           const LogOptions& options) {
  try {
    return LogReader(text, file, options).read();
  } catch (Refused& refused) {
    return std::move(refused.complaint);
  }
}

std::variant<Log, Complaint> read_log(const std::filesystem::path& path, const LogOptions& options) {
  auto text = load_text(path, false, largest_log_bytes);
  if (auto* const complaint = std::get_if<Complaint>(&text)) return std::move(*complaint);
  return read_log_text(std::get<std::string>(text), path.string(), options);
}

}  // namespace bowrise
