#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

namespace valveladder {

/// One position as an LV2 host reports it (lv2plug.in/ns/ext/time), its figures as they were sent. Hosts
/// leave out what they like, and whole reports where nothing changes.
struct TimeReport {
    int offset = 0;                       ///< sample of the block that it speaks of
    std::optional<std::int64_t> frame;    ///< on the host's time line
    std::optional<std::int64_t> bar;      ///< counted from 0
    std::optional<double> barBeat;        ///< beats of the meter into the bar
    std::optional<double> beat;           ///< running beat; hosts disagree about what it counts
    std::optional<double> beatsPerBar;    ///< may be fractional
    std::optional<int> beatUnit;          ///< 4 = quarter
    std::optional<double> beatsPerMinute; ///< of a note value that the host does not name
    std::optional<double> speed;          ///< 0 = stopped
};

/// The reports of one block, in order. Of more than fit the last is kept, as it holds longest.
class TimeReports {
public:
    static constexpr std::size_t capacity = 32;

    void clear() noexcept { count = 0; }
    void add(const TimeReport& report) noexcept {
        if (count < capacity)
            ++count;
        reports[count - 1] = report;
    }
    [[nodiscard]] std::span<const TimeReport> all() const noexcept { return {reports.data(), count}; }

private:
    std::array<TimeReport, capacity> reports{};
    std::size_t count = 0;
};

} // namespace valveladder
