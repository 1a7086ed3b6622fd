#include "sim/scenario/log.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "sim/scenario/log_cells.hpp"
#include "sim/scenario/log_clock.hpp"
#include "sim/scenario/log_header.hpp"

namespace bowrise {
namespace {

constexpr std::size_t most_lines_before_header = 200;

/// A cell as something of SI, or why not.
struct Reading {
  std::optional<double> value;  ///< nothing: no reading
  bool readable = true, inside = true;
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
    if (rest_.starts_with("\xFF\xFE") || rest_.starts_with("\xFE\xFF"))
      refuse(0, 0, "is UTF-16 text; save it as UTF-8 or plain text");
    if (rest_.find('\0') != std::string_view::npos) refuse(0, 0, "not a text file");
    find_header();
    bool first = true;
    while (next_line()) {
      if (text_ != header_text_ && !(first && take_units_line(text_, header_))) read_sample();
      first = false;
    }
    check_left_out();
    settle_times();
    check_whole();
    return std::move(log_);
  }

 private:
  [[noreturn]] void refuse(int line, int column, std::string what, std::string_view key = "") const {
    throw LogRefused{{{log_.file, line, column}, std::string{key}, std::move(what), false}};
  }
  [[nodiscard]] Complaint complaint(int line, int column, std::string what, std::string_view key) const {
    return {{log_.file, line, column}, std::string{key}, std::move(what), false};
  }
  /// The next line that holds something; comments begin with #.
  bool next_line() {
    while (!rest_.empty()) {
      const auto end = rest_.find_first_of("\r\n");
      text_ = rest_.substr(0, end);
      const bool both = end != std::string_view::npos && rest_.substr(end).starts_with("\r\n");
      rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + (both ? 2 : 1));
      ++line_;
      const auto content = text_.find_first_not_of(" \t");
      if (content == std::string_view::npos || text_[content] == '#') continue;
      // empty cells at the end of a line of tabs are cells
      text_ = text_.substr(0, text_.find_last_not_of(' ') + 1);
      return true;
    }
    return false;
  }

  /// The first line with columns of time and speed; what stands before it is the logger's own.
  void find_header() {
    std::optional<Complaint> best;
    std::size_t most = 0, lines = 0;
    for (; lines < most_lines_before_header && next_line(); ++lines) {
      const auto [separator, known] = log_separator(text_, options_);
      auto read = log_header(text_, separator, {log_.file, line_, 1}, options_);
      if (auto* const header = std::get_if<LogHeader>(&read)) {
        header_ = std::move(*header);
        header_text_ = text_;
        if (lines > 0) log_.notes.push_back(fmt::format("the header is taken to be line {}", line_));
        return;
      }
      if (!best || known > most) best = std::get<Complaint>(std::move(read));
      most = std::max(most, known);
    }
    if (!best) refuse(0, 0, "empty; write a header and samples");
    throw LogRefused{*best};
  }

  void read_sample() {
    if (stamps_.size() >= most_log_samples)
      refuse(line_, 0, "more than 400000 samples; cut the log to the runs");
    const std::vector<LogCell> cells = cells_of_line(text_, header_.separator);
    LoggedSample sample{};
    std::optional<LogStamp> stamp;
    std::optional<Complaint> unreadable;
    bool any = false, speed_readable = false;
    for (const LogColumn& column : header_.columns) {
      if (column.index >= cells.size()) continue;
      const LogCell& cell = cells[column.index];
      const Reading reading = reading_of(column, cell);
      if (!reading.readable && !unreadable)
        unreadable = complaint(line_, cell.column, "\"" + cell.text.substr(0, 40) + "\" is not a number",
                               column.quantity->name);
      if (!reading.inside) note_outside(column, cell);
      if (!reading.value) continue;
      if (column.quantity->field == nullptr) {
        stamp = LogStamp{*reading.value, line_, cell.column};
      } else {
        sample.*(column.quantity->field) = reading.value;
        any = true;
        speed_readable = speed_readable || column.quantity->name == "speed";
      }
    }
    const LogCell* const time =
        header_.columns.front().index < cells.size() ? &cells[header_.columns.front().index] : nullptr;
    const bool words = time == nullptr || time->text.find_first_of("0123456789") == std::string::npos;
    if (!stamp && (any || unreadable) && (words || !speed_readable))
      return leave_out(unreadable && !(time != nullptr && is_no_reading(time->text))
                           ? *unreadable
                           : complaint(line_, 1, "a sample without a time", "time"));
    if (unreadable) throw LogRefused{*unreadable};
    for (std::size_t i = header_.cells; i < cells.size(); ++i)
      if (!cells[i].text.empty())
        refuse(line_, cells[i].column,
               std::string{"more cells than the header has columns"} +
                   (header_.separator == ',' ? "; decimal commas need another separator" : ""));
    if (!any || !stamp) return;  // a gap
    stamps_.push_back(*stamp);
    log_.samples.push_back(sample);
  }

