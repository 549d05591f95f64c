#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// How takes are noticed.
enum class TakeWay {
    recordingPass, ///< the host records (default)
    loopPass,      ///< each pass of the host's loop
    playing,       ///< the transport rolls and the player is heard
    marker,        ///< a MIDI note or controller, or the automatable Take parameter
    hand           ///< the button in the window
};

[[nodiscard]] const char* name(TakeWay way); ///< stable, for the log: "recording-pass", ...
[[nodiscard]] std::optional<TakeWay> parseTakeWay(const std::string& text);

/// One block as TakeWatch sees it. Samples count from the session's start without gap.
struct WatchedBlock {
    std::int64_t startSample = 0;
    int samples = 0;
    double sampleRate = 48000.0;
    bool playing = false;
    bool recording = false;
    bool looping = false;
    bool bypassed = false;
    bool jumped = false; ///< the position did not follow from the block before (loop, locate)
    double ppq = 0.0;    ///< of the first sample; meaningless when !playing
    double bpm = 120.0;
    bool insideDrill = false;
    std::int64_t lap = 0;
    double takeStartPpq = 0.0; ///< where this lap's first note lies (count-in over)
    double takeEndPpq = 0.0;   ///< where this lap's last note ends
    bool heard = false;        ///< a note by MIDI, or sound over the threshold, in this block
    bool soundHeard = false;   ///< the sound alone
    int marks = 0;             ///< markers received in this block
    int handPresses = 0;       ///< button presses since the block before
};

enum class TakeEnd {
    whole,   ///< the drill's last note was passed
    stopped, ///< the transport or the recording stopped before it
    jumped,  ///< a locate or loop before it
    marked,  ///< ended by marker or hand before it
    bypassed
};

[[nodiscard]] const char* name(TakeEnd end);

/// A take's edge. A take's samples are [begin, end).
struct TakeEdge {
    enum class Kind { begin, end } kind = Kind::begin;
    std::int64_t sample = 0;
    double ppq = 0.0;
    std::int64_t lap = 0;
    TakeEnd end = TakeEnd::whole; ///< of an end edge
    bool heard = false;           ///< of an end edge: anything was played; false = drop it, with a word
};

/// Host state, marks and sound to take edges. A take never spans two laps; pre-roll and count-in are not part
/// of it. Pure state machine: no clock, no threads.
class TakeWatch {
public:
    explicit TakeWatch(TakeWay way = TakeWay::recordingPass);

    /// Switching the way ends an open take as `stopped` at the next block.
    void setWay(TakeWay way);
    [[nodiscard]] TakeWay way() const { return currentWay; }

    /// Edges inside this block, in order of sample: at most an end, a begin, and an end.
    std::vector<TakeEdge> watch(const WatchedBlock& block);

    /// An open take's end when the session closes; nothing if none is open.
    std::optional<TakeEdge> close();

    [[nodiscard]] bool open() const { return begun.has_value(); }

private:
    struct Begun {
        std::int64_t sample = 0;
        std::int64_t lap = 0;
        bool heard = false;
    };
    TakeWay currentWay;
    bool wayChanged = false;
    bool armed = false; ///< marker and hand ways: the player has asked for a take
    std::optional<Begun> begun;
    WatchedBlock last;
    bool any = false;
};

} // namespace valveladder
