#include "Files/GuideFile.h"
#include "Guide/MidiEvent.h"
#include "Guide/OwnMessages.h"

#include <algorithm>
#include <array>
#include <deque>
#include <fmt/format.h>
#include <map>
#include <optional>

namespace valveladder {

namespace {

constexpr int allSoundOff = 120;
constexpr int allNotesOff = 123;

/// All tracks' events in order of time; in a tick, in order of track.
std::vector<const SmfEvent*> merged(const SmfFile& file) {
    std::vector<const SmfEvent*> events;
    for (const SmfTrack& track : file.tracks)
        for (const SmfEvent& event : track.events)
            events.push_back(&event);
    std::stable_sort(events.begin(), events.end(),
                     [](const SmfEvent* a, const SmfEvent* b) { return a->tick < b->tick; });
    return events;
}

double quarterOf(const SmfFile& file, std::int64_t tick) {
    return static_cast<double>(tick) / file.ticksPerQuarterNote;
}

Result<TempoMap> tempoOf(const SmfFile& file, std::span<const SmfEvent* const> events, double startQuarter) {
    std::vector<TempoMap::Point> points{{-startQuarter, defaultBpm}};
    for (const SmfEvent* event : events) {
        const auto microseconds = microsecondsOf(*event);
        if (!microseconds)
            continue;
        const double bpm = *microseconds > 0 ? microsecondsAMinute / *microseconds : 0.0;
        const double quarter = quarterOf(file, event->tick);
        if (bpm < minBpm || bpm > maxBpm)
            return Problem{fmt::format("a tempo event of {} microseconds a quarter; tempos from {} to {} "
                                       "quarters a minute can be used",
                                       *microseconds, minBpm, maxBpm),
                           fmt::format("quarter {:g}", quarter), "set that tempo in the file anew"};
        if (points.back().quarter == quarter - startQuarter)
            points.back().bpm = bpm;
        else
            points.push_back({quarter - startQuarter, bpm});
    }
    return TempoMap(std::move(points));
}

/// Turns messages into notes and valve moves. Times are seconds from the score's tick 0.
class TakeReader {
public:
    TakeReader(MidiTake& target, int wantedChannel) : take(target), channel(wantedChannel) {}

    void read(const SmfEvent& event, double seconds) {
        const int status = event.bytes[0];
        if (status >= 0xF0 || !heard((status & 0x0F) + 1))
            return;
        const int key = (status & 0x0F) << 8 | event.bytes[1];
        if (isNoteOn(event.bytes))
            noteOn(key, seconds, event.bytes[2]);
        else if (isNoteOff(event.bytes))
            noteOff(key, seconds);
        else if (isController(event.bytes))
            controller(key & 0xFF00, event.bytes[1], event.bytes[2], seconds);
    }

    /// Closes notes whose note-off is missing.
    void finish(double seconds) {
        for (auto& [key, indices] : open)
            for (const std::size_t index : indices)
                take.notes[index].offset = std::max(seconds, take.notes[index].onset);
        open.clear();
    }

private:
    [[nodiscard]] bool heard(int eventChannel) const {
        return channel == 0 ? eventChannel != percussionChannel : eventChannel == channel;
    }

    void noteOn(int key, double seconds, int velocity) {
        open[key].push_back(take.notes.size());
        take.notes.push_back({seconds, seconds, key & 0x7F, velocity});
    }

    /// The oldest open note of that pitch ends: some senders repeat a note before they end it.
    void noteOff(int key, double seconds) {
        const auto found = open.find(key);
        if (found == open.end() || found->second.empty())
            return;
        take.notes[found->second.front()].offset = seconds;
        found->second.pop_front();
    }

    void controller(int channelKey, int number, int value, double seconds) {
        if (number == allSoundOff || number == allNotesOff)
            return endAll(channelKey, seconds);
        const int valve = number - firstValveController + 1;
        if (valve < 1 || valve > maxValves)
            return;
        bool& isPressed = pressed[static_cast<std::size_t>(valve - 1)];
        if (isPressed == (value >= switchOnFrom))
            return;
        isPressed = !isPressed;
        take.valves.push_back({seconds, valve, isPressed});
    }

    void endAll(int channelKey, double seconds) {
        for (int pitch = lowestMidiNote; pitch <= highestMidiNote; ++pitch)
            while (open.contains(channelKey | pitch) && !open[channelKey | pitch].empty())
                noteOff(channelKey | pitch, seconds);
    }

    MidiTake& take;
    int channel;
    std::map<int, std::deque<std::size_t>> open; ///< channel and pitch to indices of sounding notes
    std::array<bool, maxValves> pressed{};
};

} // namespace

Result<RecordedTake> recordedTake(const SmfFile& file, int channel, double startQuarter) {
    if (file.format == 2)
        return Problem{"a file of format 2 holds separate pieces, not one take", "the file's header",
                       "export it again as format 0 or 1"};
    const std::vector<const SmfEvent*> events = merged(file);
    Result<TempoMap> tempo = tempoOf(file, events, startQuarter);
    if (!tempo)
        return tempo.problem();
    RecordedTake recorded{{}, std::move(tempo.value())};
    const auto secondsAt = [&](std::int64_t tick) {
        return recorded.tempo.secondsAt(quarterOf(file, tick) - startQuarter);
    };
    TakeReader reader(recorded.take, channel);
    for (const SmfEvent* event : events)
        reader.read(*event, secondsAt(event->tick));
    std::int64_t end = 0;
    for (const SmfTrack& track : file.tracks)
        end = std::max(end, track.length);
    reader.finish(secondsAt(end));
    return recorded;
}

} // namespace valveladder
