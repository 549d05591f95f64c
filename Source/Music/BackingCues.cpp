#include "Music/BackingCues.h"

#include "Music/Backing.h"

namespace valveladder {

namespace {

BackingPart partOf(Backing part) {
    switch (part) {
    case Backing::pad:
        return BackingPart::pad;
    case Backing::bass:
        return BackingPart::bass;
    case Backing::drums:
        return BackingPart::drums;
    case Backing::click:
    case Backing::drone:
        break;
    }
    return BackingPart::drone;
}

} // namespace

std::vector<GuideCue> backingCues(const Score& score) {
    BackingSettings all;
    all.click = false;
    all.drone = all.pad = all.bass = all.drums = all.countIn = true;
    std::vector<GuideCue> cues;
    for (const BackingEvent& event : backingEvents(score, all)) {
        GuideCue cue;
        cue.tick = event.tick;
        cue.kind = event.begins ? GuideCue::Kind::backingOn : GuideCue::Kind::backingOff;
        cue.backing = partOf(event.part);
        cue.sounding = event.bytes[1];
        cue.velocity = event.begins ? event.bytes[2] : std::uint8_t{0};
        cues.push_back(cue);
    }
    return cues;
}

} // namespace valveladder
