// Sessions with tempo maps in a real sequencer, Ardour: the same session with the LV2 and with the VST3. What
// it recorded of the guide is compared with the Score.

#include "Host/Ardour.h"
#include "Host/DefaultScore.h"
#include "Host/SongMap.h"
#include "Host/TempLog.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <fmt/format.h>
#include <optional>

namespace valveladder::host {

namespace {

/// Half a tick of a 1920th quarter where Ardour keeps a note, a sample of the guide's, and the start of the
/// recording, itself a sample.
constexpr double recordedMs = 0.3;

bool full() {
    return std::getenv("VALVE_LADDER_FULL") != nullptr;
}

struct Loop {
    double from = 0.0, to = 1.0; ///< quarters
    int times = 4;
};

/// One session.
struct Case {
    const char* name;
    std::vector<SongMap::Tempo> tempos;
    std::vector<SongMap::Meter> meters;
    std::vector<std::pair<double, double>> passes; ///< quarters
    int rate = 48000;
    int block = 1024;
    std::optional<Loop> loop{}; ///< after the passes; of one tempo
    double varispeed = 1.0;
    int instances = 1;
    bool always = true; ///< else in the full size only
};

void PrintTo(const Case& session, std::ostream* out) {
    *out << session.name;
}

std::string songText(const Case& session) {
    std::string text;
    for (const auto& meter : session.meters)
        text += fmt::format("M {} {} {};", meter.quarter, meter.beats, meter.unit);
    for (const auto& tempo : session.tempos)
        text += fmt::format("{} {} {} {};", tempo.ramp ? "R" : "T", tempo.quarter,
                            tempo.bpm / tempo.noteQuarters, std::lround(4.0 / tempo.noteQuarters));
    return text;
}

std::string loopText(const Case& session) {
    return session.loop ? fmt::format("{} {} {}", session.loop->from, session.loop->to, session.loop->times)
                        : "";
}

const std::vector<SongMap::Tempo> stepped{{0.0, 60.0}, {7.5, 97.0}, {16.0, 63.5}, {24.0, 132.0}};
const std::vector<SongMap::Meter> fourFour{{0.0, 4, 4}};
const std::vector<SongMap::Meter> changing{{0.0, 3, 4}, {12.0, 4, 4}, {20.0, 7, 8}, {27.0, 4, 4}};
const std::vector<SongMap::Tempo> oneTempo{{0.0, 96.0}};
const std::vector<SongMap::Tempo> eighths{{0.0, 120.0}, {6.0, 90.0}, {20.0, 75.0, 0.5}, {27.0, 100.0}};
const std::vector<SongMap::Tempo> ramped{{0.0, 90.0}, {6.0, 90.0, 1.0, true}, {22.0, 130.0}};

std::vector<Case> cases() {
    std::vector<Case> all{
        {"TempoSteps", stepped, fourFour, {{0, 30}, {25.25, 31}, {8, 14}}, 48000, 1024},
        {"TempoStepsSmallBlocks", stepped, fourFour, {{0, 30}, {17.5, 28}}, 44100, 64},
        {"ThreeFourFourFourSevenEight", oneTempo, changing, {{29, 36}, {0, 34}, {21, 30}}, 48000, 512},
        {"MetersSmallBlocks", oneTempo, changing, {{0, 34}, {13.5, 24}}, 48000, 32},
        {"TempoInEighths", eighths, changing, {{0, 36}, {20.5, 30}}, 48000, 1024},
        {"TempoInEighthsSmallBlocks", eighths, changing, {{0, 36}, {28, 36}}, 96000, 128},
        {"LoopOfABeat", oneTempo, changing, {{0, 24}}, 48000, 256, Loop{17, 18, 8}},
        {"LoopOverMeters", oneTempo, changing, {{0, 8}}, 44100, 1024, Loop{18.25, 29.5, 3}, 1.0, 1, false},
        {"TrueRamp", ramped, fourFour, {{0, 32}, {12, 24}}, 48000, 256},
        {"Varispeed", stepped, fourFour, {{0, 24}}, 48000, 512, {}, 0.8},
        {"SeveralInstances", eighths, changing, {{0, 24}}, 48000, 512, {}, 1.0, 4},
        {"LargeBlocks", oneTempo, changing, {{0, 34}}, 48000, 8192},
        {"SmallestBlocks", {{0.0, 132.0}}, fourFour, {{0, 24}, {17.5, 24}}, 44100, 16, {}, 1.0, 1, false},
        {"HighestRate", eighths, changing, {{0, 34}}, 192000, 2048},
        {"RampLargeBlocks", ramped, fourFour, {{0, 32}}, 44100, 4096, {}, 1.0, 1, false},
    };
    return all;
}

class HostMatrix : public testing::TestWithParam<std::tuple<Case, Format>> {
protected:
    [[nodiscard]] const Case& session() const { return std::get<0>(GetParam()); }
    [[nodiscard]] Format format() const { return std::get<1>(GetParam()); }

