#pragma once

#include "Review/Review.h"

#include <condition_variable>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>

namespace valveladder {

/// A review that is done, or the Problem that kept it from being made.
struct Reviewed {
    std::uint64_t number = 0; ///< of the request, from 1
    Result<Review> result;
};

/// Makes reviews on a thread of its own, which reads the log through a store of its own. A newer request
/// stops the one at work. [message, worker] None of its calls waits for a review; the destructor waits for
/// the one at work to stop, which is at most one step of the analysis.
class Reviewer {
public:
    explicit Reviewer(std::filesystem::path logPath);
    ~Reviewer();
    Reviewer(const Reviewer&) = delete;
    Reviewer& operator=(const Reviewer&) = delete;

    /// Returns the request's number.
    std::uint64_t start(const ReviewRequest& request);
    /// Stops the review at work and forgets the one that waits; the newest result stays.
    void cancel();
    [[nodiscard]] bool busy() const;
    /// Of the review at work: takes read so far, and takes there are.
    [[nodiscard]] const ReadingProgress& progress() const { return reading; }
    /// The newest finished review; null before the first.
    [[nodiscard]] std::shared_ptr<const Reviewed> newest() const;

private:
    void run(const std::stop_token& end);
    [[nodiscard]] Result<Review> review(const ReviewRequest& request, const std::stop_token& stop);

    const std::filesystem::path logPath;
    mutable std::mutex mutex;
    std::condition_variable_any changed;
    std::optional<ReviewRequest> waiting;
    std::uint64_t number = 0;
    bool atWork = false;
    ReadingProgress reading;
    std::stop_source current;
    std::shared_ptr<const Reviewed> done;
    std::jthread thread; // last: it uses all above
};

} // namespace valveladder
