#include "View/LogReader.h"

#include <algorithm>

namespace valveladder {

namespace {

/// More takes than the window shows at once are read anew when they are asked for again.
constexpr std::size_t mostTakesKept = 64;

} // namespace

LoadedTake loadTake(const LogStore& log, const std::string& id) {
    LoadedTake loaded;
    auto record = log.take(id);
    if (!record) {
        loaded.trouble = record.problem();
        return loaded;
    }
    auto logged = loggedScore(record.value().header, record.value().header.plannedBpm);
    if (!logged) {
        loaded.trouble = logged.problem();
        return loaded;
    }
    loaded.record = std::move(record.value());
    loaded.logged = std::move(logged.value());
    loaded.model = takeModel(loaded.record, loaded.logged.score, loaded.logged.instrument);
    return loaded;
}

LogReader::LogReader(std::filesystem::path logPath)
    : path(std::move(logPath)), thread([this](const std::stop_token& end) { run(end); }) {}

LogReader::~LogReader() {
    thread.request_stop();
    changed.notify_all();
}

void LogReader::wantTake(const std::string& id) {
    const std::lock_guard lock(mutex);
    if (takes.contains(id) || std::find(jobs.begin(), jobs.end(), id) != jobs.end())
        return;
    jobs.push_back(id);
    changed.notify_all();
}

void LogReader::readAgain(const std::string& id) {
    const std::lock_guard lock(mutex);
    takes.erase(id);
    jobs.push_back(id);
    changed.notify_all();
}

std::shared_ptr<const LoadedTake> LogReader::take(const std::string& id) const {
    const std::lock_guard lock(mutex);
    const auto found = takes.find(id);
    return found == takes.end() ? nullptr : found->second;
}

LoadedTake LogReader::load(const std::string& id) const {
    const auto log = LogStore::openReadOnly(path);
    if (log)
        return loadTake(*log.value(), id);
    LoadedTake nothing;
    nothing.trouble = log.problem();
    return nothing;
}

void LogReader::run(const std::stop_token& end) {
    std::unique_lock lock(mutex);
    while (changed.wait(lock, end, [this] { return !jobs.empty(); }) && !end.stop_requested()) {
        const std::string id = jobs.front();
        lock.unlock();
        auto loaded = std::make_shared<const LoadedTake>(load(id));
        lock.lock();
        if (takes.size() >= mostTakesKept)
            takes.clear();
        if (std::count(jobs.begin(), jobs.end(), id) == 1) // else it was changed while it was read
            takes[id] = std::move(loaded);
        jobs.pop_front(); // only now, so that it is not asked for twice
    }
}

} // namespace valveladder
