// Runs independent tasks on several threads. Results are written by index, so that nothing depends on the
// number of threads or on who finished first.
#pragma once

#include <cstddef>
#include <functional>

namespace bowrise {

/// Threads to use when a user asked for so many; 0 means one per core.
[[nodiscard]] unsigned thread_count(int asked);

/// Calls task(i) once for every i below `count`, on up to `threads` threads (1: on the calling one alone).
/// Tasks start in order of i; each must write to places of its own.
/// @throws what the task of the lowest index among those that failed threw, after all have ended; once one
/// has failed, tasks not yet begun are left out
void for_each_index(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& task);

}  // namespace bowrise
