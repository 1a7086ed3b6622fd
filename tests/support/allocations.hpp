// Counts what the program takes from the heap. All tests of a layer are linked into one program, which may
// replace the global operator new only once, so the counting one lives here; linking it in switches it on.
#pragma once

#include <cstddef>

namespace bowrise::test {

/// Calls of operator new, in any of its forms and from any thread, since the program began.
[[nodiscard]] std::size_t allocations() noexcept;

}  // namespace bowrise::test
