#include "Files/PartSmf.h"

#include "Guide/MidiEvent.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <optional>

namespace valveladder {

namespace {

constexpr int velocity = 80;
constexpr std::size_t maxBars = 200000;

struct SmfLine {
    std::size_t track = 0;
    int channel = 0; ///< 0..15
};

bool isMeta(const SmfEvent& event, std::uint8_t type, std::size_t size) {
    return event.bytes[0] == SmfMeta::status && event.bytes[1] == type && event.bytes.size() >= size;
}

std::string nameOf(const SmfTrack& track) {
    for (const SmfEvent& event : track.events)
        if (isMeta(event, SmfMeta::trackName, 2))
            return {event.bytes.begin() + 2, event.bytes.end()};
    return "";
}

std::vector<SmfLine> linesOf(const SmfFile& file) {
    std::vector<SmfLine> lines;
    for (std::size_t track = 0; track < file.tracks.size(); ++track) {
        std::array<bool, 16> heard{};
        for (const SmfEvent& event : file.tracks[track].events)
            if (isNoteOn(event.bytes))
                heard[event.bytes[0] & 0x0F] = true;
        for (int channel = 0; channel < 16; ++channel)
            if (heard[static_cast<std::size_t>(channel)])
                lines.push_back({track, channel});
    }
    return lines;
}

/// Notes of a line, sounding pitch, sorted by onset; chords still whole.
std::vector<PartNote> notesOf(const SmfFile& file, SmfLine line, int transposition) {
    std::vector<PartNote> notes;
    std::map<int, std::size_t> open;
    const SmfTrack& track = file.tracks[line.track];
    for (const SmfEvent& event : track.events) {
        if (event.bytes[0] >= 0xF0 || (event.bytes[0] & 0x0F) != line.channel ||
            (!isNoteOn(event.bytes) && !isNoteOff(event.bytes)))
            continue;
        const int key = event.bytes[1];
        if (const auto sounding = open.find(key); sounding != open.end()) {
            notes[sounding->second].length = event.tick - notes[sounding->second].onset;
            open.erase(sounding);
        }
        if (!isNoteOn(event.bytes))
            continue;
        open[key] = notes.size();
        notes.push_back(
            {event.tick, track.length - event.tick, key - transposition, key, false, false, 0, -1});
    }
    return notes;
}

void takeOneOfEachChord(Part& part, const PartChoice& choice) {
    std::vector<PartNote> line;
    int chords = 0;
    for (const PartNote& note : part.notes) {
        if (!line.empty() && line.back().onset == note.onset) {
            ++chords;
            if (choice.highest ? note.sounding > line.back().sounding : note.sounding < line.back().sounding)
                line.back() = note;
            continue;
        }
        if (!line.empty())
            line.back().length = std::min(line.back().length, note.onset - line.back().onset);
        line.push_back(note);
    }
    if (chords > 0)
        part.remarks.push_back(fmt::format("chords: the {} note of each is taken, {} left out",
                                           choice.highest ? "highest" : "lowest", chords));
    part.notes = std::move(line);
}

void readSigns(const SmfFile& file, Part& part) {
    for (const SmfTrack& track : file.tracks)
        for (const SmfEvent& event : track.events) {
            if (const auto microseconds = microsecondsOf(event); microseconds && *microseconds > 0)
                part.tempos.push_back({event.tick, microsecondsAMinute / *microseconds});
            else if (isMeta(event, SmfMeta::meter, 4) && event.bytes[2] > 0 && event.bytes[3] <= 6)
                part.meters.push_back({event.tick, event.bytes[2], 1 << event.bytes[3]});
            else if (isMeta(event, SmfMeta::key, 4))
                part.keys.push_back({event.tick, static_cast<std::int8_t>(event.bytes[2])});
        }
    const auto byTick = [](const auto& a, const auto& b) { return a.tick < b.tick; };
    std::stable_sort(part.tempos.begin(), part.tempos.end(), byTick);
    std::stable_sort(part.meters.begin(), part.meters.end(), byTick);
    std::stable_sort(part.keys.begin(), part.keys.end(), byTick);
}

std::optional<Problem> layBars(Part& part) {
    std::size_t next = 0;
    PartMeter meter;
    for (Tick at = 0; at < part.length || part.bars.empty();) {
        for (; next < part.meters.size() && part.meters[next].tick <= at; ++next)
            meter = part.meters[next];
        Tick length =
            std::max<Tick>(1, static_cast<Tick>(part.ticksPerQuarter) * 4 * meter.beats / meter.unit);
        if (next < part.meters.size())
            length = std::min(length, part.meters[next].tick - at);
        const int index = static_cast<int>(part.bars.size());
        part.bars.push_back({at, length, std::to_string(index + 1), index});
        at += length;
        if (part.bars.size() > maxBars)
            return Problem{"it is longer than " + std::to_string(maxBars) + " bars", "the file",
                           "export the part without the silence"};
    }
    for (PartNote& note : part.notes) {
        const auto after = std::partition_point(part.bars.begin(), part.bars.end(),
                                                [&](const PartBar& bar) { return bar.start <= note.onset; });
        note.bar = static_cast<int>(after - part.bars.begin()) - 1;
    }
    return std::nullopt;
}

/// Where the spot's first note is played, each time.
std::vector<Tick> beginsOf(const Part& part, const Marking& marking, const Spot& spot) {
    const auto noteOf = [&](int index) -> const PartNote& {
        return part.notes[static_cast<std::size_t>(marking.notes[static_cast<std::size_t>(index)].note)];
    };
    const PartNote& first = noteOf(spot.notes.front());
    std::vector<Tick> begins;
    for (const int index : spot.notes)
        if (index == spot.notes.front() || (first.source >= 0 && noteOf(index).source == first.source))
            begins.push_back(noteOf(index).onset);
    return begins;
}

} // namespace

std::vector<PartInfo> partsOf(const SmfFile& file) {
    std::vector<PartInfo> infos;
    for (const SmfLine line : linesOf(file)) {
        const int notes = static_cast<int>(notesOf(file, line, 0).size());
        infos.push_back({fmt::format("{} (track {}, channel {})", nameOf(file.tracks[line.track]),
                                     line.track + 1, line.channel + 1),
                         0,
                         {{"", notes}}});
    }
    return infos;
}

Result<Part> partFromSmf(const SmfFile& file, const PartChoice& choice, int transposition) {
    const std::vector<SmfLine> lines = linesOf(file);
    if (choice.part < 0 || choice.part >= static_cast<int>(lines.size()))
        return Problem{fmt::format("there is no line {} with notes in this file", choice.part + 1),
                       "the part", "choose one of those that it lists"};
    const SmfLine line = lines[static_cast<std::size_t>(choice.part)];
    Part part;
    part.name = nameOf(file.tracks[line.track]);
    part.ticksPerQuarter = file.ticksPerQuarterNote;
    part.transposition = transposition;
    part.notes = notesOf(file, line, transposition);
    for (const SmfTrack& track : file.tracks)
        part.length = std::max(part.length, track.length);
    takeOneOfEachChord(part, choice);
    readSigns(file, part);
    if (std::optional<Problem> problem = layBars(part))
        return *problem;
    return part;
}

SmfFile partFile(const Part& part, const Marking& marking, std::span<const Spot> spots) {
    SmfFile file;
    file.ticksPerQuarterNote = std::min(part.ticksPerQuarter, 32767);
    const auto fileTick = [&](Tick tick) {
        return static_cast<std::int64_t>(
            std::llround(static_cast<double>(tick) * file.ticksPerQuarterNote / part.ticksPerQuarter));
    };
    std::vector<SmfEvent> signs{smfText(0, SmfMeta::trackName, part.name)};
    for (const PartMeter& meter : part.meters)
        signs.push_back(smfMeter(fileTick(meter.tick), meter.beats, meter.unit));
    for (const PartTempo& tempo : part.tempos)
        signs.push_back(smfTempo(fileTick(tempo.tick), tempo.bpm));
    for (const Spot& spot : spots)
        for (const Tick begin : beginsOf(part, marking, spot))
            signs.push_back(smfText(fileTick(begin), SmfMeta::marker, spot.words));
    std::stable_sort(signs.begin(), signs.end(),
                     [](const SmfEvent& a, const SmfEvent& b) { return a.tick < b.tick; });
    std::vector<SmfEvent> notes{smfText(0, SmfMeta::trackName, part.name)};
    for (const PartNote& note : part.notes) {
        if (note.length == 0 || note.sounding < lowestMidiNote || note.sounding > highestMidiNote)
            continue;
        const auto key = static_cast<std::uint8_t>(note.sounding);
        notes.push_back({fileTick(note.onset), {noteOnStatus, key, velocity}});
        notes.push_back({fileTick(note.onset + note.length), {noteOffStatus, key, releaseVelocity}});
    }
    file.tracks = {{std::move(signs), fileTick(part.length)}, {std::move(notes), fileTick(part.length)}};
    return file;
}

} // namespace valveladder
