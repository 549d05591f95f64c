#include "Plugin/Parameters.h"

#include "Tempo/TempoMap.h"
#include "View/PluginWords.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <span>
#include <string>

namespace valveladder {

namespace {

constexpr int firstVersion = 1;
constexpr int soundVersion = 2;
constexpr int anyChannel = 0; // any other text than a number reads so

juce::ParameterID id(const char* text, int version = firstVersion) {
    return {text, version};
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
                                      std::span<const char* const> choices, int usual) {
    const juce::StringArray texts(choices.data(), static_cast<int>(choices.size()));
    return add<juce::AudioParameterChoice>(owner, id(name), label, texts, usual);
}

/// Told with one decimal.
juce::AudioParameterFloat* addFloat(juce::AudioProcessor& owner, const char* name, const char* label,
                                    juce::NormalisableRange<float> range, float usual, const char* unit) {
    // JUCE's own text follows the process's locale, which is the host's.
    const auto written = [](float value, int) { return juce::String(fmt::format("{:.1f}", value)); };
    return add<juce::AudioParameterFloat>(
        owner, id(name), label, range, usual,
        juce::AudioParameterFloatAttributes().withLabel(unit).withStringFromValueFunction(written));
}

using Ranged = juce::RangedAudioParameter;

} // namespace

Parameters::Parameters(juce::AudioProcessor& processor) : owner(processor) {
    guide = addSwitch(owner, "guide", words::guideParameter, true);
    click = addChoice(owner, "click", words::clickParameter, words::clickChoices, 2);
    valveLanes = addSwitch(owner, "valve-lanes", words::valveLanesParameter, true);
    midiClock = addSwitch(owner, "midi-clock", words::midiClockParameter, false);
    pitch = addChoice(owner, "pitch", words::pitchParameter, words::pitchChoices, 0);
    guideChannel = addNumber(owner, "guide-channel", words::guideChannelParameter, 1, 16, 1);
    clickChannel = addNumber(owner, "click-channel", words::clickChannelParameter, 1, 16, 10);
    startBar = addNumber(owner, "start-bar", words::startBarParameter, 1, 9999, 1);
    // By itself the drill starts over only where a host's transport rolls on.
    repeat = addSwitch(owner, "repeat", words::repeatParameter,
                       owner.wrapperType != juce::AudioProcessor::wrapperType_Standalone);
    takeWay = addChoice(owner, "take-way", words::takeWayParameter, words::takeWayChoices, 0);
    takeMark = addSwitch(owner, "take", words::takeParameter, false);
    runOwnClock = addSwitch(owner, "run-own-clock", words::ownClockParameter, false);
    tempoFrom = addChoice(owner, "tempo-from", words::tempoFromParameter, words::tempoFromChoices, 0);
    ownTempo =
        addFloat(owner, "own-tempo", words::ownTempoParameter,
                 {static_cast<float>(minBpm), static_cast<float>(maxBpm), 0.1F}, 60.0F, words::tempoUnit);
    soundThreshold = addFloat(owner, "sound-threshold", words::soundThresholdParameter, {-80.0F, 0.0F, 0.5F},
                              -45.0F, words::levelUnit);
    listenChannel = add<juce::AudioParameterInt>(
        owner, id("listen-channel"), words::listenChannelParameter, anyChannel, 16, anyChannel,
        juce::AudioParameterIntAttributes()
            .withStringFromValueFunction([](int channel, int) {
                return channel == anyChannel ? juce::String(words::anyChannel) : juce::String(channel);
            })
            .withValueFromStringFunction([](const juce::String& text) { return text.getIntValue(); }));
    link = addSwitch(owner, "link", words::linkParameter, false);
    addBacking();
    addSound();
}

void Parameters::addBacking() {
    constexpr std::array<const char*, backingPartCount> parts{"drone", "pad", "bass", "drums"}; // in ids
    static_assert(words::backingParameters.size() == parts.size());
    static_assert(words::backingChannelParameters.size() == parts.size());
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const std::string part = parts[i];
        backing[i] = addSwitch(owner, ("backing-" + part).c_str(), words::backingParameters[i], false);
        backingChannel[i] = addNumber(owner, (part + "-channel").c_str(), words::backingChannelParameters[i],
                                      1, 16, BackingChoice{}.channel[i]);
    }
}

void Parameters::addSound() {
    const bool noHost = owner.wrapperType == juce::AudioProcessor::wrapperType_Standalone;
    ownSound =
        add<juce::AudioParameterBool>(owner, id("own-sound", soundVersion), words::ownSoundParameter, noHost);
    const juce::StringArray tones(words::toneChoices.data(), static_cast<int>(words::toneChoices.size()));
    tone = add<juce::AudioParameterChoice>(owner, id("guide-tone", soundVersion), words::toneParameter, tones,
                                           static_cast<int>(OwnSoundSettings{}.tone));
    const auto level = [this](const char* name, const char* label) {
        const juce::NormalisableRange<float> range(static_cast<float>(OwnSoundSettings::silentDb),
                                                   static_cast<float>(OwnSoundSettings::loudestDb), 1.0F);
        return add<juce::AudioParameterFloat>(
            owner, id(name, soundVersion), label, range, static_cast<float>(OwnSoundSettings::usualDb),
            juce::AudioParameterFloatAttributes().withLabel(words::partLevelUnit));
    };
    clickLevel = level("click-level", words::clickLevelParameter);
    toneLevel = level("guide-tone-level", words::toneLevelParameter);
    backingLevel = level("backing-level", words::backingLevelParameter);
}

OwnSoundSettings Parameters::readSound() const noexcept {
    OwnSoundSettings sound;
    sound.on = ownSound->get();
    sound.tone = static_cast<ToneWhen>(tone->getIndex());
    sound.clickDb = static_cast<double>(clickLevel->get());
    sound.toneDb = static_cast<double>(toneLevel->get());
    sound.backingDb = static_cast<double>(backingLevel->get());
    return sound;
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
    controls.sound = readSound();
    return controls;
}

bool Parameters::kept(const juce::AudioProcessorParameter* parameter) const {
    return parameter != takeMark && parameter != runOwnClock;
}

ParameterValues Parameters::values() const {
    ParameterValues result;
    for (const auto* parameter : owner.getParameters())
        if (const auto* ranged = dynamic_cast<const Ranged*>(parameter); ranged != nullptr && kept(ranged))
            result[ranged->getParameterID().toStdString()] =
                static_cast<double>(ranged->convertFrom0to1(ranged->getValue()));
    return result;
}

void Parameters::set(const ParameterValues& values) {
    for (auto* parameter : owner.getParameters()) {
        auto* ranged = dynamic_cast<Ranged*>(parameter);
        if (ranged == nullptr || !kept(ranged))
            continue;
        const auto found = values.find(ranged->getParameterID().toStdString());
        if (found == values.end()) {
            ranged->setValueNotifyingHost(ranged->getDefaultValue());
            continue;
        }
        const auto& range = ranged->getNormalisableRange();
        const auto value = std::clamp(static_cast<float>(found->second), range.start, range.end);
        ranged->setValueNotifyingHost(ranged->convertTo0to1(value));
    }
}

} // namespace valveladder
