// The window of the Standalone: nothing that it shows or says speaks of what only a host has.

#include "Screen/Card.h"
#include "Screen/InventedLog.h"
#include "Screen/PluginStage.h"
#include "Screen/WindowPlaces.h"
#include "View/Words.h"

#include <array>
#include <gtest/gtest.h>
#include <map>
#include <memory>

namespace valveladder {

namespace {

/// The plugin as the Standalone makes it.
class Alone {
public:
    explicit Alone(const Preferences& preferences) : stage(madeAs(preferences)), window(stage->plugin) {}

    [[nodiscard]] PluginStage& plugin() { return *stage; }

private:
    static std::unique_ptr<PluginStage> madeAs(const Preferences& preferences) {
        juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Standalone);
        auto made = std::make_unique<PluginStage>(preferences);
        juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Undefined);
        return made;
    }

    std::unique_ptr<PluginStage> stage;

public:
    Window window;
};

bool speaksOfAHost(const juce::String& text) {
    for (const juce::String& word : juce::StringArray::fromTokens(text.toLowerCase(), " ,.:;()-/'\"?!\n", ""))
        if (word.startsWith("host") || word.startsWith("record") || word.startsWith("track") ||
            word == "daw" || word == "daws")
            return true;
    return false;
}

/// Everything that a component shows, says when it is pointed at, offers, or gives to a screen reader.
std::vector<juce::String> textsOf(juce::Component& component) {
    std::vector<juce::String> texts{component.getTitle(), component.getDescription(),
                                    component.getHelpText()};
    if (auto* pointed = dynamic_cast<juce::TooltipClient*>(&component))
        texts.push_back(pointed->getTooltip());
    if (const auto* label = dynamic_cast<const juce::Label*>(&component))
        texts.push_back(label->getText());
    if (const auto* button = dynamic_cast<const juce::Button*>(&component))
        texts.push_back(button->getButtonText());
    if (const auto* said = dynamic_cast<const SaidComponent*>(&component))
        texts.push_back(said->said());
    if (const auto* editor = dynamic_cast<const juce::TextEditor*>(&component)) {
        texts.push_back(editor->getText());
        texts.push_back(editor->getTextToShowWhenEmpty());
    }
    if (const auto* box = dynamic_cast<const juce::ComboBox*>(&component)) {
        texts.push_back(box->getTextWhenNothingSelected());
        texts.push_back(box->getTextWhenNoChoicesAvailable());
        for (int i = 0; i < box->getNumItems(); ++i)
            texts.push_back(box->getItemText(i));
    }
    if (const auto* card = dynamic_cast<const Card*>(&component))
        for (const juce::String& text : {card->content().title, card->content().where, card->content().words})
            texts.push_back(text);
    return texts;
}

/// Looks through all of the window, hidden parts as well; returns how many texts there were.
int walk(juce::Component& component, const std::string& where) {
    int seen = 0;
    for (const juce::String& text : textsOf(component)) {
        EXPECT_FALSE(speaksOfAHost(text)) << where << ": \"" << text << "\"";
        seen += text.isNotEmpty() ? 1 : 0;
    }
    for (juce::Component* child : component.getChildren())
        seen += walk(*child, where);
    return seen;
}

void walkEverywhere(Window& window, const std::string& state) {
    for (const auto& [place, name] : places) {
        window.goTo(place);
        window.refresh();
        EXPECT_GT(walk(window, std::string(name) + ", " + state), 200) << name;
    }
}

/// Every state of clock and take.
template <typename Look>
void inEveryState(Look look) {
    SessionView view = pictures::runningView("trumpet-b-flat");
    for (const Clock clock : {Clock::none, Clock::own, Clock::link, Clock::host})
        for (const TakeWay way :
             {TakeWay::recordingPass, TakeWay::loopPass, TakeWay::playing, TakeWay::marker, TakeWay::hand})
            for (const bool playing : {false, true})
                for (const bool inTake : {false, true})
                    for (const char* mismatch : {"", "The clock is at 70, this take is planned at 66"}) {
                        view.clock = clock;
                        view.way = way;
                        view.playing = playing;
                        view.recording = playing;
                        view.inTake = playing && inTake;
                        view.mismatch = mismatch;
                        look(view);
                    }
}

} // namespace

