#include "Guide/GuideEvents.h"

#include "Guide/MidiEvent.h"
#include "Tempo/SampleTime.h"

#include <algorithm>

namespace valveladder {

GuideSettings tidied(GuideSettings settings) noexcept {
    settings.noteChannel = std::clamp(settings.noteChannel, 1, 16);
    settings.clickChannel = std::clamp(settings.clickChannel, 1, 16);
    settings.clickHigh = std::clamp(settings.clickHigh, 0, 127);
    settings.clickLow = std::clamp(settings.clickLow, 0, 127);
    for (int& channel : settings.backing.channel)
        channel = std::clamp(channel, 1, 16);
    if (!usablePpq(settings.startPpq))
        settings.startPpq = 0.0;
    return settings;
}

bool sends(const GuideSettings& settings, const GuideCue& cue) noexcept {
    switch (cue.part()) {
    case GuidePart::notes:
        return settings.notes;
    case GuidePart::startingPitch:
        return settings.startingPitch;
    case GuidePart::click:
        return settings.click == ClickWhen::always ||
               (settings.click == ClickWhen::countInOnly && cue.countIn);
    case GuidePart::valveLanes:
        return settings.valveLanes;
    case GuidePart::backing:
        return settings.backing.sends(cue.backing);
    }
    return false;
}

std::array<std::uint8_t, 3> noteOffMessage(std::uint8_t channelBits, std::uint8_t key) noexcept {
    return {static_cast<std::uint8_t>(noteOffStatus | channelBits), key, releaseVelocity};
}

std::array<std::uint8_t, 3> valveMessage(std::uint8_t channelBits, int valve, bool pressed) noexcept {
    return {static_cast<std::uint8_t>(controllerStatus | channelBits),
            static_cast<std::uint8_t>(firstValveController + valve - 1),
            static_cast<std::uint8_t>(pressed ? 127 : 0)};
}

std::array<std::uint8_t, 3> message(const GuideCue& cue, const GuideSettings& settings) noexcept {
    const auto noteChannel = static_cast<std::uint8_t>(settings.noteChannel - 1);
    const auto clickChannel = static_cast<std::uint8_t>(settings.clickChannel - 1);
    const auto backing = static_cast<std::uint8_t>(settings.backing.channelOf(cue.backing) - 1);
    const std::uint8_t pitch = settings.soundingPitch ? cue.sounding : cue.written;
    const auto click = static_cast<std::uint8_t>(cue.accent ? settings.clickHigh : settings.clickLow);
    switch (cue.kind) {
    case GuideCue::Kind::noteOn:
    case GuideCue::Kind::pitchOn:
        return {static_cast<std::uint8_t>(noteOnStatus | noteChannel), pitch, cue.velocity};
    case GuideCue::Kind::noteOff:
    case GuideCue::Kind::pitchOff:
        return noteOffMessage(noteChannel, pitch);
    case GuideCue::Kind::clickOn:
        return {static_cast<std::uint8_t>(noteOnStatus | clickChannel), click, cue.velocity};
    case GuideCue::Kind::clickOff:
        return noteOffMessage(clickChannel, click);
    case GuideCue::Kind::backingOn:
        return {static_cast<std::uint8_t>(noteOnStatus | backing), cue.sounding, cue.velocity};
    case GuideCue::Kind::backingOff:
        return noteOffMessage(backing, cue.sounding);
    case GuideCue::Kind::valve:
        break;
    }
    return valveMessage(noteChannel, cue.valve, cue.pressed);
}

std::vector<GuideEvent> guideEvents(const Score& score, const GuideSettings& settings) {
    const GuideSettings tidy = tidied(settings);
    std::vector<GuideEvent> events;
    for (const GuideCue& cue : guideCues(score))
        if (sends(tidy, cue))
            events.push_back({cue.tick, static_cast<int>(cue.kind), cue.part(), 3, message(cue, tidy)});
    return events;
}

} // namespace valveladder
