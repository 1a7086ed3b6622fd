#include "sim/output/json.hpp"
#include "sim/output/json_study.hpp"
#include "sim/output/json_value.hpp"

namespace bowrise {
namespace {

Json input_json(const FittedInput& input) {
  return {{"key", input.key->name},
          {"unit", input.key->unit->name},
          {"scenario", number(input.before)},
          {"fitted", number(input.value)},
          {"low", number(input.low)},
          {"high", number(input.high)},
          {"scenario_low", number(input.prior_low)},
          {"scenario_high", number(input.prior_high)},
          {"left_of_spread", number(input.left)},
          {"told", input.told()}};
}

std::string_view logging_name(LoggingNuisance::Kind kind) {
  using Kind = LoggingNuisance::Kind;
  switch (kind) {
    case Kind::speed_latency:
      return "speed_latency";
    case Kind::shaft_latency:
      return "rpm_latency";
    case Kind::current:
      return "current";
    case Kind::start:
      break;
  }
  return "start";
}

Json nuisance_json(const FittedNuisance& nuisance, const std::vector<std::string>& runs) {
  using Kind = LoggingNuisance::Kind;
  const bool start = nuisance.kind == Kind::start;
  return {{"name", logging_name(nuisance.kind)},
          {"unit", nuisance.kind == Kind::current ? "m/s" : "s"},
          {"run", start ? Json(runs[nuisance.run]) : Json(nullptr)},
          {"value", number(nuisance.value)},
          {"deviation", number(nuisance.deviation)},
          {"told", nuisance.told()}};
}

Json agreement_json(const FitAgreement& agreement) {
  return {{"of", agreement.name},
          {"unit", agreement.name.starts_with("speed") ? "m/s" : "1"},
          {"samples", agreement.count},
          {"rms", number(agreement.rms)},
          {"mean", number(agreement.mean)},
          {"scatter", number(agreement.scatter)},
          {"correlation_of_neighbours", number(agreement.correlation)},
          {"outliers", agreement.outliers}};
}

Json posterior_json(const Posterior& posterior) {
  Json rows = Json::array();
  for (std::size_t i = 0; i < posterior.keys.size(); ++i)
    rows.push_back(
        {{"key", posterior.keys[i]->name}, {"at", number(posterior.at[i])}, {"factor", posterior.factor[i]}});
  return rows;
}

Json results_json(const Fit& fit) {
  Json results = Json::object();
  for (std::size_t i = 0; i < result_rows().size(); ++i)
    results[std::string(result_rows()[i].name)] = {{"unit", result_rows()[i].unit},
                                                   {"fitted", number(fit.nominal.values[i])},
                                                   {"band_before", band_json(fit.before.results[i])},
                                                   {"band_after", band_json(fit.after.results[i])}};
  return results;
}

}  // namespace

std::string fit_json(const Fit& fit, const std::vector<std::string>& runs,
                     const std::vector<std::string>& notes) {
  Json inputs = Json::array(), nuisances = Json::array(), agreement = Json::array(), seen = Json::array();
  for (const FittedInput& input : fit.inputs) inputs.push_back(input_json(input));
  for (const FittedNuisance& nuisance : fit.nuisances) nuisances.push_back(nuisance_json(nuisance, runs));
  for (const FitAgreement& one : fit.agreement) agreement.push_back(agreement_json(one));
  for (const SeenAgreement& one : fit.seen)
    seen.push_back({{"result", result_rows()[one.result].name},
                    {"unit", result_rows()[one.result].unit},
                    {"seen", number(one.seen)},
                    {"fitted", number(one.fitted)},
                    {"scatter", number(one.scatter)}});
  return Json{{"program", "bowrise"},
              {"version", version()},
              {"runs", runs},
              {"notes", notes},
              {"one_course", fit.one_course},
              {"settled", fit.settled},
              {"steps", fit.steps},
              {"agreement", agreement},
              {"seen", seen},
              {"logging", nuisances},
              {"inputs", inputs},
              {"uncertain", posterior_json(fit.posterior)},
              {"draws", fit.after.draws},
              {"results", results_json(fit)},
              {"cautions", cautions_json()}}
             .dump(2) +
         "\n";
}

}  // namespace bowrise
