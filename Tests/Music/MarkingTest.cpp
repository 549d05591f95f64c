#include "Music/Marking.h"
#include "Files/MusicXml.h"
#include "Ladder/PitchNames.h"
#include "Score/Score.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <random>

namespace valveladder {

namespace {

const Instrument& trumpet() {
    return *findInstrument("trumpet-b-flat");
}

constexpr const char* study = VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml";

Part studyOfOurOwn() {
    const Result<MusicXmlFile> file = MusicXmlFile::readFile(study);
    EXPECT_TRUE(file) << (file ? "" : file.problem().text());
    return file.value().part({}).value();
}

/// The study with a repeat sign at its end.
Part repeatedStudy(const std::string& times) {
    std::ifstream file(study);
    std::string text{std::istreambuf_iterator<char>(file), {}};
    text.insert(text.rfind("</measure>"),
                "<barline location=\"right\"><repeat direction=\"backward\" times=\"" + times +
                    "\"/></barline>");
    auto read = MusicXmlFile::read({reinterpret_cast<const std::uint8_t*>(text.data()), text.size()});
    EXPECT_TRUE(read) << (read ? "" : read.problem().text());
    return read.value().part({}).value();
}

/// Notes end to end at one tempo.
Part lineOf(const std::vector<MidiNote>& written, const std::vector<Tick>& lengths, double bpm) {
    Part part;
    part.tempos.push_back({0, bpm});
    for (std::size_t i = 0; i < written.size(); ++i) {
        PartNote note;
        note.onset = part.length;
        note.length = lengths[i];
        note.grace = lengths[i] == 0;
        note.written = written[i];
        part.notes.push_back(note);
        part.length += lengths[i];
    }
    part.bars.push_back({0, part.length, "1", 0});
    return part;
}

/// The cheapest of all paths, tried one by one.
double cheapest(const Part& part, const Instrument& instrument, const PathCosts& costs, double tempoFactor,
                std::size_t index, const Fingering* before) {
    if (index == part.notes.size())
        return 0.0;
    const PartNote& note = part.notes[index];
    double seconds = costs.graceSeconds;
    if (index > 0 && note.onset > part.notes[index - 1].onset)
        seconds = static_cast<double>(note.onset - part.notes[index - 1].onset) / part.ticksPerQuarter *
                  60.0 / (part.tempos.front().bpm * tempoFactor);
    double best = 1e300;
    int rank = 0;
    for (const Fingering& fingering : fingerings(instrument, note.written)) {
        double cost = fingeringCost(fingering, rank++, costs);
        if (before)
            cost += changeCost(*before, fingering, seconds, costs);
        best = std::min(best, cost + cheapest(part, instrument, costs, tempoFactor, index + 1, &fingering));
    }
    return best;
}

/// What the marking's own choices cost, summed anew.
double costOf(const Part& part, const Instrument& instrument, const Marking& marking,
              const PathCosts& costs) {
    double sum = 0.0;
    for (const MarkedNote& note : marking.notes) {
        const auto all = fingerings(instrument, part.notes[static_cast<std::size_t>(note.note)].written);
        EXPECT_EQ(all.at(static_cast<std::size_t>(note.rank)), note.fingering);
        sum += fingeringCost(note.fingering, note.rank, costs) + note.cost;
    }
    return sum;
}

} // namespace

TEST(FingeringPath, CostsAsLittleAsAnyPathOfAThousandRandomParts) {
    constexpr unsigned seed = 20261125;
    std::printf("seed %u\n", seed);
    std::mt19937 random(seed);
    const auto below = [&](std::size_t limit) { return static_cast<std::size_t>(random() % limit); };
    int withAlternates = 0;
    for (int trial = 0; trial < 1000; ++trial) {
        const Instrument& instrument = catalogue()[below(catalogue().size())];
        const std::size_t count = 2 + below(5);
        std::vector<MidiNote> notes;
        while (notes.size() < count) {
            const MidiNote note =
                instrument.lowest +
                static_cast<int>(below(static_cast<std::size_t>(instrument.highest - instrument.lowest + 1)));
            if (!fingerings(instrument, note).empty())
                notes.push_back(note);
        }
        static constexpr Tick lengths[] = {0, 630, 1260, 1680, 2520, 5040, 20160};
        std::vector<Tick> each;
        for (std::size_t i = 0; i < count; ++i)
            each.push_back(lengths[below(std::size(lengths))]);
        PathCosts costs;
        costs.perRank = 0.01 * static_cast<double>(below(10));
        costs.sideChange = 0.1 * static_cast<double>(below(4));
        const double factor = 0.5 + 0.25 * static_cast<double>(below(5));
        const Part part = lineOf(notes, each, 40.0 + static_cast<double>(below(200)));
        const Marking marking = markPart(part, instrument, costs, factor);
        ASSERT_EQ(marking.notes.size(), count);
        ASSERT_NEAR(marking.cost, cheapest(part, instrument, costs, factor, 0, nullptr), 1e-9)
            << "trial " << trial << ", " << instrument.id;
        ASSERT_NEAR(marking.cost, costOf(part, instrument, marking, costs), 1e-9);
        for (const MarkedNote& note : marking.notes)
            withAlternates += note.rank > 0;
    }
    EXPECT_GT(withAlternates, 100); // the search was not idle
}

TEST(FingeringPath, ThreeHoursOfSixteenthsAreMarkedWhole) {
    std::vector<MidiNote> notes;
    for (int i = 0; i < 3 * 3600 * 8; ++i) // eight a second at 120
        notes.push_back(54 + (i * 7) % 28);
    const Part part = lineOf(notes, std::vector<Tick>(notes.size(), 1260), 120.0);
    EXPECT_EQ(markPart(part, trumpet()).notes.size(), notes.size());
}

TEST(FingeringPath, KeepsTheUsualFingeringsWhereThereIsTime) {
    const Part part = lineOf({64, 63, 64, 63}, {20160, 20160, 20160, 20160}, 60.0);
    for (const MarkedNote& note : markPart(part, trumpet()).notes)
        EXPECT_EQ(note.rank, 0);
}

// The study, at 180: a sixteenth lasts 1/12 s, a quarter 1/3 s. One finger is predicted to take 20 ms, two
// 30 ms, and half as much again where one presses while another releases: 2-3 to 1-3 takes 45 ms. Written
// E flat 4 has 2-3 alone, D4 1-3, C4 open, B3 2, B flat 3 1: no choice; E4 has 1-2, or 3 alone.
// Bars 2 and 3 hold E flat-D-E flat-D in sixteenths: three changes each of 0.045 s in 1/12 s, 0.54 each.
// Bar 5 holds E and E flat in turn: by 1-2 seven changes of 0.54; by 3 alone one finger, seven of 0.24, which
// more than pays for the alternate. Bars 2 and 3 end in 1-3 to open, 0.030 s in 1/12 s, 0.36 each; bar 5 in
// 2-3 to open, 0.36. Bar 1 goes 2 to 1 and back in quarters, 0.045 s in 1/3 s, 0.135 each; before it open to
// 2, 0.020 s in 1/3 s, 0.06, as from 2 to 2-3 into bar 2. Open to 2-3 into bar 3 has a second, 0.03; open to
// 3 into bar 5 four quarters, 0.020 s in 4/3 s, 0.015: below a fifth of the time there is, all of these are
// no spots.
TEST(OwnStudy, SpotsAreThoseWorkedOutByHand) {
    const Part part = studyOfOurOwn();
    const Marking marking = markPart(part, trumpet());
    const std::vector<Spot> spots = rankedSpots(part, marking, trumpet());
    struct Expected {
        const char* words;
        double cost;
    };
    const std::vector<Expected> expected{{"bars 2-3: 2-3 to 1-3, six times, at 12 changes a second", 3.24},
                                         {"bar 5: 3 to 2-3, seven times, at 12 changes a second", 1.68},
                                         {"bars 2-3: 1-3 to 0, twice, at 12 changes a second", 0.72},
                                         {"bar 5: 2-3 to 0, once, at 12 changes a second", 0.36}};
    ASSERT_EQ(spots.size(), expected.size());
    for (std::size_t i = 0; i < spots.size(); ++i) {
        EXPECT_EQ(spots[i].words, expected[i].words);
        EXPECT_NEAR(spots[i].cost, expected[i].cost, 1e-9) << spots[i].words;
    }
}

// Three times through, the same notes cost three times as much, and are one place to practise.
TEST(OwnStudy, SpotThatIsRepeatedIsListedOnceWithHowOftenItIsPlayed) {
    const Part part = repeatedStudy("3");
    const std::size_t written = studyOfOurOwn().bars.size();
    ASSERT_EQ(part.bars.size(), 3 * written);
    const Marking marking = markPart(part, trumpet());
    const std::vector<Spot> spots = rankedSpots(part, marking, trumpet());
    const std::vector<std::pair<const char*, double>> expected{
        {"bars 2-3: 2-3 to 1-3, six times, played three times, at 12 changes a second", 9.72},
        {"bar 5: 3 to 2-3, seven times, played three times, at 12 changes a second", 5.04},
        {"bars 2-3: 1-3 to 0, twice, played three times, at 12 changes a second", 2.16},
        {"bar 5: 2-3 to 0, once, played three times, at 12 changes a second", 1.08}};
    ASSERT_EQ(spots.size(), expected.size());
    for (std::size_t i = 0; i < spots.size(); ++i) {
        EXPECT_EQ(spots[i].words, expected[i].first);
        EXPECT_NEAR(spots[i].cost, expected[i].second, 1e-9) << spots[i].words;
        EXPECT_EQ(spots[i].passes, 3);
        EXPECT_EQ(spots[i].notes.size(), static_cast<std::size_t>(3 * spots[i].times));
        EXPECT_LT(spots[i].lastBar, static_cast<int>(written)) << "the first time through";
    }
    // The drill from it is that of the study played once.
    const Part once = studyOfOurOwn();
    const Marking markedOnce = markPart(once, trumpet());
    Drill drill = spotDrill(part, marking, spots.front(), trumpet()).value();
    const Drill wanted =
        spotDrill(once, markedOnce, rankedSpots(once, markedOnce, trumpet()).front(), trumpet()).value();
    drill.name = wanted.name;
    EXPECT_EQ(drill, wanted);
}

TEST(OwnStudy, TimeShareOfASpotIsTheMeanCostOfItsChanges) {
    Spot spot;
    EXPECT_DOUBLE_EQ(spot.timeShare(), 0.0);
    spot.cost = 1.2;
    spot.notes = {4, 7, 9};
    EXPECT_DOUBLE_EQ(spot.timeShare(), 0.4);
}

TEST(OwnStudy, LimitStandsBesideTheSpotWhereItIsKnown) {
    const Part part = studyOfOurOwn();
    const ChangeLimit limit = [](const Change& change) {
        return changeName(change, false) == "2-3 to 1-3" ? std::optional(9.0) : std::nullopt;
    };
    const std::vector<Spot> spots = rankedSpots(part, markPart(part, trumpet()), trumpet(), limit);
    EXPECT_EQ(spots[0].words, "bars 2-3: 2-3 to 1-3, six times, at 12 changes a second; your limit is 9");
    EXPECT_EQ(spots[1].limit, std::nullopt);
}

TEST(OwnStudy, SpotBecomesADrillOfCellsThenTheBarInFourSegmentsWithItsTempoPlan) {
    const Part part = studyOfOurOwn();
    const Marking marking = markPart(part, trumpet());
    const Spot spot = rankedSpots(part, marking, trumpet()).front();
    const Result<Drill> drill = spotDrill(part, marking, spot, trumpet());
    ASSERT_TRUE(drill) << drill.problem().text();
    // E flat 4 = 63, D4 = 62: the change, there and back, with its neighbours (B3 before), the bar.
    const std::vector<std::vector<MidiNote>> cells{
        {63, 62}, {63, 62, 63}, {59, 63, 62, 63}, {63, 62, 63, 62, 60}};
    const auto all = rungs(drill.value());
    ASSERT_EQ(all.size(), cells.size());
    for (std::size_t i = 0; i < cells.size(); ++i) {
        EXPECT_EQ(all[i].notes, cells[i]);
        EXPECT_EQ(all[i].valves.size(), cells[i].size()); // those of the marking, note for note
    }
    EXPECT_EQ(drill.value().segments, defaultSegments());
    EXPECT_EQ(drill.value().noteTicks, ticksPerQuarter / 4);
    EXPECT_TRUE(buildScore(drill.value(), trumpet(), 90.0));
    // 12 sixteenths a second are 180 quarters a minute.
    const TempoRules rules = spotRules(spot, drill.value());
    EXPECT_EQ(rules.ceilingBpm, 180.0);
    EXPECT_EQ(rules.startBpm, 90.0);
    Spot limited = spot;
    limited.limit = 5.0; // four fifths of it are 4 a second, 60 bpm in sixteenths
    EXPECT_EQ(spotRules(limited, drill.value()).startBpm, 60.0);
}

TEST(SpotDrill, IsSpelledAsThePieceAndThePlayersChoiceGoesBeforeIt) {
    const Part part = studyOfOurOwn(); // has E flat by name, and no sharps
    const Marking marking = markPart(part, trumpet());
    const Drill drill =
        spotDrill(part, marking, rankedSpots(part, marking, trumpet()).front(), trumpet()).value();
    EXPECT_EQ(drill.spelling, Spelling::flats);
    EXPECT_EQ(buildScore(drill, trumpet(), 90.0).value().rungLabels.front(), "Eb4 D4");
    EXPECT_EQ(pitchNames({}, false, drill, trumpet()).spelling, Spelling::flats);
    EXPECT_EQ(pitchNames(Spelling::german, false, drill, trumpet()).spelling, Spelling::german);
    // The written key says nothing of how sounding notes are spelled: the instrument does.
    EXPECT_EQ(pitchNames({}, true, drill, trumpet()).spelling, soundingSpelling(trumpet()));
}

TEST(SpotDrill, IsSpelledByTheKeyWhereThePartNamesNoLetters) {
    Part part = lineOf({63, 65, 63, 65}, {1260, 1260, 1260, 1260}, 120.0);
    const auto spelling = [&part] {
        const Marking marking = markPart(part, trumpet());
        Spot spot;
        spot.notes = {1};
        return spotDrill(part, marking, spot, trumpet()).value().spelling;
    };
    EXPECT_EQ(spelling(), std::nullopt);
    part.keys = {{0, -3}};
    EXPECT_EQ(spelling(), Spelling::flats);
    part.keys = {{0, 4}};
    EXPECT_EQ(spelling(), Spelling::sharps);
    part.keys = {{0, 4}, {4 * 1260, -3}}; // only after the spot
    EXPECT_EQ(spelling(), Spelling::sharps);
}

} // namespace valveladder
