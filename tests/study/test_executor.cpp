#include "sim/study/executor.hpp"

#include <atomic>
#include <catch2/catch.hpp>
#include <stdexcept>
#include <vector>

namespace bowrise {

TEST_CASE("every index is worked on once, whatever the number of threads") {
  for (const unsigned threads : {1U, 2U, 7U}) {
    std::vector<int> visits(500);
    for_each_index(visits.size(), threads, [&](std::size_t i) { ++visits[i]; });
    CHECK(visits == std::vector<int>(500, 1));
  }
}

TEST_CASE("no task is no work") {
  for_each_index(0, 4, [](std::size_t) { FAIL("called"); });
}

TEST_CASE("the failure of the lowest index is the one that is told") {
  for (const unsigned threads : {1U, 2U, 8U})
    for (int repeat = 0; repeat < 20; ++repeat)
      CHECK_THROWS_WITH(for_each_index(100, threads,
                                       [](std::size_t i) {
                                         if (i >= 10) throw std::runtime_error("task " + std::to_string(i));
                                       }),
                        "task 10");
}

TEST_CASE("after a failure no new task begins") {
  std::atomic<int> begun = 0;
  CHECK_THROWS(for_each_index(1'000'000, 2, [&](std::size_t) {
    ++begun;
    throw std::runtime_error("first");
  }));
  CHECK(begun <= 2);
}

TEST_CASE("0 threads asked for means one per core, at least one") {
  CHECK(thread_count(0) >= 1);
  CHECK(thread_count(3) == 3);
}

}  // namespace bowrise
