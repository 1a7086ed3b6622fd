#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/output/study_text.hpp"
#include "sim/output/study_words.hpp"
#include "sim/units.hpp"

namespace bowrise {
namespace {

using Lines = std::vector<std::vector<std::string>>;

/// "the model cannot follow rpm near the top: the log stays 3.2 % below it"
std::string miss_text(const FitAgreement& agreement) {
  const bool speed = agreement.name.starts_with("speed");
  const double size = std::abs(agreement.mean);
  std::string how;
  if (size < 0.3 * agreement.rms)
    how = "the log swings about it, as no noise does";
  else if (speed)
    how = fmt::format("the log stays {:.2f} m/s, {:.1f} mph {} it on average", size, in_unit(size, "mph"),
                      agreement.mean > 0.0 ? "above" : "below");
  else
    how = fmt::format("the log stays {:.1f} % {} it on average", 100.0 * size,
                      agreement.mean > 0.0 ? "above" : "below");
  return fmt::format("  the model cannot follow {}: {}\n", agreement.name, how);
}

std::string agreement_text(const Fit& fit) {
  std::string text, misses;
  for (const FitAgreement& agreement : fit.agreement) {
    const std::string rms =
        agreement.name.starts_with("speed")
            ? fmt::format("{:.2f} m/s, {:.2f} mph", agreement.rms, in_unit(agreement.rms, "mph"))
            : fmt::format("{:.2f} %", 100.0 * agreement.rms);
    text += fmt::format("  {:<20} {} samples, rms {}, {} beyond four standard deviations\n", agreement.name,
                        agreement.count, rms, agreement.outliers);
    if (agreement.correlation > smooth_above) misses += miss_text(agreement);
  }
  if (!misses.empty())
    text +=
        misses +
        "  what is left over there is smooth: the model misses something of this craft; it counts for less "
        "and the bands are wider, but no band holds what a model lacks\n";
  for (const SeenAgreement& seen : fit.seen) {
    const ResultRow& row = result_rows()[seen.result];
    text += fmt::format("  {:<20} seen {}, fitted {}\n", result_label(row), result_value_text(row, seen.seen),
                        result_value_text(row, seen.fitted));
  }
  if (!fit.settled) text += "  the fit did not settle; take it with care\n";
  return text;
}

std::string nuisances_text(const Fit& fit, const std::vector<std::string>& runs) {
  using Kind = LoggingNuisance::Kind;
  std::string text;
  for (const FittedNuisance& nuisance : fit.nuisances) {
    const std::string known = nuisance.told() ? "" : ", not told by the data";
    switch (nuisance.kind) {
      case Kind::speed_latency:
      case Kind::shaft_latency:
        text += fmt::format("  {} is logged {:.2f} s late (+-{:.2f}){}\n",
                            nuisance.kind == Kind::speed_latency ? "speed" : "rpm",
                            hundredths(nuisance.value), nuisance.deviation, known);
        break;
      case Kind::current:
        text += fmt::format("  current {:.2f} m/s along the first run (+-{:.2f}){}\n",
                            hundredths(nuisance.value), nuisance.deviation, known);
        break;
      case Kind::start:
        text += fmt::format("  {}: throttle opens at {:.2f} s of the log (+-{:.2f})\n", runs[nuisance.run],
                            nuisance.value, nuisance.deviation);
        break;
    }
  }
  if (fit.runs > 0 && fit.one_course)
    text += "  every run goes the same way: a current would hide in the speed\n";
  return text;
}

std::string inputs_text(const Fit& fit) {
  Lines told{{"", "scenario", "fitted", "5 %", "95 %", "left of its spread"}};
  std::string open;
  for (const FittedInput& input : fit.inputs) {
    const Key& key = *input.key;
    if (input.told())
      told.push_back({key.name, input_text(key, input.before), input_text(key, input.value),
                      input_text(key, input.low), input_text(key, input.high),
                      fmt::format("{:.0f} %", 100.0 * input.left)});
    else
      open += (open.empty() ? "" : ", ") + key.name;
  }
  std::string text;
  if (told.size() > 1) text += "\ntold by the data\n" + aligned(told);
  if (told.size() == 1) text += "\nno input alone is told by the data; what holds are combinations of them\n";
  if (!open.empty()) text += "\nnot told (over 80 % of the spread is left): " + open + "\n";
  return text;
}

std::string results_text(const Fit& fit) {
  Lines lines{{"", "fitted", "5-95 % before", "", "5-95 % after", ""}};
  for (std::size_t i = 0; i < result_rows().size(); ++i) {
    const auto &before = fit.before.results[i], &after = fit.after.results[i];
    if (!before || !after) continue;
    const ResultRow& row = result_rows()[i];
    lines.push_back({result_label(row), result_cell(row, fit.nominal.values[i]),
                     result_value_text(row, before->low), result_value_text(row, before->high),
                     result_value_text(row, after->low), result_value_text(row, after->high)});
  }
  return fmt::format("\nwhat the craft does, {} draws\n", fit.after.draws) + aligned(lines) +
         failures_text(fit.after.failed, fit.after.draws);
}

}  // namespace

std::string fit_text(const Fit& fit, const std::vector<std::string>& runs,
                     const std::vector<std::string>& notes) {
  std::string text = fmt::format("fitted to {} run{} and {} seen number{}\n", fit.runs,
                                 fit.runs == 1 ? "" : "s", fit.seen.size(), fit.seen.size() == 1 ? "" : "s");
  for (const std::string& note : notes) text += "  " + note + "\n";
  return text + agreement_text(fit) + nuisances_text(fit, runs) + inputs_text(fit) + results_text(fit);
}

std::optional<std::string> hopeless_text(const Fit& fit, const std::string& scenario) {
  const FitAgreement* const far = hopeless(fit);
  if (far == nullptr) return std::nullopt;
  const double off = far->name.starts_with("speed")
                         ? far->mean / fit.nominal.values[result_index("top_speed")].value()
                         : std::expm1(far->mean);
  return fmt::format(
      "{}: the log is {:.0f} % {} all that {} can do; is the unit right, and is it this craft?", far->name,
      100.0 * std::abs(off), off > 0.0 ? "above" : "below", scenario);
}

}  // namespace bowrise
