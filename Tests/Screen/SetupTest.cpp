// The set-up's lines of text: Return takes what was typed, Escape drops it, and both give the keys back.
// What a new start or another instrument means for the rest.

#include "Host/TempLog.h"
#include "Plugin/Processor.h"
#include "Screen/SetupPanel.h"
#include "View/Words.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

/// Whether its part is folded or not.
template <typename Control>
Control* named(juce::Component& parent, const juce::String& title) {
    for (juce::Component* child : parent.getChildren()) {
        if (auto* control = dynamic_cast<Control*>(child); control != nullptr && control->getTitle() == title)
            return control;
        if (auto* found = named<Control>(*child, title))
            return found;
    }
    return nullptr;
}

/// The set-up of one player, and what it tells.
struct Stage {
    host::TempLog log;
    Processor plugin;
    SetupPanel panel{plugin.parameterSet(), true};
    SessionConfig config;
    int changes = 0;
    int left = 0;
    std::vector<Problem> problems;

    Stage() {
        config.player = "Ann";
        panel.show(config);
        panel.onChange = [this](SessionConfig changed) {
            ++changes;
            config = std::move(changed);
            panel.show(config);
        };
        panel.onLeft = [this] { ++left; };
        panel.onProblem = [this](const Problem& problem) { problems.push_back(problem); };
    }
    template <typename Control>
    Control& control(const char* title) {
        auto* found = named<Control>(panel, title);
        if (found == nullptr)
            throw std::logic_error("there is no such control");
        return *found;
    }
    juce::TextEditor& line(const char* title) { return control<juce::TextEditor>(title); }
    void set(const char* title, double value) {
        control<juce::Slider>(title).setValue(value, juce::sendNotificationSync);
    }
    /// Types a line without leaving it. What Return, Escape and the focus do, the editor leaves to the
    /// message loop, which no test runs: the tests call it themselves.
    juce::TextEditor& type(const char* title, const juce::String& text) {
        juce::TextEditor& typed = line(title);
        typed.clear();
        for (const auto letter : text)
            typed.insertTextAtCaret(juce::String::charToString(letter));
        return typed;
    }
};

} // namespace

TEST(ScreenSetup, ReturnTakesWhatWasTypedAndGivesTheKeysBack) {
    Stage stage;
    const juce::TextEditor& player = stage.type(words::playerField, "Bo");
    EXPECT_EQ(stage.config.player, "Ann") << "nothing is taken while typing";
    player.onReturnKey();
    EXPECT_EQ(stage.config.player, "Bo");
    EXPECT_EQ(stage.changes, 1);
    EXPECT_EQ(stage.left, 1);
    // What goes with the focus is the same again: no second change, and nothing more to undo.
    player.onFocusLost();
    EXPECT_EQ(stage.changes, 1);
    stage.type(words::segmentsField, "1 1 4").onReturnKey();
    ASSERT_EQ(stage.config.drill.segments.size(), 3U);
    EXPECT_EQ(stage.config.drill.segments[0], stage.config.drill.segments[1]);
    EXPECT_EQ(stage.left, 2);
}

TEST(ScreenSetup, EscapeDropsWhatWasTypedAndGivesTheKeysBack) {
    Stage stage;
    for (const auto& [title, text] :
         {std::pair{words::playerField, "Bo"}, std::pair{words::segmentsField, "9"}}) {
        const juce::String before = stage.line(title).getText();
        const juce::TextEditor& line = stage.type(title, text);
        ASSERT_NE(line.getText(), before);
        line.onEscapeKey();
        EXPECT_EQ(line.getText(), before);
        line.onFocusLost();
    }
    EXPECT_EQ(stage.config.player, "Ann");
    EXPECT_EQ(stage.changes, 0);
    EXPECT_EQ(stage.left, 2);
    EXPECT_TRUE(stage.problems.empty()) << "what was dropped is not complained of";
}

TEST(ScreenSetup, ReturnOnALineThatCannotBeReadSaysSoAndTakesNothing) {
    Stage stage;
    stage.type(words::segmentsField, "1 9").onReturnKey();
    ASSERT_EQ(stage.problems.size(), 1U);
    EXPECT_EQ(stage.problems.front().what, words::noSegment(9));
    EXPECT_EQ(stage.changes, 0);
    EXPECT_EQ(stage.left, 1);
}

TEST(ScreenSetup, AStartAboveTheCeilingIsTakenAndACeilingBelowTheStartIsRefused) {
    Stage stage;
    const double ceiling = stage.config.rules.ceilingBpm;
    stage.set(words::startField, ceiling + 8.0);
    EXPECT_EQ(stage.config.rules.startBpm, ceiling + 8.0);
    EXPECT_EQ(stage.config.rules.ceilingBpm, ceiling + 8.0);
    EXPECT_TRUE(checked(stage.config).ok());
    EXPECT_EQ(stage.control<juce::Slider>(words::ceilingField).getValue(), ceiling + 8.0);
    stage.set(words::ceilingField, ceiling);
    EXPECT_EQ(stage.config.rules.ceilingBpm, ceiling);
    EXPECT_FALSE(checked(stage.config).ok()) << "what was typed is not put right behind the player";
}

TEST(ScreenSetup, AnotherInstrumentKeepsWhatIsNotAboutPitch) {
    Stage stage;
    stage.set(words::repeatsField, 3.0);
    const SessionConfig before = stage.config;
    const Instrument& last = catalogue().back();
    ASSERT_NE(before.instrument.id, last.id);
    stage.control<juce::ComboBox>(words::instrumentField)
        .setSelectedId(static_cast<int>(catalogue().size()), juce::sendNotificationSync);
    EXPECT_EQ(stage.config.instrument.id, last.id);
    EXPECT_EQ(stage.config.drill.repeats, 3);
    EXPECT_TRUE(stage.config == playedOn(last, before));
}

} // namespace valveladder
