#include "View/PlayModel.h"

#include "Guide/DrillPosition.h"
#include "View/Words.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

Notice noticeFor(const SessionView& view, InputSeen input, const Surroundings& around) {
    using enum Notice::Kind;
    if (view.logTrouble)
        return {logTrouble, true, words::logTroubleTitle, words::logTroubleWords(view)};
    if (!view.mismatch.empty())
        return {wrongTempo, true, words::wrongTempoTitle,
                view.mismatch + ". " + words::wrongTempoRemedy(around)};
    if (around.host && view.clock == Clock::none)
        return {noClock, false, words::noClockTitle, words::noClockWords(around)};
    if (around.host && view.clock == Clock::host && !view.playing)
        return {hostStands, false, words::hostStandsTitle, words::hostStandsWords(around)};
    if (view.playing && input == InputSeen::nothing)
        return {noInput, true, words::noInputTitle, words::noInputWords(around)};
    return {};
}

namespace {

/// Under this the listener does not know.
constexpr double leastConfidence = 0.3;
constexpr double halfSemitone = 0.5;

std::optional<PlayModel::Heard> heardIn(const SessionView& view, const Score& score) {
    if (!view.live || view.live->index < 0 || view.live->index >= static_cast<int>(score.notes.size()) ||
        view.live->midi < 0.0 || view.live->confidence < leastConfidence)
        return std::nullopt;
    const auto note = static_cast<std::size_t>(view.live->index);
    return PlayModel::Heard{note, std::abs(view.live->midi - score.notes[note].sounding) < halfSemitone};
}

DrillPosition positionOf(const Score& score, const ClockReading& clock, bool repeat) {
    GuideSettings guide;
    guide.startPpq = clock.startPpq;
    guide.repeat = repeat;
    return drillPosition(score, guide, clock.ppq);
}

} // namespace

bool hardlyBegun(const Score& score, const ClockReading& clock, bool repeat) {
    constexpr std::size_t notesUnheard = 8; // before it is said that nothing is heard
    if (!clock.playing || score.notes.empty() || clock.ppq < clock.startPpq)
        return true;
    const DrillPosition position = positionOf(score, clock, repeat);
    const std::size_t last = std::min(notesUnheard, score.notes.size()) - 1;
    return position.inside && position.tick < score.notes[last].onset;
}

PlayModel playModel(const SessionView& view, const ClockReading& clock, bool repeat, InputSeen input,
                    const Surroundings& around) {
    const Score& score = view.setup->score();
    PlayModel model;
    model.setup = view.setup;
    model.plannedBpm = view.setup->planned.bpm;
    model.realBpm = view.bpm;
    const words::StateWords take = words::takeState(view, around);
    model.take = take.state;
    model.clock = words::clockLine(view, take, around);
    model.inTake = view.inTake;
    model.notice = noticeFor(view, input, around);
    if (clock.playing) {
        const DrillPosition position = positionOf(score, clock, repeat);
        model.moving = position.inside;
        model.tick = static_cast<double>(position.tick);
        model.note = position.inside ? score.noteAt(position.tick) : score.notes.size();
        if (!position.inside && clock.ppq < clock.startPpq)
            model.note = 0;
    }
    model.heard = heardIn(view, score);
    model.place = words::place(score, model.note);
    if (model.moving && model.note < score.notes.size()) {
        const auto onset = static_cast<double>(score.notes[model.note].onset);
        if (model.tick < onset)
            model.beatsToEntry = static_cast<int>(std::ceil((onset - model.tick) / score.meter.beatTicks()));
        if (model.tick < static_cast<double>(score.countInTicks))
            model.countIn = static_cast<int>(model.tick / score.meter.beatTicks()) % score.meter.beats + 1;
    }
    return model;
}

} // namespace valveladder
