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
constexpr double mostTones = 0.85;

/// Bounds of the features.
constexpr double mostDip = 8.0;
constexpr double usualOffset = 0.5;
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

/// An articulation that begins like `tone`.
bool comparable(const HeardNote& tone, const HeardNote& other, double semitones) {
    const auto glides = [](const HeardNote& n) { return n.start == HeardNote::Start::glide; };
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

double usualWeightOf(std::span<const HeardNote> notes) {
    std::vector<double> greatest;
    for (const HeardNote& note : notes)
        if (note.start != HeardNote::Start::rearticulated)
            greatest.push_back(0.0);
        else if (!greatest.empty())
            greatest.back() = std::max(greatest.back(), note.again.weight);
    return quantile(std::move(greatest), mostTones);
}

} // namespace

RearticulationFeatures RearticulationEvidence::features() const {
    return {1.0, std::log(std::max(weight, leastWeightCounted)), sameness, std::min(dipOverUsual, mostDip),
            std::log(usualOffset + usualWeight)};
}

double RearticulationEvidence::logOdds() const {
    const RearticulationFeatures numbers = features();
    return std::inner_product(numbers.begin(), numbers.end(), rearticulation::weights.begin(), 0.0);
}

std::vector<WeighedRearticulation> rearticulationsAmong(std::span<const HeardNote> notes) {
    std::vector<WeighedRearticulation> found;
    const double usualWeight = usualWeightOf(notes);
    Reference near; // of the tone that began last
    Reference ofItsPitch;
    Shape own;
    for (std::size_t i = 0; i < notes.size(); ++i) {
        if (notes[i].start != HeardNote::Start::rearticulated) {
            const bool again = i + 1 < notes.size() && notes[i + 1].start == HeardNote::Start::rearticulated;
            if (again) {
                near = {comparableShapes(notes, i, comparableSemitones), leastComparable};
                ofItsPitch = {comparableShapes(notes, i, samePitchSemitones), leastOfOnePitch};
                own = ownShape(notes[i]);
            }
            continue;
        }
        const HeardNote::Again& again = notes[i].again;
        double dip = dipOver(near, own, again.since);
        if (ofItsPitch.shapes.size() >= leastOfOnePitch)
            dip = std::min(dip, dipOver(ofItsPitch, own, again.since));
        found.push_back({i, {again.weight, again.sameness, dip, usualWeight}});
    }
    return found;
}

void weighRearticulations(std::span<HeardNote> notes) {
    for (const WeighedRearticulation& each : rearticulationsAmong(notes))
        notes[each.note].again.logOdds = each.evidence.logOdds();
}

} // namespace valveladder
