#pragma once

#include "Guide/HostBlock.h"
#include "Plugin/MeterMap.h"
#include "Plugin/TimeReport.h"
#include "Plugin/ToldBeat.h"
#include "Plugin/ToldTempo.h"

#include <cstdint>
#include <optional>
#include <span>

namespace valveladder {

/// Quarters from what LV2 hosts tell. [audio]
///
/// The LV2 time extension (lv2plug.in/ns/ext/time) lets a host report its position only where it does not
/// follow from the report before, and knows bars and beats of the meter, not quarters. So:
/// - no report means that time goes on; each report is the truth again, and nothing is summed over them;
/// - the place within the bar is as told: bar and beat of the bar. While playing on, the position that
///   follows from the tempo stands within the tick that the host rounds to, so that its rounding is not
///   heard;
/// - the bar's own place is that of the bars passed before (see MeterMap). jalv tells no change of meter by
///   itself: where the bars passed before cannot have been of the meter that was told, it is the place that
///   time has come to. Where the host went to a bar that was not played up to, it is the bar's number at this
///   meter; or, where the meter has changed since the last bar known and the tempo is that of the first bar,
///   the frame's place at that tempo, if bars can begin there;
/// - where the frame does not bear out the bar's number and nothing better is known, assumed() says so;
/// - a running count of quarters, which some hosts tell as well, needs none of this;
/// - Qtractor tells whole beats alone, by the beat's number in its bar, and as place within the bar one that
///   lies outside: between two beats the position is that which follows from the tempo. Its frame at the
///   first report of a beat is some thousand samples ahead, where it reads; such a one is passed over;
/// - a report without bars is placed by its beat, or by its frame at the tempo told.
class SparsePosition {
public:
    /// `facts`: rate, samples, bypassed and offline of a block; the rest is filled in.
    [[nodiscard]] HostBlock complete(const HostBlock& facts, std::span<const TimeReport> reports) noexcept;

    /// See ToldBeat. To be called before the first block.
    void expectQuartersBehindPoint() noexcept { beats.expectQuarters(); }

    /// The position of the block last completed rests on a meter that was never seen to hold.
    [[nodiscard]] bool assumed() const noexcept { return anchor && anchor->known != MeterMap::Known::surely; }

private:
    /// Where time is known; it goes on from here.
    struct Anchor {
        std::optional<double> ppq;
        std::optional<double> bpm; ///< quarters a minute
        std::optional<double> toldBpm;
        std::optional<std::int64_t> frame, bar;
        std::optional<double> beatsPerBar;
        std::optional<int> beatUnit;
        double speed = 0.0;
        MeterMap::Known known = MeterMap::Known::surely;
    };

    /// One report as it is worked on.
    struct Work {
        Work(const TimeReport& report, double rate) : told(report), sampleRate(rate) {}
        const TimeReport& told;
        double sampleRate;
        bool follows = false;       ///< it was played on to it
        std::int64_t samples = 0;   ///< since the anchor
        std::optional<double> held; ///< where time has gone since the anchor
        double heldSlack = 0.0;     ///< quarters: a tempo may have begun within the block before
        double beatQuarters = 1.0;  ///< of the meter
        double barQuarters = 4.0;
        double inBar = 0.0;      ///< quarters
        bool wholeBeats = false; ///< inBar is that of the beat that was passed last
    };

    [[nodiscard]] std::optional<double> held(std::int64_t samples, double sampleRate) const noexcept;
    /// How far the told frame lies from that which time has come to; nothing: not known.
    [[nodiscard]] std::optional<double> framesAhead(const TimeReport& told,
                                                    std::int64_t samples) const noexcept;
    [[nodiscard]] bool follows(const TimeReport& told, std::int64_t samples,
                               double sampleRate) const noexcept;
    void take(const TimeReport& told, std::int64_t samples, double sampleRate) noexcept;
    void takeBars(Work& work, Anchor& next) noexcept;
    void takeLoose(const Work& work, Anchor& next) const noexcept;
    [[nodiscard]] MeterMap::Place placeBar(const Work& work) const noexcept;
    [[nodiscard]] MeterMap::Place settleByTime(const Work& work, MeterMap::Place counted) const noexcept;
    [[nodiscard]] MeterMap::Place settleByFrame(const Work& work, MeterMap::Place counted) const noexcept;
    [[nodiscard]] double intoBar(const Work& work, std::optional<double> start) noexcept;

    std::optional<Anchor> anchor;
    std::int64_t samplesSince = 0; ///< from the anchor to the next block
    int samplesBefore = 0;         ///< of the block before
    bool playedOn = false;         ///< to the next block, as far as is known before it
    MeterMap meters;
    ToldTempo tempo;
    ToldBeat beats;
    std::optional<double> bpmAtZero; ///< as told in the first bar
};

} // namespace valveladder
