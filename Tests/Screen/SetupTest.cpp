// The set-up's lines of text: Return takes what was typed, Escape drops it, and both give the keys back.

#include "Host/TempLog.h"
#include "Plugin/Processor.h"
#include "Screen/SetupPanel.h"
#include "View/Words.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

juce::TextEditor* lineNamed(juce::Component& parent, const juce::String& title) {
    for (juce::Component* child : parent.getChildren()) {
        if (auto* line = dynamic_cast<juce::TextEditor*>(child); line != nullptr && line->getTitle() == title)
            return line;
        if (auto* found = lineNamed(*child, title))
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
    juce::TextEditor& line(const char* title) {
        auto* found = lineNamed(panel, title);
        if (found == nullptr)
            throw std::logic_error("there is no such line");
        return *found;
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

} // namespace valveladder
