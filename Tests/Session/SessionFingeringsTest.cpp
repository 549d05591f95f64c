// What `next` or a hand asks for is one thing, wherever it is printed, written, guided, engraved or logged.
#include "Files/PracticeSheet.h"
#include "Findings/NextSession.h"
#include "Guide/GuideTrack.h"
#include "Records/Json.h"
#include "Review/LoggedScore.h"
#include "Support/FindingsTrials.h"
#include "Words/NextSessionWords.h"

#include <gtest/gtest.h>
#include <pugixml.hpp>

#include <algorithm>
#include <random>
#include <set>

namespace valveladder {
namespace {

/// Draws by one seed.
class Lot {
public:
    explicit Lot(std::uint64_t seed) : random(seed) {}

    int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); }
    template <typename T>
    const T& of(const std::vector<T>& list) {
        return list[static_cast<std::size_t>(whole(0, static_cast<int>(list.size()) - 1))];
    }

private:
    std::mt19937_64 random;
};

Drill anyLadder(const Instrument& instrument, Lot& lot) {
    Drill drill = defaultDrill(instrument);
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder.shape = lot.of(std::vector{Shape::up, Shape::upDown, Shape::upDown, Shape::downUp});
    ladder.lastTop = ladder.firstTop + lot.whole(0, 3);
    drill.fingering.policy = lot.of(std::vector{Policy::usual, Policy::mixed, Policy::bothSides});
    drill.meter.beats = lot.whole(3, 4);
    drill.countInBars = lot.whole(0, 2);
    return drill;
}

Weaknesses anyWeaknesses(const Drill& drill, const Instrument& instrument, Lot& lot) {
    Weaknesses weaknesses;
    const auto suspects = suspectsIn(simulated::changesAsked(drill, instrument));
    auto& list = lot.whole(0, 1) == 0 ? weaknesses.findings : weaknesses.leads;
    for (int i = lot.whole(0, 4); i > 0; --i) {
        Finding finding;
        finding.suspect = lot.of(suspects);
        list.push_back(finding);
    }
    return weaknesses;
}

PracticeSession anySession(const Instrument& instrument, std::uint64_t seed, SessionRequest& request) {
    Lot lot(seed);
    request.ladder = anyLadder(instrument, lot);
    request.minutes = lot.whole(4, 40);
    request.bpm = lot.whole(40, 132);
    request.restAfterMinutes = lot.whole(5, 25);
    std::vector<FingeredCell> settle;
    const auto pool = cellPool(instrument, usualLimits(instrument, request.bpm));
    for (int i = lot.whole(0, 3); i > 0; --i)
        settle.push_back(lot.of(pool));
    if (!settle.empty())
        settle.push_back(settle.front()); // a cell may be asked for twice
    return planSession(request, instrument, anyWeaknesses(request.ladder, instrument, lot), settle);
}

/// Cells as a hand may write them: any notes, any of their fingerings or none, any rests.
Drill anyCells(const Instrument& instrument, std::uint64_t seed) {
    Lot lot(seed);
    Drill drill = defaultDrill(instrument);
    CellPattern pattern;
    for (int i = lot.whole(1, 8); i > 0; --i) {
        DrillCell cell;
        for (int j = lot.whole(2, 9); j > 0; --j) {
            const MidiNote note = lot.whole(instrument.ladderFoot, instrument.highest);
            const auto choices = fingerings(instrument, note);
            if (choices.empty())
                continue;
            cell.notes.push_back(note);
            cell.valves.push_back(lot.whole(0, 3) == 0 ? std::nullopt
                                                       : std::optional(lot.of(choices).combination));
        }
        if (cell.notes.size() < 2)
            continue;
        if (lot.whole(0, 1) == 0)
            cell.restAfter = Rest{static_cast<double>(lot.whole(0, 40)), Rest::Unit::seconds, true};
        pattern.cells.push_back(std::move(cell));
    }
    if (!pattern.cells.empty())
        drill.pattern = pattern;
    return drill;
}

/// The valve lanes as they stand when each note begins.
std::vector<Combination> guided(const Score& score) {
    std::vector<Combination> atNotes;
    unsigned down = 0;
    for (const GuideCue& cue : guideCues(score)) {
        if (cue.kind == GuideCue::Kind::valve) {
            const unsigned bit = 1U << (cue.valve - 1U);
            down = cue.pressed ? down | bit : down & ~bit;
        }
        if (cue.kind == GuideCue::Kind::noteOn)
            atNotes.emplace_back(static_cast<std::uint8_t>(down));
    }
    return atNotes;
}

