// A look round with an invented player: marked wherever it shows, without a trace in the player's own log,
// and one way back.

#include "Base/FileBytes.h"
#include "Base/Uuid.h"
#include "Records/Json.h"
#include "Screen/PluginStage.h"
#include "Screen/Within.h"
#include "View/Words.h"

#include <fstream>
#include <gtest/gtest.h>
#include <map>

namespace valveladder {

namespace {

using pictures::InventedLog;

juce::TextButton* buttonNamed(juce::Component& parent, const char* title) {
    return find<juce::TextButton>(
        parent, [title](const juce::TextButton& button) { return button.getTitle() == title; });
}

bool isMarked(Window& window) {
    return find<InventedTag>(window, [](const InventedTag& tag) { return tag.getWidth() >= tag.width(); }) !=
           nullptr;
}

/// The invented player's newest take has come.
bool weekIsShown(Window& window) {
    auto* landing = find<LandingPlace>(window, [](const LandingPlace&) { return true; });
    return landing != nullptr && landing->take() != nullptr &&
           landing->take()->record.header.player == LookRound::player() && resultIsShown(window);
}

constexpr std::size_t mostBytes = 64U << 20U;

/// Every file beside a log, with its bytes, but for what SQLite keeps of who reads it now.
std::map<std::string, std::vector<std::uint8_t>> filesIn(const std::filesystem::path& folder) {
    std::map<std::string, std::vector<std::uint8_t>> files;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder))
        if (entry.is_regular_file() && !entry.path().string().ends_with("-shm"))
            files[entry.path().string()] = readFileBytes(entry.path(), mostBytes).value();
    return files;
}

std::string rowsOf(const std::filesystem::path& log) {
    std::string rows;
    const auto store = LogStore::openReadOnly(log);
    const auto takes = store.value()->takes({});
    for (const TakeSummary& take : takes.value())
        rows += toJson(store.value()->take(take.header.id).value()) + "\n";
    return rows;
}

bool press(juce::Component& window, const char* title) {
    auto* button = buttonNamed(window, title);
    if (button == nullptr || !button->isEnabled())
        return false;
    button->onClick();
    return true;
}

} // namespace

TEST(LookRound, LeavesNoTraceInThePlayersLogAndLeadsBack) {
    PluginStage stage{Preferences{}};
    const std::filesystem::path log = stage.invented.folder() / "log.sqlite";
    Window window(stage.plugin);
    ASSERT_EQ(window.place(), Window::Place::first);
    ASSERT_TRUE(comesToRest(window, stage.plugin));
    const auto filesBefore = filesIn(stage.invented.folder());
    const std::string rowsBefore = rowsOf(log);
    const SessionConfig before = stage.plugin.config();
    ASSERT_GT(rowsBefore.size(), 1000U);

    ASSERT_TRUE(press(window, words::lookRoundHere));
    EXPECT_TRUE(window.lookingRound());
    EXPECT_EQ(window.place(), Window::Place::landing);
    ASSERT_TRUE(pump(window, [&] { return weekIsShown(window); }));
    EXPECT_TRUE(isMarked(window));
    for (const auto place : {Window::Place::stair, Window::Place::landing}) {
        window.goTo(place);
        window.refresh();
        EXPECT_TRUE(isMarked(window)) << static_cast<int>(place);
        EXPECT_NE(buttonNamed(window, words::backToOwn), nullptr) << static_cast<int>(place);
    }
    ASSERT_TRUE(window.keyPressed(juce::KeyPress('d', juce::ModifierKeys(), 'd')));
    EXPECT_TRUE(isMarked(window)) << "details";
    ASSERT_TRUE(window.keyPressed(juce::KeyPress('d', juce::ModifierKeys(), 'd')));
    ASSERT_TRUE(window.keyPressed(juce::KeyPress('b', juce::ModifierKeys(), 'b')));
    window.refresh();
    EXPECT_TRUE(isMarked(window)) << "side by side";
    ASSERT_TRUE(window.keyPressed(juce::KeyPress('b', juce::ModifierKeys(), 'b')));

    // What makes something of a take says that it does not.
    window.goTo(Window::Place::landing);
    auto* practise = find<juce::TextButton>(window, [](const juce::TextButton& button) {
        return button.getButtonText().startsWith("Practise this");
    });
    ASSERT_NE(practise, nullptr);
    practise->onClick();
    const auto* card =
        find<Card>(window, [](const Card& each) { return each.content().title == words::inventedOnlyTitle; });
    EXPECT_NE(card, nullptr);
    EXPECT_EQ(stage.plugin.config(), before);

    ASSERT_TRUE(press(window, words::backToOwn));
    EXPECT_FALSE(window.lookingRound());
    EXPECT_EQ(window.place(), Window::Place::first) << "the first steps have not been gone yet";
    EXPECT_EQ(stage.plugin.config(), before);
    EXPECT_EQ(rowsOf(log), rowsBefore);
    EXPECT_EQ(filesIn(stage.invented.folder()), filesBefore);

    window.goTo(Window::Place::landing);
    ASSERT_TRUE(pump(window, [&] {
        const auto* landing = find<LandingPlace>(window, [](const LandingPlace&) { return true; });
        return landing->take() != nullptr && landing->take()->record.header.player == InventedLog::player;
    }));
}

