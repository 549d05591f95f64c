#include "Support/LifelikePlayer.h"

#include "Listening/Measures.h"
#include "Tempo/TempoMap.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace valveladder::simulated {

namespace {

std::size_t at(int index) {
    return static_cast<std::size_t>(index);
}

double secondsAt(const TempoMap& tempo, Tick tick) {
    return tempo.secondsAt(static_cast<double>(tick) / ticksPerQuarter);
}

NoteResult plainNote(const ScoreNote& note, int index) {
    NoteResult result;
    result.index = index;
    result.outcome = Outcome::right;
    result.played = note.sounding;
    return result;
}

/// The changes of the score as evidence without measures, by the note reached.
std::vector<ChangeEvidence> changesOf(const Drill& drill, const Instrument& instrument, const Score& score) {
    Performance plain;
    for (std::size_t i = 0; i < score.notes.size(); ++i)
        plain.notes.push_back(plainNote(score.notes[i], static_cast<int>(i)));
    return evidenceOf({}, drill, instrument, score, plain).changes;
}

} // namespace

LifelikePlayer::LifelikePlayer(std::vector<Weak> weaknesses, const Life& given, std::uint64_t seed)
    : weak(std::move(weaknesses)), life(given), random(seed) {
    life.pitchMs *= uniform(0.5, 1.0);
    life.accentMs *= uniform(0.5, 1.0);
    memory = uniform(0.6, 0.97);
}

double LifelikePlayer::heavy(double sd) {
    constexpr double freedom = 3.0;
    std::student_t_distribution<double> student(freedom);
    return sd * student(random) / std::sqrt(freedom / (freedom - 2.0));
}

double LifelikePlayer::uniform(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}

std::vector<double> LifelikePlayer::scatter(const Score& score) {
    std::vector<double> ms(score.notes.size());
    double drift = normal(life.driftSdMs);
    double phase = 0.0;
    int span = -1;
    for (std::size_t i = 0; i < ms.size(); ++i) {
        const auto& note = score.notes[i];
        if (note.span != span)
            phase = uniform(0.0, 2.0 * std::numbers::pi);
        span = note.span;
        const auto& whole = score.spans[at(span)];
        const double along =
            static_cast<double>(note.onset - whole.start) / static_cast<double>(whole.end - whole.start);
        drift = memory * drift + normal(life.driftSdMs * std::sqrt(1.0 - memory * memory));
        ms[i] = drift + heavy(life.heavySdMs) +
                life.rubatoMs * std::numbers::sqrt2 * std::sin(2.0 * std::numbers::pi * along + phase);
        if (uniform(0.0, 1.0) < life.blunderShare)
            ms[i] += uniform(60.0, 120.0);
    }
    return ms;
}

std::vector<double> LifelikePlayer::confounders(const Score& score) const {
    const auto [low, high] =
        std::minmax_element(score.notes.begin(), score.notes.end(),
                            [](const auto& a, const auto& b) { return a.written < b.written; });
    const double range = std::max(1, high->written - low->written);
    std::vector<double> ms(score.notes.size());
    for (std::size_t i = 0; i < ms.size(); ++i) {
        ms[i] = life.pitchMs * (high->written - score.notes[i].written) / range;
        if (i > 0 && score.notes[i - 1].accent && score.notes[i - 1].span == score.notes[i].span)
            ms[i] += life.accentMs;
    }
    return ms;
}

Performance LifelikePlayer::play(const Drill& drill, const Instrument& instrument, const Score& score) {
    const auto changes = changesOf(drill, instrument, score);
    const TempoMap tempo(score.bpm);
    extras.clear();
    for (const auto& weakness : weak)
        extras.push_back(weakness.extraMs * (1.0 + normal(life.effectSd)));
    std::vector<double> extraOf(score.notes.size(), 0.0);
    for (const auto& change : changes)
        for (std::size_t w = 0; w < weak.size(); ++w)
            if (weak[w].suspect.involves(change))
                extraOf[at(change.note)] = std::max(extraOf[at(change.note)], extras[w]);
    const auto own = scatter(score);
    const auto led = confounders(score);
    const double asynchrony = normal(life.takeSdMs) - 20.0;

    Performance performance;
    performance.source = Source::midi;
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
        auto note = plainNote(score.notes[i], static_cast<int>(i));
        const double fate = uniform(0.0, 1.0);
        if (fate < life.errorShare) {
            note.outcome = fate < life.errorShare / 2.0 ? Outcome::missed : Outcome::wrong;
            note.played = note.outcome == Outcome::missed ? -1 : note.played + 1;
        }
        if (note.outcome != Outcome::missed) {
            const double lateMs = asynchrony + own[i] + led[i] + extraOf[i];
            note.onsetSeconds = secondsAt(tempo, score.notes[i].onset) + lateMs / 1000.0;
            note.offsetSeconds =
                *note.onsetSeconds + secondsAt(tempo, score.notes[i].gate) - secondsAt(tempo, 0);
        }
        performance.notes.push_back(note);
    }
    if (life.sensors)
        for (const auto& change : changes) {
            const auto index = at(change.note);
            if (change.change.fingersMoved() == 0 || performance.notes[index].outcome != Outcome::right)
                continue;
            ChangeResult result;
            result.toIndex = change.note;
            result.change = change.change;
            result.slurred = score.notes[index].slurFromPrevious;
            result.fromSensors = true;
            result.changeoverMs =
                std::max(1.0, life.changeoverMs + extraOf[index] + heavy(life.heavySdMs) + own[index] / 4.0);
            performance.changes.push_back(result);
        }
    fillMeasures(performance, score, tempo);
    return performance;
}

TakeEvidence playTake(LifelikePlayer& player, const Drill& drill, const Instrument& instrument, int take,
                      double bpm, int perDay) {
    const Score score = buildScore(drill, instrument, bpm).value();
    auto facts = factsOf(take, bpm, perDay);
    facts.instrumentId = instrument.id;
    return evidenceOf(facts, drill, instrument, score, player.play(drill, instrument, score));
}

std::vector<TakeEvidence> practise(LifelikePlayer& player, const Drill& drill, const Instrument& instrument,
                                   int count, double firstBpm) {
    std::vector<TakeEvidence> takes;
    constexpr int perDay = 4;
    constexpr double stepBpm = 2.0, ceilingBpm = 132.0;
    for (int take = 0; take < count; ++take)
        takes.push_back(playTake(player, drill, instrument, take,
                                 std::min(ceilingBpm, firstBpm + stepBpm * (take / perDay)), perDay));
    return takes;
}

} // namespace valveladder::simulated
