#include "Support/SimulatedPlayer.h"

#include "Listening/Measures.h"
#include "Tempo/TempoMap.h"

#include <algorithm>
#include <string>
#include <utility>

namespace valveladder::simulated {

namespace {

constexpr std::int64_t firstTakeUtcMs = 1709575200000; // 2024-03-04 18:00 UTC
constexpr std::int64_t minuteMs = 60000;

NoteResult rightNote(const ScoreNote& note, int index) {
    NoteResult result;
    result.index = index;
    result.outcome = Outcome::right;
    result.played = note.sounding;
    return result;
}

/// The evidence of a performance without fault or measure: what was asked for.
std::vector<ChangeEvidence> asked(const Drill& drill, const Instrument& instrument, const Score& score) {
    Performance plain;
    for (std::size_t i = 0; i < score.notes.size(); ++i)
        plain.notes.push_back(rightNote(score.notes[i], static_cast<int>(i)));
    return evidenceOf({}, drill, instrument, score, plain).changes;
}

double seconds(const TempoMap& tempo, Tick tick) {
    return tempo.secondsAt(static_cast<double>(tick) / ticksPerQuarter);
}

} // namespace

Player::Player(std::vector<Weak> weaknesses, Spread human, std::uint64_t seed)
    : weak(std::move(weaknesses)), spread(human), random(seed) {}

Performance Player::play(const Drill& drill, const Instrument& instrument, const Score& score,
                         double minutesPlayed) {
    const auto changes = asked(drill, instrument, score);
    const TempoMap tempo(score.bpm);
    extras.clear();
    for (const auto& weakness : weak)
        extras.push_back(weakness.extraMs * (1.0 + normal(spread.effectSd)));
    const double slower = normal(spread.takeSdMs) + spread.tiringMsPerMinute * minutesPlayed;
    const double later = spread.asynchronyMs + normal(spread.takeSdMs);
    std::uniform_real_distribution<double> chance(0.0, 1.0);

    Performance performance;
    performance.source = Source::sound;
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
        auto note = rightNote(score.notes[i], static_cast<int>(i));
        const double fate = chance(random);
        if (fate < spread.errorShare) {
            note.outcome = fate < spread.errorShare / 2.0 ? Outcome::missed : Outcome::wrong;
            note.played = note.outcome == Outcome::missed ? -1 : note.played + 1;
        }
        performance.notes.push_back(note);
    }
    std::vector<double> extraOf(score.notes.size(), 0.0);
    for (const auto& change : changes) {
        double extra = 0.0;
        for (std::size_t w = 0; w < weak.size(); ++w)
            if (weak[w].suspect.involves(change))
                extra = std::max(extra, extras[w]);
        const auto index = static_cast<std::size_t>(change.note);
        extraOf[index] = extra;
        if (performance.notes[index].outcome != Outcome::right ||
            performance.notes[index - 1].outcome != Outcome::right)
            continue;
        ChangeResult result;
        result.toIndex = change.note;
        result.change = change.change;
        result.slurred = score.notes[index].slurFromPrevious;
        result.changeoverMs =
            std::max(1.0, spread.changeoverMs + slower + extra + normal(spread.changeoverSdMs));
        performance.changes.push_back(result);
    }
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
        auto& note = performance.notes[i];
        if (note.outcome == Outcome::missed)
            continue;
        const double lateMs = later + normal(spread.onsetSdMs) + spread.lateShare * extraOf[i];
        note.onsetSeconds = seconds(tempo, score.notes[i].onset) + lateMs / 1000.0;
        note.offsetSeconds = *note.onsetSeconds + seconds(tempo, score.notes[i].gate) - seconds(tempo, 0);
    }
    fillMeasures(performance, score, tempo);
    return performance;
}

TakeFacts factsOf(int take, double bpm, int perDay) {
    TakeFacts facts;
    facts.id = "invented-" + std::to_string(take);
    facts.player = "Invented player";
    facts.drillName = "Chromatic ladder";
    facts.day = firstTakeUtcMs / 86400000 + take / perDay;
    facts.startedUtcMs =
        firstTakeUtcMs + (take / perDay) * 24 * 60 * minuteMs + (take % perDay) * 5 * minuteMs;
    facts.endedUtcMs = facts.startedUtcMs + 3 * minuteMs;
    facts.plannedBpm = facts.playedBpm = bpm;
    return facts;
}

std::vector<TakeEvidence> practise(Player& player, const Drill& drill, const Instrument& instrument,
                                   int count, double firstBpm, double* meanExtra) {
    std::vector<TakeEvidence> takes;
    for (int take = 0; take < count; ++take) {
        constexpr int perDay = 4;
        constexpr double stepBpm = 2.0;
        constexpr double ceilingBpm = 132.0;
        const double bpm = std::min(ceilingBpm, firstBpm + stepBpm * (take / perDay));
        const auto score = buildScore(drill, instrument, bpm);
        if (!score)
            return {};
        const auto performance = player.play(drill, instrument, score.value(), 3.0 * (take % perDay));
        if (meanExtra && !player.lastExtras().empty())
            *meanExtra += player.lastExtras().front() / count;
        auto facts = factsOf(take, bpm, perDay);
        facts.instrumentId = instrument.id;
        takes.push_back(evidenceOf(facts, drill, instrument, score.value(), performance));
    }
    return takes;
}

std::vector<ChangeEvidence> changesAsked(const Drill& drill, const Instrument& instrument) {
    constexpr double anyBpm = 60.0;
    const auto score = buildScore(drill, instrument, anyBpm);
    return score ? asked(drill, instrument, score.value()) : std::vector<ChangeEvidence>{};
}

Drill fullDrill(const Instrument& instrument) {
    Drill drill = defaultDrill(instrument);
    std::get<LadderPattern>(drill.pattern).shape = Shape::upDown;
    drill.fingering.policy = Policy::mixed;
    drill.fingering.mix = MixRule::perNote;
    return drill;
}

} // namespace valveladder::simulated
