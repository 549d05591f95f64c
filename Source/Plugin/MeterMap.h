#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace valveladder {

/// Where bars begin, in quarters, learnt from the bars that the host was in. [audio]: no allocation.
///
/// An LV2 host counts bars but not quarters, and a bar's number gives its place only while the meter has
/// never changed. What was played through, however, is known, and stays so when the player goes back or
/// loops. A bar that does not fit what is known (the session's meters were edited) replaces it from there on.
class MeterMap {
public:
    enum class Known {
        surely,  ///< it was played up to from the first bar, or is that
        counted, ///< as if the meter had not changed since the last bar that was seen
        guessed  ///< it has changed, nobody knows where
    };
    struct Place {
        double start = 0.0; ///< of the bar, quarters
        Known known = Known::counted;
    };

    /// Bar `bar` (from 0), which is `barQuarters` long, when the host went straight to it.
    [[nodiscard]] Place find(std::int64_t bar, double barQuarters) const noexcept;
    /// The same when the host came by playing on from `before`, a bar that was learnt: a new meter begins
    /// with its bar. Hosts may leave out reports for bars of one meter, but none of a change.
    [[nodiscard]] Place follow(std::int64_t before, std::int64_t bar) const noexcept;
    /// The host is in `bar`.
    void learn(std::int64_t bar, double barQuarters, Place place) noexcept;

private:
    /// Bars of one length, first..last, all seen or played past.
    struct Stretch {
        std::int64_t first = 0;
        std::int64_t last = 0;
        double barQuarters = 4.0;
        Place place; ///< of the first

        [[nodiscard]] double startOf(std::int64_t bar) const noexcept {
            return place.start + static_cast<double>(bar - first) * barQuarters;
        }
    };
    static constexpr std::size_t capacity = 256; ///< when full it begins anew

    /// Index of the last stretch that begins at or before `bar`; `count` when there is none.
    [[nodiscard]] std::size_t upTo(std::int64_t bar) const noexcept;
    [[nodiscard]] bool fits(std::size_t index, std::int64_t bar, double barQuarters,
                            double start) const noexcept;
    void forgetFrom(std::int64_t bar) noexcept;
    void insert(std::size_t index, const Stretch& stretch) noexcept;

    std::array<Stretch, capacity> stretches{}; ///< by first bar, without overlap
    std::size_t count = 0;
};

} // namespace valveladder
