// How far a long study has come and how long it will still take, on stderr when somebody looks at it there.
#pragma once

#include <chrono>
#include <cstddef>

namespace bowrise::tools {

class ProgressLine {
 public:
  /// @param quiet  say nothing even on a terminal
  explicit ProgressLine(bool quiet);
  ~ProgressLine() { clear(); }
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  /// At most a few times a second the line is written anew.
  void show(std::size_t done, std::size_t total);

  /// Takes the line away, before anything else is said.
  void clear();

 private:
  using Clock = std::chrono::steady_clock;
  bool shown_, written_ = false;
  std::size_t first_done_ = 0;  ///< what an earlier run had done is no measure of the pace
  Clock::time_point first_time_, last_time_;
};

}  // namespace bowrise::tools
