#include "Plugin/Worker.h"

namespace valveladder {

namespace {

/// Short enough that the window feels alive, long enough to cost nothing.
constexpr std::chrono::milliseconds pause{10};
constexpr std::chrono::milliseconds viewEvery{40};

UtcMs systemNow() {
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    return std::chrono::duration_cast<std::chrono::milliseconds>(now).count();
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
    thread = std::thread([this, config] { run(config); });
    std::unique_lock lock(mutex);
    changed.wait(lock, [this] { return ready; });
    started.store(true, std::memory_order_release);
}

void Worker::run(const SessionConfig& config) {
    Session session(logPath, config, systemNow);
    publishDrill(session);
    {
        const std::lock_guard lock(mutex);
        for (const auto& [text, trouble] : earlyNotes)
            session.note(text, trouble);
    }
    publishView(session);
    {
        const std::lock_guard lock(mutex);
        ready = true;
    }
    changed.notify_all();
    while (true) {
        runTasks(session);
        drain(session);
        session.idle();
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
    tellLosses(session);
}

void Worker::pass(Session& session, const ReceivedBlock& received) {
    const FeedBlock& from = received.block;
    SessionBlock block;
    block.startSample = from.startSample;
    block.host = from.host;
    block.clock = from.clock;
    block.trackId = from.trackId;
    block.guide = from.controls.guide;
    block.way = from.controls.way;
    if (from.recordingUnknown && block.way == TakeWay::recordingPass) {
        block.way = TakeWay::playing;
        if (!recordingUnknownTold)
            session.note("This host does not say when it records: a take is noticed when you play", false);
        recordingUnknownTold = true;
    }
    if (from.controls.link != path.link.enabled()) {
        path.link.enable(from.controls.link);
        if (published)
            path.link.propose(published->planned.bpm);
    }
    block.marks = static_cast<int>(from.marks - marksSeen);
    block.handPresses = static_cast<int>(from.handPresses - handPressesSeen);
    marksSeen = from.marks;
    handPressesSeen = from.handPresses;
    block.soundThresholdDb = from.controls.soundThresholdDb;
    block.listenChannel = from.controls.listenChannel;
    block.midi = received.midi;
    block.sound = received.sound;
    session.block(block);
    publishDrill(session);
}

void Worker::tellLosses(Session& session) {
    const FeedLosses losses = path.feed.losses();
    const std::uint64_t all = losses.blocks + losses.midiEvents + losses.samples;
    if (all == lossesTold)
        return;
    lossesTold = all;
    session.note("The computer could not keep up: something of what was played is missing from this take",
                 true);
}

void Worker::publishDrill(const Session& session) {
    path.drills.collect();
    const auto setup = session.setup();
    if (setup == published)
        return;
    published = setup;
    if (path.link.enabled())
        path.link.propose(setup->planned.bpm);
    path.drills.publish(std::make_unique<const DrillInUse>(DrillInUse{setup->track, setup->planned.bpm}));
}

void Worker::publishView(const Session& session) {
    viewMade = std::chrono::steady_clock::now();
    auto view = std::make_shared<const SessionView>(session.view());
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
        if (auto sound = checked(config); !sound)
            return sound.problem();
        return Done{};
    }
    Result<Done> result = Done{};
    runOnSession([&](Session& session) { result = session.configure(config); });
    return result;
}

void Worker::note(const std::string& text, bool trouble) {
    if (running()) {
        runOnSession([&](Session& session) { session.note(text, trouble); });
        return;
    }
    const std::lock_guard lock(mutex);
    earlyNotes.emplace_back(text, trouble);
}

void Worker::closeTake() {
    if (running())
        runOnSession([](Session& session) { session.close(); });
}

std::shared_ptr<const SessionView> Worker::view() const {
    const std::lock_guard lock(mutex);
    return newest;
}

} // namespace valveladder
