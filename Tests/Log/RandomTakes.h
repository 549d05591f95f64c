#pragma once

#include "Ladder/Drill.h"
#include "Records/TakeRecord.h"
#include "Valves/Instrument.h"

#include <cstdint>
#include <random>
#include <string>
#include <vector>

namespace valveladder {

/// Invented records of every shape, from a seed. Texts hold quotes, commas, line breaks and letters of
/// several scripts; figures are finite and mostly odd fractions; optional ones are now and then absent.
class RandomTakes {
public:
    explicit RandomTakes(std::uint64_t seed) : engine(seed) {}

    TakeHeader header();
    TakeRecord take(int notes);
    Drill drill();
    Instrument instrument();
    TempoRules rules();

    int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(engine); }
    double real(double low, double high) { return std::uniform_real_distribution<double>(low, high)(engine); }
    bool coin() { return whole(0, 1) == 1; }
    std::string text();
    std::string uuid();

private:
    template <typename E>
    E choice(std::vector<E> values) {
        return values[static_cast<std::size_t>(whole(0, static_cast<int>(values.size()) - 1))];
    }
    std::optional<double> maybe(double low, double high);
    std::optional<double> maybeShare(); ///< 0..1
    std::optional<Estimate> maybeEstimate();
    Combination combination() { return Combination(static_cast<std::uint8_t>(whole(0, 15))); }
    Performance performance(int notes);
    NoteResult note(int index);
    SegmentResult segment(int span);
    Segment drillSegment();

    std::mt19937_64 engine;
};

} // namespace valveladder
