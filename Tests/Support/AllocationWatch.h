#pragma once

#include <cstddef>

namespace valveladder::test {

/// Counts what this thread allocates through operator new while it lives. Not nested.
class AllocationWatch {
public:
    AllocationWatch();
    ~AllocationWatch();
    AllocationWatch(const AllocationWatch&) = delete;
    AllocationWatch& operator=(const AllocationWatch&) = delete;

    [[nodiscard]] std::size_t count() const;
};

} // namespace valveladder::test
