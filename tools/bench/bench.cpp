// bowrise_bench: what the engine costs on this machine, in one run; and, where CVODE was built in, the same
// launch solved by it: error against time. `--guard` prints ratios to a reference kernel and fails when one
// is too high.
#include <fmt/format.h>
#include <sys/resource.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <limits>
#include <optional>
#include <stdexcept>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "sim/craft.hpp"
#include "sim/evaluate.hpp"
#include "sim/launch.hpp"
#include "sim/scenario/read.hpp"
#include "sim/study/executor.hpp"
#include "sim/study/outcome.hpp"
#include "sim/study/shared_tables.hpp"
#include "tools/bench/marks.hpp"
#include "tools/bench/timing.hpp"

namespace bowrise::bench {
namespace {

constexpr std::size_t rounds = 15;
constexpr const char* scenarios[]{"supercharged_three_seat.yaml", "light_two_seat.yaml", "two_stage.yaml",
                                  "worn_ring.yaml", "modified_400.yaml"};

Setup shipped(const char* name) {
  auto read = read_scenario(std::filesystem::path(BOWRISE_SCENARIOS) / name);
  if (const auto* complaints = std::get_if<std::vector<Complaint>>(&read))
    throw std::runtime_error(to_string(complaints->front()));
  return std::get<Scenario>(read).setup;
}

struct Costs {
  double reference_s, rates_s, hull_s, pump_s, prepare_s, launch_s, outcome_s;
};

/// A fixed piece of arithmetic of the engine's own kind, to which its times can be compared on any machine:
/// factors of a 10 x 10 matrix, powers and exponentials. About a microsecond.
double reference_kernel(double seed) {
  Eigen::Matrix<double, 10, 10> matrix;
  for (int i = 0; i < 10; ++i)
    for (int j = 0; j < 10; ++j) matrix(i, j) = 1.0 / (1.0 + i + j + seed) + (i == j ? 1.0 : 0.0);
  double sum = matrix.partialPivLu().solve(Eigen::Matrix<double, 10, 1>::Ones()).sum();
  for (int k = 1; k <= 10; ++k) sum += std::pow(sum + k, 0.3) * std::exp(-sum / k);
  return sum;
}

Costs costs_of(const Setup& setup) {
  const Craft craft = prepare(setup);
  const LaunchOptions options = launch_options(setup, false);
  const State end = launch(craft, setup.run, options).end_state;
  const auto each = [](std::size_t count, const auto& work) {
    return least_seconds(rounds,
                         [&] {
                           for (std::size_t i = 0; i < count; ++i) keep(work(1e-9 * static_cast<double>(i)));
                         }) /
           static_cast<double>(count);
  };
  const auto moved = [&](double by) {
    State state = end;
    state.speed_m_s += by;
    return state;
  };
  return {
      .reference_s = each(2000, reference_kernel),
      .rates_s = each(2000, [&](double by) { return rates(craft, craft.lever.back(), 1.0, moved(by)); }),
      .hull_s = each(
          2000, [&](double by) { return hull_forces(*craft.hull, end.speed_m_s + by, end.trim_rad, 0.0); }),
      .pump_s =
          each(2000,
               [&](double by) { return pump_point(*craft.pump, end.flow_m3_s + by, end.shaft_speed_rad_s); }),
      .prepare_s = each(10, [&](double) { return prepare(setup); }),
      .launch_s = each(4, [&](double) { return launch(craft, setup.run, options).end_time_s; }),
      .outcome_s = each(4, [&](double) { return outcome_of(setup); })};
}

void print_costs(const char* name) {
  const Setup setup = shipped(name);
  const Costs costs = costs_of(setup);
  const Launch run = launch(prepare(setup), setup.run, launch_options(setup, false));
  fmt::print("{:<32}{:>6.0f}{:>6.0f}{:>6.0f}{:>9.0f}{:>9.0f}{:>9.0f}{:>7}{:>7}\n", name, 1e9 * costs.rates_s,
             1e9 * costs.hull_s, 1e9 * costs.pump_s, 1e6 * costs.prepare_s, 1e6 * costs.launch_s,
             1e6 * costs.outcome_s, run.counters.steps, run.counters.rhs_calls);
}

/// Launches a second of setups that all differ, each prepared, run and summed up.
double launches_per_second(const Setup& setup, const Tables& offered, unsigned threads) {
  constexpr std::size_t count = 400;
  std::vector<double> speeds(count);
  const double seconds = least_seconds(rounds, [&] {
    for_each_index(count, threads, [&](std::size_t i) {
      Setup other = setup;
      other.nozzle.exit_diameter_m += 1e-6 * static_cast<double>(i);
      speeds[i] = outcome_of(other, false, offered).values.front().value_or(0.0);
    });
  });
  keep(speeds);
  return static_cast<double>(count) / seconds;
}

long peak_memory_kB() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return usage.ru_maxrss;
}

struct Solver {
  const char* name;
  Solved (*solve)(const Setup&, const Craft&, double tolerance);
};

#ifdef BOWRISE_WITH_CVODE
template <Multistep method, ErrorWeights weights>
Solved by_cvode(const Setup&, const Craft& craft, double tolerance) {
  return solve_with_cvode(craft, method, weights, tolerance);
}
#endif

std::vector<Solver> solvers() {
  std::vector<Solver> all{{"launch", solve_with_launch},
                          {"our stepper", [](const Setup&, const Craft& craft, double by) {
                             return solve_with_our_stepper(craft, by);
                           }}};
#ifdef BOWRISE_WITH_CVODE
  all.insert(all.end(), {{"CVODE BDF", by_cvode<Multistep::bdf, ErrorWeights::alike>},
                         {"CVODE BDF, shares", by_cvode<Multistep::bdf, ErrorWeights::shared>},
                         {"CVODE Adams", by_cvode<Multistep::adams, ErrorWeights::alike>},
                         {"CVODE Adams, shares", by_cvode<Multistep::adams, ErrorWeights::shared>}});
#endif
  return all;
}

/// A shipped scenario with a tight run of it.
struct Case {
  const char* name;
  Setup setup;
  Craft craft;
  Solved reference;
};

std::vector<Case> cases() {
  std::vector<Case> all;
  for (const char* name : scenarios) {
    const Setup setup = shipped(name);
    const Craft craft = prepare(setup);
    all.push_back({name, setup, craft, solve_with_launch(setup, craft, 1e-12)});
  }
  return all;
}

void print_work_precision(const Case& one) {
  fmt::print(
      "\nWork and precision, {}: 15 s, marks 30 mph, 60 mph, 60 ft, 100 m, speed and rpm at the end\n"
      "A launch also finds all its other events and sums; shares: states weighted as in ours.\n"
      "solver               tolerance   error    time us   steps  right-hand sides\n",
      one.name);
  for (const Solver& solver : solvers())
    for (const double tolerance : {1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 1e-6, 1e-7, 1e-8}) {
      std::optional<Solved> solved;
      const double seconds =
          least_seconds(rounds, [&] { solved = solver.solve(one.setup, one.craft, tolerance); });
      fmt::print("{:<21}{:>9.0e}{:>9.1e}{:>10.0f}{:>8}{:>8}\n", solver.name, tolerance,
                 error_of(*solved, one.reference), 1e6 * seconds, solved->steps, solved->rhs_calls);
    }
}

double worst_error(const Solver& solver, const std::vector<Case>& all, double tolerance) {
  double worst = 0.0;
  for (const Case& one : all)
    worst = std::max(worst, error_of(solver.solve(one.setup, one.craft, tolerance), one.reference));
  return worst;
}

double seconds_for(const Solver& solver, const std::vector<Case>& all, double tolerance) {
  double sum = 0.0;
  for (const Case& one : all)
    sum += least_seconds(rounds, [&] { keep(solver.solve(one.setup, one.craft, tolerance)); });
  return sum;
}

/// What marks within 1e-4 on all shipped scenarios cost: one setting must serve them all, as a preset has to,
/// since one scenario alone is met by luck now and then.
void print_quickest_settings(const std::vector<Case>& all) {
  constexpr double near_enough = 1e-4, loosest = 1e-2;
  constexpr int settings = 32, per_decade = 8;
  const std::vector<Solver> every_one = solvers();
  const Solver &whole_launch = every_one[0], &our_stepper = every_one[1];
  const double preset = all.front().setup.run.tolerance;
  const double preset_seconds = seconds_for(whole_launch, all, preset);
  const auto print = [&](std::string_view name, double tolerance, double error, double seconds) {
    fmt::print("{:<21}{:>9.1e}{:>9.1e}{:>10.0f}{:>8.2f}\n", name, tolerance, error, 1e6 * seconds,
               seconds / preset_seconds);
  };
  fmt::print(
      "\nThe quickest setting of each solver with the marks of all five scenarios within 1e-4\n"
      "solver               tolerance   error    time us   ratio\n");
  print("launch, preset", preset, worst_error(whole_launch, all, preset), preset_seconds);
  print("our stepper, preset", preset, worst_error(our_stepper, all, preset),
        seconds_for(our_stepper, all, preset));
  for (const Solver& solver : every_one) {
    double best_tolerance = 0.0, best_error = 0.0, best_seconds = std::numeric_limits<double>::infinity();
    for (int k = 0; k < settings; ++k) {
      const double tolerance = loosest * std::pow(10.0, -k / double{per_decade});
      const double error = worst_error(solver, all, tolerance);
      if (error > near_enough) continue;
      const double seconds = seconds_for(solver, all, tolerance);
      if (seconds >= best_seconds) continue;
      best_tolerance = tolerance;
      best_error = error;
      best_seconds = seconds;
    }
    if (best_tolerance > 0.0) print(solver.name, best_tolerance, best_error, best_seconds);
  }
}

/// Ratios to the reference kernel that no change may pass by accident: about 1.5 times what they are.
int guard() {
  const Setup setup = shipped(scenarios[0]);
  const Costs costs = costs_of(setup);
  struct Limit {
    const char* what;
    double seconds, most;
  };
  const Limit limits[]{{"right-hand side", costs.rates_s, 0.45},
                       {"a craft's tables", costs.prepare_s, 260.0},
                       {"a launch", costs.launch_s, 440.0},
                       {"a launch with tables and summary", costs.outcome_s, 650.0}};
  fmt::print("reference kernel {:.0f} ns\n{:<36}{:>10}{:>10}\n", 1e9 * costs.reference_s, "over it", "ratio",
             "most");
  bool good = true;
  for (const Limit& limit : limits) {
    const double ratio = limit.seconds / costs.reference_s;
    good = good && ratio <= limit.most;
    fmt::print("{:<36}{:>10.2f}{:>10.2f}{}\n", limit.what, ratio, limit.most,
               ratio <= limit.most ? "" : "  TOO SLOW");
  }
  return good ? 0 : 1;
}

void report() {
  fmt::print("{:<32}{:>18}{:>9}{:>9}{:>9}{:>7}{:>7}\n{:<32}{:>6}{:>6}{:>6}{:>9}{:>9}{:>9}{:>7}{:>7}\n", "",
             "ns a call", "us", "us", "us", "", "", "scenario", "rhs", "hull", "pump", "tables", "launch",
             "outcome", "steps", "rhs");
  for (const char* name : scenarios) print_costs(name);
  const Setup setup = shipped(scenarios[0]);
  fmt::print("\nlaunches a minute{:>25}{:>12}\n", "1 thread", "2 threads");
  const std::pair<const char*, Tables> ways[]{{"every craft built anew", {}},
                                              {"all tables shared", tables_for(setup)}};
  for (const auto& [how, offered] : ways)
    fmt::print("{:<30}{:>12.0f}{:>12.0f}\n", how, 60.0 * launches_per_second(setup, offered, 1),
               60.0 * launches_per_second(setup, offered, 2));
  fmt::print("\npeak memory {:.1f} MB\n", static_cast<double>(peak_memory_kB()) / 1024.0);
  const std::vector<Case> all = cases();
  print_work_precision(all.front());
  print_quickest_settings(all);
}

}  // namespace
}  // namespace bowrise::bench

int main(int argc, char** argv) {
  try {
    if (argc == 2 && std::strcmp(argv[1], "--guard") == 0) return bowrise::bench::guard();
    if (argc != 1) {
      fmt::print(stderr, "usage: bowrise_bench [--guard]\n");
      return 2;
    }
    bowrise::bench::report();
    return 0;
  } catch (const std::exception& error) {
    fmt::print(stderr, "bowrise_bench: {}\n", error.what());
    return 1;
  }
}
