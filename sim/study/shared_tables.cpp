#include "sim/study/shared_tables.hpp"

#include <algorithm>
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
};

std::optional<Bases> bases_of(const Setup& setup) {
  if (!check(setup).empty()) return std::nullopt;
  const Surroundings around = surroundings(setup);
  return Bases{hull_basis(setup, around), pump_basis(setup, around)};
}

template <class Basis>
void add_if_new(Basis&& basis, std::vector<Basis>& all) {
  const bool known = std::any_of(all.begin(), all.end(), [&](const Basis& one) { return same(one, basis); });
  if (!known) all.push_back(std::move(basis));
}

}  // namespace

Tables tables_for(std::span<const Setup> setups, const Tables& before, unsigned threads) {
  std::vector<std::optional<Bases>> needed(setups.size());
  for_each_index(setups.size(), threads, [&](std::size_t i) { needed[i] = bases_of(setups[i]); });
  std::vector<HullBasis> hulls;
  std::vector<PumpBasis> pumps;
  for (auto& bases : needed) {
    if (!bases) continue;
    add_if_new(std::move(bases->hull), hulls);
    add_if_new(std::move(bases->pump), pumps);
  }
  Tables tables{std::vector<std::shared_ptr<const PreparedHull>>(hulls.size()),
                std::vector<std::shared_ptr<const PreparedPump>>(pumps.size())};
  for_each_index(hulls.size() + pumps.size(), threads, [&](std::size_t i) {
    if (i < hulls.size()) {
      tables.hulls[i] = hull_of(hulls[i], before);
      return;
    }
    try {
      tables.pumps[i - hulls.size()] = pump_of(pumps[i - hulls.size()], before);
    } catch (const std::runtime_error&) {  // blades that give no head
    }
  });
  std::erase(tables.pumps, nullptr);
  return tables;
}

Tables tables_for(const Setup& setup) { return tables_for({&setup, 1}); }

}  // namespace bowrise
