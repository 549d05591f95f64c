#include "Log/LogStore.h"

#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cstdlib>
#include <iostream>

namespace valveladder {

namespace {

struct Size {
    int takes = 40;
    int notes = 250;
};

/// Years of practice when VALVE_LADDER_FULL is set: 1,000 takes with 1,000,000 notes.
Size size() {
    return std::getenv("VALVE_LADDER_FULL") != nullptr ? Size{1000, 1000} : Size{};
}

template <typename Action>
void timed(const char* what, Action&& action) {
    const auto start = std::chrono::steady_clock::now();
    action();
    const std::chrono::duration<double, std::milli> spent = std::chrono::steady_clock::now() - start;
    std::cout << what << ": " << spent.count() << " ms\n";
}

} // namespace

TEST(LogSize, ManyTakesAreListedPlannedAndReadWhole) {
    const TempFolder folder;
    const auto path = folder / "log.sqlite";
    auto opened = LogStore::open(path);
    ASSERT_TRUE(opened.ok()) << opened.problem().text();
    LogStore& log = *opened.value();
    const Size wanted = size();
    std::cout << wanted.takes << " takes, " << wanted.takes * wanted.notes << " notes\n";
    RandomTakes random(1);
    TakeRecord model = random.take(wanted.notes);
    timed("write, each take its own transaction", [&] {
        for (int i = 0; i < wanted.takes; ++i) {
            model.header.id = random.uuid();
            model.header.startedUtc = i;
            ASSERT_TRUE(log.finishTake(model).ok());
        }
    });
    std::cout << "file: " << std::filesystem::file_size(path) / 1000000 << " MB\n";
    timed("summaries of all", [&] {
        const auto list = log.takes({});
        ASSERT_TRUE(list.ok());
        ASSERT_EQ(list.value().size(), static_cast<std::size_t>(wanted.takes));
        EXPECT_EQ(list.value().back().expected, wanted.notes);
    });
    timed("what the plan needs of all",
          [&] { ASSERT_EQ(log.planTakes({}).value().size(), static_cast<std::size_t>(wanted.takes)); });
    timed("one take whole", [&] { EXPECT_EQ(log.take(model.header.id).value(), model); });
    timed("all takes whole", [&] {
        std::size_t notes = 0;
        const auto visit = [&](const TakeRecord& take) {
            return notes += take.performance.notes.size(), true;
        };
        ASSERT_EQ(log.forEachTake({}, visit).value(), wanted.takes);
        EXPECT_EQ(notes, static_cast<std::size_t>(wanted.takes * wanted.notes));
    });
    timed("changes and segments of all", [&] {
        std::size_t changes = 0;
        const auto visit = [&](const TakeRecord& take) {
            return changes += take.performance.changes.size(), true;
        };
        const TakeParts parts{.notes = false, .extras = false};
        ASSERT_EQ(log.forEachTake({}, visit, parts).value(), wanted.takes);
        EXPECT_EQ(changes, static_cast<std::size_t>(wanted.takes * (wanted.notes - 1)));
    });
}

} // namespace valveladder
