// Reading logs in tests.
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <utility>
#include <variant>

#include "sim/scenario/log.hpp"

namespace bowrise {

inline Log sound_log(const std::string& text, const LogOptions& options = {}) {
  auto result = read_log_text(text, "lake.csv", options);
  if (const auto* complaint = std::get_if<Complaint>(&result)) FAIL(to_string(*complaint));
  return std::get<Log>(std::move(result));
}

}  // namespace bowrise
