#include "Support/TakesInLife.h"

#include "Support/ConnectedPlaying.h"
#include "Support/ImageRoom.h"
#include "Support/RealNotes.h"
#include "Support/SoundRoom.h"

#include <cmath>
#include <cstdint>
#include <random>

namespace valveladder::testing {

namespace {

using Visitor = std::function<void(const TakeInLife&)>;

std::vector<std::string> groupsOf(const TakeRecipe& recipe) {
    return {nameOf(recipe.kind), nameOf(recipe.articulation)};
}

RenderedTake inRoom(const TakeRecipe& recipe) {
    RenderedTake rendered = renderTake(recipe, false);
    std::mt19937 random(recipe.seed);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    RoomSound room;
    room.reverbSeconds = 0.25 + 0.35 * share(random);
    room.directOverTailDb = 3.0 + 7.0 * share(random);
    playInRoom(rendered.take, room, recipe.seed);
    addNoise(rendered.take, -60.0, recipe.seed);
    return rendered;
}

double power(const std::vector<float>& sound) {
    double sum = 0.0;
    for (const float s : sound)
        sum += static_cast<double>(s) * static_cast<double>(s);
    return sum / static_cast<double>(sound.size());
}

void addSecondPlayer(SoundTake& take, const SoundTake& other) {
    const auto gain = static_cast<float>(0.1 * std::sqrt(power(take.samples) / power(other.samples)));
    const auto late = static_cast<std::size_t>(0.7 * other.rate);
    for (std::size_t i = 0; i < take.samples.size(); ++i)
        take.samples[i] += gain * other.samples[(i + late) % other.samples.size()];
}

void visitRecipes(Life life, const std::vector<TakeRecipe>& all, const Visitor& visit) {
    for (std::size_t i = 0; i < all.size(); ++i) {
        TakeInLife take{life == Life::room ? inRoom(all[i]) : renderTake(all[i]), all[i].bpm, all[i].name(),
                        groupsOf(all[i])};
        if (life == Life::besideAnother)
            addSecondPlayer(take.rendered.take, renderTake(all[(7 * i + 3) % all.size()]).take);
        visit(take);
    }
}

void visitConnected(const std::vector<TakeRecipe>& all, const Visitor& visit) {
    for (const Connection connection : connections)
        for (const TakeRecipe& recipe : all)
            if (recipe.articulation == Articulation::glide)
                visit({renderConnected(recipe, connection),
                       recipe.bpm,
                       std::string(nameOf(connection)) + " " + recipe.name(),
                       {nameOf(connection), nameOf(recipe.kind)}});
}

void visitRealNotes(Part part, int size, const Visitor& visit) {
    if (!realNotesInstalled())
        return;
    for (const RealRecipe& recipe : realRecipes(part == Part::tuning ? Part::tuning : Part::test, size))
        visit({renderReal(recipe), recipe.bpm, recipe.name(), {nameOf(recipe.kind)}});
}

} // namespace

const char* nameOf(Life life) {
    constexpr const char* names[] = {"dry", "room", "beside another player", "connected", "real notes"};
    return names[static_cast<std::size_t>(life)];
}

void visitTakes(Life life, Part part, Condition condition, int size, const Visitor& visit) {
    switch (life) {
    case Life::connected:
        return visitConnected(recipes(part, Condition::clean, size), visit);
    case Life::realNotes:
        return visitRealNotes(part, size, visit);
    default:
        return visitRecipes(life, recipes(part, condition, size), visit);
    }
}

} // namespace valveladder::testing
