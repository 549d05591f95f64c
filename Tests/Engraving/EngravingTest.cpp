#include "Engraving/Engraving.h"
#include "Engraving/ValveStrip.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

struct Laid {
    Instrument instrument;
    Drill drill;
    Score score;
    SheetLayout layout;
    std::vector<Page> pages;
};

Laid laid(const char* id, Drill drill, double widest = 8.0) {
    Laid result;
    result.instrument = *findInstrument(id);
    result.drill = std::move(drill);
    result.score = buildScore(result.drill, result.instrument, 60.0).value();
    result.layout = layOut(result.score, result.drill, writtenSpelling(result.instrument)).value();
    result.pages = pagesOf(result.score, result.layout, widest);
    return result;
}

Laid usual(const char* id) {
    return laid(id, defaultDrill(*findInstrument(id)));
}

Engraving engraved(const Laid& l, std::size_t page, double width = 60.0) {
    return engrave(l.score, l.instrument, l.layout, l.pages[page], width);
}

bool holds(const Engraving& picture, Glyph glyph) {
    return std::any_of(picture.glyphs.begin(), picture.glyphs.end(),
                       [&](const PlacedGlyph& placed) { return placed.glyph == glyph; });
}

} // namespace

TEST(Pages, HoldEveryNoteOnceInOrder) {
    for (const Instrument& instrument : catalogue())
        for (const int repeats : {1, 5}) {
            Drill drill = defaultDrill(instrument);
            drill.repeats = repeats;
            const Laid l = laid(instrument.id.c_str(), drill);
            int next = 0;
            for (const Page& page : l.pages) {
                ASSERT_EQ(page.firstNote, next) << instrument.id;
                next += page.noteCount;
            }
            EXPECT_EQ(next, static_cast<int>(l.score.notes.size())) << instrument.id;
        }
}

TEST(Pages, HoldTheirNotesFromStartToEndAndDoNotOverlap) {
    const Laid l = usual("trumpet-b-flat");
    Tick before = 0;
    for (const Page& page : l.pages) {
        EXPECT_GE(page.start, before);
        before = page.end;
        for (int i = page.firstNote; i < page.firstNote + page.noteCount; ++i) {
            const ScoreNote& note = l.score.notes[static_cast<std::size_t>(i)];
            EXPECT_GE(note.onset, page.start);
            EXPECT_LE(note.onset + note.length, page.end);
        }
    }
}

TEST(Engraving, WrittenFSharpUnderTheTrebleStaffStandsOnTheThirdLedgerLine) {
    const Engraving picture = engraved(usual("trumpet-b-flat"), 0);
    const EngravedHead& head = picture.heads.front();
    EXPECT_EQ(head.spelled, (Spelled{3, 1, 3}));
    EXPECT_DOUBLE_EQ(head.y, 7.0); // E4 is the bottom line; C4, A3 and F3 have the ledger lines
    EXPECT_EQ(head.accidental, 1);
    const auto ledgers =
        std::count_if(picture.lines.begin(), picture.lines.end(), [&](const PlacedLine& line) {
            return line.y1 > 4.0 && std::abs((line.x1 + line.x2) / 2 - head.x) < 1e-9;
        });
    EXPECT_EQ(ledgers, 3);
}

TEST(Engraving, ScoreWithoutNotesIsRefused) {
    const auto refused = layOut(Score{}, Drill{}, Spelling::sharps);
    ASSERT_FALSE(refused.ok());
    EXPECT_EQ(refused.problem().what, "the drill holds no notes");
}

TEST(Engraving, EachInstrumentHasItsClef) {
    EXPECT_TRUE(holds(engraved(usual("cornet-b-flat"), 0), Glyph::gClef));
    EXPECT_TRUE(holds(engraved(usual("tuba-f-4"), 0), Glyph::fClef));
    EXPECT_FALSE(holds(engraved(usual("tuba-f-4"), 0), Glyph::gClef));
}

