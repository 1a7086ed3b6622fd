#include "tools/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <string>

namespace bowrise::tools {
namespace {

std::string time_text(double seconds) {
  if (seconds < 100.0) return fmt::format("{:.0f} s", seconds);
  if (seconds < 6000.0) return fmt::format("{:.0f} min", seconds / 60.0);
  return fmt::format("{:.1f} h", seconds / 3600.0);
}

}  // namespace

ProgressLine::ProgressLine(bool quiet) : shown_(!quiet && isatty(STDERR_FILENO) == 1) {}

void ProgressLine::clear() {
  if (written_) std::fprintf(stderr, "\r\033[K");
  written_ = false;
}

void ProgressLine::show(std::size_t done, std::size_t total) {
  if (!shown_) return;
  const Clock::time_point now = Clock::now();
  std::string left;
  if (!written_) {
    first_time_ = now;
    first_done_ = done;
  } else {
    if (now - last_time_ < std::chrono::milliseconds(200)) return;
    const double pace =
        std::chrono::duration<double>(now - first_time_).count() / static_cast<double>(done - first_done_);
    left = ", about " + time_text(pace * static_cast<double>(total - done)) + " left";
  }
  last_time_ = now;
  written_ = true;
  const std::string line = fmt::format("\r{} of {} points, {:.0f} %{}\033[K", done, total,
                                       100.0 * static_cast<double>(done) / static_cast<double>(total), left);
  std::fprintf(stderr, "%s", line.c_str());
}

}  // namespace bowrise::tools
