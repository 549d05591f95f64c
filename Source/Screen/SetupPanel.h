#pragma once

#include "Plugin/Parameters.h"
#include "Screen/ChoiceBox.h"
#include "Screen/Form.h"
#include "Screen/PedalField.h"
#include "Session/SessionSetup.h"
#include "View/DrillFields.h"
#include "View/TapTempo.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <array>
#include <functional>
#include <memory>
#include <utility>
#include <vector>

namespace valveladder {

/// Everything that is chosen before playing: player, instrument, drill, tempo rules, and the plugin's
/// switches.
class SetupPanel final : public juce::Component {
public:
    /// `hosted`: in a host, which records, loops and has bars to start at.
    SetupPanel(Parameters& parameters, bool hosted);

    /// Shows a configuration without telling anyone.
    void show(const SessionConfig& config);
    /// What takes of the drill cannot tell of the fingers, and what would; empty = all is told.
    void showLeftOpen(const std::vector<std::string>& words);

    /// The player changed something: the new configuration, to be refused or taken.
    std::function<void(SessionConfig)> onChange;
    /// Another drill was opened, with its tempo plan where the file has one.
    std::function<void(SessionConfig)> onDrill;
    void readDrillFile(const juce::File& file);
    /// An invented player is to be looked at; the first steps are to be gone again.
    std::function<void()> onLookRound, onFirstSteps;
    /// The player wants the round trip measured.
    std::function<void()> onMeasure;
    /// Return (what was typed is taken) or Escape (it is not) in a line of text: the keys are the window's
    /// again.
    std::function<void()> onLeft;
    void leave() const; ///< tells so
    /// Something in the fields cannot be read.
    std::function<void(const Problem&)> onProblem;

    void resized() override;
    void paint(juce::Graphics& g) override;
    void lookAndFeelChanged() override { repaint(); }
    /// What lies only in part in what is seen of it is not drawn: nothing is cut in mid-line.
    void showWhole(const juce::Rectangle<int>& seen);
    /// Height of everything at a width; the rest is scrolled.
    [[nodiscard]] int heightFor(int width) const;
    /// Players of the log, to choose among.
    void showPlayers(const std::vector<std::string>& names);
    /// What matters is open; the other parts are folded under their headings until they are wanted.
    void unfoldAll(bool wanted);
    /// Its height has changed.
    std::function<void()> onHeight;
    /// While the player is asked to press a key or pedal: the one pressed last (count 0 = none yet).
    void heard(bool isController, int number);
    [[nodiscard]] bool learning() const;
    void setSpelling(std::optional<Spelling> wanted); ///< absent = as the instrument's notes are spelled

private:
    static constexpr std::size_t partCount = 5;
    /// The parts of the set-up with their headings, from above.
    [[nodiscard]] std::array<std::pair<Form*, const char*>, partCount> parts();
    void unfold(std::size_t part, bool wanted);
    void showOpen();
    void addBasics(Parameters& parameters);
    void addDrill();
    void addRules();
    void addPedals();
    void addLookRound();
    void tapped();
    void addSwitches(Parameters& parameters);
    void addTakeWay(juce::AudioParameterChoice& way);
    void addSwitch(juce::AudioParameterChoice& parameter, const juce::String& help, Form& form);
    void addSwitch(juce::AudioParameterBool& parameter, const juce::String& help, Form& form);
    void addNumberSwitch(juce::RangedAudioParameter& parameter, const juce::String& help, Form& form);
    void addChoices(juce::ComboBox& box, const juce::StringArray& texts);
    struct Span {
        double low, high, step;
        const char* unit;
    };
    void addNumber(Form& form, const juce::String& label, const juce::String& help, juce::Slider& slider,
                   const Span& span);
    void fillPitches();
    void showInstrument(const Instrument& played);
    void showPattern(const Drill& drill);
    void showRhythm(const Drill& drill);
    void showFingering(const Drill& drill);
    void showRules(const TempoRules& rules);
    void instrumentChosen();
    void drillFileWanted(bool save);
    void changed();
    [[nodiscard]] Result<SessionConfig> entered() const;
    [[nodiscard]] MidiNote pitchAt(const juce::ComboBox& box) const;

    const bool inHost;
    SessionConfig current;
    std::vector<Segment> ownSegments;
    bool showing = false;
    bool headingSeen = true; ///< whole

    std::array<juce::TextButton, partCount> folds; ///< the first part has none
    std::array<bool, partCount> open{true};
    juce::TextEditor player;
    ChoiceBox players;
    ChoiceBox instrument, foot, firstTop, lastTop, growth, shape, noteValue, ratio, fingering, mixing;
    juce::TextEditor segments;
    juce::Slider repeats, countIn, rest, startBpm, stepPerDay, stepPerTake, ceiling, roundTrip;
    juce::TextButton measure;
    juce::ToggleButton keepSound, dropOldest;
    juce::Slider soundLimit;
    juce::TextButton openDrill, saveDrill, tap, lookRound, firstSteps;
    juce::Label tells; ///< below the drill's fields
    PedalField startPedal, markPedal, repeatPedal;
    std::optional<Spelling> spelling;
    TapTempo tapTempo;

    // What a host can automate.
    struct Switch {
        std::unique_ptr<juce::Component> control;
        std::unique_ptr<juce::ComboBoxParameterAttachment> choice;
        std::unique_ptr<juce::ButtonParameterAttachment> button;
        std::unique_ptr<juce::SliderParameterAttachment> slider;
    };
    std::vector<Switch> switches;
    ChoiceBox takeWay; ///< where no host is
    std::unique_ptr<juce::ParameterAttachment> takeWayAttachment;
    Form basics{460};
    Form drillForm{330}, rulesForm{330}, switchForm{330}, lookForm{330};
    std::unique_ptr<juce::FileChooser> chooser;
};

} // namespace valveladder
