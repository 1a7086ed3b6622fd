#include "tests/support/allocations.hpp"

#include <atomic>
#include <cstdlib>
#include <new>

namespace {

std::atomic<std::size_t> allocation_count{0};

void* counted_memory(std::size_t size) noexcept {
  allocation_count.fetch_add(1, std::memory_order_relaxed);
  return std::malloc(size > 0 ? size : 1);
}

void* counted_memory(std::size_t size, std::align_val_t alignment) noexcept {
  allocation_count.fetch_add(1, std::memory_order_relaxed);
  const auto boundary = static_cast<std::size_t>(alignment);
  const std::size_t whole_blocks =
      (size + boundary - 1) / boundary * boundary;  // aligned_alloc wants a multiple
  return std::aligned_alloc(boundary, whole_blocks > 0 ? whole_blocks : boundary);
}

void* or_throw(void* memory) {
  if (memory == nullptr) throw std::bad_alloc{};
  return memory;
}

}  // namespace

namespace bowrise::test {

std::size_t allocations() noexcept { return allocation_count.load(std::memory_order_relaxed); }

}  // namespace bowrise::test

// Every form is replaced, so that none falls back to the library's own (or a sanitizer's) and hands out
// memory that the delete here does not know.
void* operator new(std::size_t size) { return or_throw(counted_memory(size)); }
void* operator new[](std::size_t size) { return or_throw(counted_memory(size)); }
void* operator new(std::size_t size, std::align_val_t alignment) {
  return or_throw(counted_memory(size, alignment));
}
void* operator new[](std::size_t size, std::align_val_t alignment) {
  return or_throw(counted_memory(size, alignment));
}
void* operator new(std::size_t size, const std::nothrow_t&) noexcept { return counted_memory(size); }
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept { return counted_memory(size); }
void* operator new(std::size_t size, std::align_val_t alignment, const std::nothrow_t&) noexcept {
  return counted_memory(size, alignment);
}
void* operator new[](std::size_t size, std::align_val_t alignment, const std::nothrow_t&) noexcept {
  return counted_memory(size, alignment);
}

void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete[](void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete(void* memory, std::align_val_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::align_val_t) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t, std::align_val_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t, std::align_val_t) noexcept { std::free(memory); }
void operator delete(void* memory, const std::nothrow_t&) noexcept { std::free(memory); }
void operator delete[](void* memory, const std::nothrow_t&) noexcept { std::free(memory); }
void operator delete(void* memory, std::align_val_t, const std::nothrow_t&) noexcept { std::free(memory); }
void operator delete[](void* memory, std::align_val_t, const std::nothrow_t&) noexcept { std::free(memory); }
