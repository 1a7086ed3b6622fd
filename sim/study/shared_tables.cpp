#include "sim/study/shared_tables.hpp"

#include <algorithm>
#include <memory>
#include <optional>
#include <stdexcept>
#include <utility>
#include <vector>

#include "sim/study/executor.hpp"

namespace bowrise {
namespace {

struct Bases {
  HullBasis hull;
  PumpBasis pump;
  EngineBasis engine;
};

std::optional<Bases> bases_of(const Setup& setup) {
  if (!check(setup).empty()) return std::nullopt;
  const Surroundings around = surroundings(setup);
  return Bases{hull_basis(setup, around), pump_basis(setup, around), engine_basis(setup, around)};
}

template <class Basis>
void add_if_new(Basis&& basis, std::vector<Basis>& all) {
  const bool known = std::any_of(all.begin(), all.end(), [&](const Basis& one) { return same(one, basis); });
  if (!known) all.push_back(std::move(basis));
}

/// Those of before or new ones. What cannot be computed is left out: blades that give no head, an engine
/// without torque.
template <class Basis, class Prepared>
std::vector<std::shared_ptr<const Prepared>> all_made_from(
    const std::vector<Basis>& bases, const Tables& before,
    std::shared_ptr<const Prepared> (*make)(const Basis&, const Tables&), unsigned threads) {
  std::vector<std::shared_ptr<const Prepared>> all(bases.size());
  for_each_index(bases.size(), threads, [&](std::size_t i) {
    try {
      all[i] = make(bases[i], before);
    } catch (const std::runtime_error&) {
    }
  });
  std::erase(all, nullptr);
  return all;
}

}  // namespace

Tables tables_for(std::span<const Setup> setups, const Tables& before, unsigned threads) {
  std::vector<std::optional<Bases>> needed(setups.size());
  for_each_index(setups.size(), threads, [&](std::size_t i) { needed[i] = bases_of(setups[i]); });
  std::vector<HullBasis> hulls;
  std::vector<PumpBasis> pumps;
  std::vector<EngineBasis> engines;
  for (auto& bases : needed) {
    if (!bases) continue;
    add_if_new(std::move(bases->hull), hulls);
    add_if_new(std::move(bases->pump), pumps);
    add_if_new(std::move(bases->engine), engines);
  }
  return {all_made_from(hulls, before, hull_of, threads), all_made_from(pumps, before, pump_of, threads),
          all_made_from(engines, before, engine_of, threads)};
}

Tables tables_for(const Setup& setup) { return tables_for({&setup, 1}); }

}  // namespace bowrise
