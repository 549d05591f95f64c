#pragma once

#include "Log/LockedFile.h"
#include "View/LogReader.h"
#include "View/Overview.h"

#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>

namespace valveladder {

/// The invented player's week, to look round in: made on a thread of its own, in a folder of its own under
/// the system's temporary one, which goes with it, or after a crash by clearLeftBehind(). Knows no other log.
/// [message] Results are fetched by asking.
class LookRound {
public:
    LookRound();
    ~LookRound();
    LookRound(const LookRound&) = delete;
    LookRound& operator=(const LookRound&) = delete;

    /// Null until the week has been made and read; says itself that it is invented, or holds the trouble that
    /// kept it from being made.
    [[nodiscard]] std::shared_ptr<const Overview> overview() const;
    /// Of the week; null until it has been read.
    [[nodiscard]] std::shared_ptr<const LoadedTake> take(const std::string& id);
    [[nodiscard]] static const char* player();
    [[nodiscard]] static const Instrument& instrument();
    /// Where all of it lies meanwhile.
    [[nodiscard]] const std::filesystem::path& folder() const { return place; }

    /// Clears the folders of look rounds whose process is gone, and never one that is in use.
    static void clearLeftBehind();

private:
    void run(const std::stop_token& end);
    [[nodiscard]] Result<Review> made(const std::stop_token& end);

    const std::filesystem::path place;
    std::optional<LockedFile> inUse; ///< in the folder; held as long as this lives, by `thread` at first
    std::optional<LogReader> reader; ///< [message] from the first take on that is asked for
    mutable std::mutex mutex;
    std::shared_ptr<const Overview> done;
    std::jthread thread; // last: it uses all above
};

} // namespace valveladder
