#include "Review/Reviewer.h"

namespace valveladder {

Reviewer::Reviewer(std::filesystem::path path)
    : logPath(std::move(path)), thread([this](const std::stop_token& end) { run(end); }) {}

Reviewer::~Reviewer() {
    cancel();
}

std::uint64_t Reviewer::start(const ReviewRequest& request) {
    const std::lock_guard lock(mutex);
    current.request_stop();
    waiting = request;
    changed.notify_one();
    return ++number;
}

void Reviewer::cancel() {
    const std::lock_guard lock(mutex);
    current.request_stop();
    waiting.reset();
}

bool Reviewer::busy() const {
    const std::lock_guard lock(mutex);
    return atWork || waiting;
}

std::shared_ptr<const Reviewed> Reviewer::newest() const {
    const std::lock_guard lock(mutex);
    return done;
}

Result<Review> Reviewer::review(const ReviewRequest& request, const std::stop_token& stop) {
    reading.read = reading.all = 0;
    auto log = LogStore::openReadOnly(logPath);
    if (!log)
        return log.problem();
    return reviewOf(*log.value(), request, stop, &reading);
}

void Reviewer::run(const std::stop_token& end) {
    std::unique_lock lock(mutex);
    while (changed.wait(lock, end, [this] { return waiting.has_value(); })) {
        const ReviewRequest request = std::move(*waiting);
        waiting.reset();
        current = std::stop_source();
        atWork = true;
        const std::uint64_t serving = number;
        const std::stop_token stop = current.get_token();
        lock.unlock();
        auto result = review(request, stop);
        lock.lock();
        atWork = false;
        if (!stop.stop_requested())
            done = std::make_shared<const Reviewed>(Reviewed{serving, std::move(result)});
    }
}

} // namespace valveladder
