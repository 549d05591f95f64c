#include "Console/Progress.h"

#include "Console/Tool.h"

#include <cstdio>

namespace valveladder::console {

namespace {

constexpr std::chrono::seconds sayEvery{2};

} // namespace

Progress::Progress(std::size_t filesInAll, bool inJson) : count(filesInAll), json(inJson) {}

void Progress::share(const std::string& file, double done) {
    const std::lock_guard lock(guard);
    if (Clock::now() - last >= sayEvery)
        say(file, done);
}

void Progress::finished(const std::string& file) {
    const std::lock_guard lock(guard);
    ++ready;
    if (count > 1)
        say(file, 1.0);
}

void Progress::say(const std::string& file, double done) {
    last = Clock::now();
    std::string line;
    if (json)
        line = Json{{"progress", {{"file", file}, {"share", done}, {"filesDone", ready}, {"files", count}}}}
                   .dump(-1, ' ', false, Json::error_handler_t::replace);
    else
        line = fmt::format("{} of {} files done; {}: {:.0f} %", ready, count, file, 100.0 * done);
    std::fprintf(stderr, "%s\n", line.c_str());
}

} // namespace valveladder::console
