#include "Console/SteppedTakes.h"
#include "Console/Options.h"
#include "Words/TempoWords.h"

namespace valveladder::console {

namespace {

constexpr int maxTakes = 200;
constexpr double largestStep = 20.0; // bpm

} // namespace

void SteppedTakes::add(CLI::App& app) {
    app.add_option("--takes", takes, fmt::format("How many takes ({})", takes))->option_text("N");
    addNumber(app, "--step", step, "From take to take (1)")->option_text("BPM");
    addNumber(app, "--ceiling", ceiling, "Never faster than this")->option_text("BPM");
}

Result<std::vector<double>> SteppedTakes::tempos(double first) const {
    if (takes < 1 || takes > maxTakes)
        return Problem{fmt::format("a session cannot have {} takes", takes), "--takes",
                       fmt::format("Choose from 1 to {}", maxTakes)};
    if (!(step >= -largestStep && step <= largestStep))
        return Problem{
            fmt::format("a step of {:g} bpm is outside -{:g} to {:g}", step, largestStep, largestStep),
            "--step", "One to three a take is usual"};
    if (auto tempo = checkedTempo(ceiling, "--ceiling", "Give the fastest tempo of the session"); !tempo)
        return tempo.problem();
    std::vector<double> list;
    for (int i = 0; i < takes; ++i) {
        const double stepped = first + i * step;
        list.push_back(ceiling ? std::min(stepped, *ceiling) : stepped);
    }
    return list;
}

Result<std::deque<Score>> SteppedTakes::scores(const PlayedDrillOptions::Chosen& chosen) const {
    auto bpms = tempos(chosen.bpm);
    if (!bpms)
        return bpms.problem();
    std::deque<Score> list;
    for (const double bpm : bpms.value()) {
        auto score = buildScore(chosen.drill, chosen.instrument, bpm);
        if (!score)
            return Problem{fmt::format("take {}, at {} bpm: {}", list.size() + 1, words::tempoText(bpm),
                                       score.problem().what),
                           score.problem().where, score.problem().remedy};
        list.push_back(std::move(score.value()));
    }
    return list;
}

std::vector<SessionTake> sessionTakes(const std::deque<Score>& scores) {
    std::vector<SessionTake> takes;
    for (const Score& score : scores)
        takes.push_back({&score, score.bpm});
    return takes;
}

} // namespace valveladder::console
