#include "Engraving/Engraving.h"
#include "Engraving/Spacing.h"
#include "Files/PracticeSheet.h"
#include "Ladder/PitchNames.h"

#include <gtest/gtest.h>
#include <pugixml.hpp>

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <sstream>

namespace valveladder {

namespace {

constexpr std::array spellings{Spelling::sharps, Spelling::flats, Spelling::german, Spelling::fixedDo};

std::vector<Drill> drillsOf(const Instrument& instrument) {
    Drill up = defaultDrill(instrument);
    std::get<LadderPattern>(up.pattern).shape = Shape::up;
    Drill down = defaultDrill(instrument);
    std::get<LadderPattern>(down.pattern).shape = Shape::downUp;
    Drill cells = defaultDrill(instrument);
    const MidiNote foot = instrument.ladderFoot;
    cells.pattern =
        CellPattern{{{foot, foot + 2}, {foot + 4, foot + 2}, {foot + 3, foot + 2, foot + 1, foot}}};
    return {defaultDrill(instrument), up, down, cells};
}

/// As pitchName() would write it with sharps or flats.
std::string englishName(const Spelled& spelled) {
    static constexpr const char* letters = "CDEFGAB";
    const char* sign = spelled.alter > 0 ? "#" : spelled.alter < 0 ? "b" : "";
    return std::string(1, letters[spelled.step]) + sign + std::to_string(spelled.octave);
}

/// The notes of a MusicXML sheet, rests and tied continuations left out.
std::vector<std::string> namesIn(const std::string& sheet) {
    pugi::xml_document document;
    EXPECT_TRUE(document.load_string(sheet.c_str()));
    std::vector<std::string> names;
    for (const auto& found : document.select_nodes("//note[pitch][not(tie[@type='stop'])]")) {
        const pugi::xml_node pitch = found.node().child("pitch");
        const int alter = pitch.child("alter").text().as_int();
        names.push_back(pitch.child("step").text().as_string() +
                        std::string(alter > 0   ? "#"
                                    : alter < 0 ? "b"
                                                : "") +
                        pitch.child("octave").text().as_string());
    }
    return names;
}

TEST(Spelling, APitchOfADrillHasOneNameOnStaffInTitleAndInText) {
    for (const Instrument& instrument : catalogue())
        for (const Drill& drill : drillsOf(instrument)) {
            const Score score = buildScore(drill, instrument, 60.0).value();
            const Spelling names = writtenSpelling(instrument);
            const SheetLayout layout = layOut(score, drill, names).value();
            for (const Page& page : pagesOf(score, layout, 8.0))
                for (const EngravedHead& head : engrave(score, instrument, layout, page, 60.0).heads) {
                    const MidiNote written = score.notes[static_cast<std::size_t>(head.note)].written;
                    ASSERT_EQ(englishName(head.spelled), writtenName(instrument, written)) << instrument.id;
                }
            const std::vector<Rung> all = rungs(drill);
            for (std::size_t i = 0; i < all.size(); ++i) {
                const auto [low, high] = std::ranges::minmax(all[i].notes);
                const std::string title =
                    std::holds_alternative<CellPattern>(drill.pattern)
                        ? writtenName(instrument, all[i].notes.front()) + " "
                        : writtenName(instrument, low) + "-" + writtenName(instrument, high);
                EXPECT_TRUE(score.rungLabels[i].starts_with(title))
                    << score.rungLabels[i] << " on " << instrument.id;
            }
        }
}

TEST(Spelling, WrittenSheetsNameThePitchAsTheScreenDoes) {
    for (const Instrument& instrument : catalogue()) {
        const Drill drill = defaultDrill(instrument);
        const Score score = buildScore(drill, instrument, 60.0).value();
        const auto names = namesIn(practiceSheet(score, drill, instrument, 60.0).value());
        ASSERT_EQ(names.size(), score.notes.size());
        for (std::size_t i = 0; i < names.size(); ++i)
            ASSERT_EQ(names[i], writtenName(instrument, score.notes[i].written)) << instrument.id;
    }
}

TEST(Spelling, NoBarSpellsOnePitchInTwoWays) {
    for (const Instrument& instrument : catalogue())
        for (const Drill& drill : drillsOf(instrument)) {
            const Score score = buildScore(drill, instrument, 60.0).value();
            for (const Spelling spelling : spellings) {
                const SheetLayout layout = layOut(score, drill, spelling).value();
                for (const SheetBar& bar : layout.bars) {
                    std::map<MidiNote, std::set<int>> places;
                    for (const SheetSymbol& symbol : bar.symbols)
                        if (symbol.note >= 0)
                            places[score.notes[static_cast<std::size_t>(symbol.note)].written].insert(
                                layout.spelled(score, symbol.note).place());
                    for (const auto& [written, at] : places)
                        EXPECT_EQ(at.size(), 1U) << written << " on " << instrument.id;
                }
            }
        }
}

/// The player's choice on the staff: the letters of pitchName().
TEST(Spelling, StaffAndNameShareTheLetterInEveryChoice) {
    constexpr std::array<const char*, 7> doNames{"do", "re", "mi", "fa", "sol", "la", "si"};
    constexpr std::array naturals{0, 2, 4, 5, 7, 9, 11};
    constexpr std::array<const char*, 7> germanLetters{"C", "D", "E", "F", "G", "A", "H"};
    for (MidiNote note = lowestMidiNote; note <= highestMidiNote; ++note)
        for (const Spelling spelling : spellings) {
            const Spelled spelled = spell(note, spelling);
            const std::string name = pitchName(note, spelling);
            const auto step = static_cast<std::size_t>(spelled.step);
            EXPECT_EQ(12 * (spelled.octave + 1) + naturals[step] + spelled.alter, note);
            if (spelling == Spelling::fixedDo) {
                EXPECT_TRUE(name.starts_with(doNames[step])) << name;
            } else if (spelling == Spelling::german) {
                const bool b = spelled.step == 6 && spelled.alter == -1;
                EXPECT_TRUE(name.starts_with(b ? "B" : germanLetters[step])) << name;
            } else {
                EXPECT_EQ(englishName(spelled), name);
            }
        }
}

TEST(Spelling, OpenNotesOfFlatInstrumentsAreFlat) {
    EXPECT_EQ(writtenName(*findInstrument("tuba-b-flat-4"), 34), "Bb1");
    EXPECT_EQ(writtenName(*findInstrument("trumpet-b-flat"), 58), "A#3");
    EXPECT_EQ(soundingName(*findInstrument("trumpet-b-flat"), 58), "Bb3");
    EXPECT_EQ(pitchNames(Spelling::german, false, *findInstrument("tuba-b-flat-4")).spelling,
              Spelling::german);
}

struct DrawnCell {
    Score score;
    Engraving picture;
};

DrawnCell cellOf(const DrillCell& cell, const Rhythm& rhythm) {
    Drill drill = defaultDrill(catalogue().front());
    drill.pattern = CellPattern{{cell}};
    drill.segments = {drill.segments.front()};
    drill.segments.front().rhythm = rhythm;
    DrawnCell drawn{buildScore(drill, catalogue().front(), 60.0).value(), {}};
    const SheetLayout layout = layOut(drawn.score, drill, Spelling::sharps).value();
    const Page page = pagesOf(drawn.score, layout, 8.0).front();
    drawn.picture = engrave(drawn.score, catalogue().front(), layout, page, 60.0,
                            clearSpacing(drawn.score, layout, page, 60.0));
    return drawn;
}

TEST(Engraving, ACellHasMostOfItsPage) {
    const DrawnCell drawn = cellOf({60, 62}, {{1}});
    const Engraving& picture = drawn.picture;
    const double played = picture.xAt(static_cast<double>(drawn.score.spans.front().end));
    EXPECT_GT(played - picture.timeLeft, 0.8 * (picture.timeRight - picture.timeLeft));
    EXPECT_LT(played, picture.timeRight);
}

TEST(Engraving, DotsStandClearOfFlags) {
    const DrawnCell drawn = cellOf({60, 62}, {{3, 1}});
    bool seen = false;
    for (const PlacedGlyph& flag : drawn.picture.glyphs) {
        if (flag.glyph != Glyph::flag8thUp)
            continue;
        for (const PlacedGlyph& dot : drawn.picture.glyphs)
            if (dot.glyph == Glyph::augmentationDot && dot.note == flag.note) {
                seen = true;
                EXPECT_GE(dot.x, flag.x + bravura::flagWidth);
            }
    }
    EXPECT_TRUE(seen || std::ranges::none_of(drawn.picture.glyphs, [](const PlacedGlyph& glyph) {
                    return glyph.glyph == Glyph::flag8thUp;
                }));
}

TEST(Engraving, AccidentalsStandClearOfLedgerLinesWhichAreOfTheStaffsWeight) {
    for (const Instrument& instrument : catalogue()) {
        const Drill drill = defaultDrill(instrument);
        const Score score = buildScore(drill, instrument, 60.0).value();
        const SheetLayout layout = layOut(score, drill, writtenSpelling(instrument)).value();
        for (const Page& page : pagesOf(score, layout, 8.0)) {
            const Engraving picture = engrave(score, instrument, layout, page, 60.0);
            for (const EngravedHead& head : picture.heads) {
                if (!head.accidental || (head.y >= -0.5 && head.y <= 4.5))
                    continue;
                for (const PlacedGlyph& glyph : picture.glyphs)
                    if ((glyph.glyph == Glyph::sharp || glyph.glyph == Glyph::flat) &&
                        glyph.note == head.note)
                        for (const PlacedLine& line : picture.lines)
                            if (line.y1 == line.y2 && std::abs((line.x1 + line.x2) / 2 - head.x) < 0.01) {
                                const double width =
                                    glyph.glyph == Glyph::sharp ? bravura::sharpWidth : bravura::flatWidth;
                                EXPECT_LT(glyph.x + width, line.x1) << instrument.id;
                                EXPECT_LE(line.thickness, bravura::staffLine);
                            }
            }
        }
    }
}

} // namespace

} // namespace valveladder
