// What WCAG 2.2 asks of text contrast (1.4.3, AA: 4.5:1), targets (2.5.8, AA: 24 by 24 px), keyboard (2.1.1)
// and names (4.1.2), held against every component of the window.

#include "Host/TempLog.h"
#include "Screen/Find.h"
#include "Screen/Window.h"
#include "Screen/Within.h"

#include <cmath>
#include <gtest/gtest.h>

namespace valveladder {

namespace {

constexpr double leastContrast = 4.5;
constexpr int leastTarget = 24;

/// Relative luminance and contrast ratio as WCAG 2.2 defines them.
double luminance(juce::Colour colour) {
    const auto part = [](juce::uint8 value) {
        const double c = value / 255.0;
        return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * part(colour.getRed()) + 0.7152 * part(colour.getGreen()) +
           0.0722 * part(colour.getBlue());
}

double contrast(juce::Colour a, juce::Colour b) {
    const double high = std::max(luminance(a), luminance(b));
    const double low = std::min(luminance(a), luminance(b));
    return (high + 0.05) / (low + 0.05);
}

template <typename Visit>
void visitTree(juce::Component& component, Visit visit) {
    visit(component);
    for (juce::Component* child : component.getChildren())
        visitTree(*child, visit);
}

/// Something that a player presses, turns, chooses or types into.
bool isControl(const juce::Component& component) {
    return dynamic_cast<const juce::Button*>(&component) != nullptr ||
           dynamic_cast<const juce::ComboBox*>(&component) != nullptr ||
           dynamic_cast<const juce::Slider*>(&component) != nullptr ||
           dynamic_cast<const juce::TextEditor*>(&component) != nullptr ||
           dynamic_cast<const juce::ListBox*>(&component) != nullptr;
}

/// Parts of a control that are reached through it.
bool isPart(const juce::Component& component) {
    for (auto* parent = component.getParentComponent(); parent != nullptr;
         parent = parent->getParentComponent())
        if (isControl(*parent) || dynamic_cast<juce::ScrollBar*>(parent) != nullptr ||
            dynamic_cast<juce::ResizableCornerComponent*>(parent) != nullptr)
            return true;
    return false;
}

std::string pathOf(const juce::Component& component) {
    std::string path = component.getTitle().toStdString() + "/" + component.getName().toStdString();
    if (const auto* parent = component.getParentComponent())
        path = pathOf(*parent) + " > " + path;
    return path;
}

/// Waits until a part has been read.
void openPart(Window& window, const std::string& file) {
    window.goTo(Window::Place::part);
    window.filesDropped({file}, 0, 0);
    ASSERT_TRUE(eventually([&] {
        theOne<PartPlace>(window).refresh();
        return theOne<PartPlace>(window).part() != nullptr;
    }));
}

/// The window in all its places, in both themes, with a part open.
template <typename Check>
void everywhere(Check check) {
    const host::TempLog log;
    for (const bool dark : {true, false}) {
        ASSERT_TRUE(writePreferences(preferencesPath(), {.dark = dark, .welcomed = true}));
        Processor plugin;
        Window window(plugin);
        openPart(window, VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml");
        for (const auto place : {Window::Place::rung, Window::Place::landing, Window::Place::stair,
                                 Window::Place::setUp, Window::Place::part, Window::Place::first})
            for (const auto& [width, height] : {std::pair{900, 600}, std::pair{1600, 1000}}) {
                window.setSize(width, height);
                window.goTo(place);
                theOne<SetupPlace>(window).unfoldAll(true);
                check(window);
            }
    }
}

} // namespace

TEST(ScreenContrast, ThemesTextKeepsFourAndAHalfToOneOnEverySurface) {
    for (const Theme* theme : {&Theme::dark(), &Theme::light()}) {
        for (const juce::Colour surface : {theme->ground, theme->panel, theme->raised})
            for (const juce::Colour text : {theme->text, theme->quiet, theme->accentText})
                EXPECT_GE(contrast(text, surface), leastContrast)
                    << (theme->isDark ? "dark " : "light ") << text.toString() << " on "
                    << surface.toString();
        EXPECT_GE(contrast(theme->onAccent, theme->accent), leastContrast);
        EXPECT_GE(contrast(theme->panel, theme->quiet), leastContrast); // figures in discs of the next note
        // Shapes that carry meaning: 3:1 (WCAG 2.2, 1.4.11).
        for (const juce::Colour shape : {theme->accent, theme->good, theme->alarm})
            for (const juce::Colour surface : {theme->ground, theme->panel, theme->raised})
                EXPECT_GE(contrast(shape, surface), 3.0);
        // On the sheet.
        for (const juce::Colour ink :
             {theme->ink, theme->quietInk, theme->accentInk, theme->goodInk, theme->alarmInk})
            EXPECT_GE(contrast(ink, theme->paper), leastContrast);
        EXPECT_GE(contrast(theme->onGood, theme->good), leastContrast);
        EXPECT_GE(contrast(theme->onAlarm, theme->alarm), leastContrast);
    }
}

TEST(ScreenContrast, EveryControlsWordsKeepFourAndAHalfToOne) {
    everywhere([](Window& window) {
        visitTree(window, [](juce::Component& component) {
            const auto check = [&](int text, int back) {
                EXPECT_GE(contrast(component.findColour(text), component.findColour(back)), leastContrast)
                    << pathOf(component);
            };
            if (auto* button = dynamic_cast<juce::TextButton*>(&component)) {
                if (button->getToggleState())
                    check(juce::TextButton::textColourOnId, juce::TextButton::buttonOnColourId);
                else
                    check(juce::TextButton::textColourOffId, juce::TextButton::buttonColourId);
            } else if (dynamic_cast<juce::ComboBox*>(&component) != nullptr) {
                check(juce::ComboBox::textColourId, juce::ComboBox::backgroundColourId);
            } else if (dynamic_cast<juce::ToggleButton*>(&component) != nullptr) {
                check(juce::ToggleButton::textColourId, juce::ResizableWindow::backgroundColourId);
            } else if (auto* label = dynamic_cast<juce::Label*>(&component)) {
                if (label->getText().isNotEmpty() && !isPart(component))
                    check(juce::Label::textColourId, juce::ResizableWindow::backgroundColourId);
            } else if (dynamic_cast<juce::TextEditor*>(&component) != nullptr) {
                const auto back = component.findColour(juce::TextEditor::backgroundColourId);
                const auto seen = back.isTransparent()
                                      ? component.findColour(juce::ResizableWindow::backgroundColourId)
                                      : back;
                EXPECT_GE(contrast(component.findColour(juce::TextEditor::textColourId), seen), leastContrast)
                    << pathOf(component);
            }
        });
    });
}

TEST(ScreenTargets, EveryControlIsAtLeastTwentyFourPixelsHighAndWide) {
    everywhere([](Window& window) {
        int seen = 0;
        visitTree(window, [&](juce::Component& component) {
            if (!component.isShowing() && !component.isVisible())
                return;
            for (auto* parent = component.getParentComponent(); parent != nullptr;
                 parent = parent->getParentComponent())
                if (!parent->isVisible() && parent != &window)
                    return;
            const bool sliderButton =
                dynamic_cast<juce::Slider*>(component.getParentComponent()) != nullptr &&
                dynamic_cast<juce::Button*>(&component) != nullptr;
            if (!isControl(component) || (isPart(component) && !sliderButton))
                return;
            ++seen;
            EXPECT_GE(component.getHeight(), leastTarget) << pathOf(component);
            EXPECT_GE(component.getWidth(), leastTarget) << pathOf(component);
        });
        EXPECT_GT(seen, 7);
    });
}

TEST(ScreenKeyboard, EveryVisibleControlIsReachedByTab) {
    everywhere([](Window& window) {
        juce::KeyboardFocusTraverser traverser;
        const auto reached = traverser.getAllComponents(&window);
        std::vector<juce::Component*> all(reached.begin(), reached.end());
        visitTree(window, [&](juce::Component& container) {
            if (container.isFocusContainer() || container.isKeyboardFocusContainer()) {
                const auto inner = traverser.getAllComponents(&container);
                all.insert(all.end(), inner.begin(), inner.end());
            }
        });
        visitTree(window, [&](juce::Component& component) {
            if (!isControl(component) || isPart(component) || !component.isEnabled())
                return;
            for (auto* at = &component; at != nullptr && at != &window; at = at->getParentComponent())
                if (!at->isVisible())
                    return;
            EXPECT_NE(std::find(all.begin(), all.end(), &component), all.end()) << pathOf(component);
        });
    });
}

TEST(ScreenNames, EveryControlAndPictureHasAnAccessibleName) {
    everywhere([](Window& window) {
        visitTree(window, [](juce::Component& component) {
            const bool picture = dynamic_cast<StaffView*>(&component) != nullptr ||
                                 dynamic_cast<NowNext*>(&component) != nullptr ||
                                 dynamic_cast<PlayHeader*>(&component) != nullptr ||
                                 dynamic_cast<LadderView*>(&component) != nullptr ||
                                 dynamic_cast<ResultStaff*>(&component) != nullptr ||
                                 dynamic_cast<FingerCaps*>(&component) != nullptr ||
                                 dynamic_cast<NoteGraph*>(&component) != nullptr ||
                                 dynamic_cast<TempoStair*>(&component) != nullptr ||
                                 dynamic_cast<HandView*>(&component) != nullptr ||
                                 dynamic_cast<ChangesView*>(&component) != nullptr ||
                                 dynamic_cast<PartStaff*>(&component) != nullptr;
            if (!picture && (!isControl(component) || isPart(component)))
                return;
            const auto* button = dynamic_cast<juce::Button*>(&component);
            const bool named = component.getTitle().isNotEmpty() ||
                               (button != nullptr && button->getButtonText().isNotEmpty());
            EXPECT_TRUE(named) << pathOf(component);
        });
    });
}

namespace {

juce::StringArray wordsOf(const juce::String& text) {
    return juce::StringArray::fromTokens(text.toLowerCase(), " ,.:;()-/", "");
}

/// Words of a tooltip that its control does not show or bear as its name already.
int newWords(const juce::String& tooltip, const juce::String& shown) {
    const juce::StringArray known = wordsOf(shown);
    int count = 0;
    for (const juce::String& word : wordsOf(tooltip))
        count += word.isNotEmpty() && !known.contains(word) ? 1 : 0;
    return count;
}

juce::String shownBy(const juce::Component& component) {
    juce::String shown = component.getTitle();
    if (const auto* button = dynamic_cast<const juce::Button*>(&component))
        shown << " " << button->getButtonText();
    return shown;
}

/// Something that is pressed, chosen from, typed into or walked over; text that is only read is none.
bool isUsed(const juce::Component& component) {
    const auto* editor = dynamic_cast<const juce::TextEditor*>(&component);
    if (editor != nullptr && editor->isReadOnly())
        return false;
    const bool drawn = dynamic_cast<const SaidComponent*>(&component) != nullptr;
    return isControl(component) || (drawn && component.getWantsKeyboardFocus());
}

} // namespace

TEST(ScreenNames, EveryControlSaysMoreThanItsLabelWhenPointedAt) {
    everywhere([](Window& window) {
        constexpr int least = 4;
        int seen = 0;
        visitTree(window, [&](juce::Component& component) {
            const bool ofASlider = dynamic_cast<juce::Slider*>(component.getParentComponent()) != nullptr &&
                                   dynamic_cast<juce::Button*>(&component) != nullptr;
            if (!component.isVisible() || !isUsed(component) || (isPart(component) && !ofASlider))
                return;
            auto* client = dynamic_cast<juce::TooltipClient*>(&component);
            ASSERT_NE(client, nullptr) << pathOf(component);
            EXPECT_GE(newWords(client->getTooltip(), shownBy(component)), least)
                << pathOf(component) << ": \"" << client->getTooltip() << "\"";
            ++seen;
        });
        EXPECT_GT(seen, 60);
    });
}

TEST(ScreenNames, ChoicesAreNamedByTheirFieldAndSayWhatIsChosen) {
    everywhere([](Window& window) {
        int seen = 0;
        visitTree(window, [&](juce::Component& component) {
            if (dynamic_cast<juce::ComboBox*>(&component) == nullptr)
                return;
            auto* choice = dynamic_cast<ChoiceBox*>(&component);
            ASSERT_NE(choice, nullptr) << pathOf(component) << " is named by what is chosen in it";
            const auto handler = choice->createAccessibilityHandler();
            EXPECT_EQ(handler->getTitle(), choice->getTitle());
            ASSERT_NE(handler->getValueInterface(), nullptr);
            EXPECT_EQ(handler->getValueInterface()->getCurrentValueAsString(), choice->getText());
            ++seen;
        });
        EXPECT_GT(seen, 15);
    });
}

TEST(ScreenKeys, EachPlaceIsOneKeyAway) {
    const host::TempLog log;
    Processor plugin;
    Window window(plugin);
    for (const auto& [key, place] :
         {std::pair{'2', Window::Place::landing}, std::pair{'3', Window::Place::stair},
          std::pair{'4', Window::Place::part}, std::pair{'1', Window::Place::rung},
          std::pair{'s', Window::Place::setUp}}) {
        EXPECT_TRUE(
            window.keyPressed(juce::KeyPress(key, juce::ModifierKeys(), static_cast<juce::juce_wchar>(key))));
        EXPECT_EQ(window.place(), place);
    }
}

TEST(ScreenLife, WindowOpensAndClosesManyTimes) {
    const host::TempLog log;
    Processor plugin;
    const int times = std::getenv("VALVE_LADDER_FULL") != nullptr ? 500 : 20;
    for (int i = 0; i < times; ++i) {
        const std::unique_ptr<juce::AudioProcessorEditor> editor(plugin.createEditor());
        ASSERT_NE(editor, nullptr);
        static_cast<Window&>(*editor).goTo(static_cast<Window::Place>(i % 5));
        EXPECT_TRUE(editor->createComponentSnapshot(editor->getLocalBounds(), true, 0.25F).isValid());
    }
}

} // namespace valveladder
