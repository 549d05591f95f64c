#include "Base/Uuid.h"

#include <boost/uuid/name_generator_sha1.hpp>
#include <boost/uuid/string_generator.hpp>
#include <boost/uuid/uuid_io.hpp>

#include <array>
#include <cstdint>
#include <random>

namespace valveladder {

std::string newUuid() {
    std::random_device device;
    std::array<std::uint8_t, 16> bytes{};
    for (auto& byte : bytes)
        byte = static_cast<std::uint8_t>(device() & 0xFFU);
    bytes[6] = static_cast<std::uint8_t>((bytes[6] & 0x0F) | 0x40); // version 4
    bytes[8] = static_cast<std::uint8_t>((bytes[8] & 0x3F) | 0x80); // variant of RFC 4122
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

std::string namedUuid(const std::string& space, std::string_view name) {
    boost::uuids::name_generator_sha1 named(boost::uuids::string_generator()(space));
    return boost::uuids::to_string(named(name.data(), name.size()));
}

} // namespace valveladder
