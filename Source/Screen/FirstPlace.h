#pragma once

#include "Ladder/PitchNames.h"
#include "Plugin/Processor.h"
#include "Screen/Chips.h"
#include "Screen/ChoiceBox.h"
#include "Screen/FirstSheet.h"
#include "Screen/LevelMeter.h"
#include "View/InstrumentChoice.h"
#include "View/Preferences.h"
#include "View/TapTempo.h"

#include <array>
#include <functional>

namespace valveladder {

/// The first opening: instrument, how one is heard, a comfortable tempo, and Start. In the Standalone its
/// sound devices are chosen here as well.
class FirstPlace final : public juce::Component {
public:
    explicit FirstPlace(Processor& plugin, bool hosted);

    void show(const SessionConfig& config);
    void show(const Preferences& preferences);
    /// Looks at devices and input; to be called about ten times a second while it is seen.
    void refresh();

    std::function<void(SessionConfig)> onChange;
    std::function<void(const Preferences&)> onPreferences;
    std::function<void(const Problem&)> onProblem;
    std::function<void()> onStart;
    /// An invented player is to be looked at.
    std::function<void()> onLookRound;

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    /// The steps, scrolled where the window is too low for all of them.
    class Steps final : public juce::Component {
    public:
        explicit Steps(FirstPlace& of) : place(of) {}
        void paint(juce::Graphics& g) override { place.paintSteps(g); }

    private:
        FirstPlace& place;
    };

    void buildInstrument();
    void buildHearing();
    void buildDevices();
    void buildTempo();
    void instrumentNarrowed(std::size_t facet, int index);
    void fillDevices();
    void deviceChosen(const Result<Done>& done);
    void heardBy(int index);
    void setTempo(double bpm);
    [[nodiscard]] bool byMicrophone() const { return preferences.heardBy == HeardBy::microphone; }
    [[nodiscard]] bool isHeard() const { return preferences.heardBy != HeardBy::nothing; }
    /// The note that is heard now by microphone, or that came last by MIDI.
    [[nodiscard]] std::optional<double> heardPitch(const InputEar::Heard& sound);
    [[nodiscard]] SoundDevices* devices() const { return owner.soundDevices(); }
    [[nodiscard]] bool hasChannels() const {
        return byMicrophone() && devices() != nullptr && channel.getNumItems() > 0;
    }
    /// `air`: px more between the steps, a quarter of it between rows. Returns the height.
    int layOutSteps(int width, int air);
    // Each from y on; they return where it ends.
    int layOutInstrument(int width, int y, int rowGap);
    int layOutHearing(int width, int y, int rowGap);
    void layOutHeardNow(int width, int& y);
    int layOutChips(Chips& row, int width, int y) const;
    int layOutDevices(int width, int y);
    int layOutTempo(juce::Rectangle<int> area);
    void layOutWide(juce::Rectangle<int> area);
    void layOutTight(juce::Rectangle<int> area);
    void layOutScroll(juce::Rectangle<int> area);
    [[nodiscard]] int sideWidth(int whole) const;
    void layOutSide(juce::Rectangle<int> side);
    void holdTempo();
    void paintTitle(juce::Graphics& g) const;
    void paintSteps(juce::Graphics& g) const;
    void paintHeading(juce::Graphics& g, std::size_t step) const;
    void paintTempo(juce::Graphics& g) const;

    Processor& owner;
    const bool inHost;
    SessionConfig config;
    Preferences preferences;
    TapTempo tapTempo;

    juce::Viewport scroll;
    Steps steps{*this};
    std::array<std::unique_ptr<Chips>, facetCount> facets;
    Chips hearing, listening;
    LevelMeter level;
    juce::Label heardNow; ///< "I hear A3"
    std::optional<double> lastMidiNote;
    ChoiceBox system, output, input, channel;
    juce::Label systemLabel, outputLabel, inputLabel, channelLabel;
    std::vector<SoundDevices::MidiInput> midiShown;
    Chips midi;
    juce::TextButton slower, quicker, tap, lookRound, start;
    FirstSheet sheet;
    juce::Rectangle<int> titleArea;
    bool tight = false; ///< too low for all steps under one another: the tempo stands over Start
    std::array<juce::Rectangle<int>, 3> headings; ///< of the steps
    juce::Rectangle<int> tempoArea;
    std::array<int, facetCount> facetY{};
};

} // namespace valveladder