TEST(Engraving, AccidentalHoldsForItsPlaceUntilTheBarEnds) {
    Drill drill = defaultDrill(*findInstrument("trumpet-b-flat"));
    drill.pattern = CellPattern{{{61, 60, 61, 61, 60, 61, 61, 61, 61, 60}}};
    const Laid l = laid("trumpet-b-flat", drill);
    const Engraving picture = engraved(l, 0);
    std::vector<std::optional<int>> printed;
    for (const EngravedHead& head : picture.heads)
        printed.push_back(head.accidental);
    for (std::size_t i = 1; i < printed.size(); ++i)
        if (i % 8 != 0 && picture.heads[i].spelled == picture.heads[i - 1].spelled) {
            EXPECT_FALSE(printed[i]) << i;
        }
    EXPECT_TRUE(printed[8]); // the ninth eighth begins a bar
}

TEST(Engraving, StemsLeaveTheirHeadsAndEndInTheBeam) {
    for (const char* id : {"trumpet-b-flat", "tuba-b-flat-4", "horn-double"}) {
        const Laid l = usual(id);
        for (std::size_t page = 0; page < l.pages.size(); ++page) {
            const Engraving picture = engraved(l, page);
            ASSERT_EQ(picture.stems.size(), picture.heads.size()) << id;
            for (const PlacedStem& stem : picture.stems) {
                EXPECT_GT(stem.bottom - stem.top, 2.5) << id << " page " << page;
                EXPECT_LT(stem.bottom - stem.top, 8.5) << id << " page " << page;
            }
            for (const EngravedHead& head : picture.heads)
                if (!head.beams.empty()) {
                    EXPECT_TRUE(std::any_of(picture.beams.begin(), picture.beams.end(),
                                            [&](const PlacedBeam& beam) {
                                                return beam.x1 <= head.x + 1.0 && beam.x2 >= head.x - 1.0;
                                            }))
                        << id;
                }
        }
    }
}

TEST(Engraving, NothingOverlapsItsNeighbourAtTheWidthThatPagesAreMadeFor) {
    for (const Instrument& instrument : catalogue()) {
        constexpr double width = 64.0;
        Laid l = laid(instrument.id.c_str(), defaultDrill(instrument));
        l.pages = pagesOf(l.score, l.layout, quartersWithin(l.score, width - 8.0));
        for (std::size_t page = 0; page < l.pages.size(); ++page) {
            const Engraving picture = engraved(l, page, width);
            for (std::size_t i = 1; i < picture.heads.size(); ++i) {
                const double room = picture.heads[i].x - picture.heads[i - 1].x - bravura::headWidth;
                const double needed = picture.heads[i].accidental ? bravura::sharpWidth + 0.1 : 0.0;
                EXPECT_GT(room, needed) << instrument.id << " page " << page << " head " << i;
            }
        }
    }
}

TEST(Engraving, TimeIsLinearBetweenThePagesEnds) {
    const Laid l = usual("trumpet-b-flat");
    const Engraving picture = engraved(l, 1);
    for (const EngravedHead& head : picture.heads)
        EXPECT_NEAR(
            head.x,
            picture.xAt(static_cast<double>(l.score.notes[static_cast<std::size_t>(head.note)].onset)), 1e-9);
    EXPECT_DOUBLE_EQ(picture.xAt(static_cast<double>(picture.start)), picture.timeLeft);
    EXPECT_DOUBLE_EQ(picture.xAt(static_cast<double>(picture.end)), picture.timeRight);
}

