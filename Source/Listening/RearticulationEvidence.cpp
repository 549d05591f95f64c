#include "Listening/RearticulationEvidence.h"

#include "Listening/Estimates.h"
#include "Listening/RearticulationEvidenceConstants.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>
#include <vector>

namespace valveladder {

namespace {

/// Tones that compare: begun alike, so many semitones apart at most, the nearest in time of them.
constexpr double comparableSemitones = 2.5;
constexpr std::size_t mostComparable = 24;
constexpr std::size_t leastComparable = 6;
/// Tones of one pitch, within so many semitones, tell by themselves what is usual for it, from so many on: in
/// a room its level dips at the same time after each onset, where the echoes meet it.
constexpr double samePitchSemitones = 0.5;
constexpr std::size_t leastOfOnePitch = 3;
/// Left out at a tone's end, where it dies away.
constexpr std::size_t dyingSteps = 6;
/// A tone's own level: this quantile of its first steps.
constexpr std::size_t levelSteps = 40;
constexpr double levelQuantile = 0.6;
/// A dip is sought so many steps about its place, and what it dips from so many steps away.
constexpr std::size_t placeSteps = 2;
constexpr std::size_t aboutSteps = 12;
constexpr std::size_t leastSteps = 12;
/// Where too few tones reach, the level is taken to stay as it is, within this many dB.
constexpr double steadySpreadDb = 1.0;
/// No player repeats a level more closely, dB.
constexpr double leastSpreadDb = 1.0;
/// Recurrence: what lies within so many seconds comes at the same time after a tone's beginning, in tones
/// that last for so many seconds longer. What tones of any pitch do at any time counts as so many tones of
/// its own, and as if one tone more had done so much of it. From half to twice as much the tuning parts fit
/// as well.
constexpr double sameTimeSeconds = 0.02;
constexpr double heardOnSeconds = 0.03;
constexpr double rateCountsFor = 2.0;
constexpr double firstRate = 0.2;

/// Bounds of the features.
constexpr double mostDip = 8.0;
constexpr double mostCommonDipDb = 20.0;
constexpr double commonDipDbAUnit = 5.0;
constexpr double mostSameness = 1.05; ///< so that what is the same has a logarithm
constexpr double leastRecurrence = 0.005;
constexpr double leastWeightCounted = 0.1;

/// Levels in dB, step by step; not a number where there is none.
using Shape = std::vector<double>;

/// Level over the tone's own, without its dying end.
Shape ownShape(const HeardNote& tone) {
    Shape shape;
    for (std::size_t k = 0; k + dyingSteps < tone.shape.size(); ++k)
        shape.push_back(tone.shape[k] == HeardNote::noLevel ? std::numeric_limits<double>::quiet_NaN()
                                                            : HeardNote::shapeDb * tone.shape[k]);
    std::vector<double> levels;
    for (std::size_t k = 0; k < std::min(shape.size(), levelSteps); ++k)
        if (!std::isnan(shape[k]))
            levels.push_back(shape[k]);
    const double level = quantile(std::move(levels), levelQuantile);
    for (double& db : shape)
        db -= level;
    return shape;
}

/// Tones that a tone is held against, and how many of them must reach a step to tell what is usual there.
struct Reference {
    std::vector<Shape> shapes;
    std::size_t least = leastComparable;
};

/// What they do at one step.
struct UsualLevel {
    double middle = 0.0;
    double spread = steadySpreadDb;
};

std::vector<double> levelsAt(std::span<const Shape> shapes, std::size_t step) {
    std::vector<double> levels;
    for (const Shape& shape : shapes)
        if (step < shape.size() && !std::isnan(shape[step]))
            levels.push_back(shape[step]);
    return levels;
}

UsualLevel usualAt(const Reference& reference, std::size_t step) {
    std::vector<double> levels = levelsAt(reference.shapes, step);
    if (levels.size() >= reference.least)
        return {median(levels), scaledMad(levels)};
    while (step-- > 0)
        if (levels = levelsAt(reference.shapes, step); levels.size() >= reference.least)
            return {median(levels), steadySpreadDb};
    return {};
}

bool glides(const HeardNote& note) {
    return note.start == HeardNote::Start::glide;
}

/// An articulation that begins like `tone`.
bool comparable(const HeardNote& tone, const HeardNote& other, double semitones) {
    return other.start != HeardNote::Start::rearticulated && glides(tone) == glides(other) &&
           std::abs(tone.midi - other.midi) <= semitones;
}

/// Shapes of the comparable tones nearest in time to notes[first].
std::vector<Shape> comparableShapes(std::span<const HeardNote> notes, std::size_t first, double semitones) {
    std::vector<Shape> shapes;
    for (std::size_t away = 1; away < notes.size() && shapes.size() < mostComparable; ++away) {
        if (away <= first && comparable(notes[first], notes[first - away], semitones))
            shapes.push_back(ownShape(notes[first - away]));
        if (first + away < notes.size() && comparable(notes[first], notes[first + away], semitones))
            shapes.push_back(ownShape(notes[first + away]));
    }
    return shapes;
}

/// See RearticulationEvidence::dipOverUsual; `since` in seconds from the tone's first step.
double dipOver(const Reference& reference, const Shape& tone, double since) {
    const auto heard = std::ranges::find_if(tone, [](double db) { return !std::isnan(db); });
    const auto first = static_cast<std::size_t>(heard - tone.begin());
    const auto place = static_cast<std::size_t>(std::max(0.0, since / HeardNote::shapeStep));
    if (tone.size() < first + leastSteps || place < first || place >= tone.size())
        return 0.0;
    const auto back = [&](std::size_t k, std::size_t steps) { return std::max(first + steps, k) - steps; };
    const auto ahead = [&](std::size_t k, std::size_t steps) { return std::min(tone.size(), k + steps + 1); };
    const std::size_t from = back(place, placeSteps + aboutSteps);
    std::vector<UsualLevel> usual; // of the steps that are looked at
    for (std::size_t k = from; k < ahead(place, placeSteps + aboutSteps); ++k)
        usual.push_back(usualAt(reference, k));
    const auto excess = [&](std::size_t k) { return tone[k] - usual[k - from].middle; };
    std::size_t dip = place;
    for (std::size_t k = back(place, placeSteps); k < ahead(place, placeSteps); ++k)
        if (excess(k) < excess(dip))
            dip = k;
    double before = excess(dip);
    double after = before;
    for (std::size_t k = back(dip, aboutSteps); k < dip; ++k)
        before = std::max(before, excess(k));
    for (std::size_t k = dip + 1; k < ahead(dip, aboutSteps); ++k)
        after = std::max(after, excess(k));
    return (std::min(before, after) - excess(dip)) / (usual[dip - from].spread + leastSpreadDb);
}

/// What was heard of one tone: how it begins and every possible second articulation after that.
using HeardTone = std::span<const HeardNote>;

std::vector<HeardTone> tonesOf(std::span<const HeardNote> notes) {
    std::vector<HeardTone> tones;
    for (std::size_t first = 0, i = 1; i <= notes.size(); ++i)
        if (i == notes.size() || notes[i].start != HeardNote::Start::rearticulated) {
            tones.push_back(notes.subspan(first, i - first));
            first = i;
        }
    return tones;
}

double secondsOf(HeardTone tone) {
    return tone.back().offset - tone.front().onset;
}

/// Of a tone: how much it seems struck again, as a share of `again`, 0..1; `sameTime`: at the same time after
/// its beginning, or else at any.
double againShare(HeardTone tone, const HeardNote::Again& again, bool sameTime) {
    double most = 0.0;
    for (const HeardNote& note : tone.subspan(1))
        if (!sameTime || std::abs(note.again.since - again.since) < sameTimeSeconds)
            most = std::max(most, note.again.weight);
    return std::min(1.0, most / std::max(again.weight, leastWeightCounted));
}

/// RearticulationEvidence::recurrence of what may be a second articulation of tones[own].
double recurrenceOf(std::span<const HeardTone> tones, std::size_t own, const HeardNote::Again& again) {
    double atAnyTime = firstRate;
    double begunAlike = 1.0;
    double atSameTime = 0.0;
    double ofItsPitch = rateCountsFor;
    for (std::size_t i = 0; i < tones.size(); ++i) {
        if (i == own || glides(tones[i].front()) != glides(tones[own].front()))
            continue;
        atAnyTime += againShare(tones[i], again, false);
        begunAlike += 1.0;
        const double semitones = std::abs(tones[i].front().midi - tones[own].front().midi);
        if (semitones > samePitchSemitones || secondsOf(tones[i]) < again.since + heardOnSeconds)
            continue;
        atSameTime += againShare(tones[i], again, true);
        ofItsPitch += 1.0;
    }
    return (atSameTime + rateCountsFor * atAnyTime / begunAlike) / ofItsPitch;
}

} // namespace

RearticulationFeatures RearticulationEvidence::features() const {
    return {1.0,
            std::log(std::max(weight, leastWeightCounted)),
            -std::log(mostSameness - sameness),
            std::min(commonDipDb, mostCommonDipDb) / commonDipDbAUnit,
            std::min(dipOverUsual, mostDip),
            std::log(std::max(recurrence, leastRecurrence))};
}

double RearticulationEvidence::logOdds() const {
    const RearticulationFeatures numbers = features();
    return std::inner_product(numbers.begin(), numbers.end(), rearticulation::weights.begin(), 0.0);
}

std::vector<WeighedRearticulation> rearticulationsAmong(std::span<const HeardNote> notes) {
    std::vector<WeighedRearticulation> found;
    const std::vector<HeardTone> tones = tonesOf(notes);
    std::size_t first = 0; // of the tone's notes
    for (std::size_t t = 0; t < tones.size(); first += tones[t++].size()) {
        if (tones[t].size() < 2)
            continue;
        const Shape own = ownShape(notes[first]);
        const Reference near{comparableShapes(notes, first, comparableSemitones), leastComparable};
        const Reference ofItsPitch{comparableShapes(notes, first, samePitchSemitones), leastOfOnePitch};
        for (std::size_t i = first + 1; i < first + tones[t].size(); ++i) {
            const HeardNote::Again& again = notes[i].again;
            double dip = dipOver(near, own, again.since);
            if (ofItsPitch.shapes.size() >= leastOfOnePitch)
                dip = std::min(dip, dipOver(ofItsPitch, own, again.since));
            found.push_back(
                {i, {again.weight, again.sameness, again.commonDipDb, dip, recurrenceOf(tones, t, again)}});
        }
    }
    return found;
}

void weighRearticulations(std::span<HeardNote> notes) {
    for (const WeighedRearticulation& each : rearticulationsAmong(notes))
        notes[each.note].again.logOdds = each.evidence.logOdds();
}

} // namespace valveladder