    void SetUp() override {
        if (const std::string why = Ardour::missing(format()); !why.empty())
            GTEST_SKIP() << why;
        if (!session().always && !full())
            GTEST_SKIP() << "in the full size only (VALVE_LADDER_FULL=1)";
    }

    void play(const Ardour& ardour) {
        std::string words;
        std::string passes;
        for (const auto& [from, to] : session().passes)
            passes += fmt::format("{} {};", from, to);
        ASSERT_TRUE(ardour.play(format(),
                                {fmt::format("VALVE_LADDER_RATE={}", session().rate),
                                 fmt::format("VALVE_LADDER_BLOCK={}", session().block),
                                 "VALVE_LADDER_DRIVER='10x Speed'",
                                 fmt::format("VALVE_LADDER_SONG='{}'", songText(session())),
                                 fmt::format("VALVE_LADDER_PASSES='{}'", passes),
                                 fmt::format("VALVE_LADDER_LOOP='{}'", loopText(session())),
                                 fmt::format("VALVE_LADDER_VARISPEED={}", session().varispeed),
                                 fmt::format("VALVE_LADDER_INSTANCES={}", session().instances)},
                                words))
            << words;
    }

    /// What a host leaves a plugin unable to know: behind a step in a block, and on a ramp, the tempo is that
    /// of the block's beginning; an LV2 is told positions in ticks of a 1920th of a beat.
    [[nodiscard]] double allowedMs(const SongMap& song, double quarter) const {
        const double bpm = song.bpmAt(quarter);
        const double blockMs = 1000.0 * session().block / session().rate;
        // The host writes what it records in ticks of its own, and tells an LV2 its place in them as well.
        const double tickMs = 60000.0 / bpm / 1920.0;
        double allowed = std::max(recordedMs, tickMs + 0.001) + (format() == Format::lv2 ? tickMs : 0.0);
        for (std::size_t i = 1; i < session().tempos.size(); ++i) {
            const double step = session().tempos[i].quarter;
            const double since = 1000.0 * (song.secondsAt(quarter) - song.secondsAt(step));
            if (since >= 0.0 && since < blockMs) {
                const double before = song.bpmAt(step - 1.0e-6);
                allowed += since * std::max(std::abs(bpm / before - 1.0), std::abs(before / bpm - 1.0));
            }
        }
        if (song.tempoAt(quarter).ramp)
            allowed += 1.0;
        return allowed;
    }

    void compare(const Ardour& ardour) const {
        const SongMap song(session().tempos, session().meters);
        double furthest = 0.0;
        int compared = 0;
        for (int instance = 1; instance <= session().instances; ++instance) {
            const auto files = recordings(ardour.session(), fmt::format("recorder{}-", instance));
            ASSERT_EQ(files.size(), session().passes.size() + (session().loop ? 1U : 0U))
                << "recordings of instance " << instance;
            for (std::size_t pass = 0; pass < files.size(); ++pass) {
                SCOPED_TRACE(files[pass]);
                const bool straight = pass < session().passes.size();
                const auto due = straight ? duePass(session().passes[pass]) : dueLoop(*session().loop);
                const double from = straight ? session().passes[pass].first : session().loop->from;
                const double told = straight ? session().passes[pass].second - nearEnd
                                             : from + session().loop->times * (session().loop->to - from);
                ASSERT_NO_FATAL_FAILURE(compareNotes(files[pass], due, from, told, song, furthest));
                compared += static_cast<int>(due.size());
            }
        }
        RecordProperty("furthest_ms", fmt::format("{:.3f}", furthest));
        std::printf("%d notes, furthest %.3f ms\n", compared, furthest);
    }

