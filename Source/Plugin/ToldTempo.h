#pragma once

#include <cstdint>
#include <optional>

namespace valveladder {

/// Quarters a minute from what an LV2 host calls beats per minute. [audio]: no allocation.
///
/// Hosts do not say which note value their beat is: the meter's, as the extension has it
/// (lv2plug.in/ns/ext/time: beatUnit), or the quarter whatever the meter, or the one that the tempo was
/// written with; and on a ramp some tell the ramp's first tempo throughout. But they tell positions, and two
/// of them give the tempo that was really played. The told figure is taken at the note value that agrees with
/// that; where none does, it is a ramp, and what was played counts, drawn on to the next report. Before there
/// are two positions the meter's beat is assumed, unless it has been seen not to be so.
class ToldTempo {
public:
    enum class Counts { anyNoteValue, quarters };
    /// What the host's format says that tempos count.
    explicit ToldTempo(Counts what = Counts::anyNoteValue) noexcept : counts(what) {}

    struct Heard {
        double bpm = 120.0; ///< as the host says it
        std::int64_t frame = 0;
        double ppq = 0.0; ///< quarters
        double sampleRate = 48000.0;
        bool follows = false;      ///< played on from what was heard before
        double beatQuarters = 1.0; ///< of the meter
    };
    /// Quarters a minute from this report on.
    [[nodiscard]] double hear(const Heard& heard) noexcept;
    /// Positions were told in another way than was believed.
    void forget() noexcept { *this = ToldTempo(counts); }
    /// The same before any position is known.
    [[nodiscard]] double expected(double bpm, double beatQuarters) const noexcept;

private:
    struct Played {
        double bpm = 0.0;
        double quarters = 0.0; ///< between the two positions
    };
    [[nodiscard]] static std::optional<Played> between(const Heard& from, const Heard& to) noexcept;
    [[nodiscard]] double noteValue(double beatQuarters) const noexcept;
    void begin(const Heard& heard) noexcept;
    void compareMeters(const Heard& heard) noexcept;
    void compareUnplayed(const Heard& heard, bool sameTempo) noexcept;
    [[nodiscard]] std::optional<Played> playedUpTo(const Heard& heard) noexcept;
    void settle(const Heard& heard, const Played& played) noexcept;
    [[nodiscard]] double onRamp(const Played& played, double told) noexcept;

    /// Note value of the told beat, quarters, and the meter's beat when it was seen; nothing: not known yet.
    struct Settled {
        double value = 1.0;
        double beatQuarters = 1.0;
    };
    Counts counts;
    std::optional<Settled> settled;
    std::optional<Heard> last;         ///< the report before
    std::optional<Heard> older, newer; ///< reports of the stretch that is compared
    bool compared = false;             ///< the tempo now told has been compared with what was played
    std::optional<double> rampBefore;  ///< quarters a minute over the stretch before
};

} // namespace valveladder
