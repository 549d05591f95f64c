#pragma once

#include "Guide/HostBlock.h"
#include "Log/TakeKeeper.h"
#include "Session/Capture.h"
#include "Session/SessionView.h"
#include "Takes/TakeWatch.h"

#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <span>

namespace valveladder {

/// One audio block as it reaches the worker.
struct SessionBlock {
    std::int64_t startSample = 0; ///< counts from the session's start without gap
    HostBlock host;               ///< of the leading clock
    Clock clock = Clock::none;
    std::uint64_t trackId = 0; ///< GuideTrack::id() the guide played from, 0 = none
    GuideSettings guide;
    TakeWay way = TakeWay::recordingPass;
    int marks = 0;                   ///< rising edges of the Take parameter
    int handPresses = 0;             ///< presses of the button
    double soundThresholdDb = -45.0; ///< dB of full scale, peak of a block that counts as playing
    int listenChannel = 0;           ///< MIDI channel of the player's notes, 0 = any
    std::span<const MidiEvent> midi; ///< what the player sent
    std::span<const float> sound;    ///< mono; empty when there is no input
};

/// The practice session: takes are noticed, heard, judged, logged, and the next tempo follows from the log.
/// [worker] One thread owns a session; none of its calls may come from the audio thread. It owns no thread
/// itself.
class Session {
public:
    using Now = std::function<UtcMs()>;

    /// Opens the log (in trouble it goes on without, see TakeKeeper) and reads the plan for `config`. A
    /// config that checked() refuses is replaced by the default, with a message.
    Session(std::filesystem::path logPath, const SessionConfig& config, Now now);
    ~Session();

    /// Another player, instrument, drill or rules. An open take ends as partial. Rules differing from those
    /// in the log are written to it. A refused config leaves all as it was.
    Result<Done> configure(const SessionConfig& config);

    void block(const SessionBlock& block);

    /// To be called every 20 to 200 ms, also while no blocks come: finishes takes, retries the log.
    void idle();

    /// Ends and keeps an open take as partial. The destructor does the same.
    void close();

    [[nodiscard]] std::shared_ptr<const SessionSetup> setup() const { return current; }
    [[nodiscard]] SessionView view() const;

    /// Something outside went wrong (an overrun, a state refused): shown, and kept with the take that is
    /// open.
    void note(const std::string& text, bool trouble);

    /// The log for queries of screen and console; nullptr while in trouble.
    [[nodiscard]] LogStore* log() { return keeper.store(); }

private:
    struct OpenTake {
        TakeHeader header;
        TakeEdge begin;
        double takeBeginBpm = 0.0;
        bool midiHeard = false;
        bool soundHeard = false;
        Clock clock = Clock::none;
        GuideSettings guide;
        std::shared_ptr<const SessionSetup> setup;
        std::vector<std::string> messages;
        std::int64_t leadSample = 0; ///< notes from here on belong to the take
    };
    struct PendingTake {
        OpenTake open;
        TakeEdge end;
        UtcMs endedUtc = 0;
        std::int64_t readySample = 0; ///< late note-offs are awaited until here
    };

    void readPlan();
    void replan();
    void adopt(const PlannedTempo& planned);
    [[nodiscard]] WatchedBlock watched(const SessionBlock& block, int marks);
    int hear(const SessionBlock& block);
    void edge(const TakeEdge& edge, const SessionBlock& block);
    void beginTake(const TakeEdge& edge, const SessionBlock& block);
    void endTake(const TakeEdge& edge);
    void finish(const PendingTake& pending);
    [[nodiscard]] TakeRecord recordOf(const PendingTake& pending) const;
    void finishReady(std::int64_t sample);
    [[nodiscard]] TakeFilter planFilter() const;
    [[nodiscard]] std::vector<PlanTake> history();
    void refreshToday();
    [[nodiscard]] std::string mismatchText(double playedBpm, const SessionSetup& setup, Clock clock) const;
    [[nodiscard]] std::shared_ptr<const SessionSetup> setupOf(std::uint64_t trackId) const;

    Now now;
    TakeKeeper keeper;
    TakeWatch watch;
    Capture capture;
    SessionConfig config;
    std::shared_ptr<const SessionSetup> current;
    std::deque<std::shared_ptr<const SessionSetup>> known; ///< setups that blocks may still refer to
    std::optional<OpenTake> open;
    std::deque<PendingTake> pending;
    std::optional<SessionBlock> last; ///< spans emptied
    std::int64_t lastBreakSample = 0;
    UtcMs lastIdle = 0;
    bool planDue = false; ///< a new tempo waits for the transport to stop, since rests would move
    std::vector<TakeSummary> today;
    std::deque<SessionMessage> messages;
    double rateOfLastBlock = 48000.0;
};

} // namespace valveladder
