#pragma once

#include <cstdint>
#include <optional>

namespace valveladder {

/// Quarters into the bar from what an LV2 host calls the beat within it. [audio]
///
/// By the extension (lv2plug.in/ns/ext/time: barBeat) it counts beats of the meter. Ardour 7.3 was seen to
/// tell whole beats of the meter and, behind the point, quarters: in 7/8 it goes from 0.49 to 1.0, in 2/2
/// to 1.99 and then back to 1.0. In meters of quarters both are one. Which it is is seen when a beat is
/// passed; until then it is taken for what time makes of it by itself, and at first for what the host is
/// known to do.
class ToldBeat {
public:
    struct Heard {
        std::int64_t bar = 0;
        double barBeat = 0.0;
        double beatQuarters = 1.0;  ///< of the meter
        bool follows = false;       ///< played on from what was heard before
        double beatsSince = 0.0;    ///< as the told tempo has it, since what was heard before
        std::optional<double> held; ///< quarters into the bar, where time has gone by itself
    };
    [[nodiscard]] double intoBar(const Heard& heard) noexcept;

    /// The host is one that is known to tell quarters behind the point.
    void expectQuarters() noexcept { expected = true; }
    /// Nothing: not seen yet.
    [[nodiscard]] const std::optional<bool>& seenBehindPoint() const noexcept { return seen; }

private:
    void look(const Heard& heard) noexcept;
    void lean(const Heard& heard) noexcept;

    bool expected = false;
    bool leaning = false; ///< by where time has gone
    std::optional<bool> seen;
    std::optional<Heard> last;
};

} // namespace valveladder
