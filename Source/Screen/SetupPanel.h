#pragma once

#include "Plugin/Parameters.h"
#include "Screen/DrillFields.h"
#include "Screen/Form.h"
#include "Session/SessionSetup.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <functional>
#include <memory>
#include <vector>

namespace valveladder {

/// Everything that is chosen before playing: player, instrument, drill, tempo rules, and the plugin's
/// switches.
class SetupPanel final : public juce::Component {
public:
    explicit SetupPanel(Parameters& parameters);

    /// Shows a configuration without telling anyone.
    void show(const SessionConfig& config);

    /// The player changed something: the new configuration, to be refused or taken.
    std::function<void(SessionConfig)> onChange;
    /// The player wants the round trip measured.
    std::function<void()> onMeasure;
    /// Something in the fields cannot be read.
    std::function<void(const Problem&)> onProblem;

    void resized() override;
    [[nodiscard]] int heightNeeded() const { return form.heightNeeded(); }

private:
    void addFields();
    void addSwitches(Parameters& parameters);
    void addChoices(juce::ComboBox& box, const juce::StringArray& texts);
    void addNumber(const juce::String& label, juce::Slider& slider, double low, double high, double step);
    void fillPitches();
    void instrumentChosen();
    void drillFileWanted(bool save);
    void readDrillFile(const juce::File& file);
    void changed();
    [[nodiscard]] Result<SessionConfig> entered() const;
    [[nodiscard]] MidiNote pitchAt(const juce::ComboBox& box) const;

    SessionConfig current;
    std::vector<Segment> ownSegments;
    bool showing = false;

    juce::TextEditor player;
    juce::ComboBox instrument, foot, firstTop, lastTop, growth, shape, noteValue, ratio, fingering, mixing;
    juce::TextEditor segments;
    juce::Slider repeats, countIn, rest, startBpm, stepPerDay, stepPerTake, ceiling, roundTrip, markNote,
        markController;
    juce::TextButton measure{"Measure..."};
    juce::ToggleButton keepSound{"on"}, dropOldest{"agreed"};
    juce::Slider soundLimit;
    juce::TextButton openDrill{"Open drill..."}, saveDrill{"Save drill..."};

    // What a host can automate.
    struct Switch {
        std::unique_ptr<juce::Component> control;
        std::unique_ptr<juce::ComboBoxParameterAttachment> choice;
        std::unique_ptr<juce::ButtonParameterAttachment> button;
        std::unique_ptr<juce::SliderParameterAttachment> slider;
    };
    std::vector<Switch> switches;
    Form form{5};
    std::unique_ptr<juce::FileChooser> chooser;
};

} // namespace valveladder
