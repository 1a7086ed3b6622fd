// A launch as a logger would have seen it: what a fit lays beside the logged runs.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "models/setup.hpp"
#include "sim/keys.hpp"
#include "sim/logged_run.hpp"
#include "sim/study/rider_numbers.hpp"
#include "sim/study/robust_squares.hpp"

namespace bowrise {

/// What belongs to the logging and not to the craft.
struct LoggingNuisance {
  enum class Kind { speed_latency, shaft_latency, current, start };
  Kind kind;
  std::size_t run;         ///< start: of which run
  double middle, scatter;  ///< prior mean and standard deviation, SI
};

/// The craft with its limiter as a number, where it is derived: a log can tell it.
[[nodiscard]] Setup with_stated_limiter(Setup setup);

/// The uncertain inputs of a craft and of its logging as standard normal parameters, and what a launch with
/// them would have been logged as. Inputs first, in the order of `keys`; then the nuisances.
///
/// A log with rpm witnesses some settings better than the rider does, the limiter and how fast the hand was:
/// they are then among the inputs.
class LoggedCraft {
 public:
  /// @param runs, seen  at least one of them; every seen number has a value above 0
  LoggedCraft(const Setup& setup, std::span<const LoggedRun> runs, std::span<const Seen> seen);

  [[nodiscard]] const std::vector<const Key*>& keys() const { return keys_; }
  [[nodiscard]] const std::vector<LoggingNuisance>& nuisances() const { return nuisances_; }
  [[nodiscard]] std::size_t runs() const { return runs_.size(); }
  [[nodiscard]] std::size_t parameters() const { return keys_.size() + nuisances_.size(); }
  [[nodiscard]] const std::vector<Observation>& observations() const { return observations_; }
  [[nodiscard]] const std::vector<ObservationGroup>& groups() const { return groups_; }
  /// "speed in the launch" and the like, of the groups that come from logs.
  [[nodiscard]] const std::vector<std::string>& group_names() const { return group_names_; }
  /// Group of the first seen number; the others follow.
  [[nodiscard]] std::size_t first_seen_group() const { return groups_.size() - seen_.size(); }

  /// The craft with its inputs moved.
  [[nodiscard]] Setup setup_at(const Eigen::VectorXd& parameters) const;
  /// The highest shaft speed that the logs hold to, in rad/s; 0 without any.
  [[nodiscard]] double shaft_plateau_rad_s() const;
  /// A nuisance in SI.
  [[nodiscard]] double nuisance_at(std::size_t nuisance, const Eigen::VectorXd& parameters) const;
  /// Of every observation; nothing where the launch fails or lacks a seen result. Shaft speeds are
  /// logarithms.
  [[nodiscard]] std::optional<std::vector<double>> predict(const Eigen::VectorXd& parameters) const;

 private:
  void observe(std::size_t run);
  std::size_t group(std::string_view name, bool shaft);
  void find_nuisances();
  [[nodiscard]] bool witnessed(const Key& setting) const;
  /// Whether a run is a launch of its own; the others, pinned from rest, share one.
  [[nodiscard]] bool of_its_own(std::size_t run) const {
    return levers_[run].has_value() || runs_[run].rolling_m_s > 0.0;
  }
  [[nodiscard]] bool shaft_logged() const;
  /// What the logging adds, in SI; 0 where there is no such nuisance.
  [[nodiscard]] double logging_at(LoggingNuisance::Kind kind, std::size_t run,
                                  const Eigen::VectorXd& parameters) const;

  Setup setup_;
  std::span<const LoggedRun> runs_;
  std::span<const Seen> seen_;
  std::vector<const Key*> keys_;
  std::vector<LoggingNuisance> nuisances_;
  std::vector<Observation> observations_;
  std::vector<double> times_s_;  ///< of the observations from logs
  std::vector<ObservationGroup> groups_;
  std::vector<std::optional<TableRows>> levers_;  ///< by run: the throttle as logged, where it was not pinned
  std::vector<std::string> group_names_;
  std::vector<bool> group_is_shaft_;  ///< by group of a log
  double longest_s_ = 0.0;
};

}  // namespace bowrise
