#pragma once

#include "Guide/HostBlock.h"

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

/// One block as TakeWatch sees it. One of no samples is ignored but for its marks, presses and what was
/// heard.
struct WatchedBlock : HostBlock {
    std::int64_t startSample = 0; ///< counts from the session's start without gap
    bool jumped = false;          ///< the position did not follow from the block before (loop, locate)
    std::int64_t lap = 0;         ///< that holds the first sample; 0 before the drill
    double takeStartPpq = 0.0;    ///< where this lap's first note lies (count-in over)
    double takeEndPpq = 0.0;      ///< where this lap's last note ends; == takeStartPpq: there is no drill
    double lapQuarters = 0.0;     ///< distance to the same window of the next lap; 0 = not repeated
    bool heard = false;           ///< a note by MIDI, or sound over the threshold, in this block
    int marks = 0;                ///< markers received in this block
    int handPresses = 0;          ///< button presses since the block before
};

struct BlockTime;

enum class TakeEnd {
    whole,   ///< the drill was passed from its first note to its last
    late,    ///< the drill's last note was passed, but the take began after its first
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
///
/// A take covers a lap's window, from takeStartPpq to takeEndPpq, or what of it the way lets through:
/// - recordingPass: while the host rolls and records;
/// - loopPass: while the host rolls and loops; each wrap ends a take and begins the next, so that a loop
/// inside
///   the drill gives one (partial) take a pass;
/// - playing: while the host rolls; whether anything was heard stands in the end edge;
/// - marker, hand: one request begins one take, at once or, before the window, when it is reached; a second
///   request ends it or takes the first back. Passing the last note, a stop or a jump ends it as well.
///
/// Edges inside the window's own bounds are exact to the sample; a change of the host's state, a mark or a
/// press counts from its block's first sample. A block in which no musical time passes
/// (see blockTime()) counts as stopped.
class TakeWatch {
public:
    explicit TakeWatch(TakeWay way = TakeWay::recordingPass);

    /// Switching the way ends an open take as `stopped` at the next block.
    void setWay(TakeWay way);
    [[nodiscard]] TakeWay way() const { return currentWay; }

    /// Edges inside this block, in order of sample, begin and end in turn.
    std::vector<TakeEdge> watch(const WatchedBlock& block);

    /// An open take's end when the session closes; nothing if none is open.
    std::optional<TakeEdge> close();

    [[nodiscard]] bool open() const { return begun.has_value(); }

private:
    /// A lap's part that a take covers, host quarters.
    struct Window {
        std::int64_t lap = 0;
        double start = 0.0;
        double end = 0.0;
    };
    struct Begun {
        Window window;
        double ppq = 0.0;
        bool heard = false;
    };

    void endAtBlockStart(const WatchedBlock& block, std::vector<TakeEdge>& edges);
    [[nodiscard]] std::optional<TakeEnd> reasonToEnd(const WatchedBlock& block) const;
    void takeRequest(const WatchedBlock& block, std::vector<TakeEdge>& edges);
    void walkWindows(const WatchedBlock& block, const BlockTime& time, std::vector<TakeEdge>& edges);
    [[nodiscard]] bool wants(const WatchedBlock& block) const;
    [[nodiscard]] bool onRequest() const;
    void begin(const Window& window, std::int64_t sample, double ppq, std::vector<TakeEdge>& edges);
    void end(TakeEnd reason, std::int64_t sample, double ppq, std::vector<TakeEdge>& edges);
    [[nodiscard]] TakeEnd passedEnd() const;

    TakeWay currentWay;
    bool wayChanged = false;
    bool asked = false;          ///< marker and hand: the player has asked for a take
    bool requestWaiting = false; ///< from this block, or one of no samples before it
    bool heardWaiting = false;   ///< likewise
    std::optional<Begun> begun;
    std::int64_t lastEdge = 0; ///< edges never run backwards, whatever the blocks say
    std::int64_t lastSample = 0;
    double lastPpq = 0.0;
};

} // namespace valveladder
