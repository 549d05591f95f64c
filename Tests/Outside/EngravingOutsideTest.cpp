// Our engraving against verovio's drawing (npm verovio 6.3.0, LGPL-3.0) of the MusicXML that we write of the
// same drill: each note on the same line or space, with the same head, accidental, dots and accent; beams
// over the same notes, as many of them; as many slurs.

#include "Outside/NodeScript.h"

#include "Base/Uuid.h"
#include "Engraving/Engraving.h"
#include "Files/PracticeSheet.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fmt/format.h>
#include <fstream>

namespace valveladder {

namespace {

/// What both say of one head.
struct SeenHead {
    int place = 0;
    std::string head;
    std::string accidental;
    int dots = 0;
    bool accent = false;
    bool beamed = false;

    bool operator==(const SeenHead&) const = default;
};

std::ostream& operator<<(std::ostream& out, const SeenHead& head) {
    return out << "place " << head.place << " head " << head.head << " accidental '" << head.accidental
               << "' dots " << head.dots << (head.accent ? " accent" : "") << (head.beamed ? " beamed" : "");
}

struct Seen {
    std::vector<SeenHead> heads;
    std::vector<std::pair<int, int>> beamGroups; ///< notes and beams of each, in order
    int slurs = 0;
};

std::string code(Glyph glyph) {
    return fmt::format("{:04X}", static_cast<unsigned>(glyph));
}

std::string accidentalCode(int alter) {
    return code(alter > 0 ? Glyph::sharp : alter < 0 ? Glyph::flat : Glyph::natural);
}

/// Beam strokes that start in a group: each begin and each hook is one.
int strokes(const EngravedHead& head) {
    int count = 0;
    for (const BeamPart part : head.beams)
        count += part != BeamPart::through && part != BeamPart::end ? 1 : 0;
    return count;
}

Seen ours(const Score& score, const Drill& drill, const Instrument& instrument) {
    Seen seen;
    const SheetLayout layout = layOut(score, drill, writtenSpelling(instrument)).value();
    const int bottom = instrument.clef == Clef::treble ? 30 : 18;
    for (const Page& page : pagesOf(score, layout, 64.0)) {
        const Engraving picture = engrave(score, instrument, layout, page, 120.0);
        for (const EngravedHead& head : picture.heads) {
            const Glyph shape = head.power == 0   ? Glyph::wholeHead
                                : head.power == 1 ? Glyph::halfHead
                                                  : Glyph::blackHead;
            seen.heads.push_back({head.spelled.place() - bottom, code(shape),
                                  head.accidental ? accidentalCode(*head.accidental) : "", head.dots,
                                  head.accent, !head.beams.empty()});
            if (!head.beams.empty() && head.beams.front() == BeamPart::begin)
                seen.beamGroups.push_back({0, 0});
            if (!head.beams.empty()) {
                ++seen.beamGroups.back().first;
                seen.beamGroups.back().second += strokes(head);
            }
        }
        for (const PlacedSlur& slur : picture.slurs)
            seen.slurs += slur.tie ? 0 : 1;
    }
    return seen;
}

Seen verovios(const nlohmann::json& json) {
    Seen seen;
    std::string last;
    for (const auto& note : json["notes"]) {
        const std::string beam = note["beam"];
        seen.heads.push_back(
            {note["place"], note["head"], note["accidental"], note["dots"], note["accent"], !beam.empty()});
        if (!beam.empty() && beam != last)
            seen.beamGroups.push_back({0, json["beams"][beam].get<int>()});
        if (!beam.empty())
            ++seen.beamGroups.back().first;
        last = beam;
    }
    seen.slurs = json["slurs"];
    return seen;
}

bool verovioIsThere() {
    return std::filesystem::exists(std::filesystem::path(VALVE_LADDER_BINARY_DIR) / "outside" /
                                   "node_modules" / "verovio");
}

/// Verovio 6.3 draws hooks beside the secondary beam that MusicXML asks for in a dotted triplet: its strokes
/// are no witness there, its groups are.
bool strokesComparable(const Drill& drill) {
    return ticksPerQuarter % drill.noteTicks != 0 || (ticksPerQuarter / drill.noteTicks) % 3 != 0;
}

void expectSame(const char* instrumentId, const Drill& drill) {
    const Instrument& instrument = *findInstrument(instrumentId);
    const Score score = buildScore(drill, instrument, 72.0).value();
    const auto sheet = practiceSheet(score, drill, instrument, 72.0);
    ASSERT_TRUE(sheet);
    const auto file = std::filesystem::temp_directory_path() / ("valve-ladder-" + newUuid() + ".musicxml");
    std::ofstream(file) << sheet.value();
    const auto json = runNodeScript("engrave-verovio.mjs", file);
    std::filesystem::remove(file);
    ASSERT_TRUE(json.is_object());
    Seen mine = ours(score, drill, instrument);
    Seen theirs = verovios(json);
    if (!strokesComparable(drill))
        for (auto* groups : {&mine.beamGroups, &theirs.beamGroups})
            for (auto& [notes, strokesOfGroup] : *groups)
                strokesOfGroup = 0;
    ASSERT_EQ(mine.heads.size(), theirs.heads.size());
    for (std::size_t i = 0; i < mine.heads.size(); ++i)
        EXPECT_EQ(mine.heads[i], theirs.heads[i]) << instrumentId << ", head " << i;
    EXPECT_EQ(mine.beamGroups, theirs.beamGroups) << instrumentId;
    EXPECT_EQ(mine.slurs, theirs.slurs) << instrumentId;
}

} // namespace

TEST(EngravingOutside, SameNotesAccidentalsBeamsDotsAccentsAndSlursAsVerovio) {
    if (const auto missing = outsideReadersMissing())
        GTEST_SKIP() << *missing;
    if (!verovioIsThere())
        GTEST_SKIP() << "verovio is not installed: build the target outside_readers";
    for (const char* id : {"trumpet-b-flat", "euphonium-4-compensating-bass", "tuba-b-flat-4", "horn-double"})
        expectSame(id, defaultDrill(*findInstrument(id)));
}

TEST(EngravingOutside, SameDownwardsInTripletsQuartersAndSixteenths) {
    if (const auto missing = outsideReadersMissing())
        GTEST_SKIP() << *missing;
    if (!verovioIsThere())
        GTEST_SKIP() << "verovio is not installed: build the target outside_readers";
    for (const int ticks : {ticksPerQuarter, ticksPerQuarter / 3, ticksPerQuarter / 4}) {
        Drill drill = defaultDrill(*findInstrument("cornet-b-flat"));
        std::get<LadderPattern>(drill.pattern).shape = Shape::downUp;
        drill.noteTicks = ticks;
        expectSame("cornet-b-flat", drill);
    }
}

} // namespace valveladder
