#include "Session/Capture.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double bpmEpsilon = 1e-6;
constexpr double edgeSlackSeconds = 1e-5;

} // namespace

void Capture::block(const CaptureTime& time) {
    const bool changed = tempos.empty() || std::abs(tempos.back().bpm - time.time.bpm) > bpmEpsilon;
    if (changed)
        tempos.push_back({time.startSample, time.time.ppq, time.time.bpm, time.time.samplesPerQuarter});
    if (tempos.size() > maxTempoPoints)
        tempos.pop_front();
    lastPpq = time.ppqAt(time.time.samples);
}

void Capture::breakTime(std::int64_t sample) {
    for (Note& note : notes)
        if (!note.offPpq)
            note.offPpq = std::max(note.onPpq, lastPpq);
    // The next block sets a point of its own, since its ppq does not follow from this one's.
    if (!tempos.empty())
        tempos.push_back({sample, lastPpq, 0.0});
}

/// Where a host lets the tempo glide within its blocks, the tempo that it gave for a block's first sample is
/// not the one at which the block went by: what passed between two points tells that.
double Capture::effectiveBpm(const Tempo& from, const Tempo& to) {
    constexpr double mostOff = 1.5; // beyond it the points do not belong together
    const double share = (to.ppq - from.ppq) * from.samplesPerQuarter /
                         static_cast<double>(std::max<std::int64_t>(1, to.sample - from.sample));
    const bool together = to.bpm > 0.0 && share > 1.0 / mostOff && share < mostOff;
    return together ? from.bpm * share : from.bpm;
}

void Capture::event(const CaptureTime& time, const MidiEvent& event, int pitchOffset) {
    if (event.isNoteOn())
        noteOn(time, event, pitchOffset);
    else if (event.isNoteOff())
        noteOff(time, event);
    else if (event.isController())
        controller(time, event);
}

void Capture::noteOn(const CaptureTime& time, const MidiEvent& event, int pitchOffset) {
    noteOff(time, event); // a key struck again without release ends its first note
    Note note;
    note.onSample = time.startSample + event.sample;
    note.onPpq = time.ppqAt(event.sample);
    note.key = event.bytes[1];
    note.pitch = std::clamp(event.bytes[1] + pitchOffset, lowestMidiNote, highestMidiNote);
    note.velocity = event.bytes[2];
    note.channel = event.channel();
    notes.push_back(note);
    if (notes.size() > maxNotes)
        notes.pop_front();
}

void Capture::noteOff(const CaptureTime& time, const MidiEvent& event) {
    const auto open = std::find_if(notes.rbegin(), notes.rend(), [&](const Note& note) {
        return !note.offPpq && note.key == event.bytes[1] && note.channel == event.channel();
    });
    if (open != notes.rend())
        open->offPpq = std::max(open->onPpq, time.ppqAt(event.sample));
}

void Capture::controller(const CaptureTime& time, const MidiEvent& event) {
    const int valve = event.bytes[1] - firstValveController + 1;
    if (valve < 1 || valve > maxValves)
        return;
    bool& down = valveDown[static_cast<std::size_t>(valve - 1)];
    const bool pressed = event.bytes[2] >= switchOnFrom;
    if (pressed == down)
        return;
    down = pressed;
    valves.push_back({time.startSample + event.sample, time.ppqAt(event.sample), valve, pressed});
    if (valves.size() > maxNotes)
        valves.pop_front();
}

void Capture::forgetBefore(std::int64_t sample) {
    while (!notes.empty() && notes.front().onSample < sample && notes.front().offPpq)
        notes.pop_front();
    while (!valves.empty() && valves.front().sample < sample)
        valves.pop_front();
    // The last point before `sample` still says the tempo at `sample`.
    while (tempos.size() > 1 && tempos[1].sample <= sample)
        tempos.pop_front();
}

Capture::Heard Capture::heard(const Window& window) const {
    Heard result;
    std::vector<TempoMap::Point> points;
    for (std::size_t i = 0; i < tempos.size(); ++i) {
        const bool last = i + 1 == tempos.size();
        const bool over = !last && tempos[i + 1].sample <= window.fromSample;
        if (tempos[i].bpm <= 0.0 || over || tempos[i].sample >= window.toSample)
            continue;
        result.bpmLow = points.empty() ? tempos[i].bpm : std::min(result.bpmLow, tempos[i].bpm);
        result.bpmHigh = std::max(result.bpmHigh, tempos[i].bpm);
        points.push_back({tempos[i].ppq - window.lapStartPpq,
                          last ? tempos[i].bpm : effectiveBpm(tempos[i], tempos[i + 1])});
    }
    if (points.empty()) {
        constexpr TempoMap::Point notTold;
        points.push_back(notTold);
        result.bpmLow = result.bpmHigh = notTold.bpm;
    }
    result.tempo = TempoMap(points);

    const auto secondsAt = [&](double ppq) { return result.tempo.secondsAt(ppq - window.lapStartPpq); };
    for (const Note& note : notes)
        if (note.onSample >= window.fromSample && note.onSample < window.toSample)
            result.take.notes.push_back({secondsAt(note.onPpq),
                                         secondsAt(note.offPpq.value_or(std::max(note.onPpq, lastPpq))),
                                         note.pitch, note.velocity});
    for (const Valve& valve : valves)
        if (valve.sample >= window.fromSample && valve.sample < window.toSample)
            result.take.valves.push_back({secondsAt(valve.ppq), valve.valve, valve.pressed});
    // A first note that lies on the edge itself belongs to the take, whatever rounding says.
    result.take.span.fromSeconds = secondsAt(window.fromPpq) - edgeSlackSeconds;
    result.take.span.toSeconds = secondsAt(window.toPpq) - edgeSlackSeconds;
    return result;
}

} // namespace valveladder
