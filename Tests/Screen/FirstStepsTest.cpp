// The first page hears: a tone at the plugin's input is named, and its level moves.

#include "Host/TempLog.h"
#include "Screen/Find.h"
#include "Screen/Snapshot.h"
#include "View/Words.h"

#include <cmath>
#include <gtest/gtest.h>
#include <numbers>
#include <set>

namespace valveladder {

namespace {

constexpr double rate = 48000.0;
constexpr int blockSamples = 480;

/// A plugin at whose input a steady tone stands.
struct Listening {
    host::TempLog log;
    Processor plugin;
    double phase = 0.0; ///< periods

    explicit Listening(const char* instrument) {
        SessionConfig config;
        config.instrument = *findInstrument(instrument);
        config.drill = defaultDrill(config.instrument);
        EXPECT_TRUE(plugin.setConfig(config));
        plugin.setRateAndBufferSizeDetails(rate, blockSamples);
        plugin.prepareToPlay(rate, blockSamples);
    }
    ~Listening() { plugin.releaseResources(); }

    void send(const juce::MidiMessage& message) {
        juce::AudioBuffer<float> audio(2, blockSamples);
        audio.clear();
        juce::MidiBuffer midi;
        midi.addEvent(message, 0);
        plugin.processBlock(audio, midi);
    }

    /// A third of a second of eight harmonics that fall by their number; `peak` about full scale = 1.
    void hear(double hz, double peak) {
        for (int block = 0; block < 33; ++block) {
            juce::AudioBuffer<float> audio(2, blockSamples);
            for (int i = 0; i < blockSamples; ++i) {
                phase += hz / rate;
                double value = 0.0;
                for (int harmonic = 1; harmonic <= 8; ++harmonic)
                    value += std::sin(2.0 * std::numbers::pi * phase * harmonic) / harmonic;
                for (int channel = 0; channel < 2; ++channel)
                    audio.setSample(channel, i, static_cast<float>(peak * value / 1.8));
            }
            juce::MidiBuffer midi;
            plugin.processBlock(audio, midi);
        }
    }
};

/// What stands beside the level, once it has come to be.
bool says(Window& window, const juce::String& text) {
    return pump(window, [&] {
        return find<juce::Label>(window, [&](const juce::Label& label) {
                   return label.getTitle() == words::heardNowTitle && label.getText() == text;
               }) != nullptr;
    });
}

LevelMeter* levelOf(FirstPlace& place) {
    return find<LevelMeter>(place, [](const LevelMeter&) { return true; });
}

} // namespace

TEST(FirstSteps, NameTheNoteThatIsHeardAsTheInstrumentWritesIt) {
    for (const auto& [instrument, hz, text] :
         {std::tuple{"trumpet-b-flat", 196.0, "I hear A3 (sounds G3)"},
          std::tuple{"trumpet-c", 220.0, "I hear A3"},
          std::tuple{"euphonium-4-compensating-bass", 116.54, "I hear Bb2"}}) {
        Listening stage(instrument);
        Window window(stage.plugin);
        ASSERT_EQ(window.place(), Window::Place::first);
        ASSERT_TRUE(says(window, words::playANote));
        stage.hear(hz, 0.3);
        EXPECT_TRUE(says(window, text)) << instrument;
    }
}

TEST(FirstSteps, NameTheNoteThatCameByMidi) {
    for (const auto& [instrument, note, text] : {std::tuple{"trumpet-b-flat", 55, "I hear A3 (sounds G3)"},
                                                 std::tuple{"trumpet-c", 57, "I hear A3"}}) {
        Listening stage(instrument);
        EXPECT_TRUE(writePreferences(preferencesPath(), {.heardBy = HeardBy::midi}));
        Window window(stage.plugin);
        ASSERT_EQ(window.place(), Window::Place::first);
        ASSERT_TRUE(says(window, words::playANote));
        stage.send(juce::MidiMessage::controllerEvent(1, 20, 127)); // a valve goes down
        stage.send(juce::MidiMessage::noteOn(1, note, juce::uint8(80)));
        EXPECT_TRUE(says(window, text)) << instrument;
        stage.send(juce::MidiMessage::controllerEvent(1, 21, 127));
        window.refresh();
        EXPECT_TRUE(says(window, text)) << "a valve is no note";
    }
}

namespace {

/// One sound device, whose input has as many channels as wanted.
class FakeDevices final : public SoundDevices {
public:
    int channels = 1;
    int chosen = 0;

