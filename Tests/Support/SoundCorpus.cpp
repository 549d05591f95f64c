#include "Support/SoundCorpus.h"

#include "Support/BrassSynth.h"
#include "Support/HeardStories.h"
#include "Support/SoundFontPlayer.h"
#include "Support/SoundRoom.h"

#include <array>
#include <cmath>
#include <map>
#include <memory>

namespace valveladder::testing {

const char* nameOf(BrassKind kind) {
    constexpr const char* names[] = {"trumpet", "horn", "euphonium", "tuba"};
    return names[static_cast<std::size_t>(kind)];
}
const char* nameOf(SoundSource source) {
    constexpr const char* names[] = {"large font", "small font", "synthesis"};
    return names[static_cast<std::size_t>(source)];
}

const char* nameOf(Condition condition) {
    constexpr const char* names[] = {"clean", "uneven", "faulty", "parted", "stumbling"};
    return names[static_cast<std::size_t>(condition)];
}

std::string TakeRecipe::name() const {
    return std::string(nameOf(source)) + " " + nameOf(kind) + " " + nameOf(articulation) + " " +
           std::to_string(static_cast<int>(bpm)) + " " + nameOf(condition) + " seed " + std::to_string(seed);
}

namespace {

/// Written F#3 sounds: B-flat trumpet E3, F horn B2, euphonium E2, B-flat tuba E1.
constexpr int transpositions[] = {-2, -7, -14, -26};
constexpr int programs[] = {56, 60, 57, 58};

bool inPart(Part part, SoundSource source, BrassKind kind) {
    const bool outer = kind == BrassKind::trumpet || kind == BrassKind::tuba;
    const bool tuning = source == SoundSource::smallFont ? !outer : outer;
    return tuning == (part == Part::tuning);
}

SoundFontPlayer& player(SoundSource source, BrassKind kind) {
    static std::map<std::pair<SoundSource, BrassKind>, std::unique_ptr<SoundFontPlayer>> players;
    auto& p = players[{source, kind}];
    if (!p)
        p = std::make_unique<SoundFontPlayer>(source == SoundSource::largeFont ? largeFont() : smallFont(),
                                              programs[static_cast<std::size_t>(kind)]);
    return *p;
}

BrassVoice voiceOf(BrassKind kind) {
    switch (kind) {
    case BrassKind::trumpet:
        return trumpetVoice();
    case BrassKind::horn:
        return hornVoice();
    case BrassKind::euphonium:
        return euphoniumVoice();
    case BrassKind::tuba:
        return tubaVoice();
    }
    return trumpetVoice();
}

void addSurroundings(SoundTake& take, const TakeRecipe& recipe) {
    constexpr double noiseDbfs[] = {-60.0, -50.0, -40.0};
    if (recipe.seed % 3 == 1)
        addRoom(take, 0.5, -10.0, recipe.seed);
    if (recipe.seed % 3 == 2) {
        addClicks(take, take.truth.startSeconds, 60.0 / recipe.bpm, -34.0);
        addHeldNote(take, 311.13, -56.0);
    }
    addNoise(take, noiseDbfs[(recipe.seed / 3) % 3], recipe.seed);
}

} // namespace

namespace {

bool isFaulty(Condition condition) {
    return condition >= Condition::faulty;
}

Tails tailsOf(Condition condition) {
    return condition >= Condition::parted ? Tails::silentBeforeSecondArticulations : Tails::ofTheFont;
}

struct PartPlan {
    std::array<double, 3> tempos;
    std::uint32_t seed;
};

PartPlan planOf(Part part) {
    switch (part) {
    case Part::tuning:
        return {{63.0, 84.0, 112.0}, 1000};
    case Part::seen:
        return {{60.0, 100.0, 138.0}, 5000};
    case Part::tallied:
        return {{66.0, 92.0, 132.0}, 90000};
    case Part::third:
        return {{72.0, 96.0, 126.0}, 310000};
    case Part::test:
        return {{72.0, 96.0, 126.0}, 510000};
    case Part::later:
        return {{68.0, 104.0, 120.0}, 710000};
    case Part::rooms:
        return {{70.0, 108.0, 128.0}, 920000};
    case Part::halls:
        return {{64.0, 98.0, 118.0}, 1130000};
    }
    return {};
}

} // namespace

std::vector<TakeRecipe> recipes(Part part, Condition condition, int size) {
    const PartPlan plan = planOf(part);
    std::vector<TakeRecipe> all;
    std::uint32_t seed = plan.seed;
    std::size_t turn = 0; // so that a small size has every tempo too
    for (const SoundSource source : {SoundSource::largeFont, SoundSource::smallFont, SoundSource::synthesis})
        for (const BrassKind kind :
             {BrassKind::trumpet, BrassKind::horn, BrassKind::euphonium, BrassKind::tuba})
            for (const Articulation articulation :
                 {Articulation::detached, Articulation::slur, Articulation::glide}) {
                const bool font = source != SoundSource::synthesis;
                const std::string path = source == SoundSource::largeFont ? largeFont() : smallFont();
                if (!inPart(part, source, kind) || (font && path.empty()) ||
                    (!font && articulation == Articulation::slur))
                    continue;
                for (int i = 0; i < size; ++i)
                    all.push_back({source, kind, articulation, condition,
                                   plan.tempos[(turn + static_cast<std::size_t>(i)) % plan.tempos.size()],
                                   ++seed});
                ++turn;
            }
    return all;
}

int transpositionOf(BrassKind kind) {
    return transpositions[static_cast<std::size_t>(kind)];
}

SoundTake renderPlan(const TakeRecipe& recipe, const SoundPlan& plan) {
    return recipe.source == SoundSource::synthesis
               ? renderBrass(plan, voiceOf(recipe.kind), recipe.seed)
               : player(recipe.source, recipe.kind).render(plan, tailsOf(recipe.condition));
}

RenderedTake renderTake(const TakeRecipe& recipe, bool surroundings) {
    RunShape shape;
    shape.transposition = transpositionOf(recipe.kind);
    shape.slurred = recipe.articulation != Articulation::detached;
    PlanStyle style;
    style.articulation = recipe.articulation;
    style.minChangeoverMs = 15.0;
    style.maxChangeoverMs = 150.0;
    PlanFaults faults;
    if (recipe.condition == Condition::uneven)
        faults.jitterMs = 10.0;
    if (isFaulty(recipe.condition))
        faults = {15.0, 1, 1, 1, 1};
    if (recipe.condition == Condition::stumbling)
        faults.wrong = 3;
    RenderedTake rendered{chromaticRun(shape, recipe.bpm), {}};
    if (!shape.slurred)
        for (ScoreNote& note : rendered.score.notes)
            note.gate = static_cast<int>(style.gateShare * note.length);
    SoundPlan plan = planTake(rendered.score, recipe.bpm, style, faults, recipe.seed);
    if (recipe.condition == Condition::stumbling)
        addStrayNotes(plan, 2, recipe.seed);
    rendered.take = renderPlan(recipe, plan);
    if (surroundings && isFaulty(recipe.condition))
        addSurroundings(rendered.take, recipe);
    return rendered;
}

} // namespace valveladder::testing
