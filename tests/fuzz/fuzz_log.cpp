// Any bytes as a logger's file: read, cut into runs or refused in one line. What is read holds finite numbers
// in rising time.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>
#include <variant>

#include "sim/scenario/log.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace bowrise;
  const auto refused = [](const Complaint& complaint) {
    const std::string line = to_string(complaint);
    if (line.empty() || line.find('\n') != std::string::npos) std::abort();
    return 0;
  };
  const auto result =
      read_log_text(std::string_view(reinterpret_cast<const char*>(data), size), "fuzzed.csv");
  if (const auto* complaint = std::get_if<Complaint>(&result)) return refused(*complaint);
  const Log& log = std::get<Log>(result);
  double last = -INFINITY;
  for (const LoggedSample& sample : log.samples) {
    if (!(sample.time_s > last) || !std::isfinite(sample.time_s)) std::abort();
    if (sample.speed_m_s && !std::isfinite(*sample.speed_m_s)) std::abort();
    last = sample.time_s;
  }
  const auto runs = runs_of(log);
  if (const auto* complaint = std::get_if<Complaint>(&runs)) return refused(*complaint);
  if (std::get<std::vector<LoggedRun>>(runs).empty()) std::abort();
  return 0;
}
