#include "Plugin/Parameters.h"

#include "Tempo/TempoMap.h"

#include <algorithm>
#include <array>
#include <string>

namespace valveladder {

namespace {

constexpr int firstVersion = 1;

juce::ParameterID id(const char* text) {
    return {text, firstVersion};
}

/// Makes a parameter, hands it to the processor, and keeps a pointer.
template <typename Parameter, typename... Arguments>
Parameter* add(juce::AudioProcessor& owner, Arguments&&... arguments) {
    auto parameter = std::make_unique<Parameter>(std::forward<Arguments>(arguments)...);
    auto* pointer = parameter.get();
    owner.addParameter(parameter.release());
    return pointer;
}

juce::AudioParameterBool* addSwitch(juce::AudioProcessor& owner, const char* name, const char* label,
                                    bool on) {
    return add<juce::AudioParameterBool>(owner, id(name), label, on);
}

juce::AudioParameterInt* addNumber(juce::AudioProcessor& owner, const char* name, const char* label, int low,
                                   int high, int usual) {
    return add<juce::AudioParameterInt>(owner, id(name), label, low, high, usual);
}

juce::AudioParameterChoice* addChoice(juce::AudioProcessor& owner, const char* name, const char* label,
                                      const juce::StringArray& choices, int usual) {
    return add<juce::AudioParameterChoice>(owner, id(name), label, choices, usual);
}

juce::AudioParameterFloat* addFloat(juce::AudioProcessor& owner, const char* name, const char* label,
                                    juce::NormalisableRange<float> range, float usual, const char* unit) {
    return add<juce::AudioParameterFloat>(owner, id(name), label, range, usual,
                                          juce::AudioParameterFloatAttributes().withLabel(unit));
}

using Ranged = juce::RangedAudioParameter;

} // namespace

Parameters::Parameters(juce::AudioProcessor& processor) : owner(processor) {
    guide = addSwitch(owner, "guide", "Guide notes", true);
    click = addChoice(owner, "click", "Click", {"Off", "Count-in only", "Always"}, 2);
    valveLanes = addSwitch(owner, "valve-lanes", "Valve controllers", true);
    midiClock = addSwitch(owner, "midi-clock", "MIDI clock out", false);
    pitch = addChoice(owner, "pitch", "Guide pitch", {"Sounding", "Written"}, 0);
    guideChannel = addNumber(owner, "guide-channel", "Guide channel", 1, 16, 1);
    clickChannel = addNumber(owner, "click-channel", "Click channel", 1, 16, 10);
    startBar = addNumber(owner, "start-bar", "Start bar", 1, 9999, 1);
    repeat = addSwitch(owner, "repeat", "Repeat drill", true);
    takeWay = addChoice(owner, "take-way", "Takes by",
                        {"Recording pass", "Loop pass", "Playing", "Marker", "Hand"}, 0);
    takeMark = addSwitch(owner, "take", "Take", false);
    runOwnClock = addSwitch(owner, "run-own-clock", "Own clock", false);
    tempoFrom = addChoice(owner, "tempo-from", "Own clock tempo", {"Planned", "Set by hand"}, 0);
    ownTempo = addFloat(owner, "own-tempo", "Tempo by hand",
                        {static_cast<float>(minBpm), static_cast<float>(maxBpm), 0.1F}, 60.0F, "bpm");
    soundThreshold =
        addFloat(owner, "sound-threshold", "Sound threshold", {-80.0F, 0.0F, 0.5F}, -45.0F, "dBFS");
    listenChannel = addNumber(owner, "listen-channel", "Player's channel", 0, 16, 0);
    link = addSwitch(owner, "link", "Ableton Link", false);
    addBacking();
}

void Parameters::addBacking() {
    struct Row {
        const char* part;
        const char* label;
        const char* channelLabel;
    };
    constexpr std::array<Row, backingPartCount> rows{{{"drone", "Backing: drone", "Drone channel"},
                                                      {"pad", "Backing: chord pad", "Pad channel"},
                                                      {"bass", "Backing: bass", "Bass channel"},
                                                      {"drums", "Backing: drums", "Drum channel"}}};
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::string part = rows[i].part;
        backing[i] = addSwitch(owner, ("backing-" + part).c_str(), rows[i].label, false);
        backingChannel[i] = addNumber(owner, (part + "-channel").c_str(), rows[i].channelLabel, 1, 16,
                                      BackingChoice{}.channel[i]);
    }
}

Controls Parameters::read() const noexcept {
    Controls controls;
    controls.guide.notes = guide->get();
    controls.guide.click = static_cast<ClickWhen>(click->getIndex());
    controls.guide.valveLanes = valveLanes->get();
    controls.guide.midiClock = midiClock->get();
    controls.guide.soundingPitch = pitch->getIndex() == 0;
    controls.guide.noteChannel = guideChannel->get();
    controls.guide.clickChannel = clickChannel->get();
    for (std::size_t i = 0; i < backingPartCount; ++i) {
        controls.guide.backing.on[i] = backing[i]->get();
        controls.guide.backing.channel[i] = backingChannel[i]->get();
    }
    controls.guide.repeat = repeat->get();
    controls.way = static_cast<TakeWay>(takeWay->getIndex());
    controls.runOwnClock = runOwnClock->get();
    controls.tempoFrom = static_cast<TempoFrom>(tempoFrom->getIndex());
    controls.ownBpm = static_cast<double>(ownTempo->get());
    controls.startBar = startBar->get();
    controls.soundThresholdDb = static_cast<double>(soundThreshold->get());
    controls.listenChannel = listenChannel->get();
    controls.link = link->get();
    return controls;
}

bool Parameters::kept(const juce::AudioProcessorParameter* parameter) const {
    return parameter != takeMark && parameter != runOwnClock;
}

std::map<std::string, double> Parameters::values() const {
    std::map<std::string, double> result;
    for (const auto* parameter : owner.getParameters())
        if (const auto* ranged = dynamic_cast<const Ranged*>(parameter); ranged != nullptr && kept(ranged))
            result[ranged->getParameterID().toStdString()] =
                static_cast<double>(ranged->convertFrom0to1(ranged->getValue()));
    return result;
}

void Parameters::set(const std::map<std::string, double>& values) {
    for (auto* parameter : owner.getParameters())
        if (auto* ranged = dynamic_cast<Ranged*>(parameter); ranged != nullptr && kept(ranged))
            if (const auto found = values.find(ranged->getParameterID().toStdString());
                found != values.end()) {
                const auto& range = ranged->getNormalisableRange();
                const auto value = std::clamp(static_cast<float>(found->second), range.start, range.end);
                ranged->setValueNotifyingHost(ranged->convertTo0to1(value));
            }
}

} // namespace valveladder
