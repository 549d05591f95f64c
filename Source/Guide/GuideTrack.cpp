#include "Guide/GuideTrack.h"

#include <algorithm>
#include <atomic>

namespace valveladder {

namespace {

// General habit of click tracks: the bar's first beat louder. Common practice, no source.
constexpr std::uint8_t accentVelocity = 112;
constexpr std::uint8_t beatVelocity = 84;
constexpr std::uint8_t startingPitchVelocity = 80;
// A click is over well before the next one, whatever the beat.
constexpr int clicksPerBeat = 4;
// A beat shorter than this cannot be told from a tone; it keeps absurd meters from flooding the list.
constexpr int minBeatTicks = ticksPerQuarter / 16;

std::uint8_t dataByte(int value) {
    return static_cast<std::uint8_t>(std::clamp(value, 0, 127));
}

void addNotes(const Score& score, std::vector<GuideCue>& cues) {
    for (const ScoreNote& note : score.notes) {
        const Tick latest = std::max<Tick>(1, note.length);
        const Tick off = std::min(note.onset + std::clamp<Tick>(note.gate, 1, latest), score.length);
        if (note.onset < 0 || off <= note.onset)
            continue;
        GuideCue cue;
        cue.sounding = dataByte(note.sounding);
        cue.written = dataByte(note.written);
        cue.velocity = std::max<std::uint8_t>(1, dataByte(note.velocity));
        cue.kind = GuideCue::Kind::noteOn;
        cue.tick = note.onset;
        cues.push_back(cue);
        cue.kind = GuideCue::Kind::noteOff;
        cue.tick = off;
        cues.push_back(cue);
    }
}

/// What starts the player off, in the last bar of the count-in.
void addStartingPitch(const Score& score, std::vector<GuideCue>& cues) {
    const Tick bar = score.meter.unit > 0 ? score.meter.barTicks() : 0;
    if (score.notes.empty() || bar < minBeatTicks || score.countInTicks < bar)
        return;
    const ScoreNote& first = score.notes.front();
    GuideCue cue;
    cue.sounding = dataByte(first.sounding);
    cue.written = dataByte(first.written);
    cue.velocity = startingPitchVelocity;
    cue.kind = GuideCue::Kind::pitchOn;
    cue.tick = score.countInTicks - bar;
    cues.push_back(cue);
    cue.kind = GuideCue::Kind::pitchOff;
    cue.tick = score.countInTicks - (score.meter.beats > 1 ? score.meter.beatTicks() : bar / 2);
    cues.push_back(cue);
}

void addClicks(const Score& score, std::vector<GuideCue>& cues) {
    const Tick beat = score.meter.unit > 0 ? score.meter.beatTicks() : 0;
    if (beat < minBeatTicks || score.meter.beats < 1)
        return;
    for (Tick index = 0, tick = 0; tick < score.length; ++index, tick = index * beat) {
        GuideCue cue;
        cue.accent = index % score.meter.beats == 0;
        cue.countIn = tick < score.countInTicks;
        cue.velocity = cue.accent ? accentVelocity : beatVelocity;
        cue.kind = GuideCue::Kind::clickOn;
        cue.tick = tick;
        cues.push_back(cue);
        cue.kind = GuideCue::Kind::clickOff;
        cue.tick = std::min(tick + beat / clicksPerBeat, score.length);
        cues.push_back(cue);
    }
}

struct LaneChange {
    Tick tick = 0;
    std::uint8_t bits = 0;
};

/// The combination in force from each tick on, one entry a tick. Where a span ends on the onset of the next,
/// the next one's combination counts.
std::vector<LaneChange> laneChanges(const Score& score) {
    std::vector<LaneChange> changes;
    for (const ScoreSpan& span : score.spans)
        changes.push_back({std::min(span.end, score.length), 0});
    for (const ScoreNote& note : score.notes)
        if (note.onset >= 0 && note.onset < score.length)
            changes.push_back({note.onset, note.combination.bits()});
    changes.push_back({score.length, 0});
    std::stable_sort(changes.begin(), changes.end(),
                     [](const LaneChange& a, const LaneChange& b) { return a.tick < b.tick; });
    std::vector<LaneChange> last;
    for (const LaneChange& change : changes) {
        if (!last.empty() && last.back().tick == change.tick)
            last.back() = change;
        else
            last.push_back(change);
    }
    return last;
}

void addValves(const Score& score, std::vector<GuideCue>& cues) {
    std::uint8_t held = 0;
    for (const LaneChange& change : laneChanges(score)) {
        for (int valve = 1; valve <= maxValves; ++valve) {
            const bool pressed = Combination(change.bits).has(valve);
            if (pressed == Combination(held).has(valve))
                continue;
            GuideCue cue;
            cue.kind = GuideCue::Kind::valve;
            cue.tick = change.tick;
            cue.valve = static_cast<std::uint8_t>(valve);
            cue.pressed = pressed;
            cues.push_back(cue);
        }
        held = change.bits;
    }
}

void fillLanesBefore(std::vector<GuideCue>& cues) {
    unsigned lanes = 0;
    for (GuideCue& cue : cues) {
        cue.lanesBefore = static_cast<std::uint8_t>(lanes);
        if (cue.kind != GuideCue::Kind::valve)
            continue;
        const unsigned bit = 1U << (cue.valve - 1);
        lanes = cue.pressed ? lanes | bit : lanes & ~bit;
    }
}

void sortCues(std::vector<GuideCue>& cues) {
    std::stable_sort(cues.begin(), cues.end(), [](const GuideCue& a, const GuideCue& b) {
        return a.tick != b.tick ? a.tick < b.tick : a.kind < b.kind;
    });
    fillLanesBefore(cues);
}

std::uint64_t nextSerial() {
    static std::atomic<std::uint64_t> serials{0};
    return ++serials;
}

} // namespace

GuidePart GuideCue::part() const {
    if (kind == Kind::valve)
        return GuidePart::valveLanes;
    if (kind == Kind::backingOn || kind == Kind::backingOff)
        return GuidePart::backing;
    if (kind == Kind::pitchOn || kind == Kind::pitchOff)
        return GuidePart::startingPitch;
    return kind == Kind::noteOn || kind == Kind::noteOff ? GuidePart::notes : GuidePart::click;
}

std::vector<GuideCue> guideCues(const Score& score) {
    std::vector<GuideCue> cues;
    if (score.length <= 0)
        return cues;
    addNotes(score, cues);
    addStartingPitch(score, cues);
    addClicks(score, cues);
    addValves(score, cues);
    sortCues(cues);
    return cues;
}

GuideTrack::GuideTrack(Score scoreToLead, const std::vector<GuideCue>& backing)
    : lead(std::move(scoreToLead)), list(guideCues(lead)), serial(nextSerial()) {
    if (list.empty() || backing.empty())
        return;
    list.insert(list.end(), backing.begin(), backing.end());
    sortCues(list);
}

} // namespace valveladder