  Reading reading_of(const LogColumn& column, const LogCell& cell) {
    if (is_no_reading(cell.text)) return {};
    const LogQuantity& quantity = *column.quantity;
    if (quantity.field == nullptr)
      if (const auto clock = clock_of(cell.text)) return {time_of(*clock)};
    const auto number = number_of(cell.text, header_.separator != ',' || cell.quoted);
    if (!number) return {std::nullopt, false};
    const Unit* unit = column.unit;
    if (!number->rest.empty()) {
      unit = log_unit(number->rest, quantity.dimension);
      if (unit == nullptr) return {std::nullopt, false};
    }
    if (unit == nullptr && quantity.assumed_unit.empty())
      refuse(column.line, column.place, "no unit in the header; say which, e.g. --unit speed=mph",
             quantity.name);
    check_decimal_mark(*number, cell);
    time_told_ = time_told_ || (quantity.field == nullptr && unit != nullptr);
    if (unit == nullptr) unit = find_unit(quantity.assumed_unit);
    const double si = from_unit(number->value, *unit);
    const bool share = quantity.name == "throttle" && unit->factor == 1.0;
    if (!share && (si < quantity.least || si > quantity.most)) return {std::nullopt, true, false};
    return {si};
  }

  /// A clock that passes midnight, or the hour, goes on.
  double time_of(const LogClock& clock) {
    time_told_ = true;
    double time = clock.seconds + clock_turns_ * clock.period_s;
    if (last_clock_ && time < *last_clock_ - 0.5 * clock.period_s) {
      clock_turns_ += 1.0;
      time += clock.period_s;
    }
    last_clock_ = time;
    return time;
  }

  /// "7,650" beside "12.5" would be read a thousandfold too small.
  void check_decimal_mark(const LogNumber& number, const LogCell& cell) {
    if (number.decimal_mark == '\0') return;
    if (decimal_mark_ == '\0') decimal_mark_ = number.decimal_mark;
    if (decimal_mark_ != number.decimal_mark)
      refuse(line_, cell.column,
             "\"" + cell.text.substr(0, 40) +
                 "\": decimal commas and decimal points in one log; no marks between thousands");
  }

  void note_outside(const LogColumn& column, const LogCell& cell) {
    ++outside_;
    if (first_outside_) return;
    const std::string unit = column.unit_text.empty() ? "" : " " + std::string{column.unit->name};
    first_outside_ = complaint(line_, cell.column,
                               cell.text.substr(0, 40) + unit + " cannot be; outside " +
                                   std::string{column.quantity->limits} + "; is the unit right?",
                               column.quantity->name);
  }

  void leave_out(const Complaint& why) {
    ++left_out_;
    if (!first_left_out_) first_left_out_ = why;
  }

