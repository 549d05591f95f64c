#include "Guide/Guide.h"

#include "Guide/GuideEvents.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace valveladder {

namespace {

constexpr std::int64_t never = std::numeric_limits<std::int64_t>::max();

std::uint8_t channelBits(int channel) {
    return static_cast<std::uint8_t>(channel - 1);
}

} // namespace

std::span<const MidiEvent> Guide::process(const HostBlock& block, const GuideTrack* track,
                                          const GuideSettings& settings) noexcept {
    events.clear();
    if (block.samples <= 0)
        return events.all();
    const GuideSettings now = tidied(settings);
    int firstSample = 0;
    std::optional<LoopSplit> split = splitAtLoopEnd(block);
    process(split ? split->head : block, firstSample, track, now);
    while (split && split->tail) {
        firstSample += split->head.samples;
        if (events.full()) { // what is left belongs to a pass that is over
            halt(firstSample);
            break;
        }
        const HostBlock tail = *split->tail;
        split = splitAtLoopEnd(tail);
        process(split ? split->head : tail, firstSample, track, now);
    }
    return events.all();
}

void Guide::reset() noexcept {
    clock = {};
    continuity.forget();
    note = click = {};
    backing = {};
    lanes = {};
}

bool Guide::sounding() const noexcept {
    return note.on || click.on ||
           std::any_of(backing.begin(), backing.end(), [](const Sounding& voice) { return voice.on; });
}

void Guide::process(const HostBlock& block, int firstSample, const GuideTrack* track,
                    const GuideSettings& settings) noexcept {
    if (const std::optional<BlockTime> time = blockTime(block))
        roll(*time, firstSample, track, settings);
    else
        halt(firstSample);
    before = settings;
}

void Guide::halt(int sample) noexcept {
    endAll(sample);
    setLanes(0, sample);
    clock.stop(sample, events);
    continuity.forget();
}

void Guide::roll(const BlockTime& time, int firstSample, const GuideTrack* track,
                 const GuideSettings& settings) noexcept {
    const bool jumped = !continuity.follows(time);
    const bool replaced = trackId != (track ? track->id() : 0) || before.startPpq != settings.startPpq ||
                          before.repeat != settings.repeat;
    if (settings.midiClock && (jumped || !before.midiClock))
        clock.locate(time, firstSample, events);
    if (!settings.midiClock)
        clock.stop(firstSample, events);
    if (jumped || replaced) {
        endAll(firstSample);
        trackId = track ? track->id() : 0;
        if (track)
            locate(time, *track, settings);
    }
    endSwitchedParts(firstSample, settings);
    if (jumped || replaced || !lanes.on)
        chaseLanes(time, firstSample, track, settings);
    while (!events.full()) {
        const std::int64_t cueAt =
            atEnd(cursor, track, settings) ? never : offsetOf(cursor, time, *track, settings);
        const std::int64_t pulseAt = settings.midiClock ? clock.nextOffset(time) : never;
        const std::int64_t at = std::min(cueAt, pulseAt);
        if (at >= time.samples)
            break;
        const int sample = firstSample + static_cast<int>(std::max<std::int64_t>(at, 0));
        if (pulseAt <= cueAt) {
            clock.pulse(sample, events);
            continue;
        }
        send(track->cues()[cursor.index], sample, settings);
        cursor = next(cursor, *track);
    }
    continuity.passed(time);
}

/// Puts the cursor on the first cue whose sample is not before the block.
void Guide::locate(const BlockTime& time, const GuideTrack& track, const GuideSettings& settings) noexcept {
    cursor = {};
    const std::vector<GuideCue>& cues = track.cues();
    if (cues.empty())
        return;
    const double period = quartersOf(track.score().length);
    cursor.lap = std::max<std::int64_t>(
        0, static_cast<std::int64_t>(std::floor((time.ppq - settings.startPpq) / period)));
    const Cursor lap = cursor;
    const auto first = std::partition_point(cues.begin(), cues.end(), [&](const GuideCue& cue) {
        const auto index = static_cast<std::size_t>(&cue - cues.data());
        return offsetOf({lap.lap, index}, time, track, settings) < 0;
    });
    cursor.index = static_cast<std::size_t>(first - cues.begin());
    if (first == cues.end())
        cursor = {lap.lap + 1, 0};
}

void Guide::endSwitchedParts(int sample, const GuideSettings& settings) noexcept {
    if (settings.notes != before.notes || settings.startingPitch != before.startingPitch ||
        settings.noteChannel != before.noteChannel || settings.soundingPitch != before.soundingPitch)
        end(note, sample);
    if (settings.click == ClickWhen::off || settings.click != before.click ||
        settings.clickChannel != before.clickChannel)
        end(click, sample);
    for (Sounding& voice : backing)
        if (!settings.backing.sends(voice.part) ||
            settings.backing.channelOf(voice.part) != before.backing.channelOf(voice.part))
            end(voice, sample);
    if (lanes.on && (!settings.valveLanes || channelBits(settings.noteChannel) != lanes.channel)) {
        setLanes(0, sample);
        lanes.on = false;
    }
}

