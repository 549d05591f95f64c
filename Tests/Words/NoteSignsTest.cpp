#include "Words/NoteSigns.h"

#include <gtest/gtest.h>

#include <set>
#include <string>

namespace valveladder {
namespace {

using Kind = NoteSign::Kind;

TEST(Words, OfASignSayWhatItMeansAndHowFarOutOfTime) {
    EXPECT_EQ(words::signInWords(noteSign(Outcome::right, false, 163.2)), "163 ms late");
    EXPECT_EQ(words::signInWords(noteSign(Outcome::right, false, -62.0)), "62 ms early");
    EXPECT_EQ(noteSign(Outcome::right, false, -62.0).text, "-62");
    EXPECT_EQ(words::signInWords(noteSign(Outcome::right, false, 29.9)), "right");
    EXPECT_EQ(words::signInWords(noteSign(Outcome::right, false, std::nullopt, true)), "right, as you say");
    EXPECT_EQ(words::signInWords(noteSign(Outcome::right, true, 163.0)), "split");
    EXPECT_EQ(words::signInWords(noteSign(Outcome::wrong, true, 163.0)), "wrong note");
    EXPECT_EQ(words::signInWords(noteSign(Outcome::missed, false, std::nullopt)), "missed");
}

TEST(Words, OfFaultsHaveASignOfTheirOwnEach) {
    std::set<Sign> signs;
    for (const Kind kind : {Kind::right, Kind::wrong, Kind::missed, Kind::split})
        signs.insert(signOf(kind));
    for (const NoteAside aside :
         noteAsides({ReportKind::breath, ReportKind::extra, ReportKind::valves}, *Combination::parse("3")))
        signs.insert(signOf(aside));
    EXPECT_EQ(signs.size(), 8U);
    EXPECT_EQ(signOf(Kind::saidRight), signOf(Kind::right));
    EXPECT_FALSE(isFault(Kind::saidRight));
    EXPECT_TRUE(isFault(Kind::late));
}

} // namespace
} // namespace valveladder
