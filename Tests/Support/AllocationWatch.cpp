#include "Support/AllocationWatch.h"

#include <cstdlib>
#include <new>

namespace {

thread_local bool watching = false;
thread_local std::size_t allocations = 0;

void* allocate(std::size_t size, std::size_t alignment) {
    if (watching)
        ++allocations;
    const std::size_t rounded = (size + alignment - 1) / alignment * alignment;
    return alignment <= alignof(std::max_align_t) ? std::malloc(size > 0 ? size : 1)
                                                  : std::aligned_alloc(alignment, rounded);
}

void* allocateOrThrow(std::size_t size, std::size_t alignment) {
    if (void* memory = allocate(size, alignment))
        return memory;
    throw std::bad_alloc();
}

constexpr std::size_t usual = alignof(std::max_align_t);

} // namespace

// The array, nothrow and sized forms of the standard library end in these.
void* operator new(std::size_t size) {
    return allocateOrThrow(size, usual);
}
void* operator new[](std::size_t size) {
    return allocateOrThrow(size, usual);
}
void* operator new(std::size_t size, std::align_val_t alignment) {
    return allocateOrThrow(size, static_cast<std::size_t>(alignment));
}
void* operator new[](std::size_t size, std::align_val_t alignment) {
    return allocateOrThrow(size, static_cast<std::size_t>(alignment));
}
void operator delete(void* memory) noexcept {
    std::free(memory);
}
void operator delete[](void* memory) noexcept {
    std::free(memory);
}
void operator delete(void* memory, std::size_t) noexcept {
    std::free(memory);
}
void operator delete[](void* memory, std::size_t) noexcept {
    std::free(memory);
}
void operator delete(void* memory, std::align_val_t) noexcept {
    std::free(memory);
}
void operator delete[](void* memory, std::align_val_t) noexcept {
    std::free(memory);
}
void operator delete(void* memory, std::size_t, std::align_val_t) noexcept {
    std::free(memory);
}
void operator delete[](void* memory, std::size_t, std::align_val_t) noexcept {
    std::free(memory);
}

namespace valveladder::test {

AllocationWatch::AllocationWatch() {
    allocations = 0;
    watching = true;
}

AllocationWatch::~AllocationWatch() {
    watching = false;
}

std::size_t AllocationWatch::count() const {
    return allocations;
}

} // namespace valveladder::test
