// One matcher for MIDI and for sound: the same playing gives the same notes, extras and splits by either.
#include "Listening/MidiListener.h"
#include "Listening/SoundMatch.h"
#include "Support/Scores.h"
#include "Valves/Instrument.h"

#include <gtest/gtest.h>

#include <random>

namespace valveladder::test {
namespace {

constexpr double bpm = 96.0;

Score dailyDrill() {
    const auto& trumpet = *findInstrument("trumpet-b-flat");
    return buildScore(defaultDrill(trumpet), trumpet, bpm).value();
}

double secondsOf(const Score& score, Tick tick) {
    return static_cast<double>(tick) / ticksPerQuarter * 60.0 / score.bpm;
}

/// Notes [from, to) of the score as written, `late` seconds after their place.
void addPlayed(const Score& score, int from, int to, double late, std::vector<PlayedNote>& notes) {
    for (int i = from; i < to; ++i) {
        const auto& note = score.notes[static_cast<std::size_t>(i)];
        const double onset = secondsOf(score, note.onset) + late;
        notes.push_back({onset, onset + secondsOf(score, note.gate), note.sounding, 80});
    }
}

std::vector<HeardNote> asSound(const std::vector<PlayedNote>& notes) {
    std::vector<HeardNote> heard;
    for (const auto& note : notes) {
        HeardNote sound;
        sound.onset = note.onset;
        sound.offset = note.offset;
        sound.midi = note.pitch;
        sound.level = 0.1;
        sound.periodicity = 0.9;
        heard.push_back(sound);
    }
    return heard;
}

Performance byMidi(const Score& score, const std::vector<PlayedNote>& notes) {
    MidiTake take;
    take.notes = notes;
    return listenToMidi(score, TempoMap(bpm), take);
}

Performance bySound(const Score& score, const std::vector<PlayedNote>& notes) {
    return matchSound(asSound(notes), score, TempoMap(bpm), {}, 0.0).match.performance;
}

void expectAlike(const Performance& midi, const Performance& sound) {
    ASSERT_EQ(midi.notes.size(), sound.notes.size());
    for (std::size_t i = 0; i < midi.notes.size(); ++i) {
        EXPECT_EQ(midi.notes[i].outcome, sound.notes[i].outcome) << i;
        EXPECT_EQ(midi.notes[i].onsetSeconds, sound.notes[i].onsetSeconds) << i;
        EXPECT_EQ(midi.notes[i].split, sound.notes[i].split) << i;
    }
    EXPECT_EQ(midi.extras, sound.extras);
}

/// The player breaks off after some notes of a segment, goes back to its beginning and plays on, so much
/// later.
struct Restart {
    int span = 0;
    int notes = 0;
    double pauseSeconds = 0.0;
};

std::vector<PlayedNote> withRestart(const Score& score, const Restart& restart) {
    const auto& span = score.spans[static_cast<std::size_t>(restart.span)];
    const int broken = span.firstNote + restart.notes;
    std::vector<PlayedNote> notes;
    addPlayed(score, 0, broken, 0.0, notes);
    const double begun = secondsOf(score, score.notes[static_cast<std::size_t>(span.firstNote)].onset);
    const double late = notes.back().offset + restart.pauseSeconds - begun;
    addPlayed(score, span.firstNote, static_cast<int>(score.notes.size()), late, notes);
    return notes;
}

TEST(ScoreMatch, RestartInSoundCostsAsInMidi) {
    const Score score = dailyDrill();
    for (int span = 0; span < 4; ++span)
        for (int notes = 2; notes <= 5; ++notes)
            for (const double pause : {0.1, 0.35, 0.8}) {
                SCOPED_TRACE(testing::Message()
                             << "segment " << span << ", " << notes << " notes, " << pause);
                const auto played = withRestart(score, {span, notes, pause});
                const auto midi = byMidi(score, played);
                expectAlike(midi, bySound(score, played));
                EXPECT_TRUE(midi.extras.empty());
                EXPECT_EQ(midi.count(Outcome::right), static_cast<int>(score.notes.size()));
                ASSERT_FALSE(midi.segments.empty());
                EXPECT_EQ(midi.segments.at(static_cast<std::size_t>(span)).earlierTries, 1);
            }
}

TEST(ScoreMatch, MistakesAreTheSameBySoundAndByMidi) {
    const Score score = dailyDrill();
    std::mt19937 random(20261129);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    for (int take = 0; take < 40; ++take) {
        SCOPED_TRACE(take);
        std::vector<PlayedNote> whole, played;
        addPlayed(score, 0, static_cast<int>(score.notes.size()), 0.08 * share(random), whole);
        for (auto note : whole) {
            const double fate = share(random);
            if (fate < 0.03)
                continue;
            if (fate < 0.06)
                note.pitch += 1;
            if (fate > 0.97) { // struck twice
                const double middle = (note.onset + note.offset) / 2.0;
                played.push_back({note.onset, middle - 0.01, note.pitch, 80});
                note.onset = middle + 0.01;
            }
            played.push_back(note);
        }
        const auto midi = byMidi(score, played);
        expectAlike(midi, bySound(score, played));
        EXPECT_GT(midi.count(Outcome::right), static_cast<int>(score.notes.size()) * 8 / 10);
    }
}

// Written from the outset: tempo 96, eighths of 312 ms.
TEST(ScoreMatch, AShortSoundThatEndsWhereANoteBeginsIsHowThatSpoke) {
    const Score score = dailyDrill();
    std::vector<PlayedNote> notes;
    addPlayed(score, 0, 6, 0.0, notes);
    const PlayedNote through{notes[3].onset - 0.05, notes[3].onset - 0.005, notes[3].pitch + 7, 60};
    notes[2].offset = through.onset;
    notes.insert(notes.begin() + 3, through);
    for (const auto& heard : {byMidi(score, notes), bySound(score, notes)}) {
        EXPECT_TRUE(heard.notes[3].split);
        ASSERT_EQ(heard.extras.size(), 1U);
        EXPECT_EQ(heard.extras.front().nearIndex, 3);
        EXPECT_EQ(heard.count(Outcome::right), 6);
    }
}

} // namespace
} // namespace valveladder::test
