# A file's bytes as a C++ source: valveladder::embedded::SYMBOL, a std::span over them.
file(READ ${INPUT} bytes HEX)
string(REGEX REPLACE "(................................)" "\\1\n" bytes "${bytes}")
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${bytes}")
file(WRITE ${OUTPUT} "#include <cstdint>
#include <span>

namespace valveladder::embedded {
namespace {
constexpr std::uint8_t bytes[] = {
${bytes}
};
} // namespace
extern const std::span<const std::uint8_t> ${SYMBOL};
const std::span<const std::uint8_t> ${SYMBOL}{bytes};
} // namespace valveladder::embedded
")
