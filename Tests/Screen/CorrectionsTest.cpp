// "That was right", said of a note in the window. The playing is invented.
#include "Screen/PluginStage.h"
#include "View/Words.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace valveladder {

namespace {

/// A take of the invented player of which something is told, and the note.
struct Told {
    std::string take;
    NoteReport report;
};

Told newestTold(const LogStore& log) {
    const auto takes = log.takes({}).value();
    for (auto take = takes.rbegin(); take != takes.rend(); ++take)
        for (const NoteReport& report : reportsOf(log.take(take->header.id).value().performance))
            if (report.kind == ReportKind::wrong || report.kind == ReportKind::missed)
                return {take->header.id, report};
    return {};
}

class CorrectedWindow {
public:
    CorrectedWindow() : window(stage.plugin), told(newestTold(stage.invented.log())) {
        window.goTo(Window::Place::landing);
        landing = find<LandingPlace>(window, [](const LandingPlace&) { return true; });
        EXPECT_NE(landing, nullptr);
        EXPECT_TRUE(pump(window, [&] { return landing->take() != nullptr; }));
        landing->choose(told.take);
        EXPECT_TRUE(pump(window, [&] { return landing->take() && landing->take()->model.id == told.take; }));
        for (const NoteModel& note : landing->take()->model.notes)
            if (note.index == told.report.note)
                landing->showCell({note.rung, note.segment});
    }

    [[nodiscard]] ResultStaff& staff() {
        return *find<ResultStaff>(window, [](const ResultStaff&) { return true; });
    }
    [[nodiscard]] juce::TextButton* button(const char* text) { return buttonCalled(window, text); }
    /// By the arrow keys; false where the segment does not have it.
    bool choose(int note) {
        const std::size_t most = landing->take()->model.notes.size(); // the segment has no more
        for (std::size_t left = 0; left < most; ++left)
            staff().keyPressed(juce::KeyPress(juce::KeyPress::leftKey));
        for (std::size_t right = 0; right < most; ++right) {
            if (staff().chosenNote() == note)
                return true;
            staff().keyPressed(juce::KeyPress(juce::KeyPress::rightKey));
        }
        return false;
    }
    [[nodiscard]] const NoteModel& note() const {
        const auto& notes = landing->take()->model.notes;
        return *std::ranges::find(notes, told.report.note, &NoteModel::index);
    }
    [[nodiscard]] bool inLog(Outcome outcome) const {
        const auto take = stage.invented.log().take(told.take).value();
        return take.performance.notes[static_cast<std::size_t>(told.report.note)].outcome == outcome;
    }

    PluginStage stage;
    Window window;
    Told told;
    LandingPlace* landing = nullptr;
};

const char* const right = words::correctionKey({{}, true});
const char* const asHeard = words::correctionKey({{}, false});

} // namespace

TEST(WindowCorrections, ANoteThatWasRightIsSaidSoAndTakenBackWithoutLeavingIt) {
    CorrectedWindow shown;
    ASSERT_FALSE(shown.told.take.empty());
    ASSERT_EQ(shown.button(right), nullptr) << "nothing is offered before a note is chosen";
    ASSERT_TRUE(shown.choose(shown.told.report.note));
    auto* button = shown.button(right);
    ASSERT_NE(button, nullptr);
    EXPECT_TRUE(button->getWantsKeyboardFocus());
    EXPECT_TRUE(button->getTooltip().contains("was right, and not")) << button->getTooltip();
    const Outcome heard = shown.note().outcome;
    ASSERT_NE(heard, Outcome::right);

    button->onClick();
    ASSERT_TRUE(pump(shown.window, [&] { return shown.note().outcome == Outcome::right; }));
    EXPECT_TRUE(shown.inLog(Outcome::right));
    EXPECT_EQ(shown.staff().chosenNote(), shown.told.report.note);
    EXPECT_EQ(signOf(shown.note()).kind, NoteSign::Kind::saidRight);
    EXPECT_TRUE(shown.staff().said().contains("right, as you say")) << shown.staff().said();

    ASSERT_EQ(shown.button(right), nullptr);
    button = shown.button(asHeard);
    ASSERT_NE(button, nullptr);
    button->onClick();
    ASSERT_TRUE(pump(shown.window, [&] { return shown.note().outcome == heard; }));
    EXPECT_TRUE(shown.inLog(heard));
    EXPECT_NE(shown.button(right), nullptr);
}