TEST(Engraving, OneSlurASegmentClearOfEveryHead) {
    for (const Instrument& instrument : catalogue()) {
        const Laid l = usual(instrument.id.c_str());
        for (std::size_t page = 0; page < l.pages.size(); ++page) {
            const Engraving picture = engraved(l, page);
            ASSERT_EQ(picture.slurs.size(), 1U) << instrument.id;
            const PlacedSlur& slur = picture.slurs.front();
            for (std::size_t i = 1; i + 1 < picture.heads.size(); ++i) {
                const EngravedHead& head = picture.heads[i];
                const double share = (head.x - slur.x1) / (slur.x2 - slur.x1);
                const double y = slur.y1 + share * (slur.y2 - slur.y1) + slur.bulge * 3 * share * (1 - share);
                EXPECT_GT(std::abs(y - head.y), 0.5) << instrument.id << " page " << page << " head " << i;
            }
        }
    }
}

TEST(Engraving, DrillsThatDifferStayInsideTheirPage) {
    for (const int ticks : {ticksPerQuarter * 4, ticksPerQuarter, ticksPerQuarter / 3, ticksPerQuarter / 8})
        for (const Rhythm& rhythm : {Rhythm::even(), Rhythm{{2, 1}}, Rhythm{{3, 2}}, Rhythm{{5, 1}}}) {
            Drill drill = defaultDrill(*findInstrument("trumpet-b-flat"));
            drill.noteTicks = ticks;
            drill.segments = {{"any", rhythm, Touch::firm, {AccentRule::drift, 3}, true}};
            const Score score = buildScore(drill, *findInstrument("trumpet-b-flat"), 60.0).value();
            const auto layout = layOut(score, drill, Spelling::sharps);
            if (!layout)
                continue;
            for (const Page& page : pagesOf(score, layout.value(), 8.0)) {
                const Engraving picture =
                    engrave(score, *findInstrument("trumpet-b-flat"), layout.value(), page, 60.0);
                for (const PlacedGlyph& glyph : picture.glyphs) {
                    EXPECT_GE(glyph.x, 0.0);
                    EXPECT_LE(glyph.x, picture.width);
                    EXPECT_TRUE(std::isfinite(glyph.y));
                }
            }
        }
}

TEST(ValveStrip, HoldsSpanNotesThatShareAValve) {
    const Laid l = usual("trumpet-b-flat");
    const auto holds = valveStrip(l.score, l.pages[0]);
    // F sharp 1-2-3, G 1-3, G sharp 2-3, A 1-2, A sharp 1, B 2, C open: valve 3 is down for three notes, and
    // again on the way back.
    const auto third =
        std::find_if(holds.begin(), holds.end(), [](const ValveHold& h) { return h.valve == 3; });
    ASSERT_NE(third, holds.end());
    EXPECT_EQ(third->from, l.score.notes[0].onset);
    EXPECT_EQ(third->to, l.score.notes[3].onset);
    EXPECT_EQ(std::count_if(holds.begin(), holds.end(), [](const ValveHold& h) { return h.valve == 3; }), 2);
    EXPECT_EQ(std::count_if(holds.begin(), holds.end(), [](const ValveHold& h) { return h.valve == 1; }), 4);
    EXPECT_EQ(std::count_if(holds.begin(), holds.end(), [](const ValveHold& h) { return h.valve == 2; }), 6);
}

TEST(ValveStrip, SaysAtEachNoteExactlyItsCombination) {
    for (const Instrument& instrument : catalogue()) {
        const Laid l = usual(instrument.id.c_str());
        for (const Page& page : l.pages) {
            const auto strip = valveStrip(l.score, page);
            for (int i = page.firstNote; i < page.firstNote + page.noteCount; ++i) {
                const ScoreNote& note = l.score.notes[static_cast<std::size_t>(i)];
                std::uint8_t bits = 0;
                for (const ValveHold& hold : strip)
                    if (hold.from <= note.onset && note.onset < hold.to)
                        bits = static_cast<std::uint8_t>(bits | 1U << (hold.valve - 1));
                EXPECT_EQ(bits, note.combination.bits()) << instrument.id << " note " << i;
            }
        }
    }
}

} // namespace valveladder