TEST(WindowAlone, NothingSpeaksOfAHostItsRecordingOrTracks) {
    Alone alone({.welcomed = true});
    Window& window = alone.window;
    window.filesDropped({VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml"}, 0, 0);
    ASSERT_TRUE(pump(window, [&] { return theOne<PartPlace>(window).part() != nullptr; }));
    ASSERT_TRUE(comesToRest(window, alone.plugin().plugin));
    ASSERT_TRUE(window.keyPressed(juce::KeyPress('m', juce::ModifierKeys(), 'm')));
    walkEverywhere(window, "standing");
    *alone.plugin().plugin.parameterSet().runOwnClock = true;
    while (alone.plugin().plugin.clock().ppq.load() < 1.0)
        alone.plugin().block();
    ASSERT_TRUE(pump(window, [&] { return alone.plugin().plugin.session().view()->playing; }));
    walkEverywhere(window, "counting in, nothing heard");
    alone.plugin().block(true);
    while (alone.plugin().plugin.clock().ppq.load() < 5.2)
        alone.plugin().block();
    ASSERT_TRUE(pump(window, [&] { return alone.plugin().plugin.session().view()->inTake; }));
    walkEverywhere(window, "in a take");
}

TEST(WindowAlone, NoStateOfClockOrTakeSpeaksOfAHost) {
    inEveryState([](const SessionView& view) {
        for (const InputSeen input : {InputSeen::nothing, InputSeen::something}) {
            const PlayModel model = playModel(view, {}, false, input, {false, true});
            for (const std::string& text :
                 {model.take, model.clock, model.notice.title, model.notice.words, model.place})
                EXPECT_FALSE(speaksOfAHost(text)) << text;
        }
    });
}

TEST(WindowAlone, AtRestItSaysHowToBeginAndNothingIsWrong) {
    SessionView view = pictures::runningView("trumpet-b-flat");
    view.clock = Clock::none;
    view.playing = view.inTake = false;
    const PlayModel model = playModel(view, {}, false, InputSeen::nothing, {false, true});
    EXPECT_EQ(model.notice.kind, Notice::Kind::none);
    EXPECT_EQ(model.take + ", " + model.clock, "Press Start, or Space, to begin");
}

TEST(WindowAlone, TakesGoByStartMarkerOrHand) {
    Alone alone({.welcomed = true});
    auto& way = *alone.plugin().plugin.parameterSet().takeWay;
    alone.window.goTo(Window::Place::setUp);
    auto* box = find<juce::ComboBox>(
        alone.window, [](const juce::ComboBox& each) { return each.getTitle() == words::takeWayParameter; });
    ASSERT_NE(box, nullptr);
    EXPECT_EQ(box->getText(), "Start");
    ASSERT_EQ(box->getNumItems(), 3);
    for (const TakeWay wanted : {TakeWay::hand, TakeWay::marker, TakeWay::recordingPass}) {
        box->setSelectedId(static_cast<int>(wanted) + 1, juce::sendNotificationSync);
        EXPECT_EQ(way.getIndex(), static_cast<int>(wanted));
    }
    way = static_cast<int>(TakeWay::hand);
    EXPECT_EQ(box->getText(), "Hand") << "what is set from elsewhere is shown";
}

namespace {

/// Of a clock that runs: a note, and the clock stopped while Weeks is looked at, until the take is in the
/// log.
void finishATakeOnWeeks(Alone& alone) {
    Processor& plugin = alone.plugin().plugin;
    while (plugin.clock().ppq.load() < 4.5)
        alone.plugin().block();
    alone.plugin().block(true);
    while (plugin.clock().ppq.load() < 6.0)
        alone.plugin().block();
    ASSERT_TRUE(pump(alone.window, [&] { return plugin.session().view()->inTake; }));
    const auto kept = [&] { return alone.plugin().invented.log().takes({}).value().size(); };
    const std::size_t before = kept();
    alone.window.goTo(Window::Place::stair);
    *plugin.parameterSet().runOwnClock = false;
    ASSERT_TRUE(pump(alone.window, [&] {
        alone.plugin().block();
        return kept() > before;
    }));
}

} // namespace

TEST(WindowAlone, AFootswitchOnWeeksShowsWhatIsPlayedAndThenItsResult) {
    Alone alone({.welcomed = true});
    Window& window = alone.window;
    Processor& plugin = alone.plugin().plugin;
    window.setSize(900, 600);
    ASSERT_TRUE(comesToRest(window, plugin));
    window.goTo(Window::Place::stair);
    ASSERT_TRUE(window.keyPressed(juce::KeyPress('m', juce::ModifierKeys(), 'm')));
    plugin.pressStart(); // as a footswitch does
    window.refresh();
    EXPECT_EQ(window.place(), Window::Place::rung);
    EXPECT_NE(find<RungPlace>(window, [](const RungPlace&) { return true; }), nullptr)
        << "Messages do not hide it";
    finishATakeOnWeeks(alone);
    window.goTo(Window::Place::rung);
    EXPECT_TRUE(pump(window, [&] { return window.place() == Window::Place::landing; }))
        << "what was due while another page was open";
}

TEST(WindowAlone, AResultThatWasLookedAtDoesNotOpenAgain) {
    Alone alone({.welcomed = true});
    Window& window = alone.window;
    ASSERT_TRUE(comesToRest(window, alone.plugin().plugin));
    alone.plugin().plugin.pressStart();
    window.refresh();
    finishATakeOnWeeks(alone);
    window.goTo(Window::Place::landing);
    const std::string newest = alone.plugin().invented.log().takes({}).value().back().header.id;
    auto* landing = find<LandingPlace>(window, [](const LandingPlace&) { return true; });
    ASSERT_NE(landing, nullptr);
    ASSERT_TRUE(pump(window, [&] { return landing->chosenTake() == newest; }));
    window.goTo(Window::Place::rung);
    window.refresh(); // what is due opens at once
    EXPECT_EQ(window.place(), Window::Place::rung);
}

TEST(WindowWords, WhatIsToBePressedIsTheNameOfAButton) {
    for (const Surroundings& around : {Surroundings{true, false}, {true, true}, {false, true}})
        inEveryState([&](const SessionView& view) {
            const std::string state = words::takeState(view, around).state;
            if (state.starts_with("Press ")) {
                EXPECT_TRUE(state.substr(6) == words::markWord || state.substr(6) == words::startWord)
                    << state;
            }
        });
}

TEST(WindowWords, SpaceIsNamedOnlyWhereItIsTheWindows) {
    for (const bool ours : {true, false})
        inEveryState([&](const SessionView& view) {
            const PlayModel model = playModel(view, {}, false, InputSeen::something, {true, ours});
            const bool named =
                (model.notice.words + model.take + model.clock).find("Space") != std::string::npos;
            const bool clockIsWanted =
                model.notice.kind == Notice::Kind::noClock || model.notice.kind == Notice::Kind::hostStands;
            EXPECT_EQ(named, ours && clockIsWanted) << model.notice.words << model.take << model.clock;
        });
}

TEST(WindowWords, TakesButtonsBeginWithWordsOfTheirOwn) {
    PluginStage stage;
    Window window(stage.plugin);
    window.goTo(Window::Place::landing);
    ASSERT_TRUE(pump(window, [&] { return resultIsShown(window); }));
    std::map<juce::String, juce::String> seen;
    (void)find<juce::TextButton>(window, [&](const juce::TextButton& button) {
        const juce::String text = button.getButtonText();
        const juce::String word = text.upToFirstOccurrenceOf(" ", false, false);
        if (text.isNotEmpty()) {
            EXPECT_TRUE(seen.emplace(word, text).second) << text << " and " << seen[word];
        }
        return false;
    });
    EXPECT_GT(seen.size(), 8U);
}

TEST(WindowWords, TheHearingCautionIsInTheFootAndItsSourcesInMessages) {
    PluginStage stage;
    Window window(stage.plugin);
    window.setSize(900, 600);
    ASSERT_TRUE(comesToRest(window, stage.plugin));
    const auto* foot = find<FootLine>(window, [](const FootLine&) { return true; });
    ASSERT_NE(foot, nullptr);
    EXPECT_TRUE(foot->seen().contains("loud")) << foot->seen();
    EXPECT_TRUE(foot->seen().endsWithChar('.')) << foot->seen();
    EXPECT_FALSE(foot->seen().contains("NIOSH")) << foot->seen();
    ASSERT_TRUE(window.keyPressed(juce::KeyPress('m', juce::ModifierKeys(), 'm')));
    window.refresh();
    const auto* column = find<juce::TextEditor>(
        window, [](const juce::TextEditor& each) { return each.getTitle() == words::messages; });
    ASSERT_NE(column, nullptr);
    EXPECT_TRUE(column->getText().contains("NIOSH"));
}

TEST(WindowWords, AnyChannelIsCalledSo) {
    const host::TempLog log;
    Processor plugin;
    auto& channel = *plugin.parameterSet().listenChannel;
    const juce::RangedAudioParameter& asHostsSeeIt = channel;
    EXPECT_EQ(channel.getCurrentValueAsText(), "any");
    channel = 7;
    EXPECT_EQ(channel.getCurrentValueAsText(), "7");
    EXPECT_EQ(asHostsSeeIt.convertFrom0to1(asHostsSeeIt.getValueForText("any")), 0.0F);
    EXPECT_EQ(asHostsSeeIt.convertFrom0to1(asHostsSeeIt.getValueForText("12")), 12.0F);
    channel = 0;
    SetupPanel panel(plugin.parameterSet(), false);
    const auto* slider = find<juce::Slider>(
        panel, [](const juce::Slider& each) { return each.getTitle() == words::listenChannelParameter; });
    EXPECT_EQ(slider, nullptr) << "folded";
    panel.unfoldAll(true);
    auto* shown = find<juce::Slider>(
        panel, [](const juce::Slider& each) { return each.getTitle() == words::listenChannelParameter; });
    ASSERT_NE(shown, nullptr);
    EXPECT_EQ(shown->getTextFromValue(shown->getValue()), "any");
}

} // namespace valveladder
