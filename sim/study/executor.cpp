#include "sim/study/executor.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace bowrise {
namespace {

/// The failure with the lowest index. All tasks below it have begun before it, so it does not depend on
/// timing.
class FirstFailure {
 public:
  void note(std::size_t index) {
    const std::lock_guard lock(mutex_);
    if (error_ && index_ < index) return;
    index_ = index;
    error_ = std::current_exception();
    seen_ = true;
  }
  [[nodiscard]] bool seen() const { return seen_; }
  void rethrow() const {
    if (error_) std::rethrow_exception(error_);
  }

 private:
  std::mutex mutex_;
  std::atomic<bool> seen_ = false;
  std::size_t index_ = 0;
  std::exception_ptr error_;
};

}  // namespace

unsigned thread_count(int asked) {
  if (asked > 0) return static_cast<unsigned>(asked);
  return std::max(1U, std::thread::hardware_concurrency());
}

void for_each_index(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& task) {
  std::atomic<std::size_t> next = 0;
  FirstFailure failure;
  const auto work = [&] {
    while (!failure.seen()) {
      const std::size_t index = next++;
      if (index >= count) return;
      try {
        task(index);
      } catch (...) {
        failure.note(index);
      }
    }
  };
  std::vector<std::jthread> helpers;
  const std::size_t useful = std::min<std::size_t>(threads, count);
  for (std::size_t i = 1; i < useful; ++i) helpers.emplace_back(work);
  work();
  helpers.clear();
  failure.rethrow();
}

}  // namespace bowrise
