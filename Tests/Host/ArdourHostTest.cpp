#include "Files/Smf.h"
#include "Host/HostRig.h"
#include "Host/TempLog.h"
#include "Score/Score.h"
#include "Tempo/TempoPlan.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <optional>
#include <sstream>
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

struct RecordedNote {
    double quarter = 0.0; ///< from the start of the recording
    double quarters = 0.0;
    int pitch = 60;
    int velocity = 64;
};

std::string readText(const fs::path& path) {
    std::ifstream file(path);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

bool installed(const std::string& program) {
    return std::system(("command -v " + program + " > /dev/null 2>&1").c_str()) == 0;
}

/// Guide notes (channel 1) of the first track that has any.
std::vector<RecordedNote> guideNotes(const SmfFile& file) {
    std::vector<RecordedNote> notes;
    const double ticks = file.ticksPerQuarterNote;
    for (const SmfTrack& track : file.tracks)
        for (const SmfEvent& event : track.events) {
            const double quarter = static_cast<double>(event.tick) / ticks;
            if (event.bytes.size() != 3 || (event.bytes[0] & 0x0F) != 0)
                continue;
            const int kind = event.bytes[0] & 0xF0;
            if (kind == 0x90 && event.bytes[2] > 0) {
                notes.push_back({quarter, -1.0, event.bytes[1], event.bytes[2]});
            } else if (kind == 0x80 || kind == 0x90) {
                const auto open = std::find_if(notes.rbegin(), notes.rend(), [&](const RecordedNote& note) {
                    return note.quarters < 0.0 && note.pitch == event.bytes[1];
                });
                if (open != notes.rend())
                    open->quarters = quarter - open->quarter;
            }
        }
    return notes;
}

std::vector<fs::path> recordings(const fs::path& session) {
    std::vector<fs::path> found;
    for (const auto& entry : fs::recursive_directory_iterator(session))
        if (entry.path().extension() == ".mid")
            found.push_back(entry.path());
    std::sort(found.begin(), found.end());
    return found;
}

class ArdourHost : public testing::Test {
protected:
    void SetUp() override {
        if (!installed("ardour7-lua"))
            GTEST_SKIP()
                << "ardour7-lua is not installed (Debian package ardour): the real host was not tried";
        if (!fs::exists(builtPlugin(Format::lv2)))
            GTEST_SKIP()
                << "this build has no LV2 (sanitized builds leave it out): the real host was not tried";
        session = temp.folder() / "session";
        setEnvironment("VALVE_LADDER_SESSION", session.string());
        setEnvironment("VALVE_LADDER_URI", "urn:valveladder:valve-ladder");
        setEnvironment("LV2_PATH", builtPlugin(Format::lv2).parent_path().string());
    }

    /// Runs the script with a home of its own; its output goes to the test's log when it fails.
    void runArdour(double quarters) {
        const fs::path output = temp.folder() / "ardour.txt";
        const auto command = fmt::format(
            "HOME='{0}' XDG_CONFIG_HOME='{0}/config' XDG_CACHE_HOME='{0}/cache' VALVE_LADDER_QUARTERS={1} "
            "VALVE_LADDER_LOOP_FROM={2} VALVE_LADDER_LOOP_TO={3} VALVE_LADDER_LOOP_PASSES={4} "
            "timeout 300 ardour7-lua < '{5}/ardour_session.lua' > '{6}' 2>&1",
            temp.folder().string(), quarters, loopStartQuarter, loopEndQuarter, loopPasses,
            VALVE_LADDER_HOST_TESTS, output.string());
        const int status = std::system(command.c_str());
        const std::string text = readText(output);
        ASSERT_EQ(status, 0) << text;
        ASSERT_NE(text.find("DONE"), std::string::npos) << text;
    }

    TempLog temp;
    fs::path session;
};

Score defaultScore() {
    const Instrument& instrument = catalogue().front();
    return buildScore(defaultDrill(instrument), instrument, TempoRules{}.startBpm).value();
}

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
    const auto file = readSmfFile(path);
    ASSERT_TRUE(file.ok()) << file.problem().text();
    const auto notes = guideNotes(file.value());
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
    const auto files = recordings(session);
    ASSERT_EQ(files.size(), 2U) << "one recording for each pass";
    expectRecorded(files[0], expectedStraight(score));
    expectRecorded(files[1], expectedLooped(score));
}

} // namespace valveladder::host
