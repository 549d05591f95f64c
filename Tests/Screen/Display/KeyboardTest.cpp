// The keyboard on a real display: never lost, never in a field unasked, always seen.

#include "Screen/Display/Shown.h"
#include "Screen/Find.h"
#include "Screen/Within.h"
#include "View/Words.h"

#include <gtest/gtest.h>
#include <set>

namespace valveladder {

namespace {

using display::Shown;

constexpr std::array<Window::Place, 6> places{Window::Place::rung,  Window::Place::landing,
                                              Window::Place::stair, Window::Place::part,
                                              Window::Place::setUp, Window::Place::first};

/// Nothing at the point takes the keyboard by itself.
bool isEmptySpace(Window& window, juce::Point<int> point) {
    for (auto* at = window.getComponentAt(point); at != nullptr && at != &window;
         at = at->getParentComponent())
        if (at->getWantsKeyboardFocus() || dynamic_cast<juce::ResizableCornerComponent*>(at) != nullptr ||
            dynamic_cast<juce::ScrollBar*>(at) != nullptr)
            return false;
    return true;
}

juce::TextButton* buttonNamed(juce::Component& parent, const juce::String& title) {
    for (juce::Component* child : parent.getChildren()) {
        auto* button = dynamic_cast<juce::TextButton*>(child);
        if (button != nullptr && button->getTitle() == title)
            return button;
        if (auto* found = buttonNamed(*child, title))
            return found;
    }
    return nullptr;
}

std::string nameOf(const juce::Component& component) {
    return (component.getTitle() + "/" + component.getName()).toStdString();
}

/// A change of the set-up that can be undone.
void changeTempo(Shown& stage, double bpm) {
    SessionConfig config = stage.plugin().config();
    config.rules.startBpm = bpm;
    theOne<SetupPlace>(stage.window()).panel().onChange(config);
    ASSERT_TRUE(eventually([&] {
        stage.pump();
        return stage.plugin().session().view()->setup->config.rules.startBpm == bpm;
    }));
}

/// Where a ring may be drawn: round the component, or round the list or number that it is a part of.
juce::Image pictureRound(Window& window, const juce::Component& stop) {
    const auto area = window.getLocalArea(&stop, stop.getLocalBounds()).expanded(6);
    return window.createComponentSnapshot(area.getIntersection(window.getLocalBounds()), false, 1.0F);
}

int pixelsApart(const juce::Image& a, const juce::Image& b) {
    int apart = 0;
    for (int y = 0; y < a.getHeight(); ++y)
        for (int x = 0; x < a.getWidth(); ++x)
            apart += a.getPixelAt(x, y) != b.getPixelAt(x, y) ? 1 : 0;
    return apart;
}

} // namespace

TEST(WindowKeyboard, HasTheKeysFromTheStart) {
    Shown stage;
    stage.window().goTo(Window::Place::rung);
    ASSERT_TRUE(eventually([&] {
        stage.pump();
        return Shown::focused() == &stage.window();
    }));
    stage.type('2');
    EXPECT_EQ(stage.window().place(), Window::Place::landing);
}

TEST(WindowKeyboard, SpaceShowsWhatIsPlayedWhateverPageIsOpen) {
    using enum Window::Place;
    for (const auto place : {first, landing, stair, part, setUp}) {
        Shown stage(juce::AudioProcessor::wrapperType_Standalone, {.welcomed = place != first});
        stage.window().goTo(place);
        stage.pump();
        ASSERT_EQ(stage.window().place(), place);
        stage.press(juce::KeyPress(juce::KeyPress::spaceKey, juce::ModifierKeys(), ' '));
        EXPECT_TRUE(eventually([&] {
            stage.pump();
            return stage.plugin().parameterSet().runOwnClock->get();
        }));
        stage.pump();
        EXPECT_EQ(stage.window().place(), rung) << static_cast<int>(place);
        stage.window().goTo(place);
        stage.pump();
        EXPECT_EQ(stage.window().place(), place) << "it can be left while the clock runs";
    }
}

TEST(WindowKeyboard, AClickOnEmptySpaceGivesNoFieldTheKeys) {
    Shown stage;
    const std::string player = stage.plugin().config().player;
    for (const auto place : places) {
        stage.window().goTo(place);
        stage.pump();
        int clicked = 0;
        for (int y = 4; y < stage.window().getHeight(); y += 61)
            for (int x = 4; x < stage.window().getWidth(); x += 97) {
                if (!isEmptySpace(stage.window(), {x, y}))
                    continue;
                stage.click({x, y});
                ++clicked;
                ASSERT_EQ(Shown::focused(), &stage.window())
                    << "place " << static_cast<int>(place) << " at " << x << ", " << y;
            }
        EXPECT_GT(clicked, 5);
    }
    stage.window().goTo(Window::Place::setUp);
    stage.click({640, 10});
    stage.type('n');
    stage.type('n');
    stage.press(juce::KeyPress(juce::KeyPress::downKey));
    stage.press(juce::KeyPress(juce::KeyPress::returnKey));
    EXPECT_EQ(stage.plugin().config().player, player);
    EXPECT_TRUE(readPreferences(preferencesPath()).dark);
}

TEST(WindowKeyboard, AClickBesideAFieldTakesTheKeysOutOfIt) {
    Shown stage;
    stage.window().goTo(Window::Place::setUp);
    stage.pump();
    for (int i = 0; i < 40 && dynamic_cast<juce::TextEditor*>(Shown::focused()) == nullptr; ++i)
        stage.press(juce::KeyPress(juce::KeyPress::tabKey));
    ASSERT_NE(dynamic_cast<juce::TextEditor*>(Shown::focused()), nullptr);
    stage.click({640, 10});
    EXPECT_EQ(Shown::focused(), &stage.window());
}

TEST(WindowKeyboard, UndoThatDisablesItselfLeavesTheKeysToTheWindow) {
    Shown stage;
    stage.window().goTo(Window::Place::setUp);
    changeTempo(stage, 71.0);
    for (const char* title : {words::undo, words::redo}) {
        juce::TextButton* button = buttonNamed(stage.window(), title);
        ASSERT_NE(button, nullptr);
        ASSERT_TRUE(button->isEnabled());
        button->grabKeyboardFocus();
        stage.press(juce::KeyPress(juce::KeyPress::returnKey));
        ASSERT_TRUE(eventually([&] {
            stage.pump();
            return !button->isEnabled();
        }));
        ASSERT_TRUE(eventually([&] {
            stage.pump();
            return Shown::focused() == &stage.window();
        })) << title;
    }
    stage.type('1');
    EXPECT_EQ(stage.window().place(), Window::Place::rung);
}

TEST(WindowKeyboard, ArrowsInABoxChangeNothingByThemselves) {
    Shown stage;
    stage.window().goTo(Window::Place::setUp);
    theOne<SetupPlace>(stage.window()).unfoldAll(true);
    stage.pump();
    const SessionConfig before = stage.plugin().config();
    const auto parameters = stage.plugin().parameterSet().values();
    const Preferences preferences = readPreferences(preferencesPath());
    std::set<juce::Component*> boxes;
    for (int i = 0; i < 120; ++i) {
        stage.press(juce::KeyPress(juce::KeyPress::tabKey));
        auto* box = dynamic_cast<juce::ComboBox*>(Shown::focused());
        if (box == nullptr)
            continue;
        boxes.insert(box);
        for (const int arrow : {juce::KeyPress::leftKey, juce::KeyPress::rightKey, juce::KeyPress::downKey}) {
            box->keyPressed(juce::KeyPress(arrow));
            juce::PopupMenu::dismissAllActiveMenus();
            stage.pump();
            box->grabKeyboardFocus();
        }
    }
    EXPECT_GT(boxes.size(), 10U);
    EXPECT_EQ(stage.plugin().config(), before);
    EXPECT_EQ(stage.plugin().parameterSet().values(), parameters);
    EXPECT_EQ(readPreferences(preferencesPath()), preferences);
}

TEST(WindowKeyboard, ANoteIsWrittenKeptOrLeftWithoutAMouse) {
    Shown stage;
    NoteSheet sheet;
    stage.window().addChildComponent(sheet);
    sheet.setBounds(100, 200, NoteSheet::widest, NoteSheet::height);
    std::vector<juce::String> kept;
    const auto open = [&] {
        sheet.open("12:00, 66 bpm", "as it was", [&](const juce::String& text) { kept.push_back(text); });
        stage.pump();
    };
    open();
    ASSERT_NE(dynamic_cast<juce::TextEditor*>(Shown::focused()), nullptr);
    stage.type('2'); // no key of the window's
    stage.press(juce::KeyPress(juce::KeyPress::returnKey));
    EXPECT_EQ(kept, std::vector<juce::String>{"2"});
    EXPECT_FALSE(sheet.isVisible());
    EXPECT_EQ(stage.window().place(), Window::Place::rung);
    ASSERT_TRUE(eventually([&] {
        stage.pump();
        return Shown::focused() == &stage.window();
    }));
    open();
    std::set<juce::Component*> stops;
    for (int i = 0; i < 6; ++i) {
        stops.insert(Shown::focused());
        EXPECT_TRUE(Shown::focused() != nullptr && sheet.isParentOf(Shown::focused())) << "Tab stays on it";
        stage.press(juce::KeyPress(juce::KeyPress::tabKey));
    }
    EXPECT_EQ(stops.size(), 3U);
    for (juce::Component* stop : stops) {
        if (dynamic_cast<juce::TextEditor*>(stop) != nullptr)
            continue;
        stop->grabKeyboardFocus();
        for (const char letter : {'2', 'm', 's'})
            stage.type(letter);
        EXPECT_EQ(stage.window().place(), Window::Place::rung) << "no key of the window's on a button either";
        EXPECT_EQ(Shown::focused(), stop);
    }
    stage.press(juce::KeyPress(juce::KeyPress::escapeKey));
    EXPECT_FALSE(sheet.isVisible());
    EXPECT_EQ(kept.size(), 1U);
    juce::TextButton* before = buttonNamed(stage.window(), words::messages);
    ASSERT_NE(before, nullptr);
    before->grabKeyboardFocus();
    open();
    ASSERT_NE(Shown::focused(), before);
    stage.press(juce::KeyPress(juce::KeyPress::escapeKey));
    EXPECT_EQ(Shown::focused(), before) << "the keys go back to what had them";
    stage.window().removeChildComponent(&sheet);
}

TEST(WindowKeyboard, EveryStopIsSeenAndHasARing) {
    Shown stage;
    stage.window().filesDropped({VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml"}, 0, 0);
    ASSERT_TRUE(eventually([&] {
        stage.pump();
        return theOne<PartPlace>(stage.window()).part() != nullptr;
    }));
    for (const auto place : places) {
        stage.window().goTo(place);
        theOne<SetupPlace>(stage.window()).unfoldAll(true);
        stage.window().grabKeyboardFocus();
        stage.pump();
        std::set<juce::Component*> stops;
        for (;;) {
            stage.press(juce::KeyPress(juce::KeyPress::tabKey));
            juce::Component* stop = Shown::focused();
            ASSERT_NE(stop, nullptr);
            if (!stops.insert(stop).second)
                break;
            if (stop == &stage.window())
                continue; // its keys are those of every place: nothing in it is chosen
            EXPECT_TRUE(stop->isShowing()) << nameOf(*stop);
            for (auto* view = stop->getParentComponent(); view != nullptr; view = view->getParentComponent())
                if (auto* scroll = dynamic_cast<juce::Viewport*>(view);
                    scroll != nullptr && scroll->getHeight() > stop->getHeight()) {
                    EXPECT_TRUE(
                        scroll->getLocalBounds().contains(scroll->getLocalArea(stop, stop->getLocalBounds())))
                        << nameOf(*stop) << " is scrolled out of sight";
                }
            const juce::Image with = pictureRound(stage.window(), *stop);
            stage.window().grabKeyboardFocus();
            const juce::Image without = pictureRound(stage.window(), *stop);
            stop->grabKeyboardFocus();
            EXPECT_GT(pixelsApart(with, without), stop->getWidth() + stop->getHeight())
                << nameOf(*stop) << " has no ring";
        }
        EXPECT_GT(stops.size(), 8U);
    }
}

} // namespace valveladder
