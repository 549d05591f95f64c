#include "Guide/OwnMessages.h"

namespace valveladder {

bool isClick(const MidiEvent& event, const GuideSettings& settings) noexcept {
    const bool note = event.isNoteOn() || event.isNoteOff();
    const bool itsKey = event.bytes[1] == settings.clickHigh || event.bytes[1] == settings.clickLow;
    return settings.click != ClickWhen::off && note && itsKey && event.channel() == settings.clickChannel;
}

bool isNotThePlayers(const MidiEvent& event, const GuideSettings& settings, int listenChannel) noexcept {
    if (isClick(event, settings))
        return true;
    if (listenChannel != 0)
        return event.channel() != listenChannel;
    if (event.channel() == percussionChannel)
        return true;
    if (event.channel() == settings.noteChannel) // where the player may be as well
        return false;
    if (settings.click != ClickWhen::off && event.channel() == settings.clickChannel)
        return true;
    for (const BackingPart part :
         {BackingPart::drone, BackingPart::pad, BackingPart::bass, BackingPart::drums})
        if (settings.backing.sends(part) && event.channel() == settings.backing.channelOf(part))
            return true;
    return false;
}

} // namespace valveladder
