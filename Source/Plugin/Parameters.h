#pragma once

#include "Plugin/Controls.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <array>

namespace valveladder {

/// Every automatable parameter, defined once: id, label, unit, range, default, version in which it came.
/// Ids, ranges and order of choices are kept in sessions of hosts: never change one, only add.
/// The processor owns the parameters; this struct points at them.
struct Parameters {
    /// [message] Makes the parameters and gives them to `owner`.
    explicit Parameters(juce::AudioProcessor& owner);

    /// [audio] Lock-free.
    [[nodiscard]] Controls read() const noexcept;

    /// [message] Of all that a state keeps: not of Take and Own clock, which would start something when a
    /// session is opened.
    [[nodiscard]] ParameterValues values() const;
    /// [message] Sets those that are named and known; values out of range are brought into it. The others
    /// take their defaults: a state is older than they are.
    void set(const ParameterValues& values);

    juce::AudioParameterBool* guide = nullptr;
    juce::AudioParameterChoice* click = nullptr;
    juce::AudioParameterBool* valveLanes = nullptr;
    juce::AudioParameterBool* midiClock = nullptr;
    juce::AudioParameterChoice* pitch = nullptr;
    juce::AudioParameterInt* guideChannel = nullptr;
    juce::AudioParameterInt* clickChannel = nullptr;
    juce::AudioParameterInt* startBar = nullptr;
    juce::AudioParameterBool* repeat = nullptr;
    juce::AudioParameterChoice* takeWay = nullptr;
    juce::AudioParameterBool* takeMark = nullptr; ///< momentary: each rise is a mark
    juce::AudioParameterBool* runOwnClock = nullptr;
    juce::AudioParameterChoice* tempoFrom = nullptr;
    juce::AudioParameterFloat* ownTempo = nullptr;
    juce::AudioParameterFloat* soundThreshold = nullptr;
    juce::AudioParameterInt* listenChannel = nullptr;
    juce::AudioParameterBool* link = nullptr;
    std::array<juce::AudioParameterBool*, backingPartCount> backing{}; ///< by BackingPart
    std::array<juce::AudioParameterInt*, backingPartCount> backingChannel{};
    juce::AudioParameterBool* ownSound = nullptr; ///< on at first where no host makes sound of the MIDI
    juce::AudioParameterChoice* tone = nullptr;
    juce::AudioParameterFloat* clickLevel = nullptr;
    juce::AudioParameterFloat* toneLevel = nullptr;
    juce::AudioParameterFloat* backingLevel = nullptr;

private:
    void addBacking();
    void addSound();
    [[nodiscard]] OwnSoundSettings readSound() const noexcept;
    [[nodiscard]] bool kept(const juce::AudioProcessorParameter* parameter) const;

    juce::AudioProcessor& owner;
};

} // namespace valveladder
