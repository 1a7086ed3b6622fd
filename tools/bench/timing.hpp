// Wall-clock times of repeated work in this process.
#pragma once

#include <algorithm>
#include <chrono>
#include <cstddef>
#include <vector>

namespace bowrise::bench {

/// Seconds of each of `rounds` rounds, rising.
template <class Work>
std::vector<double> round_seconds(std::size_t rounds, const Work& work) {
  using Clock = std::chrono::steady_clock;
  std::vector<double> seconds;
  for (std::size_t round = 0; round < rounds; ++round) {
    const auto start = Clock::now();
    work();
    seconds.push_back(std::chrono::duration<double>(Clock::now() - start).count());
  }
  std::sort(seconds.begin(), seconds.end());
  return seconds;
}

/// The shortest round: other programs can only lengthen one.
template <class Work>
double least_seconds(std::size_t rounds, const Work& work) {
  return round_seconds(rounds, work).front();
}

/// Keeps the compiler from leaving out work whose result nobody reads.
template <class Value>
void keep(const Value& value) {
  asm volatile("" : : "r"(&value) : "memory");
}

}  // namespace bowrise::bench
