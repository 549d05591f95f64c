#include "View/PartMidi.h"

#include "Files/BackingFile.h"
#include "Files/GuideFile.h"
#include "View/Words.h"

#include <algorithm>
#include <deque>

namespace valveladder {

namespace {

constexpr int takesAhead = 5;

Result<SmfFile> tempoMap(const SessionSetup& setup, const GuideSettings& settings) {
    const TempoRules& rules = setup.config.rules;
    std::deque<Score> scores;
    std::vector<SessionTake> takes;
    for (int take = 0; take < (rules.stepPerTake > 0.0 ? takesAhead : 1); ++take) {
        const double bpm = std::min(setup.planned.bpm + take * rules.stepPerTake,
                                    std::max(rules.ceilingBpm, setup.planned.bpm));
        auto score = buildScore(setup.config.drill, setup.config.instrument, bpm);
        if (!score)
            return score.problem();
        scores.push_back(std::move(score.value()));
        takes.push_back({&scores.back(), bpm});
    }
    return sessionFile(takes, settings, setup.config.drill.name, true);
}

SmfFile backing(const SessionSetup& setup, const GuideSettings& settings) {
    const BackingChoice& choice = settings.backing;
    const bool any = std::any_of(choice.on.begin(), choice.on.end(), [](bool on) { return on; });
    BackingSettings wanted;
    wanted.click = settings.click != ClickWhen::off;
    wanted.drone = choice.sends(BackingPart::drone) || !any;
    wanted.pad = choice.sends(BackingPart::pad);
    wanted.bass = choice.sends(BackingPart::bass);
    wanted.drums = choice.sends(BackingPart::drums);
    wanted.clickChannel = settings.clickChannel;
    wanted.droneChannel = choice.channelOf(BackingPart::drone);
    wanted.padChannel = choice.channelOf(BackingPart::pad);
    wanted.bassChannel = choice.channelOf(BackingPart::bass);
    wanted.drumChannel = choice.channelOf(BackingPart::drums);
    const SessionTake take{&setup.score(), setup.planned.bpm};
    return backingFile({&take, 1}, wanted, setup.config.drill.name);
}

} // namespace

std::string dawMidiName(DawMidi what) {
    switch (what) {
    case DawMidi::tempoMap:
        return words::tempoMapName;
    case DawMidi::backing:
        return words::backingName;
    case DawMidi::guide:
        break;
    }
    return words::guideName;
}

Result<SmfFile> dawMidi(DawMidi what, const SessionSetup& setup, const GuideSettings& settings) {
    if (what == DawMidi::tempoMap)
        return tempoMap(setup, settings);
    if (what == DawMidi::backing)
        return backing(setup, settings);
    return guideFile(setup.score(), setup.planned.bpm, settings, setup.config.drill.name);
}

} // namespace valveladder
