#pragma once

#include "Log/LogStore.h"
#include "Review/LoggedScore.h"
#include "View/TakeModel.h"

#include <condition_variable>
#include <deque>
#include <filesystem>
#include <map>
#include <memory>
#include <mutex>
#include <stop_token>
#include <string>
#include <thread>

namespace valveladder {

struct LoadedTake {
    TakeRecord record;
    LoggedScore logged;
    TakeModel model;
    std::optional<Problem> trouble; ///< the log or the take cannot be read; all else is then empty
};

[[nodiscard]] LoadedTake loadTake(const LogStore& log, const std::string& id);

/// Reads single takes on a thread of its own, through a store of its own, so that the window never waits.
/// [message] Results are fetched by asking.
class LogReader {
public:
    explicit LogReader(std::filesystem::path logPath);
    ~LogReader();

    void wantTake(const std::string& id);
    /// The take has been changed in the log: it is read again, and is null until then.
    void readAgain(const std::string& id);
    /// Null until it has been read.
    [[nodiscard]] std::shared_ptr<const LoadedTake> take(const std::string& id) const;

private:
    void run(const std::stop_token& end);
    [[nodiscard]] LoadedTake load(const std::string& id) const;

    const std::filesystem::path path;
    mutable std::mutex mutex;
    std::condition_variable_any changed;
    std::deque<std::string> jobs;
    std::map<std::string, std::shared_ptr<const LoadedTake>> takes;
    std::jthread thread; // last: it uses all above
};

} // namespace valveladder
