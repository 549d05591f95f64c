#include "Plugin/Worker.h"

#include "Base/SystemClock.h"
#include "View/PluginWords.h"

#include <algorithm>
#include <utility>

namespace valveladder {

namespace {

/// Short enough that the window feels alive, long enough to cost nothing.
constexpr std::chrono::milliseconds pause{10};
constexpr std::chrono::milliseconds viewEvery{20};
/// The clicks take about seven seconds of sound; when they last longer, no sound runs.
constexpr std::chrono::seconds longestMeasure{15};

/// Whether the log says the same of both.
bool sameReview(const SessionConfig& a, const SessionConfig& b) {
    return a.player == b.player && a.instrument == b.instrument && a.drill == b.drill && a.rules == b.rules &&
           a.care == b.care && a.invented == b.invented;
}

} // namespace

Worker::Worker(AudioPath& audioPath, std::filesystem::path log) : path(audioPath), logPath(std::move(log)) {}

Worker::~Worker() {
    {
        const std::lock_guard lock(mutex);
        stopping = true;
    }
    changed.notify_all();
    if (thread.joinable())
        thread.join();
}

void Worker::start(const SessionConfig& config) {
    if (running())
        return;
    reviewer = std::make_unique<Reviewer>(logPath);
    thread = std::thread([this, config] { run(config); });
    std::unique_lock lock(mutex);
    changed.wait(lock, [this] { return ready; });
    started.store(true, std::memory_order_release);
}

void Worker::run(const SessionConfig& config) {
    Session session(logPath, config, systemUtcMs);
    session.onLogChanged([this](const ReviewRequest& request) { reviewer->start(request); });
    publishDrill(session);
    while (!takeEarlyNotes(session))
        publishView(session);
    changed.notify_all();
    while (true) {
        runTasks(session);
        drain(session);
        session.idle();
        checkMeasure(session);
        tellReviewed(session);
        publishDrill(session);
        if (std::chrono::steady_clock::now() - viewMade >= viewEvery)
            publishView(session);
        std::unique_lock lock(mutex);
        if (stopping)
            break;
        changed.wait_for(lock, pause, [this] { return stopping || !tasks.empty(); });
    }
    drain(session);
}

/// True, and ready, where none has come since the last call, so that each stands in the view.
bool Worker::takeEarlyNotes(Session& session) {
    const std::lock_guard lock(mutex);
    ready = newest != nullptr && earlyNotes.empty();
    for (const auto& [text, trouble] : std::exchange(earlyNotes, {}))
        session.note(text, trouble);
    return ready;
}

void Worker::runTasks(Session& session) {
    std::vector<Task> now;
    {
        const std::lock_guard lock(mutex);
        now.swap(tasks);
    }
    if (now.empty())
        return;
    drain(session); // what was heard before belongs before
    for (const Task& task : now)
        task(session);
    publishDrill(session);
    publishView(session);
    {
        const std::lock_guard lock(mutex);
        tasksDone += now.size();
    }
    changed.notify_all();
}

void Worker::drain(Session& session) {
    path.feed.drain([&](const ReceivedBlock& received) { pass(session, received); });
    tellLosses(session, path.feed.losses());
}

void Worker::pass(Session& session, const ReceivedBlock& received) {
    const FeedBlock& from = received.block;
    tellLossesBefore(session, from);
    SessionBlock block{from};
    if (from.recordingUnknown && block.way == TakeWay::recordingPass) {
        block.way = TakeWay::playing;
        if (!recordingUnknownTold)
            session.note(words::recordingUnknown, false);
        recordingUnknownTold = true;
    }
    if (from.positionAssumed && !std::exchange(positionAssumedTold, true))
        session.note(words::positionAssumed, false);
    if (from.link != path.link.enabled()) {
        path.link.enable(from.link);
        if (published)
            path.link.propose(published->planned.bpm);
    }
    block.marks = static_cast<int>(from.marks - marksSeen);
    block.handPresses = static_cast<int>(from.handPresses - handPressesSeen);
    marksSeen = from.marks;
    handPressesSeen = from.handPresses;
    block.midi = received.midi;
    block.sound = received.sound;
    block.silenced = received.silenced;
    session.block(block);
    hearClicks(session, received);
    publishDrill(session);
}

Result<Done> Worker::beginMeasure(const Session& session) {
    const SessionView now = session.view();
    if (measure)
        return Problem{words::measuringAlready, words::roundTrip, words::waitForEnd};
    if (now.playing || now.inTake)
        return Problem{words::transportRuns, words::roundTrip, words::stopThenMeasure};
    measure = Measure{std::chrono::steady_clock::now(), std::nullopt};
    path.clicks.start();
    return Done{};
}

void Worker::hearClicks(Session& session, const ReceivedBlock& received) {
    const FeedBlock& block = received.block;
    if (!measure || (!measure->finder && block.clicksFrom <= lastClicksFrom))
        return; // not begun, or the rest of a series that was broken off
    if (block.host.playing)
        return endMeasure(session, Problem{words::transportStarted, words::roundTrip, words::measureAgain});
    if (!measure->finder)
        measure->finder.emplace(block.host.sampleRate, block.clicksFrom);
    lastClicksFrom = std::max(lastClicksFrom, block.clicksFrom);
    measure->finder->push(block.startSample, received.sound);
    const std::int64_t passed = block.startSample + block.host.samples;
    if (measure->finder->done(passed))
        endMeasure(session, measure->finder->result());
    else if (block.clicksFrom < 0)
        endMeasure(session, Problem{words::deviceChanged, words::roundTrip, words::measureAgain});
}

void Worker::endMeasure(Session& session, const Result<double>& found) {
    path.clicks.stop();
    measure.reset();
    if (found)
        session.setMeasuredRoundTrip(found.value());
    else
        session.note(words::notMeasuredBecause + found.problem().text(), true);
}

void Worker::checkMeasure(Session& session) {
    if (measure && std::chrono::steady_clock::now() - measure->begun > longestMeasure)
        endMeasure(session, Problem{words::noSoundRuns, words::roundTrip, words::startDeviceMeasureAgain});
}

void Worker::setDevice(const std::string& name) {
    if (running())
        runOnSession([&](Session& session) { session.setDevice(name); });
}

Result<Done> Worker::measureRoundTrip() {
    Result<Done> result = Done{};
    runOnSession([&](const Session& session) { result = beginMeasure(session); });
    return result;
}

/// Before the block that follows a loss, so that the take in which it happened hears of it, however late all
/// of this is. While more and more is lost not at each block, but sooner than a take is finished.
void Worker::tellLossesBefore(Session& session, const FeedBlock& block) {
    constexpr double tellEverySeconds = 0.2;
    const double since = static_cast<double>(block.startSample - lossesToldAt) / block.host.sampleRate;
    if (block.host.playing && since >= 0.0 && since < tellEverySeconds)
        return;
    if (tellLosses(session, block.lostBefore))
        lossesToldAt = block.startSample;
}

bool Worker::tellLosses(Session& session, const FeedLosses& losses) {
    const FeedLosses fresh = losses.since(lossesTold);
    if (!fresh.any())
        return false;
    lossesTold = losses;
    session.noteLoss(words::computerTooSlow(fresh.blocks, fresh.midiEvents, fresh.samples));
    return true;
}

void Worker::publishDrill(const Session& session) {
    path.drills.collect();
    const auto setup = session.setup();
    if (setup == published)
        return;
    const bool otherReview = !published || !sameReview(published->config, setup->config);
    published = setup;
    if (otherReview)
        reviewer->start(session.reviewRequest());
    if (path.link.enabled())
        path.link.propose(setup->planned.bpm);
    path.drills.publish(std::make_unique<const DrillInUse>(DrillInUse{setup->track, setup->planned.bpm}));
}

void Worker::tellReviewed(Session& session) {
    const auto done = reviewer->newest();
    if (!done || done->number == reviewTold)
        return;
    reviewTold = done->number;
    if (done->result)
        session.reviewed(done->result.value());
}

void Worker::publishView(const Session& session) {
    viewMade = std::chrono::steady_clock::now();
    auto view = std::make_shared<SessionView>(session.view());
    view->measuringRoundTrip = measure.has_value();
    const std::lock_guard lock(mutex);
    newest = std::move(view);
}

void Worker::runOnSession(Task task) {
    std::unique_lock lock(mutex);
    tasks.push_back(std::move(task));
    const std::uint64_t ticket = ++tasksPosted;
    changed.notify_all();
    changed.wait(lock, [&] { return tasksDone >= ticket; });
}

Result<Done> Worker::configure(const SessionConfig& config) {
    if (!running()) {
        if (auto valid = checked(config); !valid)
            return valid.problem();
        return Done{};
    }
    Result<Done> result = Done{};
    runOnSession([&](Session& session) { result = session.configure(config); });
    return result;
}

void Worker::note(const std::string& text, bool trouble) {
    {
        const std::lock_guard lock(mutex);
        if (!ready) {
            earlyNotes.emplace_back(text, trouble);
            return;
        }
    }
    runOnSession([&](Session& session) { session.note(text, trouble); });
}

void Worker::closeTake() {
    if (running())
        runOnSession([](Session& session) { session.close(); });
}

std::shared_ptr<const Reviewed> Worker::review() const {
    return running() ? reviewer->newest() : nullptr;
}

std::shared_ptr<const SessionView> Worker::view() const {
    const std::lock_guard lock(mutex);
    return newest;
}

} // namespace valveladder
