#include "Support/KnownReports.h"

#include "Support/CorpusRun.h"
#include "Support/HeardStories.h"
#include "Support/Scores.h"
#include "Support/SlowFingers.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace valveladder::testing {

namespace {

constexpr double straySeconds = 0.12;
constexpr std::uint32_t crackSeed = 860000;

/// Whether something sounded about a moment that the score does not hold.
bool strayAt(const SoundPlan& truth, double seconds) {
    const auto near = [&](double place) { return std::abs(place - seconds) < straySeconds; };
    return std::ranges::any_of(truth.notes, [&](const TrueNote& note) {
        const bool unasked = note.index < 0 || note.wrong || note.splitAt || note.speaksThrough;
        return (unasked && near(note.onset)) || (note.splitAt && near(*note.splitAt));
    });
}

bool isSo(const WeighedReport& weighed, const SoundPlan& truth) {
    const TrueNote* note = truth.note(weighed.report.note);
    switch (weighed.report.kind) {
    case ReportKind::wrong:
    case ReportKind::missed:
        return note == nullptr || note->wrong;
    case ReportKind::split:
    case ReportKind::cracked:
        return note != nullptr && (note->splitAt || note->speaksThrough);
    case ReportKind::breath:
        return note != nullptr && note->breathBefore;
    case ReportKind::extra:
        return weighed.extra && strayAt(truth, weighed.onsetSeconds + truth.startSeconds);
    case ReportKind::valves:
        break;
    }
    return false;
}

/// Tongued notes, every fourth of which cracks where it can.
RenderedTake crackedTake(const Instrument& instrument, std::uint32_t seed) {
    const double bpm = 54.0 + (seed * 17) % 50;
    RenderedTake rendered{test::oneRung(instrument, bpm, false), {}};
    PlanStyle style;
    style.articulation = Articulation::detached;
    SoundPlan plan = planTake(rendered.score, bpm, style, {10.0, 1, 1, 1, 1}, seed);
    (void)crackNotes(plan, rendered.score, 4, seed);
    rendered.take = renderBrass(plan, voiceFor(instrument), seed);
    return rendered;
}

} // namespace

std::vector<KnownReport> knownReports(const RenderedTake& rendered, double bpm,
                                      const std::string& circumstances) {
    std::vector<KnownReport> known;
    for (const WeighedReport& weighed : listenTo(rendered.score, rendered.take, bpm).reports)
        known.push_back({weighed, isSo(weighed, rendered.take.truth), circumstances});
    return known;
}

std::vector<KnownReport> knownReports(Part part, int size) {
    std::vector<KnownReport> all;
    const auto add = [&](Life life, Condition condition) {
        visitTakes(life, part, condition, size, [&](const TakeInLife& take) {
            std::ranges::move(knownReports(take.rendered, take.bpm, nameOf(life)), std::back_inserter(all));
        });
    };
    for (const Life life : lives)
        add(life, Condition::stumbling);
    add(Life::dry, Condition::faulty); // the first of two articulations dies away under the second
    std::uint32_t seed = crackSeed + 1000U * static_cast<std::uint32_t>(part);
    for (int take = 0; take < size; ++take)
        for (const char* id : {"trumpet-b-flat", "horn-f", "euphonium-4-compensating-bass", "tuba-f-4"}) {
            const RenderedTake cracked = crackedTake(*findInstrument(id), ++seed);
            std::ranges::move(knownReports(cracked, cracked.score.bpm, "cracked"), std::back_inserter(all));
        }
    return all;
}

std::vector<KnownLate> knownLateFingers(std::uint32_t firstSeed, int takes, std::uint32_t every) {
    std::vector<KnownLate> known;
    std::uint32_t seed = firstSeed;
    for (int take = 0; take < takes; ++take)
        for (const Instrument& instrument : catalogue()) {
            if (++seed % every != 0)
                continue;
            const double bpm = 54.0 + (seed * 13) % 50;
            const Score score = test::oneRung(instrument, bpm);
            const SoundPlan plan = planFingersApart(score, instrument, bpm, seed);
            const SoundTake sound = renderBrass(plan, voiceFor(instrument), seed);
            for (const WeighedLate& late : listenTo(score, sound, bpm).late) {
                const TrueNote* note = plan.note(late.toIndex);
                known.push_back(
                    {late.evidence, note != nullptr && note->stop && note->stop->late == late.fingers});
            }
        }
    return known;
}

} // namespace valveladder::testing
