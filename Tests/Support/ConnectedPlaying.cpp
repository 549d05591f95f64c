#include "Support/ConnectedPlaying.h"

#include "Support/SoundRoom.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace valveladder::testing {

namespace {

constexpr double noiseDbfs = -60.0;

/// The tongue stops the air for a moment about `centre`: down by `db` in `fall` seconds, up again in `rise`.
void tongue(SoundTake& take, double centre, double db, double fall, double rise) {
    const double deep = 1.0 - std::pow(10.0, -db / 20.0);
    const auto first = static_cast<std::size_t>(std::max(0.0, (centre - fall) * take.rate));
    const auto last = std::min(take.samples.size(), static_cast<std::size_t>((centre + rise) * take.rate));
    for (std::size_t i = first; i < last; ++i) {
        const double away = static_cast<double>(i) / take.rate - centre;
        const double share = away < 0.0 ? 1.0 + away / fall : 1.0 - away / rise;
        take.samples[i] *= static_cast<float>(1.0 - deep * std::clamp(share, 0.0, 1.0));
    }
}

struct Stop {
    double leastDb;
    double mostDb;
    double fall;
    double rise;
};

void tongueEach(SoundTake& take, const Stop& stop, std::mt19937& random) {
    std::uniform_real_distribution<double> depth(stop.leastDb, stop.mostDb);
    for (const TrueNote& note : take.truth.notes)
        if (note.changeoverMs)
            tongue(take, note.onset, depth(random), stop.fall, stop.rise);
}

PlanStyle styleOf(Connection connection, std::mt19937& random) {
    PlanStyle style;
    style.articulation = Articulation::glide;
    style.minChangeoverMs = 8.0;
    style.maxChangeoverMs = 20.0;
    if (connection == Connection::portato) {
        style.articulation = Articulation::detached;
        style.gateShare = std::uniform_real_distribution<double>(0.85, 0.92)(random);
    } else if (connection == Connection::vibrato) {
        style.articulation = random() % 2 == 0 ? Articulation::detached : Articulation::glide;
        style.maxChangeoverMs = 60.0;
    }
    return style;
}

} // namespace

const char* nameOf(Connection connection) {
    constexpr const char* names[] = {"tenuto", "legato tongue", "portato", "vibrato"};
    return names[static_cast<std::size_t>(connection)];
}

void addVibrato(SoundTake& take, double cents, double hz, double phase) {
    const double turn = 2.0 * std::numbers::pi * hz / take.rate;
    const double depth = (std::exp2(cents / 1200.0) - 1.0) / turn; // samples
    const auto& x = take.samples;
    std::vector<float> out(x.size(), 0.0F);
    for (std::size_t i = 2; i + 2 < x.size(); ++i) {
        const double angle = turn * static_cast<double>(i) + phase;
        const double at = std::clamp(static_cast<double>(i) + depth * std::sin(angle), 1.0,
                                     static_cast<double>(x.size()) - 3.0);
        const auto k = static_cast<std::size_t>(at);
        const auto f = static_cast<float>(at - static_cast<double>(k));
        const float c1 = 0.5F * (x[k + 1] - x[k - 1]);
        const float c2 = x[k - 1] - 2.5F * x[k] + 2.0F * x[k + 1] - 0.5F * x[k + 2];
        const float c3 = 0.5F * (x[k + 2] - x[k - 1]) + 1.5F * (x[k] - x[k + 1]);
        const auto louder = static_cast<float>(std::pow(10.0, 0.05 * std::cos(angle)));
        out[i] = louder * (((c3 * f + c2) * f + c1) * f + x[k]);
    }
    take.samples = std::move(out);
}

RenderedTake renderConnected(const TakeRecipe& recipe, Connection connection) {
    std::mt19937 random(recipe.seed + 7919U * static_cast<std::uint32_t>(connection));
    const PlanStyle style = styleOf(connection, random);
    RunShape shape;
    shape.transposition = transpositionOf(recipe.kind);
    shape.slurred = style.articulation == Articulation::glide && random() % 2 == 0;
    RenderedTake rendered{chromaticRun(shape, recipe.bpm), {}};
    if (style.articulation == Articulation::detached)
        for (ScoreNote& note : rendered.score.notes)
            note.gate = static_cast<int>(style.gateShare * note.length);
    const PlanFaults faults{8.0, 0, 0, 0, 0};
    rendered.take = renderPlan(recipe, planTake(rendered.score, recipe.bpm, style, faults, recipe.seed));
    SoundTake& take = rendered.take;
    if (connection == Connection::tenuto)
        tongueEach(take, {10.0, 18.0, 0.012, 0.025}, random);
    else if (connection == Connection::legatoTongue)
        tongueEach(take, {3.0, 9.0, 0.008, 0.015}, random);
    else if (connection == Connection::vibrato)
        addVibrato(take, std::uniform_real_distribution<double>(20.0, 60.0)(random),
                   std::uniform_real_distribution<double>(4.0, 7.0)(random),
                   std::uniform_real_distribution<double>(0.0, 6.28)(random));
    addNoise(take, noiseDbfs, recipe.seed);
    return rendered;
}

} // namespace valveladder::testing
