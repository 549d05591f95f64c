#pragma once

#include "Findings/NextSession.h"
#include "Log/LogStore.h"
#include "Screen/StairModel.h"
#include "Screen/TakeModel.h"
#include "Session/LoggedScore.h"

#include <atomic>
#include <condition_variable>
#include <deque>
#include <filesystem>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>
#include <variant>
#include <vector>

namespace valveladder {

/// Whose takes the window shows.
struct OverviewRequest {
    std::string player;
    Instrument instrument;
    Drill ladder;      ///< that the next session is made of
    double bpm = 60.0; ///< planned next

    bool operator==(const OverviewRequest&) const = default;
};

/// Everything that is told over takes.
struct Overview {
    std::vector<TakeSummary> takes; ///< oldest first, finished ones
    StairModel stair;
    std::optional<PracticeSession> next;
    std::string trouble; ///< why something is missing; empty = all is there
};

struct LoadedTake {
    TakeRecord record;
    LoggedScore logged;
    TakeModel model;
    std::string trouble; ///< the log or the take cannot be read; all else is then empty
};

/// Works `request` out from the log. `progress` counts takes read; stopped, it returns what there is.
[[nodiscard]] Overview overviewOf(const LogStore& log, const OverviewRequest& request,
                                  const std::stop_token& stop, std::atomic<int>& progress);
[[nodiscard]] LoadedTake loadTake(const LogStore& log, const std::string& id);

/// Reads the log on a thread of its own, through a store of its own, so that the window never waits.
/// [message] Results are fetched by asking; the newest request of a kind wins.
class LogReader {
public:
    explicit LogReader(std::filesystem::path logPath);
    ~LogReader();

    void wantOverview(const OverviewRequest& request);
    void wantTake(const std::string& id);
    /// Stops the overview that is being worked out.
    void stop();

    [[nodiscard]] bool busy() const { return working.load(); }
    [[nodiscard]] int takesRead() const { return progress.load(); }
    [[nodiscard]] std::shared_ptr<const Overview> overview() const;
    [[nodiscard]] std::shared_ptr<const LoadedTake> take(const std::string& id) const;

private:
    using Job = std::variant<OverviewRequest, std::string>;

    void run(const std::stop_token& end);
    void work(const Job& job);
    [[nodiscard]] Result<std::unique_ptr<LogStore>> openLog() const;

    const std::filesystem::path path;
    mutable std::mutex mutex;
    std::condition_variable_any changed;
    std::deque<Job> jobs;
    std::stop_source current;
    std::shared_ptr<const Overview> newest;
    std::map<std::string, std::shared_ptr<const LoadedTake>> takes;
    std::atomic<bool> working{false};
    std::atomic<int> progress{0};
    std::jthread thread; // last: it uses all above
};

} // namespace valveladder