void Guide::endAll(int sample) noexcept {
    end(note, sample);
    end(click, sample);
    for (Sounding& voice : backing)
        end(voice, sample);
}

void Guide::end(Sounding& part, int sample) noexcept {
    if (!part.on)
        return;
    events.add(sample, noteOffMessage(part.channel, part.key));
    part.on = false;
}

void Guide::begin(Sounding& part, std::array<std::uint8_t, 3> message, int sample) noexcept {
    const auto channel = static_cast<std::uint8_t>(message[0] & 0x0F);
    end(part, sample);
    endKey(channel, message[1], sample);
    events.add(sample, message);
    part.on = true;
    part.channel = channel;
    part.key = message[1];
}

/// A key that two parts share sounds once.
void Guide::endKey(std::uint8_t channel, std::uint8_t key, int sample) noexcept {
    const auto endSame = [&](Sounding& other) {
        if (other.channel == channel && other.key == key)
            end(other, sample);
    };
    endSame(note);
    endSame(click);
    for (Sounding& voice : backing)
        endSame(voice);
}

void Guide::beginBacking(const GuideCue& cue, int sample, const GuideSettings& settings) noexcept {
    const auto free =
        std::find_if(backing.begin(), backing.end(), [](const Sounding& voice) { return !voice.on; });
    if (free == backing.end())
        return;
    begin(*free, message(cue, settings), sample);
    free->part = cue.backing;
}

void Guide::endBacking(const GuideCue& cue, int sample) noexcept {
    for (Sounding& voice : backing)
        if (voice.on && voice.part == cue.backing && voice.key == cue.sounding)
            end(voice, sample);
}

/// Brings the lanes to the combination in force once the cues of the block's first sample are through.
void Guide::chaseLanes(const BlockTime& time, int sample, const GuideTrack* track,
                       const GuideSettings& settings) noexcept {
    unsigned target = 0;
    if (settings.valveLanes && !atEnd(cursor, track, settings)) {
        Cursor at = cursor;
        while (!atEnd(at, track, settings) && offsetOf(at, time, *track, settings) <= 0)
            at = next(at, *track);
        if (!atEnd(at, track, settings))
            target = track->cues()[at.index].lanesBefore;
    }
    lanes.on = settings.valveLanes;
    lanes.channel = channelBits(settings.noteChannel);
    setLanes(target, sample);
}

void Guide::setLanes(unsigned pressed, int sample) noexcept {
    const unsigned changed = pressed ^ lanes.pressed;
    for (int valve = 1; valve <= maxValves; ++valve) {
        const unsigned bit = 1U << (valve - 1);
        if (changed & bit)
            events.add(sample, valveMessage(lanes.channel, valve, (pressed & bit) != 0));
    }
    lanes.pressed = pressed;
}

void Guide::send(const GuideCue& cue, int sample, const GuideSettings& settings) noexcept {
    switch (cue.kind) {
    case GuideCue::Kind::noteOff:
    case GuideCue::Kind::pitchOff:
        return end(note, sample);
    case GuideCue::Kind::clickOff:
        return end(click, sample);
    case GuideCue::Kind::noteOn:
    case GuideCue::Kind::pitchOn:
        if (sends(settings, cue))
            begin(note, message(cue, settings), sample);
        return;
    case GuideCue::Kind::clickOn:
        if (sends(settings, cue))
            begin(click, message(cue, settings), sample);
        return;
    case GuideCue::Kind::backingOff:
        return endBacking(cue, sample);
    case GuideCue::Kind::backingOn:
        if (sends(settings, cue))
            beginBacking(cue, sample, settings);
        return;
    case GuideCue::Kind::valve:
        break;
    }
    const unsigned bit = 1U << (cue.valve - 1);
    if (lanes.on)
        setLanes(cue.pressed ? lanes.pressed | bit : lanes.pressed & ~bit, sample);
}

Guide::Cursor Guide::next(const Cursor& at, const GuideTrack& track) noexcept {
    if (at.index + 1 < track.cues().size())
        return {at.lap, at.index + 1};
    return {at.lap + 1, 0};
}

bool Guide::atEnd(const Cursor& at, const GuideTrack* track, const GuideSettings& settings) noexcept {
    return track == nullptr || track->cues().empty() || (at.lap > 0 && !settings.repeat);
}

/// Nearest sample from the block's first; negative for what the block before should have sent.
std::int64_t Guide::offsetOf(const Cursor& at, const BlockTime& time, const GuideTrack& track,
                             const GuideSettings& settings) noexcept {
    const Tick tick = at.lap * track.score().length + track.cues()[at.index].tick;
    return time.offsetOf(settings.startPpq + quartersOf(tick));
}

} // namespace valveladder
