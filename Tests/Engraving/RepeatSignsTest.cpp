// What a printed part says of the order its bars are played in is read back from the glyphs, lines and words
// of its pages.

#include "Engraving/SheetContents.h"
#include "Files/MusicXml.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <fmt/format.h>
#include <string>

namespace valveladder {

namespace {

const Instrument& trumpet() {
    return *findInstrument("trumpet-b-flat");
}

std::string whole(const std::string& before, const std::string& after) {
    return before + "<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration></note>" +
           after;
}

std::string barline(const std::string& place, const std::string& content) {
    return fmt::format("<barline location=\"{}\">{}</barline>", place, content);
}

std::string sound(const std::string& what) {
    return fmt::format("<direction><sound {}/></direction>", what);
}

SheetContent contentOf(const std::vector<std::string>& bars) {
    std::string text = "<score-partwise><part-list><score-part id=\"P\"><part-name>A</part-name></score-part>"
                       "</part-list><part id=\"P\">";
    for (std::size_t i = 0; i < bars.size(); ++i)
        text += fmt::format("<measure number=\"{}\">{}{}</measure>", i + 1,
                            i == 0 ? "<attributes><divisions>1</divisions></attributes>" : "", bars[i]);
    text += "</part></score-partwise>";
    PartChoice choice;
    choice.unroll = false;
    const Part part = MusicXmlFile::read({reinterpret_cast<const std::uint8_t*>(text.data()), text.size()})
                          .value()
                          .part(choice)
                          .value();
    return partContent(part, markPart(part, trumpet()), {}, trumpet(), "Repeats").value();
}

const std::string repeatStart = barline("left", "<repeat direction=\"forward\"/>");
const std::string repeatEnd = barline("right", "<repeat direction=\"backward\"/>");

/// Where pairs of repeat dots stand in a line of music.
std::vector<double> dotsIn(const PlacedSystem& system) {
    std::vector<double> places;
    for (const PlacedGlyph& glyph : system.music.glyphs)
        if (glyph.glyph == Glyph::repeatDot && glyph.y < 2.0)
            places.push_back(glyph.x);
    std::sort(places.begin(), places.end());
    return places;
}

std::vector<double> headsIn(const PlacedSystem& system) {
    std::vector<double> places;
    for (const EngravedHead& head : system.music.heads)
        places.push_back(head.x);
    return places;
}

std::size_t thickLines(const PlacedSystem& system) {
    return static_cast<std::size_t>(
        std::count_if(system.music.lines.begin(), system.music.lines.end(),
                      [](const PlacedLine& line) { return line.thickness == bravura::thickBarLine; }));
}

const PrintedPage onePage(const SheetContent& content) {
    auto pages = printedPages(content, Paper::a4());
    EXPECT_EQ(pages.size(), 1U);
    return pages.front();
}

std::vector<std::string> words(const PrintedPage& page) {
    std::vector<std::string> all;
    for (const SheetText& text : page.texts)
        all.push_back(text.text);
    return all;
}

bool says(const PrintedPage& page, const std::string& wanted) {
    const auto all = words(page);
    return std::find(all.begin(), all.end(), wanted) != all.end();
}

} // namespace

TEST(RepeatSigns, DotsStandInsideTheBarsThatAreRepeated) {
    const SheetContent content =
        contentOf({whole("", ""), whole(repeatStart, ""), whole("", repeatEnd), whole("", "")});
    const PrintedPage page = onePage(content);
    ASSERT_EQ(page.systems.size(), 1U);
    const auto dots = dotsIn(page.systems.front());
    const auto heads = headsIn(page.systems.front());
    ASSERT_EQ(dots.size(), 2U);
    ASSERT_EQ(heads.size(), 4U);
    EXPECT_GT(dots[0], heads[0]);
    EXPECT_LT(dots[0], heads[1]);
    EXPECT_GT(dots[1], heads[2]);
    EXPECT_LT(dots[1], heads[3]);
    EXPECT_EQ(thickLines(page.systems.front()), 2U);
}

TEST(RepeatSigns, TwoRepeatsBackToBackShareAThickLine) {
    const SheetContent content =
        contentOf({whole(repeatStart, repeatEnd), whole(repeatStart, repeatEnd), whole("", "")});
    const PrintedPage page = onePage(content);
    const auto dots = dotsIn(page.systems.front());
    const auto heads = headsIn(page.systems.front());
    ASSERT_EQ(dots.size(), 4U);
    EXPECT_LT(dots[0], heads[0]) << "before the first bar, after clef and meter";
    EXPECT_GT(dots[0], bravura::clefWidth);
    EXPECT_LT(dots[1], dots[2]);
    EXPECT_GT(dots[1], heads[0]);
    EXPECT_LT(dots[2], heads[1]);
    EXPECT_GT(dots[3], heads[1]);
    EXPECT_LT(dots[3], heads[2]);
}

TEST(RepeatSigns, NothingOfASignTouchesANote) {
    std::vector<std::string> bars;
    for (int bar = 0; bar < 60; ++bar)
        bars.push_back(whole(repeatStart, repeatEnd));
    for (const PrintedPage& page : printedPages(contentOf(bars), Paper::a4()))
        for (const PlacedSystem& system : page.systems) {
            const auto heads = headsIn(system);
            const auto dots = dotsIn(system);
            ASSERT_EQ(dots.size(), 2 * heads.size());
            for (std::size_t i = 0; i < heads.size(); ++i) {
                EXPECT_GE(heads[i] - bravura::wholeHeadWidth / 2,
                          dots[2 * i] + bravura::repeatDotWidth + 0.3);
                EXPECT_LE(heads[i] + bravura::wholeHeadWidth / 2, dots[2 * i + 1] - 0.3);
            }
            for (const PlacedLine& line : system.music.lines)
                EXPECT_LE(line.x2 + line.thickness / 2 * (line.x1 == line.x2 ? 1.0 : 0.0),
                          system.music.width + 1e-9);
        }
}

TEST(RepeatSigns, EndingsHaveTheirBracketsAndPasses) {
    const auto ending = [](const std::string& number, const std::string& type) {
        return fmt::format("<ending number=\"{}\" type=\"{}\"/>", number, type);
    };
    const SheetContent content = contentOf(
        {whole(repeatStart, ""),
         whole(barline("left", ending("1, 2", "start")),
               barline("right", ending("1, 2", "stop") + "<repeat direction=\"backward\" times=\"3\"/>")),
         whole(barline("left", ending("3", "start")), barline("right", ending("3", "discontinue")))});
    const PrintedPage page = onePage(content);
    EXPECT_TRUE(says(page, "1., 2."));
    EXPECT_TRUE(says(page, "3."));
    EXPECT_FALSE(says(page, "3x")) << "the endings say it";
    const auto& lines = page.systems.front().music.lines;
    const auto brackets = std::count_if(lines.begin(), lines.end(), [](const PlacedLine& line) {
        return line.y1 < -2.0 && line.y1 == line.y2;
    });
    const auto hooks = std::count_if(lines.begin(), lines.end(), [](const PlacedLine& line) {
        return line.y1 < -2.0 && line.x1 == line.x2;
    });
    EXPECT_EQ(brackets, 2);
    EXPECT_EQ(hooks, 3) << "the last ending stays open";
}

TEST(RepeatSigns, JumpsAreNamedWithWhereTheyEnd) {
    const SheetContent toCoda =
        contentOf({whole(sound("segno=\"a\""), ""), whole("", sound("tocoda=\"a\"")),
                   whole("", sound("dalsegno=\"a\"")), whole(sound("coda=\"a\""), "")});
    const PrintedPage page = onePage(toCoda);
    EXPECT_TRUE(says(page, "To Coda"));
    EXPECT_TRUE(says(page, "D.S. al Coda"));
    const auto& glyphs = page.systems.front().music.glyphs;
    const auto heads = headsIn(page.systems.front());
    const auto placeOf = [&](Glyph wanted) {
        const auto found = std::find_if(glyphs.begin(), glyphs.end(),
                                        [wanted](const PlacedGlyph& glyph) { return glyph.glyph == wanted; });
        return found == glyphs.end() ? -1.0 : found->x;
    };
    EXPECT_GT(placeOf(Glyph::segno), 0.0);
    EXPECT_LT(placeOf(Glyph::segno), heads[0]);
    EXPECT_GT(placeOf(Glyph::coda), heads[2]);
    EXPECT_LT(placeOf(Glyph::coda), heads[3]);

    const PrintedPage fine =
        onePage(contentOf({whole("", sound("fine=\"yes\"")), whole("", sound("dacapo=\"yes\""))}));
    EXPECT_TRUE(says(fine, "Fine"));
    EXPECT_TRUE(says(fine, "D.C. al Fine"));
    EXPECT_TRUE(says(onePage(contentOf({whole("", barline("right", "<repeat direction=\"backward\" "
                                                                   "times=\"4\"/>"))})),
                     "4x"));
}

TEST(RepeatSigns, APartWithoutRepeatsHasNone) {
    const PrintedPage page = onePage(contentOf({whole("", ""), whole("", "")}));
    EXPECT_TRUE(dotsIn(page.systems.front()).empty());
    EXPECT_EQ(thickLines(page.systems.front()), 0U);
}

} // namespace valveladder
