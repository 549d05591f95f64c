#include "Files/GuideFile.h"

#include "Guide/GuideEvents.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace valveladder {

namespace {

constexpr int usualTicksPerQuarter = 960;

constexpr std::array allParts{GuidePart::notes, GuidePart::click, GuidePart::valveLanes};

const char* trackTitle(GuidePart part) {
    switch (part) {
    case GuidePart::notes:
        return "Guide";
    case GuidePart::startingPitch:
        return "Starting pitch";
    case GuidePart::click:
        return "Click";
    case GuidePart::valveLanes:
        return "Valves";
    case GuidePart::backing:
        return "Backing";
    }
    return "";
}

bool wanted(GuidePart part, const GuideSettings& settings) {
    switch (part) {
    case GuidePart::notes:
        return settings.notes;
    case GuidePart::startingPitch:
        return settings.startingPitch;
    case GuidePart::click:
        return settings.click != ClickWhen::off;
    case GuidePart::valveLanes:
        return settings.valveLanes;
    case GuidePart::backing:
        break; // has files of its own, see BackingFile.h
    }
    return false;
}

/// Lays scores end to end on the tracks of one file.
class FileLayout {
public:
    FileLayout(int ticksPerQuarterNote, const GuideSettings& guideSettings, const std::string& name,
               bool tempoOnly)
        : settings(guideSettings) {
        file.ticksPerQuarterNote = ticksPerQuarterNote;
        addTrack(name);
        if (tempoOnly)
            return;
        for (const GuidePart part : allParts)
            if (wanted(part, settings)) {
                parts.push_back(part);
                addTrack(trackTitle(part));
            }
    }

    void append(const Score& score, double bpm, const std::string& takeMarker) {
        appendTempo(score, bpm);
        if (!takeMarker.empty())
            tempoTrack().push_back(smfText(start, SmfMeta::marker, takeMarker));
        appendMarkers(score);
        appendParts(score);
        start += fileTick(score.length);
    }

    SmfFile finished() {
        for (SmfTrack& track : file.tracks)
            track.length = start;
        return std::move(file);
    }

private:
    void addTrack(const std::string& name) {
        file.tracks.push_back({{smfText(0, SmfMeta::trackName, name)}, 0});
    }

    std::vector<SmfEvent>& tempoTrack() { return file.tracks.front().events; }

    [[nodiscard]] std::int64_t fileTick(Tick tick) const {
        return tick * file.ticksPerQuarterNote / ticksPerQuarter;
    }

    void appendTempo(const Score& score, double bpm) {
        if (start == 0 || !(meter == score.meter))
            tempoTrack().push_back(smfMeter(start, score.meter.beats, score.meter.unit));
        meter = score.meter;
        tempoTrack().push_back(smfTempo(start, bpm));
    }

    void appendMarkers(const Score& score) {
        if (score.countInTicks > 0)
            tempoTrack().push_back(smfText(start, SmfMeta::marker, "Count-in"));
        for (const ScoreSpan& span : score.spans) {
            const auto rung = static_cast<std::size_t>(span.rung);
            const auto segment = static_cast<std::size_t>(span.segment);
            tempoTrack().push_back(
                smfText(start + fileTick(span.start), SmfMeta::marker,
                        fmt::format("Rung {} {}, segment {}: {}", span.rung + 1, score.rungLabels.at(rung),
                                    span.segment + 1, score.segmentNames.at(segment))));
        }
    }

    void appendParts(const Score& score) {
        if (parts.empty())
            return;
        for (const GuideEvent& event : guideEvents(score, settings)) {
            const auto track = std::find(parts.begin(), parts.end(), event.part) - parts.begin() + 1;
            file.tracks[static_cast<std::size_t>(track)].events.push_back(
                {start + fileTick(event.tick), {event.bytes.begin(), event.bytes.begin() + event.size}});
        }
    }

    GuideSettings settings;
    SmfFile file;
    std::vector<GuidePart> parts; ///< of tracks 1, 2, ...
    std::int64_t start = 0;       ///< where the next score lies, file ticks
    Meter meter;
};

} // namespace

int smfTicksPerQuarter(std::span<const Score* const> scores) {
    const auto exact = [](Tick tick) { return tick * usualTicksPerQuarter % ticksPerQuarter == 0; };
    for (const Score* score : scores) {
        if (!exact(score->length))
            return ticksPerQuarter;
        for (const GuideCue& cue : guideCues(*score))
            if (!exact(cue.tick))
                return ticksPerQuarter;
    }
    return usualTicksPerQuarter;
}

SmfFile guideFile(const Score& score, double bpm, const GuideSettings& settings, const std::string& title) {
    const Score* scores[] = {&score};
    FileLayout layout(smfTicksPerQuarter(scores), settings, title, false);
    layout.append(score, bpm, "");
    return layout.finished();
}

SmfFile sessionFile(std::span<const SessionTake> takes, const GuideSettings& settings,
                    const std::string& title, bool tempoOnly) {
    std::vector<const Score*> scores;
    for (const SessionTake& take : takes)
        scores.push_back(take.score);
    FileLayout layout(smfTicksPerQuarter(scores), settings, title, tempoOnly);
    for (std::size_t i = 0; i < takes.size(); ++i)
        layout.append(*takes[i].score, takes[i].bpm, fmt::format("Take {}: {:g} bpm", i + 1, takes[i].bpm));
    return layout.finished();
}

} // namespace valveladder
