#include "Review/LoggedChanges.h"

#include "Base/Uuid.h"
#include "Log/TempFolder.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

const Change middleToThird{*Combination::parse("2-3"), *Combination::parse("1-3")};

/// A take of Ann's with the change five times, each as long.
TakeRecord takeOf(bool invented, double changeoverMs) {
    TakeRecord take;
    take.header.id = newUuid();
    take.header.player = "Ann";
    take.header.instrumentId = "trumpet-b-flat";
    take.header.drillName = "Slurs";
    take.header.invented = invented;
    for (int i = 0; i < 5; ++i) {
        ChangeResult change;
        change.toIndex = i + 1;
        change.change = middleToThird;
        change.changeoverMs = changeoverMs;
        take.performance.changes.push_back(change);
        take.performance.notes.push_back({});
        take.performance.notes.back().index = i;
    }
    return take;
}

} // namespace

TEST(LoggedChanges, InventedTakesCountOnlyWhereThereAreNoRealOnes) {
    const TempFolder folder;
    const auto log = std::move(LogStore::open(folder / "log.sqlite").value());
    const auto own = [&log] { return loggedChanges(*log, "Ann", "trumpet-b-flat").value(); };
    EXPECT_EQ(own().logged(), 0);
    ASSERT_TRUE(log->finishTake(takeOf(true, 80.0)).ok());
    EXPECT_EQ(own().medianMs(middleToThird), 80.0);
    ASSERT_TRUE(log->finishTake(takeOf(false, 50.0)).ok());
    ASSERT_TRUE(log->finishTake(takeOf(true, 90.0)).ok());
    EXPECT_EQ(own().medianMs(middleToThird), 50.0);
    EXPECT_EQ(own().logged(), 5);
    EXPECT_EQ(loggedChanges(*log, "Ann", "cornet-b-flat").value().logged(), 0);
}

TEST(LoggedChanges, ARealTakeThatWasOnlyBegunHidesNoInventedOne) {
    const TempFolder folder;
    const auto log = std::move(LogStore::open(folder / "log.sqlite").value());
    ASSERT_TRUE(log->finishTake(takeOf(true, 80.0)).ok());
    ASSERT_TRUE(log->beginTake(takeOf(false, 50.0).header).ok());
    EXPECT_EQ(loggedChanges(*log, "Ann", "trumpet-b-flat").value().medianMs(middleToThird), 80.0);
}

} // namespace valveladder
