#pragma once

#include <cstdint>
#include <random>
#include <vector>

namespace valveladder {

using Bytes = std::vector<std::uint8_t>;

/// Damages valid files in the ways that files get damaged, and in ways that only malice does: bits flipped,
/// bytes set to edge values, pieces cut, doubled, inserted and spliced from another file. The same seed gives
/// the same inputs.
class Mutator {
public:
    Mutator(std::vector<Bytes> validFiles, std::uint64_t seed);

    /// A damaged copy of one of the valid files.
    [[nodiscard]] Bytes next();

private:
    void damage(Bytes& bytes);
    [[nodiscard]] std::size_t below(std::size_t limit); ///< 0..limit-1; 0 when limit is 0

    std::vector<Bytes> seeds;
    std::mt19937_64 random;
};

} // namespace valveladder
