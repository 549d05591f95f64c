#pragma once

#include <chrono>
#include <mutex>
#include <string>

namespace valveladder::console {

/// Says on standard error how far several files are, while they are worked on: a line for each file done,
/// and for long ones a share of the way now and then. In JSON, one object a line, for programs. Any thread.
class Progress {
public:
    Progress(std::size_t filesInAll, bool inJson);

    void share(const std::string& file, double done);
    void finished(const std::string& file);

private:
    void say(const std::string& file, double done);

    using Clock = std::chrono::steady_clock;
    std::mutex guard;
    std::size_t count;
    std::size_t ready = 0;
    bool json;
    Clock::time_point last = Clock::now();
};

} // namespace valveladder::console
