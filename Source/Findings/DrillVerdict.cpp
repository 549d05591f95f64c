#include "Findings/DrillVerdict.h"

#include "Score/Score.h"

namespace valveladder {

namespace {

constexpr double anyBpm = 60.0; ///< what a drill can tell does not hang on its tempo
constexpr int perfectTakes = 2; ///< more of the same tell no more apart

Performance perfectPerformance(const Score& score) {
    Performance played;
    for (int i = 0; i < static_cast<int>(score.notes.size()); ++i) {
        const ScoreNote& note = score.notes[static_cast<std::size_t>(i)];
        NoteResult result;
        result.index = i;
        result.outcome = Outcome::right;
        result.played = note.sounding;
        result.deviationMs = result.rawDeviationMs = 0.0;
        played.notes.push_back(result);
    }
    return played;
}

Identifiability toldBy(const std::vector<TakeEvidence>& takes, const Instrument& instrument) {
    std::vector<TakeEvidence> several;
    for (int i = 0; i < perfectTakes; ++i)
        several.insert(several.end(), takes.begin(), takes.end());
    return identifiability(several, instrument.valves);
}

DrillRemedy bothWays(Drill drill) {
    if (auto* ladder = std::get_if<LadderPattern>(&drill.pattern))
        ladder->shape = Shape::upDown;
    return {true, false, {}, std::move(drill)};
}

DrillRemedy mixedFingerings(Drill drill, const Instrument& instrument) {
    drill.fingering.policy = instrument.thumbValve ? Policy::bothSides : Policy::mixed;
    drill.fingering.mix = MixRule::perSegment;
    return {false, true, {}, std::move(drill)};
}

/// Cells to play beside the drill.
std::optional<DrillRemedy> cellsBeside(const TakeEvidence& take, const Instrument& instrument) {
    auto found = drillThatSeparates({&take, 1}, {}, instrument, usualLimits(instrument, anyBpm));
    if (!found)
        return std::nullopt;
    return DrillRemedy{false, false, std::move(found->cells), std::move(found->drill)};
}

/// The first change, smallest first, after which nothing is left to tell apart.
std::optional<DrillRemedy> remedyFor(const Drill& drill, const TakeEvidence& take,
                                     const Instrument& instrument) {
    const DrillRemedy both = bothWays(drill);
    const DrillRemedy mixed = mixedFingerings(drill, instrument);
    const DrillRemedy bothAndMixed{true, true, {}, mixedFingerings(both.drill, instrument).drill};
    for (const DrillRemedy& remedy : {both, mixed, bothAndMixed}) {
        if (remedy.drill == drill)
            continue;
        const auto changed = perfectTake(remedy.drill, instrument);
        if (changed && toldBy({changed.value()}, instrument).complete())
            return remedy;
    }
    auto cells = cellsBeside(take, instrument);
    if (!cells)
        return std::nullopt;
    const auto played = perfectTake(cells->drill, instrument);
    if (played && toldBy({take, played.value()}, instrument).complete())
        return cells;
    return std::nullopt;
}

} // namespace

Result<TakeEvidence> perfectTake(const Drill& drill, const Instrument& instrument) {
    const auto score = buildScore(drill, instrument, anyBpm);
    if (!score)
        return score.problem();
    return evidenceOf({}, drill, instrument, score.value(), perfectPerformance(score.value()));
}

Result<DrillVerdict> verdictOn(const Drill& drill, const Instrument& instrument) {
    const auto take = perfectTake(drill, instrument);
    if (!take)
        return take.problem();
    DrillVerdict verdict;
    verdict.told = toldBy({take.value()}, instrument);
    if (verdict.told.complete())
        return verdict;
    verdict.remedy = remedyFor(drill, take.value(), instrument);
    return verdict;
}

} // namespace valveladder
