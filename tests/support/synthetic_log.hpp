// A logger on a craft that the model itself moves: what it would have written, noise and latency included.
#pragma once

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>
#include <variant>
#include <vector>

#include "sim/craft.hpp"
#include "sim/launch.hpp"
#include "sim/logged_run.hpp"
#include "sim/scenario/log.hpp"

namespace bowrise::test {

/// Noise as loggers have it [common practice, no source]: speed 0.1 m/s, shaft speed 0.5 %.
struct Logger {
  double rate_hz = 10.0, speed_noise_m_s = 0.1, shaft_noise = 0.005, latency_s = 0.25, shaft_latency_s = 0.03;
  bool shaft = true;
  double length_s = 14.0, standing_s = 1.2, course = 1.0, current_m_s = 0.0;
};

/// Normal numbers by Box and Muller 1958, the same on every machine.
class Noise {
 public:
  explicit Noise(std::uint64_t seed) : bits_(seed) {}
  double operator()() {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - share()));
    return radius * std::cos(2.0 * std::numbers::pi * share());
  }

 private:
  double share() { return static_cast<double>(bits_() >> 11) * 0x1.0p-53; }
  std::mt19937_64 bits_;
};

inline LoggedRun logged_run(const Setup& hidden, const Logger& logger, std::uint64_t seed) {
  LaunchOptions options = launch_options(hidden, true);
  options.row_step_s = 0.01;
  options.duration_s = logger.length_s;
  options.stop_at_top_speed = options.stop_when_stalled = false;
  const Launch run = launch(prepare(hidden), hidden.run, options);
  const auto at = [&](double t) -> const State& {
    std::size_t i = 0;
    while (i + 1 < run.rows.size() && run.rows[i + 1].time_s <= t) ++i;
    return run.rows[i].state;
  };
  Noise noise(seed);
  // the logger's clock knows nothing of the throttle
  const double start = logger.standing_s + 0.3 * std::abs(noise()) / logger.rate_hz;
  LoggedRun out{"synthetic", {}, start, std::nullopt, logger.course};
  for (double t = 0.0; t < start + logger.length_s - 0.5; t += 1.0 / logger.rate_hz) {
    LoggedSample sample{t, {}, {}, {}, {}};
    const double late = t - start - logger.latency_s;
    sample.speed_m_s = std::max((late > 0.0 ? at(late).speed_m_s : 0.0) + logger.course * logger.current_m_s +
                                    logger.speed_noise_m_s * noise(),
                                0.0);
    const double shaft_late = t - start - logger.shaft_latency_s;
    const double shaft = shaft_late > 0.0 ? at(shaft_late).shaft_speed_rad_s : hidden.start.shaft_speed_rad_s;
    if (logger.shaft) sample.shaft_speed_rad_s = shaft * (1.0 + logger.shaft_noise * noise());
    out.samples.push_back(sample);
  }
  return out;
}

/// The runs that a reader finds in what this logger wrote.
inline std::vector<LoggedRun> runs_in(const LoggedRun& logged) {
  const auto runs = runs_of(Log{logged.name, logged.samples, {}});
  if (const auto* complaint = std::get_if<Complaint>(&runs)) FAIL(to_string(*complaint));
  return std::get<std::vector<LoggedRun>>(runs);
}

}  // namespace bowrise::test
