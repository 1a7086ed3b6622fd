#include "sim/output/json.hpp"
#include "sim/output/json_study.hpp"
#include "sim/output/json_value.hpp"

namespace bowrise {
namespace {

Json size_json(const Suspect& suspect) {
  if (suspect.fault == nullptr || !suspect.size) return nullptr;
  return {{"unit", suspect.fault->unit},
          {"of_what", suspect.fault->of_what},
          {"low", number(suspect.size->low)},
          {"median", number(suspect.size->median)},
          {"high", number(suspect.size->high)}};
}

Json suspect_json(const Diagnosis& answer, const Suspect& suspect) {
  Json shows = Json::object();
  for (std::size_t i = 0; i < answer.seen.size(); ++i)
    shows[std::string(result_rows()[answer.seen[i].result].name)] = number(suspect.shows[i]);
  Json entry{{"name", suspect.name()},
             {"probability", number(suspect.probability)},
             {"misfit", std::isfinite(suspect.misfit) ? Json(suspect.misfit) : Json(nullptr)},
             {"size", size_json(suspect)},
             {"stands_out", std::isfinite(suspect.stands_out) ? Json(suspect.stands_out) : Json(nullptr)},
             {"shows", shows}};
  if (suspect.fault != nullptr) {
    entry["meaning"] = suspect.fault->meaning;
    entry["onset"] = suspect.fault->onset;
    entry["comes_suddenly"] = number(suspect.fault->suddenly);
    entry["check"] = suspect.fault->check;
  }
  return entry;
}

Json hidden_json(const HiddenFault& fault) {
  return {{"name", fault.name},
          {"meaning", fault.meaning},
          {"tell_tale", fault.tell_tale},
          {"check", fault.check}};
}

Json numbers_json(const Diagnosis& answer) {
  Json numbers = Json::object();
  for (std::size_t i = 0; i < answer.seen.size(); ++i) {
    const ResultRow& row = result_rows()[answer.seen[i].result];
    numbers[std::string(row.name)] = {{"unit", row.unit},
                                      {"seen", number(answer.seen[i].value)},
                                      {"sound", number(answer.sound[i])},
                                      {"sound_scatter", number(answer.sound_scatter[i])}};
  }
  return numbers;
}

Json next_json(const std::optional<Reading>& next) {
  if (!next) return nullptr;
  const ResultRow& row = result_rows()[next->result];
  return {{"result", row.name},
          {"unit", row.unit},
          {"first", number(next->first)},
          {"second", number(next->second)},
          {"separation", number(next->separation)}};
}

Json came_json(Came came) {
  if (came == Came::unknown) return nullptr;
  return came == Came::suddenly ? "suddenly" : "slowly";
}

Json alike_json(const Diagnosis& answer) {
  Json names = Json::array();
  const std::vector<std::size_t> alike = not_told_apart(answer);
  if (alike.size() < 2) return names;
  for (const std::size_t place : alike) names.push_back(answer.suspects[place].name());
  return names;
}

}  // namespace

std::string diagnosis_json(const Diagnosis& answer) {
  Json suspects = Json::array(), hidden = Json::array(), measured = Json::array();
  for (const Suspect& suspect : answer.suspects) suspects.push_back(suspect_json(answer, suspect));
  for (const HiddenFault& fault : hidden_faults()) hidden.push_back(hidden_json(fault));
  for (const std::size_t result : answer.sound_measured) measured.push_back(result_rows()[result].name);
  return Json{{"program", "bowrise"},
              {"version", version()},
              {"draws", answer.draws},
              {"draws_used", answer.used},
              {"numbers", numbers_json(answer)},
              {"sound_measured", measured},
              {"sound_fits", answer.sound_fits},
              {"came", came_json(answer.came)},
              {"explained", answer.explained},
              {"not_told_apart", alike_json(answer)},
              {"suspects", suspects},
              {"something_else", number(answer.something_else)},
              {"next", next_json(answer.next)},
              {"hint", answer.hint == nullptr ? Json(nullptr) : hidden_json(*answer.hint)},
              {"not_in_the_physics", hidden},
              {"cautions", cautions_json()}}
             .dump(2) +
         "\n";
}

}  // namespace bowrise