    /// A note that must have been recorded.
    struct Due {
        double at = 0.0; ///< quarters, where the recording has it
        std::optional<double> end;
        double position = 0.0; ///< of the onset on the time line
        MidiNote pitch = 60;
        int velocity = 64;
    };

    static double quartersOf(Tick ticks) { return static_cast<double>(ticks) / ticksPerQuarter; }

    /// Ends near the pass's own are left out: where exactly it stopped is Ardour's affair.
    static constexpr double nearEnd = 0.5; ///< quarters

    static std::vector<Due> duePass(std::pair<double, double> pass) {
        std::vector<Due> all;
        for (const ScoreNote& note : defaultScore().notes) {
            const double onset = quartersOf(note.onset), end = onset + quartersOf(note.gate);
            if (onset < pass.first || onset > pass.second - nearEnd)
                continue;
            all.push_back({onset, end, onset, note.sounding, note.velocity});
            if (end >= pass.second - nearEnd)
                all.back().end.reset();
        }
        EXPECT_GE(all.size(), 3U) << "the pass holds too few notes to show anything";
        return all;
    }

    /// The turns lie end to end in the recording; a note that the turn cuts ends there.
    static std::vector<Due> dueLoop(const Loop& loop) {
        std::vector<Due> all;
        for (int turn = 0; turn < loop.times; ++turn)
            for (const ScoreNote& note : defaultScore().notes) {
                const double onset = quartersOf(note.onset);
                const double end = std::min(onset + quartersOf(note.gate), loop.to);
                if (onset < loop.from || onset >= loop.to)
                    continue;
                const double shift = turn * (loop.to - loop.from);
                all.push_back({onset + shift, end + shift, onset, note.sounding, note.velocity});
            }
        EXPECT_GE(all.size(), 3U) << "the loop holds too few notes to show anything";
        return all;
    }

    /// All that are due up to quarter `told` of the recording, which begins at `from`, and no others.
    void compareNotes(const std::filesystem::path& file, const std::vector<Due>& due, double from,
                      double told, const SongMap& song, double& furthest) const {
        const auto notes = recordedNotes(file);
        ASSERT_GE(notes.size(), due.size());
        constexpr double rounding = 0.05; // quarters
        for (std::size_t i = due.size(); i < notes.size(); ++i)
            EXPECT_GT(from + notes[i].quarter, told - rounding) << "a note that nobody asked for";
        const auto offMs = [&](double at, double wanted) {
            return 1000.0 * std::abs(song.secondsAt(at) - song.secondsAt(wanted));
        };
        for (std::size_t i = 0; i < due.size(); ++i) {
            const RecordedNote& heard = notes[i];
            SCOPED_TRACE(fmt::format("note {} at quarter {}", i, due[i].at));
            EXPECT_EQ(heard.pitch, due[i].pitch);
            EXPECT_EQ(heard.velocity, due[i].velocity);
            const double at = from + heard.quarter;
            EXPECT_LE(offMs(at, due[i].at), allowedMs(song, due[i].position)) << "recorded at quarter " << at;
            furthest = std::max(furthest, offMs(at, due[i].at));
            if (!due[i].end)
                continue;
            EXPECT_LE(offMs(at + heard.quarters, *due[i].end),
                      allowedMs(song, due[i].position + heard.quarters))
                << "end";
        }
    }

    TempLog temp;
};

} // namespace

TEST_P(HostMatrix, ArdourRecordsTheScore) {
    const Ardour ardour(temp.folder());
    ASSERT_NO_FATAL_FAILURE(play(ardour));
    compare(ardour);
}

INSTANTIATE_TEST_SUITE_P(Ardour, HostMatrix,
                         testing::Combine(testing::ValuesIn(cases()),
                                          testing::Values(Format::lv2, Format::vst3)),
                         [](const auto& made) {
                             return std::string(std::get<0>(made.param).name) +
                                    (std::get<1>(made.param) == Format::vst3 ? "Vst3" : "Lv2");
                         });

} // namespace valveladder::host
