#include "Invented/InventedWeek.h"

#include "Log/Export.h"
#include "Log/TempFolder.h"
#include "Review/Review.h"

#include <gtest/gtest.h>

#include <set>

namespace valveladder {

namespace {

std::unique_ptr<LogStore> weekIn(const std::filesystem::path& path) {
    auto log = LogStore::open(path);
    EXPECT_TRUE(log.ok());
    const auto kept = InventedWeek::keepIn(*log.value());
    EXPECT_TRUE(kept.ok()) << (kept.ok() ? "" : kept.problem().text());
    return std::move(log.value());
}

} // namespace

TEST(InventedWeek, IsMarkedAsInventedThroughoutAndTheSameEachTime) {
    const TempFolder folder;
    const auto first = weekIn(folder / "first.sqlite");
    const auto second = weekIn(folder / "second.sqlite");
    const auto takes = first->takes({});
    ASSERT_TRUE(takes.ok());
    EXPECT_EQ(takes.value().size(), 12U);
    std::set<UtcMs> days;
    for (const TakeSummary& take : takes.value()) {
        EXPECT_TRUE(take.header.invented);
        days.insert(take.header.startedUtc / 86400000);
        const auto one = first->take(take.header.id);
        auto other = second->take(take.header.id);
        ASSERT_TRUE(other.ok());
        other.value().header.machine = one.value().header.machine;
        EXPECT_EQ(one.value(), other.value());
    }
    EXPECT_EQ(days.size(), 6U);
    EXPECT_TRUE(first->check().ok());
}

TEST(InventedWeek, KeptTwiceIsThereOnce) {
    const TempFolder folder;
    const auto log = weekIn(folder / "log.sqlite");
    ASSERT_TRUE(InventedWeek::keepIn(*log).ok());
    EXPECT_EQ(log->takes({}).value().size(), 12U);
}

TEST(InventedWeek, HasSomethingToLookAt) {
    const TempFolder folder;
    const auto log = weekIn(folder / "log.sqlite");
    const auto review = reviewOf(*log, InventedWeek::reviewRequest());
    ASSERT_TRUE(review.ok());
    ASSERT_FALSE(review.value().words.claims.empty());
    EXPECT_NE(review.value().words.claims.front().find("third finger"), std::string::npos)
        << review.value().words.claims.front();
    EXPECT_TRUE(review.value().next.has_value());
    EXPECT_EQ(review.value().days, 6);
    const auto takes = log->takes({}).value();
    EXPECT_GT(takes.back().header.plannedBpm, takes.front().header.plannedBpm);
}

} // namespace valveladder