  void check_left_out() {
    const auto samples = static_cast<double>(log_.samples.size());
    if (first_left_out_) {
      if (static_cast<double>(left_out_) > std::max(rare_share * samples, 10.0) || samples < 2.0)
        throw LogRefused{*first_left_out_};
      log_.notes.push_back(fmt::format("{} line{} without a sample passed over, first line {}", left_out_,
                                       left_out_ == 1 ? "" : "s", first_left_out_->place.line));
    }
    if (first_outside_) {
      if (static_cast<double>(outside_) > rare_share * samples) throw LogRefused{*first_outside_};
      log_.notes.push_back(fmt::format("{} reading{} that cannot be left out, first in line {}", outside_,
                                       outside_ == 1 ? "" : "s", first_outside_->place.line));
    }
    if (log_.samples.size() < 2)
      refuse(0, 0, log_.samples.empty() ? "no samples under the header" : "one sample is no run");
  }

  void settle_times() {
    try {
      LogTimes times = rising_times(stamps_, time_told_);
      std::vector<LoggedSample> kept;
      for (std::size_t i = 0; i < stamps_.size(); ++i) {
        if (!times.time_s[i]) continue;
        kept.push_back(log_.samples[i]);
        kept.back().time_s = *times.time_s[i];
      }
      log_.samples = std::move(kept);
      log_.notes.insert(log_.notes.end(), times.notes.begin(), times.notes.end());
    } catch (const LogTimesRefused& refused) {
      refuse(refused.line, refused.column, refused.what, "time");
    }
  }

  void check_whole() {
    double fastest = 0.0, widest_throttle = 0.0;
    for (const LoggedSample& sample : log_.samples) {
      fastest = std::max(fastest, sample.speed_m_s.value_or(0.0));
      widest_throttle = std::max(widest_throttle, std::abs(sample.throttle.value_or(0.0)));
    }
    if (widest_throttle > 110.0) refuse(0, 0, "goes above 110 %", "throttle");
    if (fastest == 0.0) refuse(0, 0, "all readings are 0", "speed");
    note_shaft();
    if (widest_throttle > 1.5)
      for (LoggedSample& sample : log_.samples)
        if (sample.throttle) *sample.throttle *= 0.01;
  }

  /// Without rpm a fit tells little of the engine: whoever has it should hear that it was not found.
  void note_shaft() {
    bool column = false, turns = false;
    for (const LogColumn& one : header_.columns) column = column || one.quantity->name == "rpm";
    for (const LoggedSample& sample : log_.samples)
      turns = turns || sample.shaft_speed_rad_s.value_or(0.0) > 0.0;
    if (!column)
      log_.notes.emplace_back("no column of rpm; if there is one, name it: --column rpm=NAME");
    else if (!turns)
      log_.notes.emplace_back("rpm is 0 or empty throughout: not used");
  }

  std::string_view rest_, text_, header_text_;
  const LogOptions& options_;
  Log log_;
  std::vector<LogStamp> stamps_;  ///< of the samples
  LogHeader header_{};
  std::size_t left_out_ = 0, outside_ = 0;
  std::optional<Complaint> first_left_out_, first_outside_;
  char decimal_mark_ = '\0';
  bool time_told_ = false;
  double clock_turns_ = 0.0;
  std::optional<double> last_clock_;
  int line_ = 0;
};

}  // namespace

std::string log_quantities() {
  std::string text;
  for (const LogQuantity& quantity : log_quantity_table())
    text += (text.empty() ? "" : ", ") + std::string{quantity.name};
  return text;
}

bool is_log_quantity(std::string_view name) {
  return std::any_of(log_quantity_table().begin(), log_quantity_table().end(),
                     [name](const LogQuantity& quantity) { return quantity.name == name; });
}

std::variant<Log, Complaint> read_log_text(std::string_view text, const std::string& file,
                                           const LogOptions& options) {
  try {
    return LogReader(text, file, options).read();
  } catch (LogRefused& refused) {
    return std::move(refused.complaint);
  }
}

std::variant<Log, Complaint> read_log(const std::filesystem::path& path, const LogOptions& options) {
  auto text = load_text(path, false, largest_log_bytes);
  if (auto* const complaint = std::get_if<Complaint>(&text)) return std::move(*complaint);
  return read_log_text(std::get<std::string>(text), path.string(), options);
}

}  // namespace bowrise
