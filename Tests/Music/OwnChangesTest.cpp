#include "Music/OwnChanges.h"

#include "Files/MusicXml.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

constexpr const char* study = VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml";
const Change middleToThird{*Combination::parse("2-3"), *Combination::parse("1-3")};
const Change oneFinger{*Combination::parse("0"), *Combination::parse("2")};

Performance takeWith(const Change& change, std::initializer_list<double> changeovers) {
    Performance take;
    for (const double ms : changeovers) {
        ChangeResult result;
        result.change = change;
        result.changeoverMs = ms;
        take.changes.push_back(result);
    }
    return take;
}

} // namespace

TEST(OwnChanges, MedianNeedsFiveChangeoversAndServesTheWayBack) {
    OwnChanges own;
    own.add(takeWith(middleToThird, {50, 70, 60, 400}));
    EXPECT_EQ(own.medianMs(middleToThird), std::nullopt);
    own.add(takeWith(middleToThird, {55}));
    EXPECT_EQ(own.medianMs(middleToThird), 60.0);
    EXPECT_EQ(own.medianMs({middleToThird.to, middleToThird.from}), 60.0);
    EXPECT_EQ(own.known(), 1);
}

TEST(OwnChanges, ChangesNotHeardAreScaledByThePlayersOwn) {
    OwnChanges own;
    own.add(takeWith(middleToThird, {90, 90, 90, 90, 90})); // twice the predicted 45 ms
    EXPECT_EQ(own.costs()(middleToThird), 90.0);
    EXPECT_EQ(own.costs()(oneFinger), 2.0 * msFromFingersMoved(oneFinger));
    EXPECT_EQ(OwnChanges().costs()(oneFinger), msFromFingersMoved(oneFinger));
}

TEST(OwnChanges, LimitIsWhereTheChangeoverFillsHalfOfTheTime) {
    OwnChanges own;
    own.add(takeWith(middleToThird, {50, 50, 50, 50, 50}));
    EXPECT_EQ(own.limits()(middleToThird), 10.0); // 50 ms are half of 100 ms
    EXPECT_EQ(own.limits()(oneFinger), std::nullopt);
}

// The study's costliest change is 2-3 to 1-3 in twelfths of a second.
TEST(OwnChanges, APartIsMarkedByThemAndToldWhatItsCostsGoBy) {
    const Part part = MusicXmlFile::readFile(study).value().part({}).value();
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    OwnChanges own;
    EXPECT_EQ(markByOwn(part, trumpet, own).marking.notes, markPart(part, trumpet).notes);
    own.add(takeWith(middleToThird, {62.5, 62.5, 62.5, 62.5, 62.5}));
    const OwnMarking marked = markByOwn(part, trumpet, own);
    ASSERT_FALSE(marked.spots.empty());
    EXPECT_EQ(marked.spots.front().limit, 8.0);
    EXPECT_NEAR(marked.spots.front().cost, 6 * 0.0625 * 12, 1e-9);
    EXPECT_EQ(marked.basis.own, 2) << "there and back";
    EXPECT_GT(marked.basis.changes, 2);
    EXPECT_EQ(marked.basis.known, 1);
    EXPECT_EQ(marked.basis.logged, 5);
}

TEST(OwnChanges, ChangesThatThePartLacksAreKnownAndNotItsOwn) {
    const Part part = MusicXmlFile::readFile(study).value().part({}).value();
    OwnChanges own;
    own.add(takeWith({*Combination::parse("1-2-3"), *Combination::parse("2")}, {50, 50, 50, 50, 50}));
    const CostBasis basis = markByOwn(part, *findInstrument("trumpet-b-flat"), own).basis;
    EXPECT_EQ(basis.own, 0);
    EXPECT_EQ(basis.known, 1);
}

} // namespace valveladder
