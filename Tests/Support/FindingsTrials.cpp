#include "Support/FindingsTrials.h"

#include "Findings/Resampling.h"
#include "Words/SuspectWords.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iostream>

namespace valveladder::simulated {

namespace {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr int slowedBy = 3;
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
constexpr int slowedBy = 3;
#else
constexpr int slowedBy = 1;
#endif
#else
constexpr int slowedBy = 1;
#endif

} // namespace

bool fullSize() {
    const char* asked = std::getenv("VALVE_LADDER_FULL");
    return asked && std::string(asked) == "1";
}

int trialSize(int full, int quick, int least) {
    return fullSize() ? full : std::min(quick, std::max(least, quick / slowedBy));
}

const Instrument& trialInstrument() {
    static const Instrument instrument = *findInstrument("euphonium-4-treble");
    return instrument;
}

std::vector<Suspect> plantable(const Drill& drill, const Instrument& instrument, int least) {
    const auto asked = changesAsked(drill, instrument);
    auto suspects = suspectsIn(asked);
    std::erase_if(suspects, [&](const Suspect& suspect) {
        return std::count_if(asked.begin(), asked.end(),
                             [&](const auto& change) { return suspect.involves(change); }) < least;
    });
    return suspects;
}

std::vector<TrialOutcome> trials(const Drill& drill, const std::vector<Suspect>& suspects, double extraMs,
                                 int takes, int players, std::uint64_t seed) {
    std::vector<TrialOutcome> outcomes;
    for (int i = 0; i < players; ++i) {
        const auto& suspect = suspects[static_cast<std::size_t>(i) % suspects.size()];
        Player player({{suspect, extraMs}}, {}, seed + static_cast<std::uint64_t>(i));
        double played = 0.0;
        const auto found =
            findWeaknesses(practise(player, drill, trialInstrument(), takes, 66.0, &played)).findings;
        // Of few takes the interval is of the effect in just these; of many, of what it usually is.
        const double truth = takes < resampling::wholeTakesFrom ? played : extraMs;
        TrialOutcome outcome;
        outcome.planted = inWords(suspect);
        outcome.named =
            !found.empty() && found.front().complaint == Complaint::slow && found.front().suspect == suspect;
        outcome.covered =
            outcome.named && found.front().effect.low <= truth && truth <= found.front().effect.high;
        outcomes.push_back(outcome);
    }
    return outcomes;
}

int countNamed(const std::vector<TrialOutcome>& outcomes) {
    return static_cast<int>(
        std::count_if(outcomes.begin(), outcomes.end(), [](const auto& outcome) { return outcome.named; }));
}

void report(const std::string& line) {
    std::cout << "[ FIGURES  ] " << line << '\n';
    if (fullSize())
        std::ofstream("findings-figures.txt", std::ios::app) << line << '\n';
}

} // namespace valveladder::simulated
