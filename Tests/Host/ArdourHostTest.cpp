#include "Host/Ardour.h"
#include "Host/DefaultScore.h"
#include "Host/TempLog.h"
#include "Score/Score.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fmt/format.h>
#include <vector>

// A real sequencer without a window: Ardour (package ardour) runs a session with the built LV2, records what
// the plugin sends on a second track, and what it recorded is compared with the Score.

namespace valveladder::host {

namespace {

namespace fs = std::filesystem;

/// Ardour's default tempo: the session's quarters are half seconds.
constexpr double ardourBpm = 120.0;
/// Ardour keeps MIDI in ticks of 1/1920 quarter and records from sample positions: half a tick of rounding
/// (0.13 ms at 120), and a sample of the guide's own (0.02 ms), at each of a note's edges, against a start of
/// the recording that is itself a sample position.
constexpr double toleranceMs = 0.3;
/// Both ends in the middle of a note: the first is left out, the last cut short.
constexpr double loopStartQuarter = 6.25;
constexpr double loopEndQuarter = 14.5;
constexpr int loopPasses = 3;

class ArdourHost : public testing::Test {
protected:
    void SetUp() override {
        if (const std::string why = Ardour::missing(Format::lv2); !why.empty())
            GTEST_SKIP() << why;
    }

    void runArdour(double quarters) {
        std::string said;
        ASSERT_TRUE(ardour.play(
            Format::lv2,
            {fmt::format("VALVE_LADDER_PASSES='0 {}'", quarters),
             fmt::format("VALVE_LADDER_LOOP='{} {} {}'", loopStartQuarter, loopEndQuarter, loopPasses)},
            said))
            << said;
    }

    TempLog temp;
    Ardour ardour{temp.folder()};
};

double quartersOf(Tick ticks) {
    return static_cast<double>(ticks) / ticksPerQuarter;
}

/// The recording begins with the count-in.
std::vector<RecordedNote> expectedStraight(const Score& score) {
    std::vector<RecordedNote> notes;
    for (const ScoreNote& note : score.notes)
        notes.push_back({quartersOf(note.onset), quartersOf(note.gate), note.sounding, note.velocity});
    return notes;
}

/// The recording begins with the loop; passes lie end to end. The pass that was stopped is not compared.
std::vector<RecordedNote> expectedLooped(const Score& score) {
    std::vector<RecordedNote> notes;
    for (int pass = 0; pass < loopPasses; ++pass)
        for (const ScoreNote& note : score.notes) {
            const double onset = quartersOf(note.onset);
            if (onset < loopStartQuarter || onset >= loopEndQuarter)
                continue;
            const double sounding = std::min(quartersOf(note.gate), loopEndQuarter - onset);
            const double at = onset - loopStartQuarter + pass * (loopEndQuarter - loopStartQuarter);
            notes.push_back({at, sounding, note.sounding, note.velocity});
        }
    return notes;
}

void expectRecorded(const fs::path& path, const std::vector<RecordedNote>& expected) {
    SCOPED_TRACE(path);
    const auto notes = recordedNotes(path);
    ASSERT_GE(notes.size(), expected.size());
    constexpr double msPerQuarter = 60000.0 / ardourBpm;
    for (std::size_t i = 0; i < expected.size(); ++i) {
        SCOPED_TRACE(fmt::format("note {}", i));
        EXPECT_EQ(notes[i].pitch, expected[i].pitch);
        EXPECT_EQ(notes[i].velocity, expected[i].velocity);
        EXPECT_NEAR(notes[i].quarter * msPerQuarter, expected[i].quarter * msPerQuarter, toleranceMs);
        EXPECT_NEAR(notes[i].quarters * msPerQuarter, expected[i].quarters * msPerQuarter, toleranceMs);
    }
}

} // namespace

TEST_F(ArdourHost, WhatItRecordsEqualsTheScoreStraightAndLooped) {
    const Score score = defaultScore();
    const double end = static_cast<double>(score.spans.back().end) / ticksPerQuarter;
    ASSERT_NO_FATAL_FAILURE(runArdour(std::ceil(end) + 1.0));
    const auto files = recordings(ardour.session(), "recorder1-");
    ASSERT_EQ(files.size(), 2U) << "one recording for each pass";
    expectRecorded(files[0], expectedStraight(score));
    expectRecorded(files[1], expectedLooped(score));
}

} // namespace valveladder::host
