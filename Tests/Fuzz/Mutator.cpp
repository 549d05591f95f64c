#include "Mutator.h"

#include <algorithm>
#include <array>

namespace valveladder {

namespace {

constexpr std::size_t maxDamages = 8;
constexpr std::size_t maxPiece = 64;
constexpr std::array<std::uint8_t, 12> edgeBytes{0x00, 0x01, 0x2F, 0x3C, 0x40, 0x7F,
                                                 0x80, 0x90, 0xC0, 0xF0, 0xF7, 0xFF};

std::ptrdiff_t offset(std::size_t index) {
    return static_cast<std::ptrdiff_t>(index);
}

} // namespace

Mutator::Mutator(std::vector<Bytes> validFiles, std::uint64_t seed)
    : seeds(std::move(validFiles)), random(seed) {}

std::size_t Mutator::below(std::size_t limit) {
    return limit == 0 ? 0 : std::uniform_int_distribution<std::size_t>(0, limit - 1)(random);
}

Bytes Mutator::next() {
    Bytes bytes = seeds[below(seeds.size())];
    const std::size_t damages = 1 + below(maxDamages);
    for (std::size_t i = 0; i < damages && !bytes.empty(); ++i)
        damage(bytes);
    return bytes;
}

void Mutator::damage(Bytes& bytes) {
    const std::size_t place = below(bytes.size());
    const std::size_t length = 1 + below(std::min(maxPiece, bytes.size() - place));
    const auto from = bytes.begin() + offset(place);
    const auto to = from + offset(length);
    switch (below(8)) {
    case 0:
        bytes[place] = static_cast<std::uint8_t>(bytes[place] ^ (1 << below(8)));
        return;
    case 1:
        bytes[place] = edgeBytes[below(edgeBytes.size())];
        return;
    case 2:
        std::fill(from, to, edgeBytes[below(edgeBytes.size())]);
        return;
    case 3:
        bytes.erase(from, to);
        return;
    case 4: {
        const Bytes piece(from, to);
        bytes.insert(bytes.begin() + offset(below(bytes.size())), piece.begin(), piece.end());
        return;
    }
    case 5:
        bytes.resize(place);
        return;
    case 6: {
        const Bytes& other = seeds[below(seeds.size())];
        bytes.erase(from, bytes.end());
        bytes.insert(bytes.end(), other.begin() + offset(below(other.size())), other.end());
        return;
    }
    default:
        bytes.insert(from, static_cast<std::uint8_t>(below(256)));
    }
}

} // namespace valveladder
