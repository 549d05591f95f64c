#include "Support/SlowFingers.h"

#include "Valves/Fingering.h"

#include <algorithm>
#include <cmath>

namespace valveladder::testing {

namespace {

/// Another pitch than the two notes', or nothing is heard of it.
constexpr double leastSemitones = 0.7;
/// The whole change leaves the notes beside it this share of their time at least.
constexpr double mostShare = 0.6;

/// Sounding pitch, fractional MIDI number, of the partial nearest to `near`.
double nearestPartial(const Instrument& instrument, Combination combination, double near) {
    const bool thumb = instrument.thumbValve && combination.has(4);
    const Side& side = instrument.sides[thumb ? 1 : 0];
    const Combination fingers(
        static_cast<std::uint8_t>(instrument.thumbValve ? combination.bits() & 0x07 : combination.bits()));
    const double lowest =
        instrument.sounding(side.fundamental) - loweringCents(side, instrument.compensation, fingers) / 100.0;
    double nearest = lowest + 12.0;
    for (int partial = 3; partial <= 16; ++partial)
        if (const double pitch = lowest + 12.0 * std::log2(partial);
            std::abs(pitch - near) < std::abs(nearest - near))
            nearest = pitch;
    return nearest;
}

class Player {
public:
    Player(const Instrument& played, Combination lateFingers, std::uint32_t seed)
        : instrument(played), slow(lateFingers), random(seed) {}

    std::optional<TrueStop> stopOf(const Change& change, double from, double to) {
        const unsigned moved = change.from.bits() ^ change.to.bits();
        if (change.fingersMoved() < 2 || uniform(0.0, 1.0) > 0.6)
            return std::nullopt;
        unsigned early = (moved & slow.bits()) != 0 ? moved & ~static_cast<unsigned>(slow.bits()) : 0U;
        while (early == 0 || early == moved)
            early = static_cast<unsigned>(random()) & moved;
        const Combination between(static_cast<std::uint8_t>(change.from.bits() ^ early));
        const double lips[] = {from, to, 0.5 * (from + to)};
        TrueStop stop;
        stop.midi = nearestPartial(instrument, between, lips[random() % 3]) + uniform(-0.12, 0.12);
        if (std::abs(stop.midi - from) < leastSemitones || std::abs(stop.midi - to) < leastSemitones)
            return std::nullopt;
        stop.late = Combination(static_cast<std::uint8_t>(moved & ~early));
        stop.travelMs = uniform(6.0, 16.0);
        stop.apartMs = stop.travelMs + uniform(15.0, 60.0);
        return stop;
    }

    double uniform(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    }
    Bend bend() { return bends[random() % std::size(bends)]; }

private:
    const Instrument& instrument;
    const Combination slow;
    std::mt19937 random;
};

} // namespace

SoundPlan planFingersApart(const Score& score, const Instrument& instrument, double bpm, std::uint32_t seed) {
    return planSlowFingers(score, instrument, bpm, seed, {});
}

SoundPlan planSlowFingers(const Score& score, const Instrument& instrument, double bpm, std::uint32_t seed,
                          Combination slow) {
    PlanStyle style;
    style.minChangeoverMs = 15.0;
    style.maxChangeoverMs = 80.0;
    SoundPlan plan = planTake(score, bpm, style, {8.0, 0, 0, 0, 0}, seed);
    Player player(instrument, slow, seed);
    for (std::size_t i = 1; i < plan.notes.size(); ++i) {
        TrueNote& note = plan.notes[i];
        if (!note.changeoverMs)
            continue;
        note.bend = player.bend();
        const TrueNote& before = plan.notes[i - 1];
        note.stop = player.stopOf(score.changeInto(note.index), before.midi, note.midi);
        if (!note.stop)
            continue;
        const double next = i + 1 < plan.notes.size() ? plan.notes[i + 1].onset : note.offset;
        const double room = 1000.0 * mostShare * std::min(note.onset - before.onset, next - note.onset);
        const BendPath path(
            {static_cast<double>(before.midi), static_cast<double>(note.midi), 0.0, note.bend, note.stop});
        if (path.wholeMs() < room)
            note.changeoverMs = path.wholeMs();
        else
            note.stop.reset();
    }
    return plan;
}

BrassVoice voiceFor(const Instrument& instrument) {
    const MidiNote foot = instrument.sounding(instrument.ladderFoot);
    if (foot >= 47)
        return trumpetVoice();
    if (instrument.thumbValve || foot >= 43)
        return hornVoice();
    return foot >= 37 ? euphoniumVoice() : tubaVoice();
}

} // namespace valveladder::testing
