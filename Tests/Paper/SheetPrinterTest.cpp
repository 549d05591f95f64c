// Printed sheets held against the MusicXML of the same drill or part, and against outside readers of SVG and
// PDF.

#include "Paper/SheetPrinter.h"

#include "Base/Uuid.h"
#include "Engraving/SheetContents.h"
#include "Files/MusicXml.h"
#include "Files/PracticeSheet.h"

#include <gtest/gtest.h>
#include <pugixml.hpp>
#include <tuple>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>

namespace valveladder {

namespace {

namespace fs = std::filesystem;

constexpr double pointsPerSpace = paperSpaceMm * 72.0 / 25.4;

const std::string brassInSvg = "54.901961%,36.078431%,0%"; // inks::brass as cairo writes it

const std::string study = VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml";

SheetContent daily(const char* instrumentId, Drill drill, double bpm = 60.0) {
    const Instrument& instrument = *findInstrument(instrumentId);
    const Score score = buildScore(drill, instrument, bpm).value();
    return drillContent(score, drill, instrument, bpm).value();
}

SheetContent daily(const char* instrumentId) {
    return daily(instrumentId, defaultDrill(*findInstrument(instrumentId)));
}

/// Sixteen rungs: more than a page.
SheetContent longDrill() {
    Drill drill = defaultDrill(*findInstrument("trumpet-b-flat"));
    std::get<LadderPattern>(drill.pattern).lastTop = 75;
    drill.noteTicks = ticksPerQuarter / 4;
    return daily("trumpet-b-flat", drill);
}

struct Marked {
    Part part;
    Marking marking;
    std::vector<Spot> spots;
};

Marked markedStudy() {
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    Marked marked;
    marked.part = MusicXmlFile::readFile(study).value().part({}).value();
    marked.marking = markPart(marked.part, trumpet);
    marked.spots = rankedSpots(marked.part, marked.marking, trumpet);
    marked.spots.resize(3);
    return marked;
}

SheetContent studyContent() {
    const Marked marked = markedStudy();
    return partContent(marked.part, marked.marking, marked.spots, *findInstrument("trumpet-b-flat"), "Study")
        .value();
}

std::size_t notesInMusicXml(const SheetContent& content, const Drill& drill) {
    const std::string text = practiceSheet(content.score, drill, content.instrument, 60.0).value();
    pugi::xml_document document;
    EXPECT_TRUE(document.load_string(text.c_str(), pugi::parse_default | pugi::parse_doctype));
    return document.select_nodes("//note/pitch").size();
}

/// Heads of every page, where they are printed, in points.
std::vector<std::pair<double, double>> headPlaces(const PrintedPage& page) {
    std::vector<std::pair<double, double>> places;
    for (const PlacedSystem& system : page.systems)
        for (const PlacedGlyph& glyph : system.music.glyphs)
            if (glyph.glyph == Glyph::blackHead || glyph.glyph == Glyph::halfHead ||
                glyph.glyph == Glyph::wholeHead)
                places.push_back(
                    {(system.x + glyph.x) * pointsPerSpace, (system.y + glyph.y) * pointsPerSpace});
    return places;
}

struct SvgUse {
    std::string shape;
    double x = 0.0;
    double y = 0.0;
};

/// Shapes that an SVG sets down, each by its outline (pages number theirs each for itself); every reference
/// must lead to a shape that is drawn.
std::vector<SvgUse> usesIn(const std::string& svg) {
    pugi::xml_document document;
    const auto parsed = document.load_buffer(svg.data(), svg.size());
    EXPECT_TRUE(parsed) << parsed.description();
    std::map<std::string, std::string> shapes;
    for (const pugi::xpath_node& symbol : document.select_nodes("//symbol"))
        shapes[std::string("#") + symbol.node().attribute("id").value()] =
            symbol.node().child("path").attribute("d").value();
    std::vector<SvgUse> uses;
    for (const pugi::xpath_node& use : document.select_nodes("//use")) {
        const std::string reference = use.node().attribute("xlink:href").value();
        EXPECT_TRUE(shapes.contains(reference)) << reference;
        uses.push_back({shapes[reference], use.node().attribute("x").as_double(),
                        use.node().attribute("y").as_double()});
    }
    return uses;
}

/// Notes printed in an SVG at the places that the layout gives them; all heads of one kind are one shape.
std::size_t headsFound(const PrintedPage& page, const std::string& svg, std::set<std::string>& shapes) {
    const std::vector<SvgUse> uses = usesIn(svg);
    std::size_t found = 0;
    for (const auto& [x, y] : headPlaces(page)) {
        const auto use = std::find_if(uses.begin(), uses.end(), [&](const SvgUse& each) {
            return std::abs(each.x - x) < 1e-3 && std::abs(each.y - y) < 1e-3;
        });
        if (use == uses.end())
            continue;
        shapes.insert(use->shape);
        ++found;
    }
    return found;
}

class Folder {
public:
    Folder() : path(fs::path(testing::TempDir()) / ("paper-" + newUuid())) { fs::create_directories(path); }
    ~Folder() { fs::remove_all(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    [[nodiscard]] std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(path / name, std::ios::binary) << text;
        return (path / name).string();
    }
    [[nodiscard]] std::string answer(const std::string& command) const {
        const fs::path to = path / "answer.txt";
        EXPECT_EQ(std::system((command + " > '" + to.string() + "' 2>&1").c_str()), 0) << command;
        std::ifstream stream(to);
        return {std::istreambuf_iterator<char>(stream), {}};
    }

    fs::path path;
};

bool installed(const char* program) {
    return std::system((std::string("command -v ") + program + " > /dev/null 2>&1").c_str()) == 0;
}

} // namespace

TEST(PaperSheet, OneHeadForEveryNoteOfTheMusicXmlAtItsPlace) {
    for (const char* id : {"trumpet-b-flat", "euphonium-4-compensating-bass", "horn-double"}) {
        const Drill drill = defaultDrill(*findInstrument(id));
        const SheetContent content = daily(id, drill);
        std::size_t notes = 0;
        std::set<std::string> shapes;
        for (const PrintedPage& page : printedPages(content, Paper::a4())) {
            const auto svg = svgPage(page, Paper::a4(), "Sheet");
            ASSERT_TRUE(svg) << svg.problem().text();
            notes += headsFound(page, svg.value(), shapes);
        }
        EXPECT_EQ(notes, notesInMusicXml(content, drill)) << id;
        EXPECT_EQ(shapes.size(), 1U) << id; // eighths and sixteenths: black heads alone
    }
}

TEST(PaperSheet, MarkedPartHasAHeadForEachNoteOfTheFile) {
    pugi::xml_document document;
    ASSERT_TRUE(document.load_file(study.c_str()));
    const SheetContent content = studyContent();
    std::size_t notes = 0;
    std::set<std::string> shapes;
    for (const PrintedPage& page : printedPages(content, Paper::letter()))
        notes += headsFound(page, svgPage(page, Paper::letter(), "Study").value(), shapes);
    EXPECT_EQ(notes, document.select_nodes("//note/pitch").size());
}

TEST(PaperSheet, EveryNoteHasItsFingeringAndSegmentsAreNamed) {
    const SheetContent content = daily("trumpet-b-flat");
    std::set<int> fingered;
    std::vector<std::string> labels;
    std::string all;
    for (const PrintedPage& page : printedPages(content, Paper::a4()))
        for (const SheetText& text : page.texts) {
            all += text.text + "\n";
            if (text.style == TextStyle::fingering) {
                EXPECT_EQ(text.text,
                          content.instrument.combinationName(
                              content.score.notes[static_cast<std::size_t>(text.note)].combination));
                fingered.insert(text.note);
            }
            if (text.style == TextStyle::label)
                labels.push_back(text.text);
        }
    EXPECT_EQ(fingered.size(), content.score.notes.size());
    EXPECT_EQ(labels.size(), content.score.spans.size());
    EXPECT_EQ(labels.front(), "1. " + content.score.segmentNames.front());
    for (const char* word : {"Chromatic ladder", "F#3-C4", "= 60", "(3)", "hurts", "hearing", "doctor"})
        EXPECT_NE(all.find(word), std::string::npos) << word;
}

TEST(PaperSheet, BreathMarkAfterEverySegmentAndAccentsAsInTheScore) {
    const SheetContent content = daily("trumpet-b-flat");
    std::size_t breaths = 0;
    std::size_t accents = 0;
    std::size_t slurs = 0;
    for (const PrintedPage& page : printedPages(content, Paper::a4()))
        for (const PlacedSystem& system : page.systems) {
            for (const PlacedGlyph& glyph : system.music.glyphs) {
                breaths += glyph.glyph == Glyph::breathComma ? 1 : 0;
                accents += glyph.glyph == Glyph::accentAbove || glyph.glyph == Glyph::accentBelow ? 1 : 0;
            }
            slurs += system.music.slurs.size();
        }
    EXPECT_EQ(breaths, content.score.spans.size());
    EXPECT_EQ(accents,
              static_cast<std::size_t>(std::count_if(content.score.notes.begin(), content.score.notes.end(),
                                                     [](const ScoreNote& note) { return note.accent; })));
    EXPECT_GE(slurs, content.score.spans.size());
}

TEST(PaperSheet, NothingLeavesThePaperAndSystemsDoNotOverlap) {
    for (const SheetContent& content : {daily("tuba-b-flat-4"), longDrill(), studyContent()})
        for (const Paper& paper : {Paper::a4(), Paper::letter()}) {
            const double width = paper.width / paperSpaceMm;
            const double height = paper.height / paperSpaceMm;
            for (const PrintedPage& page : printedPages(content, paper)) {
                double free = 0.0;
                for (const PlacedSystem& system : page.systems) {
                    EXPECT_GE(system.y + system.music.top, free);
                    EXPECT_LE(system.x + system.music.width, width - content.margin + 1e-9);
                    free =
                        system.y + std::max(system.music.bottom, system.stripTop + laneHeight * system.lanes);
                    EXPECT_LE(free, height - content.margin + 1e-9);
                }
                for (const SheetText& text : page.texts) {
                    EXPECT_GE(text.y, 1.0);
                    EXPECT_LE(text.y, height - 1.0);
                }
            }
        }
}

TEST(PaperSheet, NotesOfALineKeepApartAndInOrder) {
    for (const SheetContent& content : {daily("trumpet-b-flat"), longDrill(), studyContent()})
        for (const PrintedPage& page : printedPages(content, Paper::a4()))
            for (const PlacedSystem& system : page.systems)
                for (std::size_t i = 1; i < system.music.heads.size(); ++i)
                    EXPECT_GE(system.music.heads[i].x - system.music.heads[i - 1].x,
                              bravura::headWidth + 0.1);
}

TEST(PaperSheet, LongDrillTakesSeveralPagesEachNumbered) {
    const SheetContent content = longDrill();
    const auto pages = printedPages(content, Paper::a4());
    ASSERT_GT(pages.size(), 1U);
    std::size_t notes = 0;
    for (std::size_t i = 0; i < pages.size(); ++i) {
        const std::string number = std::to_string(i + 1) + " / " + std::to_string(pages.size());
        EXPECT_TRUE(std::any_of(pages[i].texts.begin(), pages[i].texts.end(),
                                [&](const SheetText& text) { return text.text == number; }));
        for (const PlacedSystem& system : pages[i].systems)
            notes += static_cast<std::size_t>(system.page.noteCount);
    }
    EXPECT_EQ(notes, content.score.notes.size());
}

TEST(PaperSheet, SameInputSameBytes) {
    const auto pages = printedPages(daily("trumpet-b-flat"), Paper::a4());
    const auto svg = [&] { return svgPage(pages.front(), Paper::a4(), "A").value(); };
    const auto pdf = [&] { return pdfPages(pages, Paper::a4(), "A").value(); };
    EXPECT_TRUE(svg() == svg());
    EXPECT_TRUE(pdf() == pdf());
}

TEST(PaperSheet, TitleWithMarkupStaysText) {
    SheetContent content = daily("trumpet-b-flat");
    content.title = "<Rise & fall>";
    const auto pages = printedPages(content, Paper::a4());
    pugi::xml_document document;
    ASSERT_TRUE(document.load_string(svgPage(pages.front(), Paper::a4(), content.title).value().c_str()));
    EXPECT_STREQ(document.child("svg").child_value("title"), "<Rise & fall>");
}

TEST(PaperSheet, PdfHasTheLayoutsPagesAndItsFontsInside) {
    if (!installed("pdfinfo") || !installed("pdffonts") || !installed("pdftotext"))
        GTEST_SKIP() << "poppler-utils is not installed";
    const Folder folder;
    const SheetContent content = longDrill();
    const auto pages = printedPages(content, Paper::a4());
    const std::string file = folder.write("sheet.pdf", pdfPages(pages, Paper::a4(), content.title).value());
    const std::string info = folder.answer("pdfinfo '" + file + "'");
    EXPECT_NE(info.find("Pages:           " + std::to_string(pages.size())), std::string::npos) << info;
    EXPECT_NE(info.find("A4"), std::string::npos) << info;
    const std::string fonts = folder.answer("pdffonts '" + file + "'");
    for (const char* font : {"Bravura", "Inter-Regular", "Inter-SemiBold"})
        EXPECT_NE(fonts.find(font), std::string::npos) << fonts;
    EXPECT_EQ(fonts.find(" no "), fonts.rfind(" no ")) << fonts; // at most one "no": none is unembedded
    const std::string words = folder.answer("pdftotext -layout '" + file + "' -");
    EXPECT_NE(words.find("Chromatic ladder"), std::string::npos);
    EXPECT_NE(words.find("1-2-3"), std::string::npos);
    EXPECT_NE(words.find("F\u266f3-"), std::string::npos) << words; // a name of a rung, with its sign
    EXPECT_EQ(words.find("F#"), std::string::npos) << words;
}

TEST(PaperSheet, AnotherProgramDrawsTheSvg) {
    if (!installed("rsvg-convert"))
        GTEST_SKIP() << "librsvg2-bin is not installed";
    const Folder folder;
    const auto pages = printedPages(daily("trumpet-b-flat"), Paper::a4());
    const std::string file = folder.write("sheet.svg", svgPage(pages.front(), Paper::a4(), "Sheet").value());
    std::ignore = folder.answer("rsvg-convert --width 800 -o '" + (folder.path / "sheet.png").string() +
                                "' '" + file + "'");
    EXPECT_GT(fs::file_size(folder.path / "sheet.png"), 20000U);
}

/// Colours of filled and stroked shapes, in the order they stand there: "54.901961%,36.078431%,0%".
std::set<std::string> coloursIn(const std::string& svg) {
    std::set<std::string> colours;
    for (std::size_t at = svg.find("rgb("); at != std::string::npos; at = svg.find("rgb(", at + 1)) {
        std::string colour = svg.substr(at + 4, svg.find(')', at) - at - 4);
        std::erase(colour, ' ');
        colours.insert(colour);
    }
    return colours;
}

TEST(PaperSheet, MusicIsBlackAndWhatIsOursIsBrass) {
    const auto pages = printedPages(daily("trumpet-b-flat"), Paper::a4());
    const auto svg = svgPage(pages.front(), Paper::a4(), "Sheet");
    EXPECT_EQ(coloursIn(svg.value()), (std::set<std::string>{"0%,0%,0%", "100%,100%,100%", brassInSvg}));
}

} // namespace valveladder