TEST(WindowCorrections, AClickOnAMarkedNoteOffersItAndOneOnARightNoteDoesNot) {
    CorrectedWindow shown;
    ASSERT_TRUE(shown.choose(shown.told.report.note));
    ASSERT_NE(shown.button(right), nullptr);
    const auto& notes = shown.landing->take()->model.notes;
    const auto clean = std::ranges::find_if(notes, [&](const NoteModel& each) {
        return each.rung == shown.note().rung && each.segment == shown.note().segment && each.reports.empty();
    });
    ASSERT_NE(clean, notes.end());
    ASSERT_TRUE(shown.choose(clean->index));
    EXPECT_EQ(shown.button(right), nullptr);
    // Every place of the sheet, as a mouse would go over it: the marked note offers it there as well.
    auto& staff = shown.staff();
    bool offered = false;
    for (int x = 0; x < staff.getWidth() && !offered; x += 8) {
        const juce::Point<float> at(static_cast<float>(x), static_cast<float>(staff.getHeight()) / 2);
        staff.mouseDown({juce::Desktop::getInstance().getMainMouseSource(), at, juce::ModifierKeys(), 1.0F,
                         0.0F, 0.0F, 0.0F, 0.0F, &staff, &staff, juce::Time(), at, juce::Time(), 1, false});
        offered = shown.button(right) != nullptr;
    }
    EXPECT_TRUE(offered);
    EXPECT_EQ(staff.chosenNote(), shown.told.report.note);
}

TEST(WindowCorrections, WhatToPractiseStaysBesideAChosenNote) {
    CorrectedWindow shown;
    shown.window.setSize(1280, 800);
    shown.window.refresh();
    const auto adviceInk = [&shown] { // under the buttons, where nothing but words is drawn
        const auto picture = shown.landing->createComponentSnapshot(shown.landing->getLocalBounds());
        const auto* details = shown.button(words::detailsKey);
        const int top = details->getBottom() + 2 * grid::control;
        int count = 0;
        for (int y = top; y < shown.landing->getHeight(); ++y)
            for (int x = details->getX(); x < details->getRight(); ++x)
                count += picture.getPixelAt(x, y) !=
                         picture.getPixelAt(details->getX(), shown.landing->getHeight() - 1);
        return count;
    };
    ASSERT_TRUE(shown.choose(shown.told.report.note));
    EXPECT_GT(adviceInk(), 0);
}

TEST(WindowCorrections, TheButtonFitsBesideTheOthersInASmallWindow) {
    CorrectedWindow shown;
    for (const auto& [width, height] : {std::pair{900, 600}, {1280, 800}}) {
        shown.window.setSize(width, height);
        shown.window.refresh();
        ASSERT_TRUE(shown.choose(shown.told.report.note));
        const auto* button = shown.button(right);
        ASSERT_NE(button, nullptr);
        EXPECT_TRUE(shown.landing->getLocalBounds().contains(button->getBounds())) << width;
        for (juce::Component* other : shown.landing->getChildren())
            if (other != button && other->isVisible()) {
                EXPECT_FALSE(other->getBounds().intersects(button->getBounds()))
                    << other->getTitle() << " at " << width;
            }
    }
}

TEST(WindowCorrections, OfALookRoundSayThatNothingIsMadeOfIt) {
    PluginStage stage{Preferences{}};
    Window window(stage.plugin);
    ASSERT_TRUE(comesToRest(window, stage.plugin));
    auto* lookRound = find<juce::TextButton>(
        window, [](const juce::TextButton& each) { return each.getTitle() == words::lookRoundHere; });
    ASSERT_NE(lookRound, nullptr);
    lookRound->onClick();
    auto* landing = find<LandingPlace>(window, [](const LandingPlace&) { return true; });
    ASSERT_NE(landing, nullptr);
    ASSERT_TRUE(pump(window, [&] {
        return landing->take() && landing->take()->record.header.player == LookRound::player();
    }));
    landing->onCorrect({{{0, ReportKind::wrong}}, true});
    EXPECT_NE(
        find<Card>(window, [](const Card& each) { return each.content().title == words::inventedOnlyTitle; }),
        nullptr);
}

} // namespace valveladder
