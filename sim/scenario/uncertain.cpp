#include "sim/scenario/uncertain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/key_text.hpp"
#include "sim/scenario/write.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

/// Reads the rows of one file in turn.
class PosteriorReader {
 public:
  PosteriorReader(const Layer& layer, std::vector<Complaint>& complaints)
      : layer_(layer), complaints_(complaints) {}

  Posterior read() {
    for (const GivenFit& given : layer_.fits) row(given);
    return std::move(posterior_);
  }

 private:
  void complain(Position position, const Key& key, std::string what) {
    complaints_.push_back(
        {{layer_.file, position.line, position.column}, "uncertain: " + key.name, std::move(what), false});
  }

  double number(const Key& key, const DocumentNode& node) {
    const auto value = parse_quantity(node.text, Dimension::dimensionless);
    if (const auto* number = std::get_if<double>(&value)) return *number;
    complain(node.position, key, std::get<QuantityError>(value).what);
    return 1.0;
  }

  void row(const GivenFit& given) {
    posterior_.keys.push_back(given.key);
    posterior_.at.push_back(number(*given.key, given.at));
    auto& factors = posterior_.factor.emplace_back();
    for (const DocumentNode& node : given.factor) factors.push_back(number(*given.key, node));
    if (factors.size() != posterior_.keys.size())
      return complain(given.key_position, *given.key,
                      fmt::format("factor holds {} numbers; in row {} write {}", factors.size(),
                                  posterior_.keys.size(), posterior_.keys.size()));
    const bool small =
        std::abs(posterior_.at.back()) <= 10.0 &&
        std::all_of(factors.begin(), factors.end(), [](double factor) { return std::abs(factor) <= 10.0; });
    if (!small || !(factors.back() > 0.0))
      complain(given.key_position, *given.key,
               "at and factor lie within 10 of 0, and factor ends in a number above 0");
  }

  const Layer& layer_;
  std::vector<Complaint>& complaints_;
  Posterior posterior_;
};

/// Six significant digits: finer than any fit.
std::string digits(double value) { return fmt::format("{:.6g}", value == 0.0 ? 0.0 : value); }

/// The value on one line, a table in brackets.
std::string value_text(const Setup& setup, const Key& key) {
  if (key.kind != KeyKind::table) return text_of(setup, key);
  std::string rows;
  for (const std::vector<double>& row : key.read_table(setup))
    rows += fmt::format("{}[{}]", rows.empty() ? "" : ", ", fmt::join(cell_texts(key, row), ", "));
  return "[" + rows + "]";
}

}  // namespace

Posterior posterior_of(const Layer& layer, std::vector<Complaint>& complaints) {
  return PosteriorReader(layer, complaints).read();
}

std::string posterior_text(const Setup& setup, const Posterior& posterior) {
  if (posterior.keys.empty()) return "";
  std::string text =
      "# What the fit knows. The share of its spread at which an input stands, as a standard normal "
      "quantile,\n"
      "# is normal about `at`; row by row `factor` is the lower triangular factor of the covariance.\n"
      "uncertain:\n";
  for (std::size_t i = 0; i < posterior.keys.size(); ++i) {
    const Key& key = *posterior.keys[i];
    std::string row;
    for (const double factor : posterior.factor[i]) row += (row.empty() ? "" : ", ") + digits(factor);
    text += fmt::format("  {}: {{at: {}, factor: [{}]}}  # {}\n", key.name, digits(posterior.at[i]), row,
                        text_of(setup, key));
  }
  return text;
}

std::string fitted_scenario_text(const FittedFile& file, const Setup& fitted, const Posterior& posterior) {
  std::string text = "from: " + quoted_text(file.from) + "\ntitle: " + quoted_text(file.title) +
                     "\nnote: " + quoted_text(file.note) + "\n\n";
  for (const Key& key : all_keys()) {
    const auto holds = [&](const std::vector<const Key*>& keys) {
      return std::find(keys.begin(), keys.end(), &key) != keys.end();
    };
    if (holds(posterior.keys) || holds(file.also_set))
      text += key.name + ": " + value_text(fitted, key) + "\n";
  }
  return text + "\n" + posterior_text(fitted, posterior);
}

}  // namespace bowrise
