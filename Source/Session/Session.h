#pragma once

#include "Guide/GuideSettings.h"
#include "Guide/HostTime.h"
#include "Guide/MidiEvent.h"
#include "Log/TakeKeeper.h"
#include "Session/Capture.h"
#include "Session/CareWatch.h"
#include "Session/DeviceDelay.h"
#include "Session/MessageList.h"
#include "Session/PedalPresses.h"
#include "Session/PlanHistory.h"
#include "Session/SessionView.h"
#include "Session/TakeRecording.h"
#include "Takes/TakeWatch.h"

#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <span>

namespace valveladder {

struct Review;
struct ReviewRequest;

/// One audio block as it reaches the session.
struct SessionBlock : LedBlock {
    int marks = 0;                     ///< rising edges of the Take parameter
    int handPresses = 0;               ///< presses of the button
    std::span<const MidiEvent> midi{}; ///< what the player sent
    std::span<const float> sound{};    ///< mono; empty when there is no input
    std::size_t silenced = 0;          ///< samples of `sound` that stand for lost ones
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

    /// Something outside went wrong (a state refused): shown, and kept with the take that is open.
    void note(const std::string& text, bool trouble);
    /// Something of what was played got lost on the way: shown, and kept with the take that is open and those
    /// just ended.
    void noteLoss(const std::string& text);

    /// The sound device or host in use, with what its delay depends on; its measured round trip is looked up
    /// in the log.
    void setDevice(const std::string& device);
    /// The round trip of the device in use has been measured: later takes use it, and the log remembers it.
    void setMeasuredRoundTrip(double ms);

    /// Writes the player's note to a logged take; what goes wrong is said in a message.
    void setPlayerNote(const std::string& takeId, const std::string& text);
    /// The player says that what was reported of notes of a logged take was not so (`right`), or takes that
    /// back; the plan follows, as the take may pass by it. What goes wrong is said in a message.
    void correct(const std::string& takeId, const std::vector<NoteReport>& reports, bool right);

    /// What to ask a Reviewer for: this player on this instrument, now.
    [[nodiscard]] ReviewRequest reviewRequest() const;
    /// Called with it after each take that went into the log and each note or correction written to one.
    void onLogChanged(std::function<void(const ReviewRequest&)> call) { logChanged = std::move(call); }
    /// A review came back: what it says of hand and rest is told between takes.
    void reviewed(const Review& review);

    /// The log for queries of screen and console; nullptr while in trouble.
    [[nodiscard]] LogStore* log() { return keeper.store(); }

private:
    void readPlan();
    void replan();
    void adopt(const PlannedTempo& planned);
    void process(const SessionBlock& block);
    [[nodiscard]] WatchedBlock watched(const SessionBlock& block, const std::optional<BlockTime>& time,
                                       bool jumped, int marks) const;
    int hear(const SessionBlock& block, const std::optional<BlockTime>& time);
    [[nodiscard]] bool isPlayers(const MidiEvent& event, const SessionBlock& block) const;
    [[nodiscard]] static bool soundHeard(const SessionBlock& block);
    [[nodiscard]] bool playedNote(const SessionBlock& block) const;
    void edge(const TakeEdge& edge, const SessionBlock& block);
    void beginTake(const TakeEdge& edge, const SessionBlock& block);
    void endTake(const TakeEdge& edge);
    void finish(PendingTake& pending);
    void keepRules(const SessionConfig& used);
    void finishFirst();
    void dropEmpty(const OpenTake& take);
    void finishReady(std::int64_t sample);
    void takeSound(const SessionBlock& block);
    void beginHearing(OpenTake& take, std::int64_t firstSample);
    void tellKept(OpenTake& take);
    void endAtNewRate(const SessionBlock& block);
    void readDevice();
    void tellKeepersNews();
    void tellCare();
    void logWritable();
    [[nodiscard]] std::string mismatchText(double playedBpm, const SessionSetup& setup, Clock clock) const;
    [[nodiscard]] std::shared_ptr<const SessionSetup> setupOf(std::uint64_t trackId) const;

    Now now;
    TakeKeeper keeper;
    TakeWatch watch;
    Capture capture;
    PedalPresses presses;
    Continuity continuity;
    SessionConfig config;
    std::shared_ptr<const SessionSetup> current;
    std::deque<std::shared_ptr<const SessionSetup>> known; ///< setups that blocks may still refer to
    std::optional<OpenTake> open;
    std::deque<PendingTake> pending;
    std::optional<SessionBlock> last; ///< spans emptied
    std::int64_t lastBreakSample = 0;
    UtcMs lastIdle = 0;
    bool planDue = false; ///< a new tempo waits for the transport to stop, since rests would move
    PlanHistory history;  ///< of the plan that `config` names; begun anew with it
    bool playedToday = false;
    MessageList messages;
    double lastRate = 48000.0; ///< Hz
    SoundHistory recentSound;
    KeptSoundFolder keptSound;
    DeviceDelay delay;
    CareWatch care;
    std::function<void(const ReviewRequest&)> logChanged;
};

} // namespace valveladder
