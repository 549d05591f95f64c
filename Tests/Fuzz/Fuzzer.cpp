// libFuzzer's entry for the reader that the build names in FUZZ_READER.

#include "Targets.h"

#include <cstdio>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (const valveladder::Complaint complaint = valveladder::FUZZ_READER({data, size})) {
        std::fprintf(stderr, "%s\n", complaint->c_str());
        std::abort();
    }
    return 0;
}
