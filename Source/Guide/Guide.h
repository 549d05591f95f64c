#pragma once

#include "Guide/BlockEvents.h"
#include "Guide/ClockOut.h"
#include "Guide/DrillPosition.h"
#include "Guide/GuideSettings.h"
#include "Guide/GuideTrack.h"
#include "Guide/HostBlock.h"
#include "Guide/HostTime.h"
#include "Guide/MidiEvent.h"

#include <array>
#include <cstdint>
#include <span>

namespace valveladder {

/// Host position to guide events, block by block. [audio]: process() never allocates, locks or throws.
///
/// An event's sample is round((event ppq - block ppq) * 60 / bpm * rate). Nothing accumulates: the block's
/// own ppq is the truth, and what is kept between blocks is only what now sounds and the first cue not yet
/// sent, so that rounding at a block's edge neither loses nor doubles an event. A jump, loop, stop, bypass,
/// new track or switched part ends what sounds at the first sample of the new state; where the host wraps
/// inside a block that is the sample of the wrap.
///
/// After a start or jump into the middle of a note the note is left out: a guide that starts late would lead
/// the player wrong; so are the backing's. Valve lanes are states, not strokes, so they are brought to the
/// combination in force. A block with no usable position (see blockTime) is a stop. A block of no samples is
/// no block: it is ignored, and what it says is taken from the next.
class Guide {
public:
    /// Events of this block, sorted by sample, valid until the next call: at most BlockEvents::capacity,
    /// further ones come in the next block, late but not lost. `track` may be null or another one than
    /// before; it must outlive the call only.
    std::span<const MidiEvent> process(const HostBlock& block, const GuideTrack* track,
                                       const GuideSettings& settings) noexcept;

    /// Forget position and what sounds, without sending anything (after prepareToPlay).
    void reset() noexcept;

    /// True while a note-on has been sent whose note-off has not.
    [[nodiscard]] bool sounding() const noexcept;

private:
    /// A key that sounds. Guide and click never have more than one.
    struct Sounding {
        bool on = false;
        std::uint8_t channel = 0; ///< 0..15, as in a status byte
        std::uint8_t key = 0;
        BackingPart part = BackingPart::drone; ///< of a backing note
    };
    /// More than the backing's parts have at once: a drone, a chord of three, a bass, three drums.
    static constexpr std::size_t backingVoices = 16;
    /// The first cue not yet sent.
    struct Cursor {
        std::int64_t lap = 0;
        std::size_t index = 0;
    };
    struct Lanes {
        bool on = false;
        std::uint8_t channel = 0;
        unsigned pressed = 0; ///< combination bits as sent
    };

    void process(const HostBlock& block, int firstSample, const GuideTrack* track,
                 const GuideSettings& settings) noexcept;
    void roll(const BlockTime& time, int firstSample, const GuideTrack* track,
              const GuideSettings& settings) noexcept;
    void halt(int sample) noexcept;
    void locate(const BlockTime& time, const GuideTrack& track, const GuideSettings& settings) noexcept;
    void endSwitchedParts(int sample, const GuideSettings& settings) noexcept;
    void endAll(int sample) noexcept;
    void end(Sounding& part, int sample) noexcept;
    void begin(Sounding& part, std::array<std::uint8_t, 3> message, int sample) noexcept;
    void endKey(std::uint8_t channel, std::uint8_t key, int sample) noexcept;
    void beginBacking(const GuideCue& cue, int sample, const GuideSettings& settings) noexcept;
    void endBacking(const GuideCue& cue, int sample) noexcept;
    void chaseLanes(const BlockTime& time, int sample, const GuideTrack* track,
                    const GuideSettings& settings) noexcept;
    void setLanes(unsigned pressed, int sample) noexcept;
    void send(const GuideCue& cue, int sample, const GuideSettings& settings) noexcept;
    [[nodiscard]] static Cursor next(const Cursor& at, const GuideTrack& track) noexcept;
    [[nodiscard]] static bool atEnd(const Cursor& at, const GuideTrack* track,
                                    const GuideSettings& settings) noexcept;
    [[nodiscard]] static std::int64_t offsetOf(const Cursor& at, const BlockTime& time,
                                               const GuideTrack& track,
                                               const GuideSettings& settings) noexcept;

    BlockEvents events;
    ClockOut clock;
    Continuity continuity;
    Sounding note;
    Sounding click;
    std::array<Sounding, backingVoices> backing{};
    Lanes lanes;
    Cursor cursor;
    std::uint64_t trackId = 0; ///< 0: none
    GuideSettings before;      ///< of the block before
};

} // namespace valveladder
