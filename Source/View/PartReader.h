#pragma once

#include "Files/PartFile.h"
#include "Words/PartWords.h"

#include <atomic>
#include <condition_variable>
#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

namespace valveladder {

/// Which line of which file is wanted, for whom.
struct PartRequest {
    std::filesystem::path file;
    PartChoice choice; ///< part -1 = the first that holds notes
    Instrument instrument;
    std::string player; ///< whose changeovers are asked of the log

    bool operator==(const PartRequest&) const = default;
};

/// A line of a part with its fingerings and spots.
struct OpenedPart {
    PartRequest request;
    std::optional<PartFile> file; ///< absent where it cannot be read
    int part = -1;                ///< which of its parts, from 0
    Part line;
    Marking marking;
    std::vector<Spot> spots; ///< the costliest first
    CostBasis costBasis;
    std::vector<std::string> remarks;
    std::optional<Problem> problem; ///< why there is no line
};

/// Reads and marks. `log`: that of the player; a log that is not there or cannot be read is as an empty one,
/// and the remarks say so.
[[nodiscard]] OpenedPart openPart(const PartRequest& request, const std::filesystem::path& log);

/// Opens parts on a thread of its own, so that the window never waits. [message] The newest request wins.
class PartReader {
public:
    explicit PartReader(std::filesystem::path logPath);
    ~PartReader();

    void want(const PartRequest& request);
    [[nodiscard]] bool busy() const { return working.load(); }
    /// What was opened last; null before.
    [[nodiscard]] std::shared_ptr<const OpenedPart> opened() const;

private:
    void run(const std::stop_token& end);

    const std::filesystem::path log;
    mutable std::mutex mutex;
    std::condition_variable_any changed;
    std::optional<PartRequest> wanted;
    std::shared_ptr<const OpenedPart> newest;
    std::atomic<bool> working{false};
    std::jthread thread; // last: it uses all above
};

} // namespace valveladder
