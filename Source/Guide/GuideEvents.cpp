#include "Guide/GuideEvents.h"

#include "Guide/MidiEvent.h"
#include "Tempo/SampleTime.h"

#include <algorithm>

namespace valveladder {

namespace {

// MIDI 1.0: the release velocity of instruments that do not sense one.
constexpr std::uint8_t releaseVelocity = 64;

std::uint8_t statusByte(int status, int channel) {
    return static_cast<std::uint8_t>(status + channel - 1);
}

} // namespace

GuideSettings tidied(GuideSettings settings) noexcept {
    settings.noteChannel = std::clamp(settings.noteChannel, 1, 16);
    settings.clickChannel = std::clamp(settings.clickChannel, 1, 16);
    settings.clickHigh = std::clamp(settings.clickHigh, 0, 127);
    settings.clickLow = std::clamp(settings.clickLow, 0, 127);
    if (!usablePpq(settings.startPpq))
        settings.startPpq = 0.0;
    return settings;
}

bool sends(const GuideSettings& settings, const GuideCue& cue) noexcept {
    switch (cue.part()) {
    case GuidePart::notes:
        return settings.notes;
    case GuidePart::click:
        return settings.click == ClickWhen::always ||
               (settings.click == ClickWhen::countInOnly && cue.countIn);
    case GuidePart::valveLanes:
        return settings.valveLanes;
    }
    return false;
}

std::array<std::uint8_t, 3> message(const GuideCue& cue, const GuideSettings& settings) noexcept {
    const std::uint8_t pitch = settings.soundingPitch ? cue.sounding : cue.written;
    const auto click = static_cast<std::uint8_t>(cue.accent ? settings.clickHigh : settings.clickLow);
    switch (cue.kind) {
    case GuideCue::Kind::noteOn:
        return {statusByte(0x90, settings.noteChannel), pitch, cue.velocity};
    case GuideCue::Kind::noteOff:
        return {statusByte(0x80, settings.noteChannel), pitch, releaseVelocity};
    case GuideCue::Kind::clickOn:
        return {statusByte(0x90, settings.clickChannel), click, cue.velocity};
    case GuideCue::Kind::clickOff:
        return {statusByte(0x80, settings.clickChannel), click, releaseVelocity};
    case GuideCue::Kind::valve:
        break;
    }
    return {statusByte(0xB0, settings.noteChannel),
            static_cast<std::uint8_t>(firstValveController + cue.valve - 1),
            static_cast<std::uint8_t>(cue.pressed ? 127 : 0)};
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