/// The fingerings printed on the practice sheet, one a note.
std::vector<std::string> engraved(const Score& score, const Drill& drill, const Instrument& instrument) {
    SheetOptions options;
    options.alternates = false;
    const auto text = practiceSheet(score, drill, instrument, score.bpm, options);
    EXPECT_TRUE(text.ok()) << (text ? "" : text.problem().text());
    std::vector<std::string> names;
    pugi::xml_document document;
    if (text && document.load_string(text.value().c_str()))
        for (const auto& found : document.select_nodes("//technical/fingering"))
            names.emplace_back(found.node().text().as_string());
    return names;
}

std::vector<Combination> combinationsOf(const Score& score) {
    std::vector<Combination> all;
    for (const ScoreNote& note : score.notes)
        all.push_back(note.combination);
    return all;
}

/// Written, guided and logged valves of a drill are those of its score.
void expectOneThing(const Drill& drill, const Instrument& instrument, double bpm, const std::string& what) {
    const auto score = buildScore(drill, instrument, bpm);
    ASSERT_TRUE(score.ok()) << what << ": " << score.problem().text();
    const auto written = drillFromJson(toJson(drill));
    ASSERT_TRUE(written.ok()) << what;
    EXPECT_EQ(written.value(), drill) << what;
    EXPECT_EQ(guided(score.value()), combinationsOf(score.value())) << what;
    TakeHeader header;
    header.drillJson = toJson(drill);
    header.instrumentJson = toJson(instrument);
    const auto logged = loggedScore(header, bpm);
    ASSERT_TRUE(logged.ok()) << what << ": " << logged.problem().text();
    EXPECT_TRUE(logged.value().score.sameLayout(score.value())) << what;
}

void expectPrintedIsWritten(const PracticeSession& session, const Score& score, const std::string& what) {
    const auto all = rungs(session.drill);
    ASSERT_EQ(all.size(), session.items.size()) << what;
    for (std::size_t r = 0; r < all.size(); ++r) {
        const Rung printed = rungs(session.items[r].drill).front();
        EXPECT_EQ(printed.notes, all[r].notes) << what;
        EXPECT_EQ(printed.valves, all[r].valves) << what;
    }
    for (const ScoreSpan& span : score.spans) {
        const Rung& rung = all[static_cast<std::size_t>(span.rung)];
        ASSERT_EQ(static_cast<std::size_t>(span.noteCount), rung.notes.size()) << what;
        for (int i = 0; i < span.noteCount; ++i) {
            const ScoreNote& note = score.notes[static_cast<std::size_t>(span.firstNote + i)];
            EXPECT_EQ(note.written, rung.notes[static_cast<std::size_t>(i)]) << what;
            EXPECT_EQ(std::optional(note.combination), rung.valvesOf(static_cast<std::size_t>(i))) << what;
        }
    }
}

void expectTimesAsPrinted(const PracticeSession& session, const Score& score, const SessionRequest& request,
                          const std::string& what) {
    const auto seconds = [&](Tick ticks) {
        return static_cast<double>(ticks) / ticksPerQuarter * 60.0 / session.bpm;
    };
    EXPECT_NEAR(session.minutes * 60.0, seconds(score.length), 1e-6) << what;
    EXPECT_LE(session.minutes, request.minutes + 1e-9) << what;
    double at = seconds(score.countInTicks);
    for (std::size_t i = 0; i < session.items.size(); ++i) {
        const auto& item = session.items[i];
        const auto ofRung = [&](const ScoreSpan& span) { return span.rung == static_cast<int>(i); };
        const auto first = std::find_if(score.spans.begin(), score.spans.end(), ofRung);
        const auto last = std::find_if(score.spans.rbegin(), score.spans.rend(), ofRung);
        EXPECT_NEAR(seconds(first->start), at, 1e-6) << what;
        EXPECT_NEAR(seconds(last->end), at + item.seconds, 1e-6) << what;
        at += item.seconds + item.restSecondsAfter;
        const bool isLast = i + 1 == session.items.size();
        const double bar = seconds(score.meter.barTicks() + score.meter.beatTicks());
        if (isLast) {
            EXPECT_EQ(item.restSecondsAfter, 0.0) << what;
        } else if (item.restSecondsAfter < request.restMinutes * 60.0) {
            EXPECT_GE(item.restSecondsAfter, nextSession::shortRestSeconds - 1e-6) << what;
            EXPECT_LE(item.restSecondsAfter, nextSession::shortRestSeconds + bar) << what;
        }
    }
}

