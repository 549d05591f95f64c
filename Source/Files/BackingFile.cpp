#include "Files/BackingFile.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace valveladder {

namespace {

struct Row {
    Backing part;
    const char* title;
    bool BackingSettings::*plays;
    int BackingSettings::*channel;
    int program; ///< General MIDI, from 0; -1 on the percussion channel
};

constexpr std::array rows{
    Row{Backing::click, "Click", &BackingSettings::click, &BackingSettings::clickChannel, -1},
    Row{Backing::drone, "Drone", &BackingSettings::drone, &BackingSettings::droneChannel, 19},
    Row{Backing::pad, "Pad", &BackingSettings::pad, &BackingSettings::padChannel, 89},
    Row{Backing::bass, "Bass", &BackingSettings::bass, &BackingSettings::bassChannel, 33},
    Row{Backing::drums, "Drums", &BackingSettings::drums, &BackingSettings::drumChannel, -1},
};

int ticksFor(std::span<const SessionTake> takes, const BackingSettings& settings) {
    constexpr int usual = 960;
    for (const SessionTake& take : takes) {
        const auto inexact = [](Tick tick) { return tick * usual % ticksPerQuarter != 0; };
        const std::vector<BackingEvent> events = backingEvents(*take.score, settings);
        if (inexact(backingLength(*take.score, settings)) ||
            std::any_of(events.begin(), events.end(),
                        [&](const BackingEvent& event) { return inexact(event.tick); }))
            return ticksPerQuarter;
    }
    return usual;
}

} // namespace

SmfFile backingFile(std::span<const SessionTake> takes, const BackingSettings& settings,
                    const std::string& title) {
    SmfFile file;
    file.ticksPerQuarterNote = ticksFor(takes, settings);
    const auto fileTick = [&](Tick tick) { return tick * file.ticksPerQuarterNote / ticksPerQuarter; };
    file.tracks.push_back({{smfText(0, SmfMeta::trackName, title)}, 0});
    std::array<std::size_t, rows.size()> trackOf{};
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!(settings.*rows[i].plays))
            continue;
        trackOf[i] = file.tracks.size();
        file.tracks.push_back({{smfText(0, SmfMeta::trackName, rows[i].title)}, 0});
        if (rows[i].program >= 0)
            file.tracks.back().events.push_back(
                {0,
                 {static_cast<std::uint8_t>(0xC0 | (std::clamp(settings.*rows[i].channel, 1, 16) - 1)),
                  static_cast<std::uint8_t>(rows[i].program)}});
    }
    std::int64_t start = 0;
    for (std::size_t t = 0; t < takes.size(); ++t) {
        const Score& score = *takes[t].score;
        std::vector<SmfEvent>& tempoTrack = file.tracks.front().events;
        tempoTrack.push_back(smfMeter(start, score.meter.beats, score.meter.unit));
        tempoTrack.push_back(smfTempo(start, takes[t].bpm));
        tempoTrack.push_back(
            smfText(start, SmfMeta::marker, fmt::format("Loop {}: {:g} bpm", t + 1, takes[t].bpm)));
        for (const BackingEvent& event : backingEvents(score, settings))
            file.tracks[trackOf[static_cast<std::size_t>(event.part)]].events.push_back(
                {start + fileTick(event.tick), {event.bytes.begin(), event.bytes.end()}});
        start += fileTick(backingLength(score, settings));
    }
    for (SmfTrack& track : file.tracks)
        track.length = start;
    return file;
}

} // namespace valveladder
