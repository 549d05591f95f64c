#include "Log/Uuid.h"

#include <array>
#include <cstdint>
#include <random>

namespace valveladder {

std::string newUuid() {
    std::random_device device;
    std::uniform_int_distribution<int> byte(0, 255);
    std::array<int, 16> bytes{};
    for (int& value : bytes)
        value = byte(device);
    bytes[6] = (bytes[6] & 0x0F) | 0x40; // version
    bytes[8] = (bytes[8] & 0x3F) | 0x80; // variant
    constexpr const char* digits = "0123456789abcdef";
    std::string text;
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        if (i == 4 || i == 6 || i == 8 || i == 10)
            text += '-';
        text += digits[bytes[i] >> 4];
        text += digits[bytes[i] & 0x0F];
    }
    return text;
}

} // namespace valveladder