    Choice systems() const override { return {{"System"}, 0}; }
    Choice outputs() const override { return {{"Device"}, 0}; }
    Choice inputs() const override { return {{"Device"}, 0}; }
    Choice inputChannels() const override {
        Choice choice;
        for (int i = 0; channels > 1 && i <= channels; ++i)
            choice.names.push_back(i == 0 ? words::mixedChannels : std::to_string(i) + ": Input");
        choice.chosen = channels > 1 ? chosen : -1;
        return choice;
    }
    std::vector<MidiInput> midiInputs() const override { return {}; }
    Result<Done> chooseSystem(int) override { return Done{}; }
    Result<Done> chooseOutput(int) override { return Done{}; }
    Result<Done> chooseInput(int) override { return Done{}; }
    Result<Done> chooseInputChannel(int index) override {
        chosen = index;
        return Done{};
    }
    void listenToMidi(int, bool) override {}
    void look() override {}
    std::string name() const override { return "Device"; }
};

juce::ComboBox* boxNamed(Window& window, const char* title) {
    return find<juce::ComboBox>(window,
                                [title](const juce::ComboBox& each) { return each.getTitle() == title; });
}

} // namespace

TEST(FirstSteps, AnInputOfSeveralChannelsIsChosenAmongBesideTheDevice) {
    FakeDevices devices;
    Listening stage("trumpet-b-flat");
    stage.plugin.useSoundDevices(&devices);
    {
        Window window(stage.plugin);
        window.setSize(900, 600);
        theOne<FirstPlace>(window).refresh();
        EXPECT_EQ(boxNamed(window, words::channelField), nullptr) << "one channel is no choice";
        devices.channels = 4;
        theOne<FirstPlace>(window).refresh();
        auto* box = boxNamed(window, words::channelField);
        ASSERT_NE(box, nullptr);
        EXPECT_EQ(box->getNumItems(), 5);
        EXPECT_EQ(box->getText(), words::mixedChannels);
        EXPECT_EQ(box->getY(), boxNamed(window, words::inputField)->getY());
        box->setSelectedItemIndex(3, juce::sendNotificationSync);
        EXPECT_EQ(devices.chosen, 3);
        devices.channels = 1;
        theOne<FirstPlace>(window).refresh();
        EXPECT_EQ(boxNamed(window, words::channelField), nullptr);
    }
    stage.plugin.useSoundDevices(nullptr);
}

namespace {

/// Everything of the page that can be pressed or read off lies whole in the page, and in what is seen of what
/// scrolls.
int seenWhole(const juce::Component& page, juce::Component& parent) {
    int seen = 0;
    for (juce::Component* child : parent.getChildren()) {
        if (!child->isVisible() || dynamic_cast<juce::ScrollBar*>(child) != nullptr)
            continue;
        if (auto* scroll = dynamic_cast<juce::Viewport*>(child)) {
            seen += seenWhole(*scroll, *scroll->getViewedComponent());
            continue;
        }
        const auto area = page.getLocalArea(child, child->getLocalBounds());
        EXPECT_TRUE(page.getLocalBounds().contains(area)) << child->getTitle() << " at " << area.toString();
        ++seen;
    }
    return seen;
}

} // namespace

TEST(FirstSteps, AllOfThemAndStartAreSeenWholeInTheSmallestWindow) {
    for (const char* instrument : {"trumpet-b-flat", "flugelhorn-b-flat-4"})
        for (const bool ownDevices : {true, false}) {
            FakeDevices devices;
            Listening stage(instrument);
            stage.plugin.useSoundDevices(ownDevices ? &devices : nullptr);
            {
                Window window(stage.plugin);
                for (const auto& [width, height] : {std::pair{900, 600}, {1366, 728}, {1280, 800}}) {
                    window.setSize(width, height);
                    window.refresh();
                    EXPECT_GT(seenWhole(theOne<FirstPlace>(window), theOne<FirstPlace>(window)), 8)
                        << instrument;
                    pictures::save(pictures::render(window, 1.0F), "first-" + std::to_string(width) +
                                                                       (ownDevices ? "-own-" : "-") +
                                                                       instrument);
                }
            }
            stage.plugin.useSoundDevices(nullptr);
        }
}

TEST(FirstSteps, TheLevelMovesWithWhatComesIn) {
    Listening stage("trumpet-b-flat");
    Window window(stage.plugin);
    LevelMeter* level = levelOf(theOne<FirstPlace>(window));
    ASSERT_NE(level, nullptr);
    stage.hear(196.0, 0.02);
    ASSERT_TRUE(pump(window, [&] { return level->level() > 0; }));
    const int quiet = level->level();
    EXPECT_EQ(level->said(), words::levelHeard);
    stage.hear(196.0, 0.3);
    EXPECT_TRUE(pump(window, [&] { return level->level() >= quiet + 5; })) << quiet;
    stage.hear(196.0, 1.0);
    EXPECT_TRUE(pump(window, [&] { return level->said() == words::levelHot; }));
    stage.hear(196.0, 0.0);
    EXPECT_TRUE(pump(window, [&] { return level->level() == 0; }));
    EXPECT_EQ(level->said(), words::levelSilent);
    EXPECT_TRUE(says(window, words::playANote));
}

TEST(FirstSteps, HaveOneLevelAndOneStart) {
    Listening stage("trumpet-b-flat");
    Window window(stage.plugin);
    const auto shown = [&] {
        std::multiset<juce::String> names;
        (void)find<juce::Component>(window, [&](const juce::Component& each) {
            const auto title = each.getTitle();
            for (const char* wanted :
                 {words::levelTitle, words::startWord, words::markWord, words::repeatWord})
                if (title == wanted)
                    names.insert(title);
            return false;
        });
        return names;
    };
    ASSERT_EQ(window.place(), Window::Place::first);
    window.refresh();
    EXPECT_EQ(shown(), (std::multiset<juce::String>{words::levelTitle, words::startWord}));
    window.goTo(Window::Place::rung);
    EXPECT_EQ(shown(), (std::multiset<juce::String>{words::levelTitle, words::startWord, words::markWord,
                                                    words::repeatWord}));
}

} // namespace valveladder
