#pragma once

#include "Plugin/TimeReport.h"

#include <lv2/atom/atom.h>
#include <lv2/urid/urid.h>

namespace valveladder {

/// Reads the position reports that an LV2 host sends among the events of its control port.
class Lv2Time {
public:
    /// [message] Maps what it looks for.
    explicit Lv2Time(const LV2_URID_Map& map);

    /// [audio] What the host reports for this block; `events` may be null. Valid until the next call.
    [[nodiscard]] std::span<const TimeReport> read(const LV2_Atom_Sequence* events) noexcept;

private:
    [[nodiscard]] std::optional<double> number(const LV2_Atom* atom) const noexcept;
    [[nodiscard]] std::optional<std::int64_t> whole(const LV2_Atom* atom) const noexcept;
    void readEvent(const LV2_Atom_Event& event) noexcept;

    LV2_URID sequence, object, blank, intType, longType, floatType, doubleType;
    LV2_URID position, frame, speed, bar, barBeat, beat, beatUnit, beatsPerBar, beatsPerMinute;
    TimeReports reports;
};

} // namespace valveladder
