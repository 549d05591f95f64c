#include "Review/LoggedChanges.h"

#include "Log/TempFolder.h"
#include "Support/FiveChangesTake.h"

#include <gtest/gtest.h>

namespace valveladder {

using testing::fiveChangesTake;

namespace {

const Change middleToThird{*Combination::parse("2-3"), *Combination::parse("1-3")};

} // namespace

TEST(LoggedChanges, InventedTakesCountOnlyWhereThereAreNoRealOnes) {
    const TempFolder folder;
    const auto log = std::move(LogStore::open(folder / "log.sqlite").value());
    const auto own = [&log] { return loggedChanges(*log, "Ann", "trumpet-b-flat").value(); };
    EXPECT_EQ(own().logged(), 0);
    ASSERT_TRUE(log->finishTake(fiveChangesTake(true, 80.0)).ok());
    EXPECT_EQ(own().medianMs(middleToThird), 80.0);
    ASSERT_TRUE(log->finishTake(fiveChangesTake(false, 50.0)).ok());
    ASSERT_TRUE(log->finishTake(fiveChangesTake(true, 90.0)).ok());
    EXPECT_EQ(own().medianMs(middleToThird), 50.0);
    EXPECT_EQ(own().logged(), 5);
    EXPECT_EQ(loggedChanges(*log, "Ann", "cornet-b-flat").value().logged(), 0);
}

TEST(LoggedChanges, ARealTakeThatWasOnlyBegunHidesNoInventedOne) {
    const TempFolder folder;
    const auto log = std::move(LogStore::open(folder / "log.sqlite").value());
    ASSERT_TRUE(log->finishTake(fiveChangesTake(true, 80.0)).ok());
    ASSERT_TRUE(log->beginTake(fiveChangesTake(false, 50.0).header).ok());
    EXPECT_EQ(loggedChanges(*log, "Ann", "trumpet-b-flat").value().medianMs(middleToThird), 80.0);
}

} // namespace valveladder
