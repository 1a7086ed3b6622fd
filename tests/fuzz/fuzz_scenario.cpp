// Any bytes as a scenario: read, checked, and when sound prepared. Never a crash, never a number that is
// none.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>
#include <variant>

#include "sim/keys.hpp"
#include "sim/scenario/read.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace bowrise;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto result = read_scenario_text(std::string(text), "fuzzed.yaml");
  if (const auto* complaints = std::get_if<std::vector<Complaint>>(&result)) {
    if (complaints->empty()) std::abort();
    for (const Complaint& complaint : *complaints)
      if (to_string(complaint).find('\n') != std::string::npos) std::abort();  // one line each
    return 0;
  }
  const Setup& setup = std::get<Scenario>(result).setup;
  for (const Key& key : all_keys())
    if (key.kind == KeyKind::number && std::isinf(get_SI(setup, key)) && std::isfinite(key.possible.high))
      std::abort();
  return 0;
}
