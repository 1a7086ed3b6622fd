#include "sim/scenario/log_header.hpp"

#include <algorithm>
#include <optional>

#include "sim/scenario/log_cells.hpp"

namespace bowrise {
namespace {

const std::string* told_column(const LogQuantity& quantity, const LogOptions& options) {
  const auto told = options.columns.find(quantity.name);
  return told == options.columns.end() ? nullptr : &told->second;
}

/// Reads one line as a header.
class HeaderLine {
 public:
  HeaderLine(std::string_view line, char separator, const Place& place, const LogOptions& options)
      : cells_(cells_of_line(line, separator)), separator_(separator), place_(place), options_(options) {}

  std::variant<LogHeader, Complaint> read() const {
    LogHeader header{separator_, cells_.size(), {}};
    std::optional<Complaint> lacking;
    for (const LogQuantity& quantity : log_quantity_table()) {
      const std::string* const told = told_column(quantity, options_);
      const auto column = find_column(quantity, told);
      if (column) header.columns.push_back(*column);
      if (column || lacking) continue;
      const bool needed = quantity.field == nullptr || quantity.name == "speed";
      if (told != nullptr)
        lacking = complaint(1, "no column is called \"" + *told + "\"", quantity);
      else if (needed)
        lacking = complaint(
            1, "no column of this name; name it, e.g. --column " + std::string{quantity.example}, quantity);
    }
    if (lacking) return *lacking;
    for (LogColumn& column : header.columns) column.unit = unit_of(column);
    return header;
  }

 private:
  [[nodiscard]] Complaint complaint(int column, std::string what, const LogQuantity& quantity) const {
    return {{place_.file, place_.line, column}, std::string{quantity.name}, std::move(what), false};
  }

  [[nodiscard]] std::optional<LogColumn> find_column(const LogQuantity& quantity,
                                                     const std::string* told) const {
    std::optional<LogColumn> found;
    std::size_t rank = 0;
    for (std::size_t i = 0; i < cells_.size(); ++i) {
      const auto match = header_match(quantity, cells_[i].text, told);
      if (!match) continue;
      // any clock of a log will do
      if (found && quantity.field == nullptr && told == nullptr && match->rank != rank) {
        if (match->rank > rank) continue;
      } else if (found) {
        throw LogRefused{complaint(cells_[i].column,
                                   "two columns could be meant, \"" + cells_[found->index].text +
                                       "\" and \"" + cells_[i].text + "\"; name one with --column",
                                   quantity)};
      }
      rank = match->rank;
      found = LogColumn{&quantity, i, match->unit, nullptr, place_.line, cells_[i].column};
    }
    return found;
  }

  /// @return null where neither the user nor the header tells it and none is assumed
  [[nodiscard]] const Unit* unit_of(LogColumn& column) const {
    const LogQuantity& quantity = *column.quantity;
    const auto told = options_.units.find(quantity.name);
    if (told != options_.units.end()) column.unit_text = told->second;
    if (column.unit_text.empty()) return nullptr;
    const Unit* const unit = log_unit(column.unit_text, quantity.dimension);
    if (unit == nullptr)
      throw LogRefused{complaint(column.place,
                                 "\"" + column.unit_text + "\" is no unit of " +
                                     with_article(quantity.dimension) + "; use " +
                                     units_of(quantity.dimension),
                                 quantity)};
    return unit;
  }

  std::vector<LogCell> cells_;
  char separator_;
  const Place& place_;
  const LogOptions& options_;
};

}  // namespace

std::pair<char, std::size_t> log_separator(std::string_view line, const LogOptions& options) {
  std::pair<char, std::size_t> best{',', 0};
  for (const char separator : {',', ';', '\t'}) {
    const auto cells = cells_of_line(line, separator);
    const auto known = std::count_if(
        log_quantity_table().begin(), log_quantity_table().end(), [&](const LogQuantity& quantity) {
          return std::any_of(cells.begin(), cells.end(), [&](const LogCell& cell) {
            return header_match(quantity, cell.text, told_column(quantity, options)).has_value();
          });
        });
    if (static_cast<std::size_t>(known) > best.second) best = {separator, static_cast<std::size_t>(known)};
  }
  return best;
}

std::variant<LogHeader, Complaint> log_header(std::string_view line, char separator, const Place& place,
                                              const LogOptions& options) {
  return HeaderLine(line, separator, place, options).read();
}

bool take_units_line(std::string_view line, LogHeader& header) {
  const std::vector<LogCell> cells = cells_of_line(line, header.separator);
  std::vector<std::pair<LogColumn*, std::string>> units;
  for (LogColumn& column : header.columns) {
    if (column.index >= cells.size()) continue;
    std::string text = cells[column.index].text;
    if (text.starts_with('(') || text.starts_with('[')) text = header_name(text).unit;
    const bool clock = column.quantity->field == nullptr && text.find(':') != std::string::npos &&
                       text.find_first_of("0123456789") == std::string::npos;  // "hh:mm:ss"
    if (is_no_reading(text) || clock) continue;
    if (log_unit(text, column.quantity->dimension) == nullptr) return false;
    units.emplace_back(&column, text);
  }
  for (const auto& [column, text] : units)
    if (column->unit_text.empty()) {
      column->unit_text = text;
      column->unit = log_unit(text, column->quantity->dimension);
    }
  return !units.empty();
}

}  // namespace bowrise
