#include "Findings/Weakness.h"
#include "Support/SimulatedPlayer.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <map>

namespace valveladder {
namespace {

using simulated::Player;

bool fullSize() {
    return std::getenv("VALVE_LADDER_FULL") != nullptr;
}

const Instrument& euphonium() {
    static const Instrument found = *findInstrument("euphonium-4-treble");
    return found;
}

/// Suspects that may be planted: those the drill plays at least `least` times.
std::vector<Suspect> plantable(const Drill& drill, int least) {
    const auto asked = simulated::changesAsked(drill, euphonium());
    std::vector<Suspect> found;
    for (const auto& suspect : suspectsIn(asked)) {
        const auto times = std::count_if(asked.begin(), asked.end(),
                                         [&](const auto& change) { return suspect.involves(change); });
        if (times >= least)
            found.push_back(suspect);
    }
    return found;
}

struct Tally {
    int players = 0, named = 0, claimed = 0, covered = 0;
};

void run(const Drill& drill, double extraMs, int takes, int players, int least) {
    const auto suspects = plantable(drill, least);
    std::map<std::string, Tally> tallies;
    Tally all;
    for (int i = 0; i < players; ++i) {
        const auto& suspect = suspects[static_cast<std::size_t>(i) % suspects.size()];
        Player player({{suspect, extraMs}}, {}, static_cast<std::uint64_t>(1000 + i));
        const auto evidence = simulated::practise(player, drill, euphonium(), takes);
        const auto result = findWeaknesses(evidence);
        auto& tally = tallies[suspect.name()];
        ++tally.players;
        ++all.players;
        if (!result.findings.empty() && result.findings[0].suspect == suspect) {
            ++tally.claimed;
            ++all.claimed;
            const auto& effect = result.findings[0].effect;
            all.covered += effect.low <= extraMs && extraMs <= effect.high;
        }
    }
    for (const auto& [name, tally] : tallies)
        std::printf("  %-45s %d/%d\n", name.c_str(), tally.claimed, tally.players);
    std::printf("%g ms in %d takes: %d/%d = %.3f; coverage %.3f\n", extraMs, takes, all.claimed, all.players,
                double(all.claimed) / all.players, double(all.covered) / all.claimed);
}

TEST(Trial, Power) {
    const int players = fullSize() ? 1000 : 200;
    const auto drill = simulated::fullDrill(euphonium());
    run(drill, 25.0, 2, players, 8);
    run(drill, 10.0, 6, players, 8);
}

TEST(Trial, NoWeakness) {
    const int players = fullSize() ? 1000 : 200;
    const auto drill = simulated::fullDrill(euphonium());
    int alarms = 0;
    std::map<int, int> by;
    for (int i = 0; i < players; ++i) {
        Player player({}, {}, static_cast<std::uint64_t>(50000 + i));
        const auto result = findWeaknesses(simulated::practise(player, drill, euphonium(), i % 2 ? 2 : 6));
        alarms += result.findings.empty() ? 0 : 1;
        for (const auto& f : result.findings)
            ++by[int(f.complaint)];
    }
    std::printf("alarms %d/%d slow %d late %d uneven %d wrong %d\n", alarms, players, by[0], by[1], by[2],
                by[3]);
}

} // namespace
} // namespace valveladder