void expectAsATeacherWouldWrite(const PracticeSession& session, const std::string& what) {
    std::set<std::pair<int, std::vector<std::optional<Combination>>>> ofRound;
    std::set<std::pair<int, std::string>> said;
    for (const auto& item : session.items) {
        const std::string played = whatInWords(item, session.instrument);
        EXPECT_FALSE(played.empty()) << what;
        EXPECT_FALSE(whyInWords(item, session.instrument).empty()) << what;
        const Rung rung = rungs(item.drill).front();
        EXPECT_TRUE(said.insert({item.round, played}).second) << what << ": twice " << played;
        if (item.isRung || item.round == 0)
            continue;
        for (std::size_t i = 1; i < rung.notes.size(); ++i)
            EXPECT_NE(rung.valvesOf(i - 1), rung.valvesOf(i)) << what << ": no valve moves in " << played;
    }
    EXPECT_LE(session.things, nextSession::mostThings) << what;
    EXPECT_EQ(session.items.size() - (session.items.front().round == 0 ? 1U : 0U),
              static_cast<std::size_t>(session.things * session.rounds))
        << what;
}

TEST(SessionFingerings, EveryCellAndRungOfNextIsPrintedWrittenGuidedAndLoggedAlike) {
    const int seeds = simulated::trialSize(200, 4);
    for (const Instrument& instrument : catalogue())
        for (int i = 0; i < seeds; ++i) {
            const auto seed = static_cast<std::uint64_t>(9000 + i);
            SessionRequest request;
            const PracticeSession session = anySession(instrument, seed, request);
            const std::string what = instrument.id + ", seed " + std::to_string(seed);
            ASSERT_FALSE(session.items.empty()) << what;
            const auto score = buildScore(session.drill, instrument, session.bpm);
            ASSERT_TRUE(score.ok()) << what << ": " << score.problem().text();
            expectPrintedIsWritten(session, score.value(), what);
            expectTimesAsPrinted(session, score.value(), request, what);
            expectOneThing(session.drill, instrument, session.bpm, what);
            expectAsATeacherWouldWrite(session, what);
        }
}

TEST(SessionFingerings, EveryCellByHandIsWrittenGuidedAndLoggedAlike) {
    const int seeds = simulated::trialSize(400, 8);
    for (const Instrument& instrument : catalogue())
        for (int i = 0; i < seeds; ++i) {
            const auto seed = static_cast<std::uint64_t>(12000 + i);
            const Drill drill = anyCells(instrument, seed);
            const std::string what = instrument.id + ", seed " + std::to_string(seed);
            expectOneThing(drill, instrument, 66.0, what);
            const Score score = buildScore(drill, instrument, 66.0).value();
            const auto all = rungs(drill);
            for (const ScoreNote& note : score.notes) {
                const auto& span = score.spans[static_cast<std::size_t>(note.span)];
                const auto index = static_cast<std::size_t>(&note - score.notes.data() - span.firstNote);
                const auto asked = all[static_cast<std::size_t>(note.rung)].valvesOf(index);
                EXPECT_TRUE(!asked || *asked == note.combination) << what;
            }
        }
}

TEST(SessionFingerings, TheDailyLadderOfEveryInstrumentIsOneThing) {
    for (const Instrument& instrument : catalogue())
        expectOneThing(defaultDrill(instrument), instrument, 60.0, instrument.id);
}

TEST(SessionFingerings, TheSheetPrintsTheValvesOfEachNoteAndNoOthers) {
    for (const char* id :
         {"trumpet-b-flat", "euphonium-4-bass", "tuba-b-flat-4-compensating", "horn-double"}) {
        const Instrument& instrument = *findInstrument(id);
        SessionRequest request;
        const PracticeSession session = anySession(instrument, 77, request);
        for (const Drill& drill : {session.drill, defaultDrill(instrument)}) {
            const Score score = buildScore(drill, instrument, 66.0).value();
            const auto printed = engraved(score, drill, instrument);
            ASSERT_EQ(printed.size(), score.notes.size()) << id;
            for (std::size_t i = 0; i < printed.size(); ++i)
                EXPECT_EQ(printed[i], instrument.combinationName(score.notes[i].combination)) << id;
        }
    }
}

TEST(SessionFingerings, CellsThatAskForTwoFingeringsOfOneNoteStandInOneDrill) {
    const Combination oneTwo = *Combination::parse("1-2"), third = *Combination::parse("3");
    const Combination first = *Combination::parse("1");
    const Drill drill = cellDrill({{{57, 58}, {oneTwo, first}}, {{57, 58}, {third, first}}}, "Both", 2);
    const Score score = buildScore(drill, *findInstrument("trumpet-b-flat"), 60.0).value();
    ASSERT_EQ(score.spans.size(), 2U);
    EXPECT_EQ(score.notes.front().combination, oneTwo);
    EXPECT_EQ(score.notes[4].combination, third);
}

} // namespace
} // namespace valveladder
