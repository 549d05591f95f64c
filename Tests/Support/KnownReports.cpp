#include "Support/KnownReports.h"

#include "Ladder/Drill.h"
#include "Listening/SoundListener.h"
#include "Support/HeardStories.h"
#include "Support/SlowFingers.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <memory>

namespace valveladder::testing {

namespace {

constexpr double straySeconds = 0.12;
constexpr std::uint32_t crackSeed = 860000;

const TrueNote* trueNote(const SoundPlan& truth, int index) {
    const auto found = std::ranges::find(truth.notes, index, &TrueNote::index);
    return found == truth.notes.end() ? nullptr : &*found;
}

/// Whether something sounded about a moment that the score does not hold.
bool strayAt(const SoundPlan& truth, double seconds) {
    return std::ranges::any_of(truth.notes, [&](const TrueNote& note) {
        const bool stray = note.index < 0 && std::abs(note.onset - seconds) < straySeconds;
        const bool again = note.splitAt && std::abs(*note.splitAt - seconds) < straySeconds;
        const bool first = note.splitAt && std::abs(note.onset - seconds) < straySeconds;
        const bool cracked = note.speaksThrough && std::abs(note.onset - seconds) < straySeconds;
        const bool wrong = note.wrong && std::abs(note.onset - seconds) < straySeconds;
        return stray || again || first || cracked || wrong;
    });
}

bool isSo(const WeighedReport& weighed, const SoundPlan& truth) {
    const TrueNote* note = trueNote(truth, weighed.report.note);
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

std::unique_ptr<SoundListener> heard(const RenderedTake& rendered, double bpm) {
    SoundSettings settings;
    settings.sampleRate = rendered.take.rate;
    settings.tempo = TempoMap(bpm);
    settings.startSeconds = rendered.take.truth.startSeconds;
    auto listener = std::make_unique<SoundListener>(rendered.score, settings);
    listener->push(rendered.take.samples);
    (void)listener->finish();
    return listener;
}

/// The first rung of the default drill.
Score oneRung(const Instrument& instrument, double bpm, bool slurred) {
    Drill drill = defaultDrill(instrument);
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder.lastTop = ladder.firstTop;
    for (Segment& segment : drill.segments)
        segment.slurred = slurred;
    return buildScore(drill, instrument, bpm).value();
}

/// Tongued notes, every fourth of which cracks where it can.
RenderedTake crackedTake(const Instrument& instrument, std::uint32_t seed) {
    const double bpm = 54.0 + (seed * 17) % 50;
    RenderedTake rendered{oneRung(instrument, bpm, false), {}};
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
    const auto listener = heard(rendered, bpm);
    std::vector<KnownReport> known;
    for (const WeighedReport& weighed : listener->reports())
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
    add(Life::dry, Condition::faulty); // the first of two strokes dies away under the second
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
            RenderedTake rendered{oneRung(instrument, bpm, true), {}};
            const SoundPlan plan = planFingersApart(rendered.score, instrument, bpm, seed);
            rendered.take = renderBrass(plan, voiceFor(instrument), seed);
            const auto listener = heard(rendered, bpm);
            for (const WeighedLate& late : listener->lateFingers()) {
                const TrueNote* note = trueNote(plan, late.toIndex);
                known.push_back(
                    {late.evidence, note != nullptr && note->stop && note->stop->late == late.fingers});
            }
        }
    return known;
}

} // namespace valveladder::testing
