#pragma once

#include "Guide/GuideSettings.h"
#include "Score/Score.h"

#include <cstdint>
#include <vector>

namespace valveladder {

enum class GuidePart : std::uint8_t { notes, startingPitch, click, valveLanes, backing };

/// Something the guide does at a tick, whatever the channels and switches are.
struct GuideCue {
    /// In the order in which cues of one tick are sent: what ends comes before what begins, and fingers move
    /// before the note that needs them.
    enum class Kind : std::uint8_t {
        clickOff,
        noteOff,
        pitchOff,
        backingOff,
        valve,
        clickOn,
        noteOn,
        pitchOn,
        backingOn
    };

    Tick tick = 0;
    Kind kind = Kind::noteOff;
    std::uint8_t sounding = 0; ///< notes, starting pitch and backing: MIDI note numbers
    std::uint8_t written = 0;
    std::uint8_t velocity = 0;                ///< of what begins
    BackingPart backing = BackingPart::drone; ///< backing
    std::uint8_t valve = 0;                   ///< valve: 1..4
    bool pressed = false;                     ///< valve
    bool accent = false;                      ///< click: first of the bar
    bool countIn = false;                     ///< click: before the first note
    std::uint8_t lanesBefore = 0;             ///< combination bits in force before this cue

    [[nodiscard]] GuidePart part() const;
};

/// A score with everything the guide does in one lap of it, sorted by time. Immutable: built on the message
/// thread, read by the audio thread. Holds every part; which are sent is decided when they are.
class GuideTrack {
public:
    /// `backing`: cues of the same score that play behind it (see Music/BackingCues.h).
    explicit GuideTrack(Score scoreToLead, const std::vector<GuideCue>& backing = {});

    [[nodiscard]] const Score& score() const { return lead; }
    [[nodiscard]] const std::vector<GuideCue>& cues() const { return list; }
    /// Tells tracks apart even where one is built at the address of another that is gone.
    [[nodiscard]] std::uint64_t id() const { return serial; }

private:
    Score lead;
    std::vector<GuideCue> list;
    std::uint64_t serial;
};

/// The cues of one lap, ticks 0..score.length, sorted. A note or click that would outlast the lap ends with
/// it. The starting pitch is the first note's, in the count-in's last bar, and ends a beat before the note,
/// for the breath. A combination changes at its note's onset, all valves are up at the end of a span, and of
/// several combinations at one tick the last counts.
[[nodiscard]] std::vector<GuideCue> guideCues(const Score& score);

} // namespace valveladder
