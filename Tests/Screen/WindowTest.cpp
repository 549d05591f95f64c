// The whole window with a log behind it: pictures of every place with bar and foot, and what its buttons do.

#include "Screen/Window.h"

#include "Base/Version.h"
#include "Screen/NowNext.h"
#include "Screen/PluginStage.h"
#include "Screen/Snapshot.h"
#include "Screen/Type.h"
#include "Screen/Within.h"
#include "View/Words.h"

#include <algorithm>
#include <gtest/gtest.h>
#include <set>

namespace valveladder {

namespace {

using Stage = PluginStage;
using pictures::InventedLog;

bool takeIsShown(Window& window) {
    if (resultIsShown(window))
        return true;
    return find<NoteGraph>(window, [](const NoteGraph& graph) {
               return graph.getTitle() == words::deviationTitle &&
                      (graph.said().contains(" early") || graph.said().contains(" late"));
           }) != nullptr;
}

struct Size {
    int width;
    int height;
    const char* name;
};

/// Pictures that the README shows.
bool inReadme(const std::string& name) {
    static const std::set<std::string> shown{"first",       "rung",  "landing", "failed",
                                             "stair-light", "sides", "part"};
    return shown.contains(name);
}

void shoot(Window& window, const std::string& name, bool dark, bool compared) {
    for (const Size& size : {Size{1280, 800, "large"}, Size{900, 600, "small"}}) {
        window.setSize(size.width, size.height);
        window.refresh();
        const std::string full = "window-" + name + "-" + size.name + (dark ? "-dark" : "-light");
        for (const int scale : {1, 2}) {
            const juce::Image image = pictures::render(window, static_cast<float>(scale));
            pictures::save(image, full + "-" + std::to_string(scale) + "x");
            if (scale != 1)
                continue;
            if (compared && size.width == 900)
                pictures::compareWithReference(image, full);
            if (size.width == 900)
                continue;
            if (const std::string readme = name + (dark ? "" : "-light"); inReadme(readme))
                pictures::writeForReadme(image, readme);
        }
    }
}

void shootPart(Window& window, bool dark) {
    window.filesDropped({VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml"}, 0, 0);
    const auto opened = [&] {
        const auto* place = find<PartPlace>(window, [](const PartPlace&) { return true; });
        return place != nullptr && place->part() != nullptr;
    };
    ASSERT_TRUE(pump(window, opened));
    shoot(window, "part", dark, true);
}

/// The newest take that did not pass.
void shootFailed(Window& window, const InventedLog& invented, bool dark) {
    auto* landing = find<LandingPlace>(window, [](const LandingPlace&) { return true; });
    ASSERT_NE(landing, nullptr);
    const auto takes = invented.log().takes({}).value();
    const auto failed =
        std::find_if(takes.rbegin(), takes.rend(), [](const TakeSummary& take) { return !take.passed; });
    ASSERT_NE(failed, takes.rend());
    landing->choose(failed->header.id);
    ASSERT_TRUE(pump(window, [&] {
        const auto shown = landing->take();
        return shown && shown->record.header.id == failed->header.id;
    }));
    shoot(window, "failed", dark, true);
}

void shootSetup(Window& window, bool dark) {
    window.goTo(Window::Place::setUp);
    shoot(window, "set-up", dark, true);
    theOne<SetupPlace>(window).unfoldAll(true);
    auto* scroll = find<juce::Viewport>(window, [](const juce::Viewport& each) {
        return dynamic_cast<SetupPanel*>(each.getViewedComponent()) != nullptr;
    });
    ASSERT_NE(scroll, nullptr);
    scroll->setViewPosition(0, 100000);
    shoot(window, "set-up-foot", dark, false);
    scroll->setViewPosition(0, 0);
}

} // namespace

TEST(ScreenPictures, WholeWindowInEveryPlaceWithBarAndFoot) {
    for (const bool dark : {true, false}) {
        Stage stage({.dark = dark, .welcomed = true});
        Window window(stage.plugin);
        window.goTo(Window::Place::landing);
        ASSERT_TRUE(pump(window, [&] { return takeIsShown(window); }));
        shoot(window, "landing", dark, true);
        ASSERT_TRUE(window.keyPressed(juce::KeyPress('d', juce::ModifierKeys(), 'd')));
        shoot(window, "details", dark, true);
        ASSERT_TRUE(window.keyPressed(juce::KeyPress('d', juce::ModifierKeys(), 'd')));
        shootFailed(window, stage.invented, dark);
        window.goTo(Window::Place::stair);
        shoot(window, "stair", dark, true);
        ASSERT_TRUE(window.keyPressed(juce::KeyPress('b', juce::ModifierKeys(), 'b')));
        ASSERT_TRUE(pump(window, [&] { return takeIsShown(window); }));
        shoot(window, "sides", dark, true);
        shootPart(window, dark);
        shootSetup(window, dark);
    }
}

TEST(ScreenPictures, WholeWindowWithTheFirstSteps) {
    for (const bool dark : {true, false}) {
        Stage stage({.dark = dark});
        Window window(stage.plugin);
        ASSERT_EQ(window.place(), Window::Place::first);
        ASSERT_TRUE(comesToRest(window, stage.plugin));
        shoot(window, "first", dark, true);
    }
}

TEST(ScreenPictures, WholeWindowWithAnInventedPlayer) {
    for (const bool dark : {true, false}) {
        Stage stage({.dark = dark});
        Window window(stage.plugin);
        ASSERT_TRUE(comesToRest(window, stage.plugin));
        window.startLookRound();
        ASSERT_TRUE(pump(window, [&] { return takeIsShown(window); }));
        shoot(window, "look-round", dark, true);
        window.goTo(Window::Place::stair);
        shoot(window, "look-round-weeks", dark, true);
    }
}

TEST(ScreenPictures, WholeWindowWhilePlayingAndWithItsMessages) {
    for (const bool dark : {true, false}) {
        Stage stage({.dark = dark, .welcomed = true});
        Window window(stage.plugin);
        ASSERT_TRUE(comesToRest(window, stage.plugin));
        shoot(window, "standing", dark, true);
        *stage.plugin.parameterSet().runOwnClock = true;
        stage.block(true);
        while (stage.plugin.clock().ppq.load() < 5.2)
            stage.block();
        ASSERT_TRUE(pump(window, [&] {
            const auto view = stage.plugin.session().view();
            return view->playing && view->inTake;
        }));
        shoot(window, "rung", dark, false);
        ASSERT_TRUE(window.keyPressed(juce::KeyPress('m', juce::ModifierKeys(), 'm')));
        window.refresh();
        shoot(window, "messages", dark, false);
    }
}

TEST(ScreenNext, PractiseThisTakesTheDrillAndItsTempo) {
    Stage stage;
    Window window(stage.plugin);
    window.goTo(Window::Place::landing);
    juce::TextButton* load = nullptr;
    ASSERT_TRUE(pump(window, [&] {
        load = find<juce::TextButton>(window, [](const juce::TextButton& button) {
            return button.getButtonText().startsWith("Practise this") && button.isEnabled();
        });
        return load != nullptr;
    }));
    const SessionConfig before = stage.plugin.config();
    load->onClick();
    const SessionConfig after = stage.plugin.config();
    EXPECT_NE(after.drill, before.drill);
    EXPECT_NE(after.drill.name, before.drill.name);
    EXPECT_NE(after.rules.startBpm, before.rules.startBpm) << "its tempo comes with it";
    ASSERT_TRUE(
        pump(window, [&] { return stage.plugin.session().view()->setup->config.drill == after.drill; }));
    EXPECT_DOUBLE_EQ(stage.plugin.session().view()->setup->planned.bpm, after.rules.startBpm);
    EXPECT_EQ(window.place(), Window::Place::rung);
}

TEST(ScreenNext, TheNextTempoIsOfferedAfterATakeThatPassed) {
    const pictures::InventedLog invented;
    LandingPlace place;
    place.setSize(900, 484);
    place.show(invented.overview());
    const LoadedTake newest = loadTake(invented.log(), invented.newestTake());
    place.showPlanned(newest.record.playedBpm + 2.0);
    for (const bool passed : {true, false}) {
        auto take = std::make_shared<LoadedTake>(newest);
        take->record.passed = passed;
        place.showTake(take);
        const auto offers = [&](const char* start) {
            return find<juce::TextButton>(place, [start](const juce::TextButton& button) {
                       return button.getButtonText().startsWith(start);
                   }) != nullptr;
        };
        EXPECT_EQ(offers("Next tempo"), passed);
        EXPECT_EQ(offers("Again at"), !passed);
    }
}

TEST(ScreenSound, ATakeWithoutKeptSoundSaysSoAndOffersNoListening) {
    Stage stage;
    Window window(stage.plugin);
    window.goTo(Window::Place::landing);
    ASSERT_TRUE(pump(window, [&] { return takeIsShown(window); }));
    const auto said = [&] {
        return find<juce::Label>(window, [](const juce::Label& label) {
                   return label.getText().contains("No sound was kept of this take");
               }) != nullptr;
    };
    EXPECT_TRUE(pump(window, said));
    const juce::TextButton* listen = buttonCalled(window, words::playKey);
    ASSERT_NE(listen, nullptr);
    EXPECT_FALSE(listen->isEnabled());
    ASSERT_TRUE(window.keyPressed(juce::KeyPress('p', juce::ModifierKeys(), 'p')))
        << "the key is the window's";
    window.refresh();
    EXPECT_TRUE(said());
}

TEST(ScreenValues, EveryPictureSaysWhatItShows) {
    Stage stage;
    Window window(stage.plugin);
    const auto saidBy = [&](const char* title) {
        const auto* picture =
            find<SaidComponent>(window, [&](const SaidComponent& each) { return each.getTitle() == title; });
        return picture == nullptr ? juce::String() : picture->said();
    };
    window.refresh();
    EXPECT_TRUE(saidBy(words::nowNextTitle).contains(juce::String(words::nowWord) + " "));
    EXPECT_TRUE(saidBy(words::headerTitle).contains("planned"));
    EXPECT_TRUE(saidBy(words::headerTitle).contains("bpm"));
    EXPECT_TRUE(saidBy(words::staffTitle).contains("segment 1 of 4"));
    window.goTo(Window::Place::landing);
    ASSERT_TRUE(pump(window, [&] { return takeIsShown(window); }));
    EXPECT_TRUE(saidBy(words::ladderTitle).contains("right"));
    auto* landing = find<LandingPlace>(window, [](const LandingPlace&) { return true; });
    ASSERT_NE(landing, nullptr);
    const auto* staff = find<ResultStaff>(window, [](const ResultStaff&) { return true; });
    ASSERT_NE(staff, nullptr);
    EXPECT_GT(staff->said().length(), 5);
    const TakeModel& shown = landing->take()->model;
    const CellPlace cell = worstCell(shown);
    EXPECT_GE(juce::StringArray::fromTokens(staff->getDescription(), ".", "").size(),
              std::ranges::count_if(shown.notes, [&](const NoteModel& note) {
                  return note.rung == cell.rung && note.segment == cell.segment;
              }));
    landing->showDetails(true);
    for (const char* part : {"bpm, ", " right"})
        EXPECT_TRUE(landing->getDescription().contains(part)) << landing->getDescription();
    EXPECT_TRUE(saidBy(words::changeoverTitle).isNotEmpty());
    const auto* graph = find<NoteGraph>(
        window, [](const NoteGraph& each) { return each.getTitle() == words::deviationTitle; });
    ASSERT_NE(graph, nullptr);
    EXPECT_GT(juce::StringArray::fromTokens(graph->getDescription(), ".", "").size(), 14)
        << "each note of the rung is in the text: " << graph->getDescription();
    window.goTo(Window::Place::stair);
    for (const char* title : {words::tempoTitle, words::handTitle, words::changesTitle})
        EXPECT_TRUE(saidBy(title).isNotEmpty()) << title;
    // What a screen reader is given.
    const auto handler = const_cast<NoteGraph*>(graph)->createAccessibilityHandler();
    ASSERT_NE(handler->getValueInterface(), nullptr);
    EXPECT_EQ(handler->getValueInterface()->getCurrentValueAsString(), graph->said());
    EXPECT_TRUE(handler->getValueInterface()->isReadOnly());
}

TEST(ScreenValues, TheSetUpNamesTheProgramsVersion) {
    Stage stage;
    Window window(stage.plugin);
    window.goTo(Window::Place::setUp);
    window.refresh();
    const auto* label = find<juce::Label>(
        window, [](const juce::Label& each) { return each.getText() == toText(words::versionLine()); });
    ASSERT_NE(label, nullptr);
    EXPECT_TRUE(label->getText().endsWith(std::string(programVersion())));
    EXPECT_TRUE(window.getLocalBounds().contains(window.getLocalArea(label, label->getLocalBounds())));
}

TEST(ScreenValues, PitchNamesFollowTheChoiceInEveryPlace) {
    for (const auto& [spelling, sounding, name] :
         {std::tuple{Spelling::sharps, false, "F#3-C4"}, std::tuple{Spelling::flats, false, "Gb3-C4"},
          std::tuple{Spelling::german, false, "Fis3-C4"}, std::tuple{Spelling::fixedDo, false, "fa#3-do4"},
          std::tuple{Spelling::flats, true, "E3-Bb3"}, std::tuple{Spelling::german, true, "E3-B3"}}) {
        Preferences preferences;
        preferences.spelling = spelling;
        preferences.soundingNames = sounding;
        preferences.welcomed = true;
        Stage stage(preferences);
        Window window(stage.plugin);
        window.refresh();
        const auto* staff = find<StaffView>(window, [](const StaffView&) { return true; });
        ASSERT_NE(staff, nullptr);
        EXPECT_TRUE(staff->said().startsWith(name)) << staff->said() << " is not " << name;
        const auto* nowNext = find<NowNext>(window, [](const NowNext&) { return true; });
        ASSERT_NE(nowNext, nullptr);
        const juce::String first = juce::String(name).upToFirstOccurrenceOf("-", false, false);
        EXPECT_TRUE(nowNext->said().contains(", " + first + ",")) << nowNext->said() << " is not " << first;
        window.goTo(Window::Place::landing);
        ASSERT_TRUE(pump(window, [&] { return takeIsShown(window); }));
        auto* ladder = find<LadderView>(window, [](const LadderView&) { return true; });
        ASSERT_NE(ladder, nullptr);
        ladder->choose({0, 0}); // it opens on the worst
        EXPECT_TRUE(ladder->said().startsWith(name)) << ladder->said() << " is not " << name;
        // What the next session holds is told in sentences.
        window.setSize(1920, 1600);
        ASSERT_TRUE(window.keyPressed(juce::KeyPress('d', juce::ModifierKeys(), 'd')));
        const auto* plan = find<juce::TextEditor>(
            window, [](const juce::TextEditor& each) { return each.getText().contains("back and forth"); });
        ASSERT_NE(plan, nullptr);
        const juce::String second = withSigns(toText(withPitchNames("G#3-A3", {spelling, sounding, -2})));
        EXPECT_TRUE(plan->getText().contains(second)) << plan->getText() << " lacks " << second;
    }
}

} // namespace valveladder
