#pragma once

#include "Log/LogStore.h"

#include <deque>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// Keeps finished takes safe whatever the log does. [worker]
///
/// Takes go to the log; where it is locked, read-only, full, corrupt or newer than us, they stay in memory
/// and in a spill file beside the log (or, where that folder cannot be written, in the system's temporary
/// folder), are tried again by retry(), and are read back from the spill file at the next start.
class TakeKeeper {
public:
    explicit TakeKeeper(std::filesystem::path logPath);
    ~TakeKeeper();

    void begin(const TakeHeader& header);
    void finish(const TakeRecord& record);
    void drop(const std::string& id);

    /// Tries the log again and moves waiting takes into it. Cheap when nothing waits. Call about once a
    /// second.
    void retry();

    /// Takes not yet in the log.
    [[nodiscard]] std::size_t waiting() const;
    /// What is wrong with the log now; nothing when all is well.
    [[nodiscard]] std::optional<Problem> trouble() const;
    /// The open store; nullptr while in trouble.
    [[nodiscard]] LogStore* store();
    /// Takes waiting, so that plans count them as well.
    [[nodiscard]] const std::deque<TakeRecord>& waitingTakes() const;
    /// What the player should be told once (takes found after a crash, lines that could not be read back);
    /// each call yields what is new.
    [[nodiscard]] std::vector<Problem> news();

private:
    struct Impl;
    std::unique_ptr<Impl> impl;
};

} // namespace valveladder
