#include "Host/SentGuide.h"

#include "Host/DefaultScore.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace valveladder::host {

SentGuide expectGuideSent(const std::filesystem::path& tapped, const SongMap& song, int rate,
                          double lastQuarter, const std::function<double(double quarter)>& allowedMs) {
    const auto notes = tappedNotes(tapped, guideChannel);
    SentGuide sent;
    for (const ScoreNote& note : defaultScore().notes) {
        const double quarter = static_cast<double>(note.onset) / ticksPerQuarter;
        if (quarter > lastQuarter - 0.5)
            break;
        SCOPED_TRACE(fmt::format("note {} at quarter {}", sent.notes, quarter));
        const auto i = static_cast<std::size_t>(sent.notes);
        if (i >= notes.size()) {
            ADD_FAILURE() << "was never sent";
            break;
        }
        EXPECT_EQ(notes[i].pitch, note.sounding);
        const double offMs =
            std::abs(1000.0 * (static_cast<double>(notes[i].frame) / rate - song.secondsAt(quarter)));
        EXPECT_LE(offMs, allowedMs(quarter));
        sent.furthestMs = std::max(sent.furthestMs, offMs);
        ++sent.notes;
    }
    testing::Test::RecordProperty("furthest_ms", fmt::format("{:.3f}", sent.furthestMs));
    return sent;
}

} // namespace valveladder::host
