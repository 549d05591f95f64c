#include "Reports/SideBySideReport.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace valveladder {

namespace {

constexpr auto deviation = static_cast<std::size_t>(NoteMeasure::deviation);

const Instrument& doubleHorn() {
    return *findInstrument("horn-double");
}

/// Monday and Tuesday on the B flat side: one note, and one change, each with the thumb.
struct ThumbSides {
    ThumbSides() {
        score.notes.resize(1);
        score.notes[0].written = 67;
        score.notes[0].combination = Combination::parse("4").value();
        sides.labels = {"Monday", "Tuesday"};
        sides.bpm = {60.0, 60.0};
        SideNote note;
        note.values.resize(2);
        note.differences.resize(1);
        note.right = {1, 1};
        sides.notes = {note};
        SideOverall overall;
        overall.difference[deviation].n = 1;
        overall.changes[deviation].push_back(
            {{Combination::parse("2-3").value(), Combination::parse("2-3-4").value()}, {}, 1.0, false});
        sides.overall = {overall};
    }

    Score score;
    SideBySide sides;
};

} // namespace

TEST(SideBySideReport, CallsTheThumbValveTInTablesToo) {
    const ThumbSides thumb;
    const std::string csv = sideCsv(thumb.sides, thumb.score, doubleHorn());
    EXPECT_NE(csv.find("\r\n0,G4,T0,"), std::string::npos) << csv;
    const auto json = nlohmann::json::parse(sideJson(thumb.sides, thumb.score, doubleHorn()));
    EXPECT_EQ(json.at("notes").at(0).at("combination"), "T0");
    const auto& change = json.at("groups").at(1).at("againstFirst").at("deviation").at("changes").at(0);
    EXPECT_EQ(change.at("from"), "2-3");
    EXPECT_EQ(change.at("to"), "T2-3");
}

TEST(SideBySideReport, CallsAFourthValveFour) {
    const ThumbSides fourth;
    const Instrument& euphonium = *findInstrument("euphonium-4-treble");
    const std::string csv = sideCsv(fourth.sides, fourth.score, euphonium);
    EXPECT_NE(csv.find("\r\n0,G4,4,"), std::string::npos) << csv;
}

} // namespace valveladder
