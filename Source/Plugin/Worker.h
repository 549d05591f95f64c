#pragma once

#include "Plugin/AudioPath.h"
#include "Review/Reviewer.h"
#include "Session/RoundTrip.h"
#include "Session/Session.h"

#include <chrono>
#include <condition_variable>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

namespace valveladder {

/// The thread on which the practice session lives: it drains the feed, and gives new drills to the audio
/// thread and views to the window. The log is opened when it starts, so that a host that merely scans the
/// plugin leaves no file.
class Worker {
public:
    /// [message] `path` must outlive the worker.
    Worker(AudioPath& path, std::filesystem::path logPath);
    ~Worker();

    /// [message] Starts the thread, once, and returns when the audio thread has a drill to play from. Of
    /// start() and configure() one call comes at a time.
    void start(const SessionConfig& config);
    [[nodiscard]] bool running() const noexcept { return started.load(std::memory_order_acquire); }

    /// [message] Returns when the session has taken or refused it. Before start() it only checks.
    Result<Done> configure(const SessionConfig& config);
    /// [message] A line for the player (see Session::note); kept until start().
    void note(const std::string& text, bool trouble);
    /// [message] Sound stops for now: an open take is kept as partial.
    void closeTake();
    /// [message] Sound comes from this device or host from now on (see Session::setDevice).
    void setDevice(const std::string& name);
    /// [message] Begins to measure the round trip; see Processor::measureRoundTrip.
    Result<Done> measureRoundTrip();
    /// [message] Runs `task` with the session on the worker, and returns when it is done. Precondition:
    /// running().
    void runOnSession(std::function<void(Session&)> task);

    /// [message] The newest view; nullptr before start().
    [[nodiscard]] std::shared_ptr<const SessionView> view() const;

    /// [message] What the log says of the player, made anew at the start, after each logged take and when
    /// player, instrument or drill change; nullptr before the first.
    [[nodiscard]] std::shared_ptr<const Reviewed> review() const;
    /// [message] The review at work, to show how far it is and to stop it; nullptr before start().
    [[nodiscard]] Reviewer* reviewing() const { return running() ? reviewer.get() : nullptr; }

private:
    using Task = std::function<void(Session&)>;

    void run(const SessionConfig& config);
    bool takeEarlyNotes(Session& session);
    void runTasks(Session& session);
    void drain(Session& session);
    void pass(Session& session, const ReceivedBlock& received);
    void tellLossesBefore(Session& session, const FeedBlock& block);
    bool tellLosses(Session& session, const FeedLosses& losses);
    Result<Done> beginMeasure(const Session& session);
    void hearClicks(Session& session, const ReceivedBlock& received);
    void endMeasure(Session& session, const Result<double>& found);
    void checkMeasure(Session& session);
    void publishDrill(const Session& session);
    void tellReviewed(Session& session);
    void publishView(const Session& session);

    AudioPath& path;
    const std::filesystem::path logPath;

    // [worker]
    std::shared_ptr<const SessionSetup> published;
    std::uint32_t marksSeen = 0;
    std::uint32_t handPressesSeen = 0;
    FeedLosses lossesTold;
    std::int64_t lossesToldAt = 0; ///< before the block of this sample
    struct Measure {
        std::chrono::steady_clock::time_point begun;
        std::optional<RoundTripFinder> finder; ///< once the clicks sound
    };
    std::int64_t lastClicksFrom = -1; ///< series heard so far
    std::optional<Measure> measure;   ///< of the round trip, while it runs
    bool recordingUnknownTold = false;
    bool positionAssumedTold = false;
    std::uint64_t reviewTold = 0; ///< number of the review the session knows
    std::chrono::steady_clock::time_point viewMade;

    // between message and worker
    mutable std::mutex mutex;
    std::condition_variable changed;
    std::vector<Task> tasks;
    std::uint64_t tasksPosted = 0;
    std::uint64_t tasksDone = 0;
    bool ready = false;
    bool stopping = false;
    std::vector<std::pair<std::string, bool>> earlyNotes;
    std::shared_ptr<const SessionView> newest;

    std::atomic<bool> started{false};
    std::unique_ptr<Reviewer> reviewer; ///< made by start(), before the thread
    std::thread thread;
};

} // namespace valveladder
