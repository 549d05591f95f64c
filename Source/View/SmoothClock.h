#pragma once

#include <optional>

namespace valveladder {

/// Musical time between the audio blocks that report it. A clock that reports every few milliseconds is
/// followed as it is; with longer blocks the position runs on at the tempo until the next report, so that it
/// moves evenly. Never runs on for longer than `farthestSeconds`.
class SmoothClock {
public:
    static constexpr double farthestSeconds = 0.25;

    /// `seconds` is any steady clock. `bpm` 0 = unknown: the report is taken as it is.
    double at(double reportedPpq, double bpm, double seconds);
    void forget() { last.reset(); }

private:
    struct Report {
        double ppq = 0.0;
        double seconds = 0.0;
    };
    std::optional<Report> last;
    double shown = 0.0;
};

} // namespace valveladder
