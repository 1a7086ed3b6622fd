// How often a diagnosis is right, over crafts drawn at random: the craft before and after one fault, read off
// with a rider's scatter. A test of consistency, not proof against nature: the same physics makes the numbers
// and reads them, but for the model's own error in what a change does, which is put into the numbers as well.
#include <algorithm>
#include <boost/random/mersenne_twister.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <map>

#include "sim/study/diagnose.hpp"
#include "sim/study/executor.hpp"
#include "sim/study/likelihood.hpp"
#include "sim/study/next_reading.hpp"
#include "sim/study/sample.hpp"
#include "tests/support/scenarios.hpp"

namespace bowrise {
namespace {

/// What a rider has of a launch: dash, ear, watch and phone.
constexpr std::array numbers_told{"top_speed", "top_rpm", "launch_peak_rpm", "hook_up_speed",
                                  "time_to_30_mph"};
constexpr double prior_of_sound = 20.0;

/// A sequence of numbers that is the same on every machine.
class Chance {
 public:
  explicit Chance(std::uint64_t seed) : bits_(seed) {}
  double share() { return (static_cast<double>(bits_() >> 11) + 0.5) * 0x1.0p-53; }
  double normal() { return normal_quantile(share()); }

 private:
  boost::random::mt19937_64 bits_;
};

struct Case {
  const Fault* fault;  ///< null: sound
  double weight;       ///< so that every fault counts as often as it is met
  std::vector<std::string> order;
  std::vector<double> probability;
  std::size_t alike = 1;
  bool truth_alike = false;
};

std::string name_of(const Fault* fault) { return fault == nullptr ? "sound" : std::string(fault->name); }

std::vector<Seen> read_off(const Outcome& outcome, Chance& chance) {
  std::vector<Seen> seen;
  for (const char* name : numbers_told) {
    Seen one{result_index(name), outcome.values[result_index(name)]};
    if (one.value)
      *one.value = off_scale(on_scale(*one.value) + chance.normal() * rider_scatter(one.result, *one.value));
    seen.push_back(one);
  }
  return seen;
}

/// What the fault makes of each number, with the model's error in what a change does.
Outcome with_model_error(const Outcome& sound, Outcome faulty, Chance& chance) {
  for (std::size_t i = 0; i < faulty.values.size(); ++i) {
    auto& value = faulty.values[i];
    if (!value || !sound.values[i]) continue;
    const double before = on_scale(*sound.values[i]);
    value = off_scale(before + (on_scale(*value) - before) * (1.0 + change_error * chance.normal()));
  }
  return faulty;
}

struct Trials {
  std::string scenario;
  std::size_t of_each;  ///< cases of every fault and of the sound craft; of all together when by prior
  bool came_is_told = false, by_prior = false;
  std::size_t draws = 16;
};

/// One case; nothing where the drawn craft does not give the numbers when sound or cannot run with the fault.
std::optional<Case> tried(const Setup& craft, const Fault* fault, std::size_t number, const Trials& trials) {
  Chance chance(1000 * number + 17);
  static const Draws draws(256, 4711);
  const Setup hidden = draws.apply(craft, number % draws.count());
  const Outcome sound = outcome_of(hidden, true);
  std::vector<Seen> measured = read_off(sound, chance);
  std::erase_if(measured, [](const Seen& one) { return !one.value; });
  Outcome faulty = sound;
  if (fault != nullptr) {
    const double size = fault->sizes[1] + chance.share() * (fault->sizes[4] - fault->sizes[1]);
    faulty = with_model_error(sound, outcome_with(*fault, size, hidden, sound, true), chance);
    if (!faulty.values[result_index("top_speed")]) return std::nullopt;
  }
  std::vector<Seen> seen = read_off(faulty, chance);
  std::erase_if(seen, [&](const Seen& one) { return !one.value && !sound.values[one.result]; });
  DiagnoseOptions options;
  options.draws = trials.draws;
  options.threads = 1;
  if (trials.came_is_told)
    options.came =
        chance.share() < (fault == nullptr ? 0.5 : fault->suddenly) ? Came::suddenly : Came::slowly;
  const Diagnosis answer = diagnose(craft, seen, measured, options);
  if (!answer.failure.empty()) return std::nullopt;
  Case one{fault, 1.0, {}, {}, 1, false};
  for (const Suspect& suspect : answer.suspects) {
    one.order.push_back(name_of(suspect.fault));
    one.probability.push_back(suspect.probability);
  }
  const auto alike = not_told_apart(answer);
  one.alike = alike.size();
  one.truth_alike = std::any_of(alike.begin(), alike.end(),
                                [&](std::size_t i) { return answer.suspects[i].fault == fault; });
  return one;
}

/// Truths drawn by how often each is met, the sound craft among them.
std::vector<const Fault*> truths_by_prior(std::size_t count) {
  Chance chance(5);
  double all = prior_of_sound;
  for (const Fault& fault : fault_table()) all += fault.prior;
  std::vector<const Fault*> truths;
  for (std::size_t i = 0; i < count; ++i) {
    double left = chance.share() * all - prior_of_sound;
    const Fault* truth = nullptr;
    for (const Fault& fault : fault_table()) {
      if (left < 0.0) break;
      truth = &fault;
      left -= fault.prior;
    }
    truths.push_back(truth);
  }
  return truths;
}

std::vector<Case> cases_of(const Trials& trials) {
  const Setup craft = test::shipped(trials.scenario);
  std::vector<const Fault*> truths{nullptr};
  if (trials.by_prior) {
    truths = truths_by_prior(trials.of_each);
  } else {
    for (const Fault& fault : fault_table()) truths.push_back(&fault);
  }
  std::vector<std::optional<Case>> found(trials.by_prior ? truths.size() : truths.size() * trials.of_each);
  for_each_index(found.size(), 2,
                 [&](std::size_t i) { found[i] = tried(craft, truths[i % truths.size()], i + 1, trials); });
  std::map<const Fault*, double> counted;
  for (const auto& one : found)
    if (one) counted[one->fault] += 1.0;
  std::vector<Case> cases;
  for (auto& one : found) {
    if (!one) continue;
    one->weight = (one->fault == nullptr ? prior_of_sound : one->fault->prior) / counted[one->fault];
    cases.push_back(*std::move(one));
  }
  return cases;
}

std::size_t rank_of(const Case& one) {
  return static_cast<std::size_t>(std::find(one.order.begin(), one.order.end(), name_of(one.fault)) -
                                  one.order.begin()) +
         1;
}

/// Share of cases, each fault as often as it is met, that fulfil a condition.
template <typename Condition>
double share(const std::vector<Case>& cases, Condition holds) {
  double sum = 0.0, all = 0.0;
  for (const Case& one : cases) {
    all += one.weight;
    if (holds(one)) sum += one.weight;
  }
  return all > 0.0 ? sum / all : 0.0;
}

/// Share that is right and mean probability told, of the answers whose first is told within a range.
struct Reliability {
  double told = 0.0, right = 0.0, weight = 0.0;
  std::size_t cases = 0;
};

Reliability reliability(const std::vector<Case>& cases, double low, double high) {
  Reliability bin;
  for (const Case& one : cases) {
    for (std::size_t i = 0; i < one.order.size(); ++i) {
      const double told = one.probability[i];
      if (told < low || told >= high) continue;
      bin.told += one.weight * told;
      bin.right += one.order[i] == name_of(one.fault) ? one.weight : 0.0;
      bin.weight += one.weight;
      ++bin.cases;
    }
  }
  bin.told /= std::max(bin.weight, 1e-9);
  bin.right /= std::max(bin.weight, 1e-9);
  return bin;
}

void tell(const std::string& title, const std::vector<Case>& cases) {
  std::printf("\n%s, %zu cases\n", title.c_str(), cases.size());
  std::printf(
      "as often as met: first %.0f %%, in two %.0f %%, in three %.0f %%, among those not told apart %.0f %% "
      "(%.1f of them)\n",
      100 * share(cases, [](const Case& c) { return rank_of(c) == 1; }),
      100 * share(cases, [](const Case& c) { return rank_of(c) <= 2; }),
      100 * share(cases, [](const Case& c) { return rank_of(c) <= 3; }),
      100 * share(cases, [](const Case& c) { return c.truth_alike; }), [&] {
        double sum = 0.0, all = 0.0;
        for (const Case& c : cases) sum += c.weight * static_cast<double>(c.alike), all += c.weight;
        return sum / all;
      }());
  for (const double low : {0.0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9}) {
    const double high = low < 0.05 ? 0.05 : low < 0.1 ? 0.1 : low + 0.1 + (low > 0.85 ? 0.1 : 0.0);
    const Reliability bin = reliability(cases, low, high);
    std::printf("  told %.2f to %.2f: mean %.3f, right %.3f of %zu\n", low, high, bin.told, bin.right,
                bin.cases);
  }
  const Reliability sure = reliability(cases, 0.5, 1.1);
  std::printf("  told 0.5 and more: mean %.3f, right %.3f of %zu\n", sure.told, sure.right, sure.cases);
  std::map<std::string, std::map<std::string, int>> confusion;
  std::map<std::string, std::array<int, 3>> within;
  for (const Case& one : cases) {
    ++confusion[name_of(one.fault)][one.order.front()];
    for (std::size_t k = 0; k < 3; ++k) within[name_of(one.fault)][k] += rank_of(one) <= k + 1 ? 1 : 0;
  }
  for (const auto& [truth, firsts] : confusion) {
    std::printf("  %-17s %2d %2d %2d | first:", truth.c_str(), within[truth][0], within[truth][1],
                within[truth][2]);
    for (const auto& [first, count] : firsts) std::printf(" %s %d", first.c_str(), count);
    std::printf("\n");
  }
}

}  // namespace

// A craft in trouble is one at random by how often each fault is met. Were the probabilities told too high,
// fewer firsts would be right than their sum: by more than 2.6 standard deviations once in two hundred.
TEST_CASE("crafts by chance: the first named is right at least as often as is told", "[long]") {
  Trials trials{"supercharged_three_seat", 24, true, true, 4};
  double right = 0.0, told = 0.0, variance = 0.0, in_three = 0.0;
  const std::vector<Case> cases = cases_of(trials);
  CHECK(cases.size() >= 20);
  for (const Case& one : cases) {
    const double first = one.probability.front();
    right += rank_of(one) == 1 ? 1.0 : 0.0;
    in_three += rank_of(one) <= 3 ? 1.0 : 0.0;
    told += first;
    variance += first * (1.0 - first);
  }
  INFO(right << " right of " << cases.size() << ", told " << told << ", in three " << in_three);
  CHECK(right > told - 2.6 * std::sqrt(variance));
  CHECK(in_three > 0.5 * static_cast<double>(cases.size()));
}

TEST_CASE("every fault in turn: how often the answer is right", "[.proof]") {
  for (const char* scenario :
       {"supercharged_three_seat", "naturally_aspirated_three_seat", "light_two_seat"}) {
    for (const bool told : {false, true}) {
      DYNAMIC_SECTION(scenario << (told ? ", how it came is told" : ", how it came is not told")) {
        const Trials trials{scenario, 6, told, false, 8};
        const std::vector<Case> cases = cases_of(trials);
        tell(std::string(scenario) + (told ? ", how it came is told" : ", how it came is not told"), cases);
        const Reliability sure = reliability(cases, 0.5, 1.1);
        CHECK(sure.right > sure.told - 0.1);  // told no surer than it is
      }
    }
  }
}

}  // namespace bowrise