TEST(LookRound, EscapeLeadsBackToTheSetUpThatItBeganIn) {
    PluginStage stage;
    Window window(stage.plugin);
    window.goTo(Window::Place::setUp);
    theOne<SetupPlace>(window).panel().unfoldAll(true);
    ASSERT_TRUE(press(window, words::lookRoundField));
    ASSERT_TRUE(pump(window, [&] { return weekIsShown(window); }));
    ASSERT_TRUE(window.keyPressed(juce::KeyPress(juce::KeyPress::escapeKey)));
    EXPECT_FALSE(window.lookingRound());
    EXPECT_EQ(window.place(), Window::Place::setUp);
}

TEST(LookRound, ATakePlayedMeanwhileEndsItAndGoesToThePlayersOwnLog) {
    PluginStage stage;
    const std::size_t before = stage.invented.log().takes({}).value().size();
    Window window(stage.plugin);
    window.startLookRound();
    ASSERT_TRUE(pump(window, [&] { return weekIsShown(window); }));
    *stage.plugin.parameterSet().runOwnClock = true;
    stage.block(true);
    while (stage.plugin.clock().ppq.load() < 5.2)
        stage.block();
    ASSERT_TRUE(pump(window, [&] { return !window.lookingRound(); }));
    EXPECT_EQ(window.place(), Window::Place::rung);
    EXPECT_EQ(buttonNamed(window, words::backToOwn), nullptr);
    stage.block(true); // a take in which nothing is played is not kept
    while (stage.plugin.clock().ppq.load() < 6.0)
        stage.block();
    *stage.plugin.parameterSet().runOwnClock = false;
    ASSERT_TRUE(pump(window, [&] {
        stage.block();
        return stage.invented.log().takes({}).value().size() > before;
    }));
    const auto takes = stage.invented.log().takes({}).value();
    EXPECT_EQ(takes.size(), before + 1);
    EXPECT_EQ(takes.back().header.player, InventedLog::player);
    for (const TakeSummary& take : takes)
        EXPECT_NE(take.header.player, LookRound::player());
}

TEST(LookRound, ItsFolderGoesWithIt) {
    std::filesystem::path folder;
    {
        LookRound round;
        folder = round.folder();
        ASSERT_TRUE(eventually([&] { return round.overview() != nullptr; }));
        EXPECT_FALSE(round.overview()->trouble) << round.overview()->trouble->text();
        EXPECT_TRUE(round.overview()->invented);
        EXPECT_EQ(round.overview()->takes.size(), 12U);
        EXPECT_TRUE(std::filesystem::exists(folder));
    }
    EXPECT_FALSE(std::filesystem::exists(folder));
}

TEST(LookRound, WhatACrashLeftIsClearedWhenTheWindowOpensNextAndNothingThatIsInUse) {
    LookRound inUse;
    ASSERT_TRUE(eventually([&] { return inUse.overview() != nullptr; }));
    const auto temporary = inUse.folder().parent_path();
    const std::string uuid = newUuid();
    const auto left = temporary / ("valve-ladder-look-round-" + uuid);
    const auto elsewhere = temporary / ("valve-ladder-elsewhere-" + uuid);
    const auto link = temporary / ("valve-ladder-look-round-link-" + uuid);
    for (const auto& folder : {left, elsewhere}) {
        std::filesystem::create_directory(folder);
        std::ofstream(folder / "in-use") << "";
        std::ofstream(folder / "week.sqlite") << "half a week";
    }
    std::filesystem::create_directory_symlink(elsewhere, link);

    PluginStage stage;
    const Window window(stage.plugin);
    EXPECT_FALSE(std::filesystem::exists(left));
    EXPECT_TRUE(std::filesystem::exists(elsewhere / "week.sqlite")) << "what a link leads to is not ours";
    std::filesystem::remove(link);
    std::filesystem::remove_all(elsewhere);

    const std::string take = inUse.overview()->takes.back().header.id;
    ASSERT_TRUE(eventually([&] { return inUse.take(take) != nullptr; }));
    EXPECT_FALSE(inUse.take(take)->trouble) << inUse.take(take)->trouble->text();
}

} // namespace valveladder
