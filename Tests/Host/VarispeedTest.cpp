// Ardour with its transport faster than 1 divides its cycles, and what it loses on the way from one track to
// another is told from what was never sent: a plugin of the tests' own (Tap) behind the built one writes down
// what went out, and adds notes of its own, so that the same is seen without anything of ours.

#include "Host/Ardour.h"
#include "Host/SentGuide.h"
#include "Host/SongMap.h"
#include "Host/Tapped.h"
#include "Host/TempLog.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace valveladder::host {

namespace {

constexpr int rate = 88200, block = 256;
constexpr double lastQuarter = 40.0;
/// Nearer than any note to the next, farther than a note may be off.
constexpr double nearQuarters = 0.005;

/// Sent on the very sample at which a cycle is divided: Ardour reckons a message's time in the engine's
/// samples and back, rounds it down both times, and so puts it before the part that it belongs to.
bool atDivision(const Tapped& note) {
    return note.offset == 0 && note.blockSamples < block;
}

class HostMatrixVarispeed : public testing::TestWithParam<Format> {
protected:
    void SetUp() override {
        if (const std::string why = Ardour::missing(GetParam()); !why.empty())
            GTEST_SKIP() << why;
    }

    void play(double speed) {
        std::string words;
        ASSERT_TRUE(ardour.play(
            GetParam(),
            {fmt::format("VALVE_LADDER_BEHIND={}", tapUri),
             fmt::format("VALVE_LADDER_TAPPED='{}'", tapped.string()),
             fmt::format("VALVE_LADDER_RATE={}", rate), fmt::format("VALVE_LADDER_BLOCK={}", block),
             "VALVE_LADDER_DRIVER='10x Speed'", "VALVE_LADDER_SONG='M 0 4 4;T 0 240 4;T 10 200 4'",
             fmt::format("VALVE_LADDER_PASSES='0 {}'", lastQuarter),
             fmt::format("VALVE_LADDER_VARISPEED={}", speed)},
            words))
            << words;
    }

    [[nodiscard]] std::vector<RecordedNote> recorded(int channel) const {
        const auto files = recordings(ardour.session(), "recorder1-");
        EXPECT_EQ(files.size(), 1U);
        return files.empty() ? std::vector<RecordedNote>{} : recordedNotes(files.front(), channel);
    }

    [[nodiscard]] SentGuide expectScoreSent() const {
        // A sample, and a tick: places are told in 1920ths of a beat, to a VST3 as well.
        return expectGuideSent(tapped, song, rate, lastQuarter, [this](double quarter) {
            return 60000.0 / song.bpmAt(quarter) / 1920.0 + 2000.0 / rate;
        });
    }

    /// How many of the notes sent in the pass are not recorded. What comes behind its end may be: where
    /// exactly it stopped is Ardour's affair.
    int expectAllButDivisionsRecorded(int channel) const {
        const auto end = static_cast<std::int64_t>(song.secondsAt(lastQuarter) * rate);
        const auto kept = recorded(channel);
        std::size_t next = 0, behind = 0;
        int lost = 0;
        for (const Tapped& note : tappedNotes(tapped, channel)) {
            if (note.frame >= end) {
                ++behind;
                continue;
            }
            const double quarter = song.quarterAt(static_cast<double>(note.frame) / rate);
            if (next < kept.size() && kept[next].pitch == note.pitch &&
                std::abs(kept[next].quarter - quarter) < nearQuarters) {
                ++next;
                continue;
            }
            ++lost;
            EXPECT_TRUE(atDivision(note))
                << fmt::format("channel {}, frame {}: sent at {} of {} samples and not recorded", channel,
                               note.frame, note.offset, note.blockSamples);
        }
        EXPECT_LE(kept.size() - next, behind) << "recorded, but not sent";
        return lost;
    }

    const SongMap song{{{0.0, 240.0}, {10.0, 200.0}}, {{0.0, 4, 4}}};
    TempLog temp;
    Ardour ardour{temp.folder()};
    std::filesystem::path tapped = temp.folder() / "tapped.txt";
};

} // namespace

TEST_P(HostMatrixVarispeed, TheWholeScoreIsSentAndTheHostLosesOnlyWhatFallsOnADivisionOfItsCycle) {
    ASSERT_NO_FATAL_FAILURE(play(1.3));
    const SentGuide sent = expectScoreSent();
    EXPECT_GE(sent.notes, 30);
    const int guideLost = expectAllButDivisionsRecorded(guideChannel);
    const int tapsLost = expectAllButDivisionsRecorded(tapsChannel);
    const auto taps = tappedNotes(tapped, tapsChannel);
    const auto divided = std::count_if(taps.begin(), taps.end(), atDivision);
    EXPECT_GT(divided, 0) << "no note of the tap's fell on a division: nothing was shown";
    std::printf("furthest %.3f ms, guide's notes lost by the host %d, the tap's %d of %zu, of which on a "
                "division %td\n",
                sent.furthestMs, guideLost, tapsLost, taps.size(), divided);
}

TEST_P(HostMatrixVarispeed, SlowerNothingIsLost) {
    ASSERT_NO_FATAL_FAILURE(play(0.8));
    EXPECT_GE(expectScoreSent().notes, 30);
    EXPECT_EQ(expectAllButDivisionsRecorded(guideChannel), 0);
    EXPECT_EQ(expectAllButDivisionsRecorded(tapsChannel), 0);
}

INSTANTIATE_TEST_SUITE_P(Ardour, HostMatrixVarispeed, testing::Values(Format::lv2, Format::vst3),
                         [](const auto& made) { return made.param == Format::vst3 ? "Vst3" : "Lv2"; });

} // namespace valveladder::host
