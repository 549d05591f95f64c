#include "Tuning/RearticulationFit.h"

#include "Listening/SoundListener.h"
#include "Tuning/LogisticFit.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace valveladder::testing {

namespace {

/// From where a second articulation is found to where it is, seconds.
constexpr double nearSeconds = 0.04;

std::vector<HeardNote> heardIn(const RenderedTake& rendered) {
    const auto [low, high] = heardRange(rendered.score);
    SoundHearing hearing(rendered.take.rate, low, high, HalfDoneChanges(rendered.score));
    std::vector<HeardNote> notes;
    hearing.push(rendered.take.samples, notes);
    hearing.finish(notes);
    return dropImplausible(std::move(notes));
}

bool struckAgainAt(const SoundPlan& truth, double seconds) {
    return std::ranges::any_of(truth.notes, [seconds](const TrueNote& note) {
        return note.splitAt && std::abs(*note.splitAt - seconds) < nearSeconds;
    });
}

} // namespace

std::vector<KnownRearticulation> knownRearticulations(Part part, int size) {
    std::vector<KnownRearticulation> known;
    const auto add = [&](Life life, Condition condition) {
        visitTakes(life, part, condition, size, [&](const TakeInLife& take) {
            const std::vector<HeardNote> notes = heardIn(take.rendered);
            for (const WeighedRearticulation& each : rearticulationsAmong(notes))
                known.push_back(
                    {each.evidence, struckAgainAt(take.rendered.take.truth, notes[each.note].onset)});
        });
    };
    add(Life::dry, Condition::faulty);
    add(Life::dry, Condition::parted);
    add(Life::room, Condition::parted);
    return known;
}

std::string rearticulationHeader(std::span<const KnownRearticulation> known) {
    std::vector<Sample<rearticulationFeatures>> samples;
    for (const KnownRearticulation& each : known)
        samples.push_back({each.evidence.features(), each.so});
    return fmt::format(R"(#pragma once

#include "Listening/RearticulationEvidence.h"

namespace valveladder::rearticulation {{

/// In the order of RearticulationEvidence::features(); natural log odds. `valveladder_tuning rearticulations`
/// writes this header anew from the tuning parts.
inline constexpr RearticulationFeatures weights{{{:.2f}}};

}} // namespace valveladder::rearticulation
)",
                       fmt::join(fitted(samples), ", "));
}

} // namespace valveladder::testing
