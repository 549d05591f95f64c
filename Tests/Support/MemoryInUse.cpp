#include "Support/MemoryInUse.h"

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)

#include <cstddef>

// From the runtime's sanitizer/allocator_interface.h, which GCC's packages leave out.
extern "C" std::size_t __sanitizer_get_current_allocated_bytes();

namespace valveladder::testing {

std::int64_t memoryInUse() {
    return static_cast<std::int64_t>(__sanitizer_get_current_allocated_bytes());
}

} // namespace valveladder::testing

#else

#include <fstream>
#include <unistd.h>

namespace valveladder::testing {

std::int64_t memoryInUse() {
    std::int64_t all = 0;
    std::int64_t resident = 0;
    std::ifstream("/proc/self/statm") >> all >> resident;
    return resident * sysconf(_SC_PAGESIZE);
}

} // namespace valveladder::testing

#endif
